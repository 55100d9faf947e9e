"""What a player says after a ball on the range, once it is read: what became of the ball, or a word to the session."""

from enum import StrEnum

from caddie.situation import Frozen, Side, Strike


class Command(StrEnum):
    """What is said to a session instead of an answer."""

    SCRATCH = "scratch"
    PAUSE = "pause"
    GO_ON = "go_on"
    FINISH = "finish"
    REPEAT = "repeat"
    BACK = "back"


class BallTold(Frozen):
    """One ball as told: a carry, a strike, or both."""

    carry_m: float | None = None
    number: float | None = None
    """The carry as said, in the player's unit."""
    side: Side | None = None
    side_m: float | None = None
    """Left negative; None when only the side was said."""
    strike: Strike | None = None
