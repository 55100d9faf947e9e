"""What the player faces: lie, stance, distances, trouble, green and wind.

Each is optional: ``None`` means "not said". The planner fills the gaps by assumptions (:mod:`caddie.plan.assume`).
"""

from enum import StrEnum
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from caddie.units import SMALL_UNITS, to_metres

FARTHEST_M = 110.0
"""Beyond this (120 yards) a shot is outside the short game and is not planned."""

Distance = Annotated[float, Field(gt=0, le=FARTHEST_M)]


class Frozen(BaseModel):
    """Base of the project's data: immutable, no unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Lie(StrEnum):
    """What the ball lies on."""

    FAIRWAY = "fairway"
    FRINGE = "fringe"
    FIRST_CUT = "first_cut"
    LIGHT_ROUGH = "light_rough"
    HEAVY_ROUGH = "heavy_rough"
    BARE = "bare"
    DIVOT = "divot"
    BUNKER = "bunker"
    PLUGGED = "plugged"
    PINE_STRAW = "pine_straw"
    GREEN = "green"


class Sand(StrEnum):
    """What the sand is like: packed sand throws the club up, soft sand lets it dig, thin sand is hard ground."""

    FIRM = "firm"
    SOFT = "soft"
    THIN = "thin"


class Against(StrEnum):
    """What the ball lies against."""

    ROOT = "root"
    ROCK = "rock"
    WALL = "wall"
    TRUNK = "trunk"
    COLLAR = "collar"
    WATER = "water"
    FENCE = "fence"


class BallSide(StrEnum):
    """A side of the ball, as the player looks at the flag."""

    LEFT = "left"
    RIGHT = "right"


class Hampered(StrEnum):
    """What keeps the player from making the swing that the ball's lie would allow."""

    BACKSWING = "backswing"
    NO_BACKSWING = "no_backswing"  # Room for a short one, or for a few inches.
    FOLLOW_THROUGH = "follow_through"
    STANCE = "stance"
    GROWTH = "growth"  # The ball lies in a bush: a club gets at it, and no more.
    TO_CHEST = "to_chest"
    TO_HIP = "to_hip"  # No longer swing than so.
    TURNED = "turned"  # Played the wrong way round: with a club turned over, or backwards with one hand.


class Obstruction(StrEnum):
    """What gives relief at ball or feet: made to stay, under repair, dug by an animal, water that goes, rakes."""

    PATH = "path"
    SPRINKLER = "sprinkler"
    PUDDLE = "puddle"
    REPAIR = "repair"
    ANIMAL_HOLE = "animal_hole"
    WRONG_GREEN = "wrong_green"
    RAKE = "rake"  # It may be lifted away.


class InLine(StrEnum):
    """What lies on the line of a putt."""

    FRINGE = "fringe"
    SPRINKLER = "sprinkler"


USUAL_BRANCH_M = 2.4
"""A branch in the way of which no height is told hangs at a tall player's reach (common practice, no source)."""
IN_SAND = (Lie.BUNKER, Lie.PLUGGED)  # Lies in a bunker, however the ball lies in it.


class Sitting(StrEnum):
    """How the ball sits in its lie."""

    UP = "up"
    DOWN = "down"
    EMBEDDED = "embedded"  # In its own pitch mark, below the level of the ground.


class Stance(StrEnum):
    """The slope under ball and feet."""

    UPHILL = "uphill"
    DOWNHILL = "downhill"
    BALL_ABOVE = "ball_above"
    BALL_BELOW = "ball_below"


class Steepness(StrEnum):
    """How much the ground under ball and feet slopes, when that was told."""

    SLIGHT = "slight"
    SEVERE = "severe"


class PinPosition(StrEnum):
    """Where the hole is cut, as seen by the player."""

    FRONT = "front"
    MIDDLE = "middle"
    BACK = "back"
    FRONT_LEFT = "front_left"
    FRONT_RIGHT = "front_right"
    MIDDLE_LEFT = "middle_left"
    MIDDLE_RIGHT = "middle_right"
    BACK_LEFT = "back_left"
    BACK_RIGHT = "back_right"


class HazardKind(StrEnum):
    """Trouble, and the shapes of ground that change a shot."""

    BUNKER = "bunker"
    WATER = "water"
    TREES = "trees"
    OUT_OF_BOUNDS = "out_of_bounds"
    ROUGH = "rough"
    UNNAMED = "trouble"  # Said to be trouble, and not which: a ball there is played from an ill place.
    RIDGE = "ridge"
    TIER = "tier"
    SWALE = "swale"
    UPSLOPE = "upslope"
    FALSE_FRONT = "false_front"
    RUN_OFF = "run_off"


