"""What is remembered, as data.

The fourth of an invented course, as it was told in one sentence ("remember: the fourth green falls left to right,
bunker short right, twenty-eight deep"):

>>> HoleNote(
...     course="Marram Links",
...     number=4,
...     depth_m=25.6,
...     side_fall=Fall.LEFT_TO_RIGHT,
...     trouble=(Trouble(kind=HazardKind.BUNKER, side=Side.SHORT), Trouble(kind=HazardKind.BUNKER, side=Side.RIGHT)),
... ).title
'hole 4 of Marram Links'
"""

from datetime import date, datetime, timedelta
from typing import Annotated

from pydantic import AwareDatetime, Field, StringConstraints

from caddie.situation import Fall, Firmness, Frozen, HazardKind, Side
from caddie.words.note_phrases import MOST_HOLES

LONGEST_OWN_NAME = 40
MOST_BEFORE_M = 100.0
"""How far before a green trouble may end and still be noted [m]."""
HOME_COURSE = "home"
"""What a course is called until the player gives it a name."""
IN_THE_GREEN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE)
"""Shapes with their place in the green: how far they are depends on where the ball lies."""

AXES = {"fall": "fall_slope", "side_fall": "side_slope"}
"""The two ways a green may fall, and how steeply."""

OwnName = Annotated[
    str,
    StringConstraints(
        strip_whitespace=True, min_length=1, max_length=LONGEST_OWN_NAME, pattern=r"^[^\x00-\x1f]+$"
    ),
]
HoleNumber = Annotated[int, Field(ge=1, le=MOST_HOLES)]
FallSlope = Annotated[float, Field(ge=0, le=0.4)]


class Trouble(Frozen):
    """One piece of trouble, or shape of ground, as seen from the fairway."""

    kind: HazardKind
    side: Side | None = None
    before_green_m: Annotated[float, Field(ge=0, le=MOST_BEFORE_M)] | None = None
    """From where it ends to the front edge of the green."""
    height_m: Annotated[float, Field(ge=0, le=30)] | None = None
    called: str | None = None


class HoleNote(Frozen):
    """What holds for a hole on every day, as seen from the fairway; ``None`` is not known.

    The flag and the wind are of the day and have no place here. Firmness changes too, so it carries its day.
    """

    course: OwnName = HOME_COURSE
    number: HoleNumber
    name: OwnName | None = None
    depth_m: Annotated[float, Field(gt=3, le=70)] | None = None
    """From the front edge of the green to the back."""
    height_m: Annotated[float, Field(ge=-40, le=40)] | None = None
    """The green above the fairway; below is negative."""
    fall: Fall | None = None
    """Toward the player or away."""
    fall_slope: FallSlope | None = None
    """0 where neither fall is known: the green is flat."""
    side_fall: Fall | None = None
    side_slope: FallSlope | None = None
    trouble: tuple[Trouble, ...] = ()
    firmness: Firmness | None = None
    firmness_on: date | None = None
    noted: date | None = None
    """When it was last told something."""

    @property
    def key(self) -> tuple[str, str]:
        """What tells this note from every other."""
        return hole_key(self.course, self.number)

    @property
    def title(self) -> str:
        """The hole as it is named in a line."""
        named = f", {self.name}," if self.name else ""
        return f"hole {self.number}{named} {of_course(self.course)}"

    @property
    def flat(self) -> bool:
        """Whether the green is known to fall no way."""
        return self.fall is None and self.side_fall is None and self.fall_slope == 0

    @property
    def is_empty(self) -> bool:
        """Whether nothing but its name is known."""
        blank = HoleNote(course=self.course, number=self.number, name=self.name, noted=self.noted)
        return self == blank


def hole_key(course: str, number: int) -> tuple[str, str]:
    """The key of a hole's note; a course is the same however its name is capitalised."""
    return (same_name(course), str(number))


def of_course(course: str) -> str:
    """Where a hole is, as it is named after it."""
    return "at home" if course == HOME_COURSE else f"of {course}"


def same_name(name: str) -> str:
    """A name as it is compared."""
    return " ".join(name.casefold().split())


class Usual(Frozen):
    """The player's usual settings; ``None`` leaves it to the bag or the command line."""

    stimp_ft: Annotated[float, Field(ge=3, le=16)] | None = None
    """Speed of the greens at home."""
    firmness: Firmness | None = None
    unit: Annotated[str, StringConstraints(pattern="^(yards|metres)$")] | None = None
    brief: bool | None = None
    """Just the club and the swing aloud."""
    rate: Annotated[int, Field(ge=80, le=300)] | None = None
    """Words a minute of the voice."""


HOLE_LASTS = timedelta(hours=2)
"""A hole takes a quarter of an hour, and a meal at the turn is eaten in less (common practice, no source)."""


class Today(Frozen):
    """What holds until the round ends, or the day does."""

    day: date
    course: OwnName | None = None
    hole: HoleNumber | None = None
    hole_told: AwareDatetime | None = None
    """When the player said to be on it: a later talk takes nobody to be there still after :data:`HOLE_LASTS`."""
    out: tuple[str, ...] = ()
    """Ids of clubs that are not there."""
    before_round: tuple[HoleNote, ...] = ()
    """Holes noted during a competition round, as their notes were before it: those alone may be read in it."""

    def hole_at(self, moment: datetime) -> int | None:
        """The hole that the player is still on at a moment, if they are on any."""
        told = self.hole_told
        return self.hole if told is None or moment - told <= HOLE_LASTS else None

    def on_hole(self, hole: int | None, moment: datetime) -> "Today":
        """The same day on a hole that was told of at that moment, or on the one it was, told of when it was."""
        if hole == self.hole_at(moment):
            return self
        return self.model_copy(update={"hole": hole, "hole_told": None if hole is None else moment})
