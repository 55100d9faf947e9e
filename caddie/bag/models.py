"""The bag as data: who plays, which clubs, how far each swing really carries."""

from enum import StrEnum
from itertools import pairwise
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from caddie.printable import printable
from caddie.situation import Frozen
from caddie.units import YARD_M, SpeedUnit, Unit

Share = Annotated[float, Field(ge=0, le=1)]


def _plain(name: str) -> str:
    if printable(name) != name:
        raise ValueError("must hold no line break or other control character")
    return name


Name = Annotated[str, Field(min_length=1, max_length=80), AfterValidator(_plain)]
Count = Annotated[int, Field(ge=0, le=100_000)]


class Family(StrEnum):
    """Kinds of short-game shot."""

    PUTT = "putt"
    CHIP = "chip"
    BUMP_AND_RUN = "bump_and_run"
    PITCH = "pitch"
    LOB = "lob"
    SPLASH = "splash"


class Miss(StrEnum):
    """What goes wrong most often."""

    SHORT = "short"
    LONG = "long"
    LEFT = "left"
    RIGHT = "right"
    HEAVY = "heavy"
    THIN = "thin"
    QUIT = "quit"
    """Slowing down into the ball."""
    RUSH = "rush"
    """Swinging too fast."""


class Handed(StrEnum):
    """Which way round the player stands."""

    RIGHT = "right"
    LEFT = "left"


class Risk(StrEnum):
    """How much the player fears the bad tail."""

    CAREFUL = "careful"
    EVEN = "even"
    BOLD = "bold"


class ClubKind(StrEnum):
    """What sort of club it is."""

    WEDGE = "wedge"
    IRON = "iron"
    HYBRID = "hybrid"
    WOOD = "wood"
    PUTTER = "putter"


class SwingLength(Frozen):
    """How far back the hands go; ``share`` orders them and places one between two others."""

    name: Name
    share: Annotated[float, Field(gt=0, le=1)]
    said: Annotated[tuple[Name, ...], Field(max_length=40)] = ()


STANDARD_SWINGS = (
    SwingLength(name="hip", share=0.25, said=("quarter",)),
    SwingLength(name="chest", share=0.5, said=("half",)),
    SwingLength(name="shoulder", share=0.75, said=("three-quarter",)),
    SwingLength(name="full", share=1.0),
)


class Carry(Frozen):
    """One cell of the wedge matrix: what a swing length with a club carried, as measured."""

    swing: str
    carry_m: Annotated[float, Field(gt=0, le=250)]
    sd_m: Annotated[float, Field(gt=0, le=60)]
    shots: Count
    """Balls measured; 0 marks an estimate."""
    side_sd_m: Annotated[float, Field(gt=0, le=60)] | None = None
    run_bias_m: Annotated[float, Field(ge=-20, le=20)] = 0.0
    """How much farther than modelled it runs after landing, as played shots have taught."""
    course_shots: Count | None = None
    """Balls behind the spread that were played on the course, as the log has taught."""
    ball_speed_m_s: Annotated[float, Field(gt=0, le=90)] | None = None
    launch_deg: Annotated[float, Field(gt=0, lt=80)] | None = None
    spin_rpm: Annotated[float, Field(ge=0, le=14000)] | None = None

    @property
    def measured(self) -> bool:
        """Whether any ball stands behind it."""
        return self.shots > 0


class Club(Frozen):
    """A club and its measured carries, shortest swing first."""

    id: Name
    name: Name
    kind: ClubKind
    loft_deg: Annotated[float, Field(ge=0, le=72)]
    bounce_deg: Annotated[float, Field(ge=0, le=20)] | None = None
    said: Annotated[tuple[Name, ...], Field(max_length=40)] = ()
    carries: tuple[Carry, ...] = ()
    splash: tuple[Carry, ...] = ()
    """Carries measured out of a bunker, from sand that the ball lies clean on."""

    def names(self) -> tuple[str, ...]:
        """Every way this club is called, lower case."""
        return tuple(name.lower() for name in (self.id, self.name, *self.said))

    def cells(self, sand: bool = False) -> tuple[Carry, ...]:
        """Its carries from grass, or out of ``sand``."""
        return self.splash if sand else self.carries

    def with_cells(self, cells: tuple[Carry, ...], sand: bool = False) -> Self:
        """The club with these carries from grass, or out of ``sand``."""
        return self.model_copy(update={"splash" if sand else "carries": cells})


class Conditions(Frozen):
    """The air in which the carries were measured."""

    temperature_c: Annotated[float, Field(ge=-20, le=50)] = 15.0
    altitude_m: Annotated[float, Field(ge=-400, le=4500)] = 0.0