class Side(StrEnum):
    """Where trouble is, as the player looks at the flag."""

    SHORT = "short"
    LONG = "long"
    LEFT = "left"
    RIGHT = "right"


class Hazard(Frozen):
    """One piece of trouble or one shape of ground between, beside or behind ball and flag."""

    kind: HazardKind
    side: Side | None = None
    carry_m: Annotated[float, Field(ge=0, le=FARTHEST_M)] | None = None
    """Flight needed to clear it; for a ridge, tier or upslope the distance to its top."""
    height_m: Annotated[float, Field(ge=0, le=30)] | None = None
    clear_m: Annotated[float, Field(ge=0, le=30)] | None = None  # Trees: how high the lowest branch hangs.
    not_over: bool | None = None
    round: Side | None = None
    """Trees: the side on which there is a way past them; ``not_over``, that there is none above them."""
    gap_m: Annotated[float, Field(gt=0, le=30)] | None = None  # Trees: the width of the gap on the line.
    down: bool | None = None  # A tier that the ball comes down.
    past_flag_m: Annotated[float, Field(gt=0, le=60)] | None = None  # Where it begins behind the flag.
    beside: bool | None = None  # On one side, and which was not told.
    corner: Side | None = None  # Its other side, at a corner: "front left".
    called: Annotated[str, Field(pattern="^[a-z][a-z ]{1,18}$")] | None = None  # A name it was given: "burn".


class Fall(StrEnum):
    """Which way the green slopes, as the player looks at the flag."""

    TOWARD = "toward"
    AWAY = "away"
    LEFT_TO_RIGHT = "left_to_right"
    RIGHT_TO_LEFT = "right_to_left"


SIDEWAYS = frozenset({Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT})
"""Falls across the line of a putt."""


class Grain(StrEnum):
    """Which way the grass lies, as the ball rolls."""

    WITH = "with"
    AGAINST = "against"


class Firmness(StrEnum):
    """How hard the green is; where it is frozen, all the ground is."""

    SOFT = "soft"
    MEDIUM = "medium"
    FIRM = "firm"
    FROZEN = "frozen"


class Extent(StrEnum):
    """How deep or wide a green is beside most."""

    SMALL = "small"
    LARGE = "large"


BALL_ACROSS_M = 0.04267
"""Diameter of the ball: the least that the Rules of Golf allow (Equipment Rules, 1.680 in)."""
CUP_M = 0.108
"""Diameter of the hole: the Rules of Golf, Definitions, "Hole" (4 1/4 in)."""


class BorrowUnit(StrEnum):
    """What a borrow is counted in: the cup's width, the ball's, or a length."""

    CUPS = "cups"
    BALLS = "balls"
    INCHES = "inches"
    CENTIMETRES = "centimetres"
    FEET = "feet"


BORROW_UNIT_M = {
    BorrowUnit.CUPS: CUP_M,
    BorrowUnit.BALLS: BALL_ACROSS_M,
    **{BorrowUnit(unit): to_metres(1.0, unit) for unit in SMALL_UNITS},
}


class Borrow(Frozen):
    """The player's own read: how far to the high side of the hole a putt is started.

    The high side is that of the sideways fall. Cups and balls are counted from the hole's edge, a length from its
    middle, as most players mean them (common practice, no source).
    >>> round(Borrow(amount=1, unit=BorrowUnit.CUPS, outside=True).aim_m, 3)
    0.162
    """

    amount: Annotated[float, Field(ge=-1, le=120)]
    unit: BorrowUnit
    outside: bool = (
        False  # Counted outward from the hole's edge, less than nothing inside it; else from its middle.
    )

    @property
    def aim_m(self) -> float:
        """How far from the hole's middle the ball is started."""
        return max(self.amount * BORROW_UNIT_M[self.unit] + (CUP_M / 2 if self.outside else 0.0), 0.0)


class Green(Frozen):
    """The putting surface."""

    fall: Fall | None = None
    fall_slope: Annotated[float, Field(ge=0, le=0.4)] | None = None
    side_fall: Fall | None = None  # The sideways fall when ``fall`` already says toward or away.
    side_slope: Annotated[float, Field(ge=0, le=0.4)] | None = None
    stimp_ft: Annotated[float, Field(ge=3, le=16)] | None = None
    firmness: Firmness | None = None
    depth: Extent | None = None
    width: Extent | None = None
    grain: Grain | None = None
    double_break: bool | None = None  # One way and then the other; the fall is that of the last.
    break_part: Annotated[float, Field(gt=0, le=1)] | None = None  # Share of the way that falls to the side.
    borrow: Borrow | None = None

    @property
    def flat(self) -> bool:
        """Whether it is known to fall no way."""
        return self.fall is None and self.side_fall is None and self.fall_slope == 0


