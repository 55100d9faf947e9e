"""A fair mix of approaches and of first putts, drawn with a seed from the shares stated here.

Nothing here is fitted: the shares are what a round brings at large (common practice, no source). Every share is met
exactly, only what goes together is drawn, so that few situations make a fair mix.

>>> [situation.lie.value for situation in approaches(100.0, 100.0, 4, seed=1)]
['fairway', 'light_rough', 'fairway', 'fairway']
"""

from collections.abc import Mapping
from typing import TypeVar

import numpy as np
from numpy.random import Generator

from caddie.arrays import Floats
from caddie.plan.strokes import mean_leave_m
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Stance,
    Wind,
    WindFrom,
)
from caddie.units import FOOT_M, YARD_M

Thing = TypeVar("Thing")

LIES = {Lie.FAIRWAY: 0.60, Lie.LIGHT_ROUGH: 0.25, Lie.HEAVY_ROUGH: 0.08, Lie.DIVOT: 0.03, Lie.BUNKER: 0.04}
DEPTHS = {"front": 1 / 3, "middle": 1 / 3, "back": 1 / 3}
SIDES = {"": 0.4, "_left": 0.3, "_right": 0.3}
"""Where the flag is cut: in the middle, or left or right."""
GREEN_YD = (20.0, 32.0)
"""Depths of greens, evenly spread."""
EDGE_YD = (4.0, 8.0)
"""From a front or back flag to its edge."""
FIRM = {Firmness.SOFT: 0.2, Firmness.MEDIUM: 0.6, Firmness.FIRM: 0.2}
STIMP_FT = (8.0, 11.0)
FALLS = {Fall.TOWARD: 0.45, Fall.AWAY: 0.1, Fall.LEFT_TO_RIGHT: 0.225, Fall.RIGHT_TO_LEFT: 0.225}
SLOPE = (0.0, 0.03)
TROUBLE: Mapping[tuple[tuple[HazardKind, Side], ...], float] = {
    (): 0.45,
    ((HazardKind.BUNKER, Side.LEFT),): 0.1,
    ((HazardKind.BUNKER, Side.RIGHT),): 0.1,
    ((HazardKind.BUNKER, Side.SHORT),): 0.1,
    ((HazardKind.BUNKER, Side.LEFT), (HazardKind.BUNKER, Side.RIGHT)): 0.1,
    ((HazardKind.BUNKER, Side.LONG),): 0.03,
    ((HazardKind.WATER, Side.SHORT),): 0.03,
    ((HazardKind.WATER, Side.LEFT),): 0.03,
    ((HazardKind.WATER, Side.RIGHT),): 0.03,
    ((HazardKind.ROUGH, Side.SHORT),): 0.03,
}
STANCES: Mapping[tuple[Stance, ...], float] = {
    (): 0.7,
    (Stance.UPHILL,): 0.1,
    (Stance.DOWNHILL,): 0.08,
    (Stance.BALL_ABOVE,): 0.06,
    (Stance.BALL_BELOW,): 0.06,
}
SAND = {Lie.BUNKER: 0.95, Lie.PLUGGED: 0.05}
SAND_EDGE_YD = (4.0, 12.0)
"""From a ball in a bunker to the green."""
ROOM_YD = (4.0, 16.0)
"""From there to the flag."""
GREENS_IN_REGULATION = {-5.0: 0.66, 0.0: 0.58, 5.0: 0.46, 10.0: 0.36, 15.0: 0.27, 20.0: 0.20, 25.0: 0.14}
"""Share of holes by handicap (from memory, no source opened)."""
FIRST_PUTT_FT = 27.0
"""Mean length of the first putt on a green hit in regulation (from memory, no source opened)."""
CHIPPED_YD = 15.0
"""From where the others are reached, half from fairway, half from light rough (common practice, no source)."""
RISE_M = (-3.0, 4.0)
WIND_M_S = (0.0, 6.0)
"""From any side."""


def approaches(nearest_yd: float, farthest_yd: float, count: int, seed: int) -> list[Situation]:
    """So many shots at flags between two distances, evenly spread."""
    rng = np.random.default_rng(seed)
    lies, flags, sides = (_of(shares, count, rng) for shares in (LIES, DEPTHS, SIDES))
    firm, falls, trouble, stances = (_of(shares, count, rng) for shares in (FIRM, FALLS, TROUBLE, STANCES))
    winds = _of(dict.fromkeys(WindFrom, 1 / len(WindFrom)), count, rng)
    pin, depth, edge, stimp, slope, rise, speed = (
        _between(low, high, count, rng)
        for low, high in ((nearest_yd, farthest_yd), GREEN_YD, EDGE_YD, STIMP_FT, SLOPE, RISE_M, WIND_M_S)
    )
    return [
        Situation(
            pin_m=pin[i] * YARD_M,
            room_m={"front": edge[i], "middle": depth[i] / 2, "back": depth[i] - edge[i]}[flags[i]] * YARD_M,
            pin_position=PinPosition(flags[i] + sides[i]),
            lie=lies[i],
            stance=stances[i],
            elevation_m=rise[i],
            hazards=tuple(Hazard(kind=kind, side=side) for kind, side in trouble[i]),
            green=Green(firmness=firm[i], stimp_ft=stimp[i], fall=falls[i], fall_slope=slope[i]),
            wind=Wind(from_=winds[i], speed_m_s=speed[i]),
        )
        for i in range(count)
    ]


def greenside_bunkers(count: int, seed: int) -> list[Situation]:
    """So many shots from a bunker beside the green, evenly spread over its distances."""
    rng = np.random.default_rng(seed)
    lies, firm, falls = (_of(shares, count, rng) for shares in (SAND, FIRM, FALLS))
    edge, room, stimp, slope = (
        _between(low, high, count, rng) for low, high in (SAND_EDGE_YD, ROOM_YD, STIMP_FT, SLOPE)
    )
    return [
        Situation(
            pin_m=(edge[i] + room[i]) * YARD_M,
            front_m=edge[i] * YARD_M,
            lie=lies[i],
            green=Green(firmness=firm[i], stimp_ft=stimp[i], fall=falls[i], fall_slope=slope[i]),
        )
        for i in range(count)
    ]


def first_putts_m(handicap: float) -> tuple[Floats, Floats]:
    """Lengths of first putts [m] on greens hit in regulation and after a chip or pitch, each as often.

    They scatter like the two errors of a shot (Rayleigh); after a chip by what the player's table of strokes says
    such a shot leaves.
    """
    chance = (np.arange(64) + 0.5) / 64
    rayleigh = np.sqrt(-2 * np.log1p(-chance)) / np.sqrt(np.pi / 2)
    left_m = [mean_leave_m(CHIPPED_YD * YARD_M, lie, handicap) for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH)]
    return FIRST_PUTT_FT * FOOT_M * rayleigh, float(np.mean(left_m)) * rayleigh


def _of(shares: Mapping[Thing, float], count: int, rng: Generator) -> list[Thing]:
    """Things as often as their shares say, in a drawn order."""
    edges = np.cumsum(list(shares.values())) / sum(shares.values())
    places = np.searchsorted(edges, (np.arange(count) + 0.5) / count)
    things = list(shares)
    return [things[place] for place in rng.permutation(places)]


def _between(low: float, high: float, count: int, rng: Generator) -> list[float]:
    """Numbers evenly spread between two, in a drawn order."""
    return [float(each) for each in low + (high - low) * rng.permutation((np.arange(count) + 0.5) / count)]
