"""How far the aim moves within what was said: a spoken slope is a range, and so is the green's speed.

How wide the ranges are is common practice, no source: a slope given in words or judged by eye is right within
a third, one that was not given at all lies between half of what is taken and half as much again; a green's
speed that was said is right within half a foot, one that was not lies a foot and a half either way.
"""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from caddie.bag import Bag
from caddie.plan.putt.green import falls, green_of, with_green
from caddie.plan.putt.read import read_putt
from caddie.situation import Situation

SAID_SLOPE = 1 / 3
UNSAID_SLOPE = 1 / 2
SAID_SPEED_FT = 0.5
UNSAID_SPEED_FT = 1.5


def aim_range(
    situation: Situation, assumed: Mapping[str, Any], bag: Bag, past_flat_m: float, aim_left_m: float
) -> tuple[float, float]:
    """The gentlest and the steepest read's aim [m left at the hole], both with the chosen arrival speed.

    Break goes with slope times green speed, so the two ranges add as independent shares.
    """
    across = falls(situation).get("across")
    if across is None or situation.green.stimp_ft is None:
        return aim_left_m, aim_left_m
    share = break_share(situation, assumed)
    ends = []
    for factor in (1 - share, 1 + share):
        slope = min(across[1] * factor, 0.4)
        field = "fall_slope" if across[0] is situation.green.fall else "side_slope"
        green = green_of(with_green(situation, **{field: slope}), bag)
        _, azimuth = read_putt(green.ground, green.pin_m, np.array([past_flat_m])).at(past_flat_m)
        ends.append(green.pin_m * math.tan(float(azimuth)))
    return ends[0], ends[1]


def break_share(situation: Situation, assumed: Mapping[str, Any]) -> float:
    """How uncertain the break is, as a share of it."""
    return math.hypot(slope_share(assumed), speed_range_ft(assumed) / (situation.green.stimp_ft or 9.5))


def slope_share(assumed: Mapping[str, Any]) -> float:
    """How uncertain the side slope is, as a share of it."""
    return UNSAID_SLOPE if {"green.fall_slope", "green.side_slope"} & set(assumed) else SAID_SLOPE


def speed_range_ft(assumed: Mapping[str, Any]) -> float:
    """How uncertain the green's speed is [ft] either way."""
    return UNSAID_SPEED_FT if "green.stimp_ft" in assumed else SAID_SPEED_FT