class WindFrom(StrEnum):
    """Where the wind comes from, as the player looks at the flag."""

    AHEAD = "ahead"
    BEHIND = "behind"
    LEFT = "left"
    RIGHT = "right"
    AHEAD_LEFT = "ahead_left"
    AHEAD_RIGHT = "ahead_right"
    BEHIND_LEFT = "behind_left"
    BEHIND_RIGHT = "behind_right"


class WindKnownBy(StrEnum):
    """What a speed of the wind is: near the ground it is weaker than where forecasts have it, 10 m up."""

    FORECAST = "forecast"
    FELT = "felt"


class Wind(Frozen):
    """The wind, its speed as it was told: a forecast's, or what is felt at the head."""

    from_: Annotated[WindFrom | None, Field(alias="from", serialization_alias="from")] = None
    speed_m_s: Annotated[float, Field(ge=0, le=30)] | None = None
    known_by: WindKnownBy | None = None

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, serialize_by_alias=True)


class Situation(Frozen):
    """Everything that was said about the shot.

    ``pin_m`` is ball to flag, ``front_m`` ball to the green's front, ``room_m`` green between, ``behind_m`` beyond.
    """

    pin_m: Distance | None = None
    front_m: Annotated[float, Field(ge=0, le=FARTHEST_M)] | None = None
    room_m: Annotated[float, Field(gt=0, le=60)] | None = None
    behind_m: Annotated[float, Field(gt=0, le=60)] | None = None
    lie: Lie | None = None
    lie_guessed: bool | None = None  # From where the ball lies, under trees: nobody told what it lies on.
    sitting: Sitting | None = None
    wet: bool | None = None
    dirty_grooves: bool | None = None
    mud_on_ball: bool | None = None
    mud_side: BallSide | None = None  # Where on the ball it sticks: the ball flies away from it.
    sand: Sand | None = None
    lip_m: Annotated[float, Field(ge=0, le=8)] | None = None  # Height of the face before the ball.
    deep_bunker: bool | None = None  # The ball lies in one that was called deep.
    lip_away_m: Annotated[float, Field(ge=0, le=FARTHEST_M)] | None = None  # From the ball to that face.
    under_lip: bool | None = None  # The ball lies right before that face.
    sand_behind: bool | None = None  # A club taken back low would meet sand or bank.
    against: Against | None = None
    unplayable: bool | None = None  # Said not to be playable as it lies.
    hampered: Hampered | None = None
    tall_grass: bool | None = None  # To the knee, or hiding the ball: deeper than what is called thick rough.
    obstruction: Obstruction | None = None
    in_line: InLine | None = None
    stance: tuple[Stance, ...] = ()
    steepness: Steepness | None = None
    flyer: bool | None = None
    """Grass that comes between face and ball without slowing the club: little spin, more speed."""
    pin_position: PinPosition | None = None
    elevation_m: Annotated[float, Field(ge=-40, le=40)] | None = None
    hazards: tuple[Hazard, ...] = ()
    green: Green = Green()
    wind: Wind = Wind()
    greenside: bool | None = None  # Said to be beside the green, with no distance given.
    open_sides: tuple[Side, ...] = ()  # Where nothing is to be feared.


class Strike(StrEnum):
    """How the ball was struck."""

    CLEAN = "clean"
    HEAVY = "heavy"
    THIN = "thin"
    TOPPED = "topped"
    SHANK = "shank"


class Finish(StrEnum):
    """Where a played ball ended."""

    HOLED = "holed"
    GREEN = "green"
    FRINGE = "fringe"
    FAIRWAY = "fairway"
    ROUGH = "rough"
    BUNKER = "bunker"
    WATER = "water"
    TREES = "trees"
    OUT_OF_BOUNDS = "out_of_bounds"


class Result(Frozen):
    """What the player says became of the shot."""

    distance_m: Annotated[float, Field(ge=0, le=FARTHEST_M)] | None = None  # From the hole.
    side: tuple[Side, ...] = ()  # Where from the hole: past it is long.
    strike: Strike | None = None
    finish: Finish | None = None
    carry_m: Annotated[float, Field(ge=0, le=FARTHEST_M)] | None = None
    run_m: Annotated[float, Field(ge=-30, le=FARTHEST_M)] | None = None

    @property
    def holed(self) -> bool:
        """Whether it went in."""
        return self.finish is Finish.HOLED
