"""A planned shot and the plan it was chosen in, as data."""

from typing import Annotated, Any

from pydantic import Field

from caddie.bag import Family
from caddie.ball.ground import Surface
from caddie.ball.launch import Flight
from caddie.situation import Borrow, Frozen, HazardKind, Situation

Chance = Annotated[float, Field(ge=0, le=1)]
CAUGHT_ON = {
    HazardKind.BUNKER: Surface.SAND,
    HazardKind.WATER: Surface.WATER,
    HazardKind.TREES: Surface.TREES,
    HazardKind.OUT_OF_BOUNDS: Surface.OUT_OF_BOUNDS,
    HazardKind.UNNAMED: Surface.TREES,
}
"""What a ball lies on once trouble has caught it; other kinds, such as a ridge, catch none."""


class PuttLine(Frozen):
    """The line of a putt and what comes with it, for the reply and the picture."""

    speed_m_s: float
    """Off the putter, rolling."""
    azimuth_rad: float
    """Start line, left of the straight line to the hole."""
    past_flat_m: float
    """Arrival speed, as how far past the hole the ball would roll on the level."""
    past_m: float
    """How far from the hole the putt as meant stops when the hole is covered."""
    spot_ahead_m: float
    spot_left_m: float
    """How far left of the straight line to the hole the ball is that far ahead."""
    aim_least_left_m: float
    aim_most_left_m: float
    """Aim when slope and green speed are at either end of what was said."""
    short: Chance
    """Share of putts that stop before the hole."""
    low: Chance
    """Share of the misses that pass or stop on the low side."""
    holds: bool
    """False where the green is steeper than a ball can stop on."""
    told: Borrow | None = None
    """The player's own read, when it is the line."""


class Option(Frozen):
    """One shot that could be played, with what is expected of it.

    Shares and means are over the simulated balls, heavy and thin strikes included; ``carry_m`` and
    ``run_m`` are those of a cleanly struck ball.
    """

    club: str
    loft_deg: float
    swing: str
    """Nearest named swing length, or two of them as ``"hip to chest"`` when it lies between."""
    share: float
    """The swing as a share of a full one."""
    owned: bool = False
    """A swing length the player has measured."""
    family: Family
    flight: Flight
    wide_open: bool = False
    """The face laid wide open."""
    lay_up: bool = False
    """Meant to stay short of the water or the boundary before the green."""
    sideways: bool = False
    """Out to short grass beside the way, not toward the flag; its strokes are an estimate."""
    turned: bool = False
    """A way out that is played the wrong way round: with the club turned over, or backwards with one hand."""
    carry_m: float
    run_m: float
    land_short_of_pin_m: float
    aim_left_m: float = 0.0
    """How far left of the flag it is aimed, at the flag; right is negative."""
    aim_saves: float = 0.0
    """Strokes saved by that aim against one straight at the flag."""
    strokes: float
    """Expected strokes to hole out, this one included."""
    strokes_se: float
    """The most by which the draw of the simulated balls may have moved ``strokes``: as if they were drawn at random,
    while they are spread evenly, so that it is less. How far the model is from the golfer is no part of it, and more.
    """
    bad_tail: float
    """Mean strokes of the worst tenth of outcomes."""
    on_green: Chance
    in_trouble: Chance
    trouble: dict[str, Chance] = {}
    """The same by what catches it: ``sand``, ``water``, ``trees`` and ``out_of_bounds``, those that do."""
    short_of_green: Chance
    through_green: Chance
    leave_m: float
    """Median distance left."""
    heavy: Chance
    thin: Chance
    trust: Chance
    trusted: bool = False
    """Chosen because the player trusts it, though another is better by numbers within their margin."""
    rank_score: float
    """What the options are ranked by: strokes, moved toward the bad tail by the player's risk dial."""
    roll_m: float | None = None
    """Putts from off the green: the length of the flat putt on the green that is struck as hard."""
    pace_m: float | None = None
    """Putts only: the length of the flat putt of the same pace."""
    make: Chance | None = None
    three_putt: Chance | None = None
    line: PuttLine | None = None

    def caught_by(self, kind: HazardKind) -> float:
        """How often trouble of that kind catches the ball; 0 for kinds that catch none."""
        return self.trouble.get(CAUGHT_ON[kind].name.lower(), 0.0) if kind in CAUGHT_ON else 0.0


class Plan(Frozen):
    """The answer to a situation: the chosen shot, what else was considered, and why."""

    situation: Situation
    """The situation with every gap filled."""
    assumed: dict[str, Any]
    """Dotted field names that were not said, and the value taken for each."""
    options: Annotated[tuple[Option, ...], Field(min_length=1)]
    """Distinct shots, best rank first."""
    chosen: Option
    dropped: bool = False
    """The shot after a drop under penalty, which costs less than the ball as it lies."""
    reasons: tuple[str, ...]
    considered: int
    """How many candidates were simulated."""
    seed: int