class Player(Frozen):
    """Who swings, and how they like to be spoken to."""

    name: Name = "player"
    handicap: Annotated[float, Field(ge=-8, le=54)] = 18.0
    handed: Handed = Handed.RIGHT
    distances_in: Unit = Unit.YARDS
    putts_in: Unit | None = None
    """What putts are counted in; None is metres for who counts distances in them, else feet."""
    pace_m: Annotated[float, Field(ge=0.4, le=1.5)] = YARD_M
    usual_misses: tuple[Miss, ...] = ()
    margin_strokes: Annotated[float, Field(ge=0, le=1)] = 0.1
    """A trusted shot wins when the best by numbers is better by less than this."""
    risk: Risk = Risk.EVEN

    @property
    def putt_unit(self) -> Unit:
        """What a putt and what is left are counted in: as told, else metres for who counts in them, else feet."""
        return self.putts_in or (Unit.METRES if self.distances_in is Unit.METRES else Unit.FEET)

    @property
    def wind_unit(self) -> SpeedUnit:
        """What a wind is counted in."""
        return SpeedUnit.KMH if self.distances_in is Unit.METRES else SpeedUnit.MPH


class StrikeCount(Frozen):
    """Strikes seen on the course and in practice: how many of the shots were heavy or thin."""

    shots: Count = 0
    heavy: Count = 0
    thin: Count = 0
    on_range: Count = 0
    """How many of the shots were hit at the range, where fewer are heavy or thin."""

    @model_validator(mode="after")
    def _parts_of_the_whole(self) -> Self:
        if self.heavy + self.thin > self.shots:
            raise ValueError("heavy and thin strikes are more than the shots")
        if self.on_range > self.shots:
            raise ValueError("shots on the range are more than the shots")
        return self


Misfit = tuple[tuple[str | int, ...], str]
"""A field's place in the bag and what is wrong with it."""


class MisfitsError(ValueError):
    """Parts of a bag that contradict each other."""

    def __init__(self, problems: tuple[Misfit, ...]) -> None:
        super().__init__("; ".join(message for _, message in problems))
        self.problems = problems


def _misfits(swings: tuple[SwingLength, ...], clubs: tuple[Club, ...]) -> tuple[Misfit, ...]:
    shares = {swing.name: swing.share for swing in swings}
    found: list[Misfit] = []
    for index, swing in enumerate(swings):
        if swing.name in (other.name for other in swings[:index]):
            found.append((("swings", index, "name"), f"swing {swing.name!r} is listed twice"))
    for index, club in enumerate(clubs):
        place = ("clubs", index)
        if club.id.lower() in (other.id.lower() for other in clubs[:index]):
            found.append(((*place, "id"), f"two clubs have the same id {club.id!r}"))
        found += [
            ((*place, "carries", swing), f"club {club.id}: {message}")
            for swing, message in _odd_cells(club.carries, shares)
        ]
        found += [
            ((*place, "splash", swing), f"club {club.id}: splash.{swing}: {message}")
            for swing, message in _odd_cells(club.splash, shares)
        ]
        if club.splash and not club.carries:
            message = f"club {club.id}: splash: needs carries from grass beside it; add [clubs.carries]"
            found.append(((*place, "splash"), message))
    return tuple(found)


def _odd_cells(cells: tuple[Carry, ...], shares: dict[str, float]) -> list[tuple[str, str]]:
    """The swings whose cells do not fit, with what is wrong."""
    found: list[tuple[str, str]] = []
    known: list[Carry] = []
    for cell in cells:
        if cell.swing not in shares:
            found.append((cell.swing, f"swing {cell.swing!r} is none of {', '.join(shares)}"))
        elif cell.swing in (other.swing for other in known):
            found.append((cell.swing, f"swing {cell.swing!r} is listed twice"))
        else:
            known.append(cell)
    for shorter, longer in pairwise(sorted(known, key=lambda cell: shares[cell.swing])):
        if longer.carry_m <= shorter.carry_m:
            found.append((longer.swing, f"{longer.swing} must carry farther than {shorter.swing}"))
    return found


class Bag(Frozen):
    """Everything the planner knows about the player."""

    player: Player = Player()
    measured_in: Conditions = Conditions()
    today: Conditions | None = None
    """The course's usual air; the session's when not given."""
    swings: Annotated[tuple[SwingLength, ...], Field(max_length=20)] = STANDARD_SWINGS
    clubs: Annotated[tuple[Club, ...], Field(min_length=1, max_length=40)]
    trust: dict[Family, Share] = {}
    strikes: dict[Family, StrikeCount] = {}

    @model_validator(mode="after")
    def _carries_fit(self) -> Self:
        misfits = _misfits(self.swings, self.clubs)
        if misfits:
            raise MisfitsError(misfits)
        return self

    def club_called(self, name: str) -> Club | None:
        """The club with this id, name or nickname, or None; a bag's one hybrid goes by any number."""
        wanted = name.lower().strip()
        found = next((club for club in self.clubs if wanted in club.names()), None)
        if found is None and wanted.endswith(f" {ClubKind.HYBRID}"):
            hybrids = [club for club in self.clubs if club.kind is ClubKind.HYBRID]
            return hybrids[0] if len(hybrids) == 1 else None
        return found

    def swing_called(self, name: str) -> SwingLength | None:
        """The swing length with this name or nickname, or None."""
        wanted = name.lower().strip()
        return next((s for s in self.swings if wanted in (s.name, *s.said)), None)
