"""What a player tells of balls and carries, once it is read, or says to a session instead."""

from enum import StrEnum
from typing import NamedTuple

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
    sounds_like: int | None = None
    """The number that speech may have meant instead: 13 for 30."""
    side: Side | None = None
    side_m: float | None = None
    """Left negative; None when only the side was said."""
    strike: Strike | None = None


class CarryAsSaid(NamedTuple):
    """A carry told from memory, its club and swing as named."""

    said: str
    """In plain words."""
    club: str | None = None
    swing: str | None = None
    """None when no swing was named."""
    carry_m: float | None = None
    sand: bool = False
    """Out of a bunker."""
