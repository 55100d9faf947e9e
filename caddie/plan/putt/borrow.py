"""The player's own read taken at its word: the side slope that makes a putt break as it was told.

Line and slope belong together: of a told line the slope follows, solved backward from the way that the ball rolls,
so that odds, spot and what is left of a miss are those of the green which the player sees.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from caddie.bag import Bag
from caddie.ball.turf import steepest_hold
from caddie.plan.putt.after import STEEPEST_SHARE
from caddie.plan.putt.green import falls, green_of, with_green
from caddie.plan.putt.read import read_putt
from caddie.situation import SIDEWAYS, Borrow, Fall, Situation

READ_AT_M = 0.3
"""Pace at which a slope is compared with a told break: to finish a foot past."""
APART = 2.0
"""A told slope that breaks so many times what was told, or less than one part in so many, disagrees with it."""
SMALL_M = 0.06
"""Lines closer than this are no disagreement: half the hole's width."""
_ROUNDS = 12
_CLOSE_M = 0.002


@dataclass(frozen=True)
class OwnRead:
    """A line that the player told: where it is aimed, and what it says of the green."""

    borrow: Borrow
    aim_left_m: float
    """At the hole, left of its middle; what the steepest green allows when no green gives what was told."""
    side_slope: float
    allowed: bool
    """False when no slope that a hole is cut on gives this much break."""


def told_aim_left_m(situation: Situation) -> float | None:
    """The aim that the player told, left of the hole; None when none was, or on no side.

    >>> from caddie.situation import BorrowUnit, Green
    >>> foot = Borrow(amount=1, unit=BorrowUnit.FEET)
    >>> told_aim_left_m(Situation(green=Green(fall=Fall.RIGHT_TO_LEFT, borrow=foot)))
    -0.3048
    """
    borrow, across = situation.green.borrow, falls(situation).get("across")
    if borrow is None:
        return None
    if borrow.aim_m == 0:
        return 0.0
    return None if across is None else borrow.aim_m * (1 if across[0] is Fall.LEFT_TO_RIGHT else -1)


def lacks_side(situation: Situation) -> bool:
    """Whether it was told how much the putt breaks, and not which way."""
    green = situation.green
    told = bool(green.side_slope) if green.borrow is None else green.borrow.aim_m > 0
    return told and "across" not in falls(situation)


def lacks_last_break(situation: Situation) -> bool:
    """Whether two breaks were told, and the way of neither: without the one at the hole there is no line."""
    green = situation.green
    return bool(green.double_break) and green.borrow is None and "across" not in falls(situation)


def own_read(situation: Situation, bag: Bag, past_flat_m: float = READ_AT_M) -> OwnRead | None:
    """What a told line says of the green at a pace, or None when no line was told.

    Args:
        situation: a completed situation.
        bag: the player's.
        past_flat_m: arrival speed, as how far past the hole the ball would roll on the level.
    """
    aim_left_m = told_aim_left_m(situation)
    if aim_left_m is None or situation.green.borrow is None:
        return None
    borrow = situation.green.borrow
    if aim_left_m == 0:
        return OwnRead(borrow, 0.0, 0.0, allowed=True)
    most = STEEPEST_SHARE * float(steepest_hold(situation.green.stimp_ft or 0.0))
    slope, reached_m = _slope_for(situation, bag, abs(aim_left_m), past_flat_m, most)
    allowed = reached_m > abs(aim_left_m) - SMALL_M
    meant_m = abs(aim_left_m) if allowed else reached_m
    return OwnRead(borrow, math.copysign(meant_m, aim_left_m), slope, allowed=allowed)


def with_side_slope(situation: Situation, slope: float) -> Situation:
    """The situation with the slope of its sideways fall set; without a sideways fall it is as it was."""
    green = situation.green
    if green.fall in SIDEWAYS:
        return with_green(situation, fall_slope=slope)
    if green.side_fall in SIDEWAYS:
        return with_green(situation, side_slope=slope)
    return situation


def side_slope_field(situation: Situation) -> str:
    """The dotted name of the field that holds the slope of the sideways fall."""
    return "green.fall_slope" if situation.green.fall in SIDEWAYS else "green.side_slope"


def side_slope_taken(situation: Situation, assumed: Mapping[str, Any]) -> dict[str, float]:
    """The slope of the sideways fall by its field, when it was assumed and not told."""
    field, across = side_slope_field(situation), falls(situation).get("across")
    return {field: round(across[1], 4)} if across is not None and field in assumed else {}


def as_read(situation: Situation, bag: Bag) -> Situation:
    """A completed situation on the green that the player's own read tells of."""
    read = own_read(situation, bag)
    return situation if read is None else with_side_slope(situation, read.side_slope)


def break_left_m(situation: Situation, bag: Bag, past_flat_m: float = READ_AT_M) -> float:
    """The aim that the green of a completed situation asks for at a pace, left of the hole's middle."""
    green = green_of(situation, bag)
    _, azimuth = read_putt(green.ground, green.pin_m, np.array([past_flat_m])).at(past_flat_m)
    return green.pin_m * math.tan(float(azimuth))


def read_disagrees(said: Situation, read: OwnRead, bag: Bag) -> str | None:
    """Where a told break and a told slope, or any green, do not go together, as a sentence, or None.

    ``said`` is the completed situation, its side slope None or 0 unless it was told.
    """
    if not read.allowed:
        return (
            "No hole is cut on a slope that breaks that much from here: I take the steepest a ball still stops on. "
            "Look again."
        )
    across = falls(said).get("across")
    slope = across[1] if across else None
    if not slope or read.aim_left_m == 0:
        return None
    told_m, slopes_m = abs(read.aim_left_m), abs(break_left_m(said, bag))
    if abs(told_m - slopes_m) < SMALL_M or max(told_m, slopes_m) < APART * max(min(told_m, slopes_m), 1e-3):
        return None
    more = "more" if slopes_m > told_m else "less"
    return (
        f"At {slope:.0%} it would break {more} than that; your read is that of {read.side_slope:.1%}: "
        "I trust your read."
    )


def _slope_for(
    situation: Situation, bag: Bag, aim_m: float, past_flat_m: float, most: float
) -> tuple[float, float]:
    """The side slope of a break, and the break it gives [m]: false position, as break grows with slope."""
    low, high = (0.0, 0.0), (most, abs(break_left_m(with_side_slope(situation, most), bag, past_flat_m)))
    if high[1] <= aim_m:
        return high
    found = high
    for round_ in range(_ROUNDS):
        share = 0.5 if round_ % 3 == 2 else (aim_m - low[1]) / (high[1] - low[1])
        slope = low[0] + min(max(share, 0.02), 0.98) * (high[0] - low[0])
        found = slope, abs(break_left_m(with_side_slope(situation, slope), bag, past_flat_m))
        if abs(found[1] - aim_m) < _CLOSE_M:
            break
        low, high = (found, high) if found[1] < aim_m else (low, found)
    return found
