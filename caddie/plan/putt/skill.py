"""Putting from two skills: how well the player controls angle and distance.

The model: a ball is holed when its start angle is within the hole's half-width and it would run between the
hole and 3 ft past it, the player aiming 1 ft past (M. Broadie, "A simple model of golf putting", as fitted
in A. Gelman, golf putting case study, 2019). Angle is normal with a fixed SD; length is normal with an SD
that is a share of (distance + 1 ft). What is left after a miss follows from the same two errors, and the
putts to hole out from what is left, until the ball is in.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.bag.amateurs import amateurs
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.errors import CaddieError
from caddie.units import FOOT_M, INCH_M

HOLE_LESS_BALL_M = (2.125 - 0.84) * INCH_M
"""Hole radius less ball radius: how far off centre the ball may pass and still be holed."""
AIM_PAST_M = 1.0 * FOOT_M
TOLERANCE_PAST_M = 3.0 * FOOT_M
LONGEST_M = 60.0
"""Longer putts are valued as this one."""

_NODES = 161
_STEP_M = 0.01
_WIDEST_SD = 6.0
_GAUSS = np.array([0.18343464249564978, 0.525532409916329, 0.7966664774136267, 0.9602898564975362])
_GAUSS = np.concatenate([-_GAUSS[::-1], _GAUSS])
_GAUSS_WEIGHT = np.array([0.36268378337836166, 0.3137066458778869, 0.22238103445337443, 0.10122853629037706])
_GAUSS_WEIGHT = np.concatenate([_GAUSS_WEIGHT[::-1], _GAUSS_WEIGHT])
"""Gauss-Legendre nodes and weights of eight points; a test has numpy work them out."""
_erf = np.frompyfunc(math.erf, 1, 1)


@dataclass(frozen=True)
class PuttingSkill:
    """A putter's two errors.

    ``angle_sd_rad`` is the SD of the start angle; ``distance_sd`` the SD of the length rolled as a share of
    (distance to the hole + 1 ft). Raises `CaddieError` outside 0-0.3 rad and 0-1.
    """

    angle_sd_rad: float
    distance_sd: float

    def __post_init__(self) -> None:
        if not 0 < self.angle_sd_rad <= 0.3:
            raise CaddieError(f"putting angle_sd_rad {self.angle_sd_rad:g}: give a number above 0, up to 0.3")
        if not 0 < self.distance_sd <= 1:
            raise CaddieError(f"putting distance_sd {self.distance_sd:g}: give a number above 0, up to 1")


def skill_for(handicap: float) -> PuttingSkill:
    """The putting skill typical of a handicap, straight lines from the tour's.

    -5 (tour) is 1.02 deg and 0.080, fitted to the makes of 2016-18 (computed, agrees with the published 1.0 deg and
    0.08). What each stroke adds is fitted to averages of amateurs by handicap (:mod:`caddie.bag.amateurs`).
    Raises `CaddieError` outside -10..60; below -5 counts as -5.

    >>> round(math.degrees(skill_for(-5).angle_sd_rad), 2), skill_for(-5).distance_sd
    (1.02, 0.08)
    """
    if not -10 <= handicap <= 60:
        raise CaddieError(f"handicap {handicap:g}: give one from -10 (better than scratch) to 60")
    typical = amateurs()
    return PuttingSkill(math.radians(typical.putt_line_deg.at(handicap)), typical.putt_pace.at(handicap))


def make_chance(
    distance_m: ArrayLike, skill: PuttingSkill, slope: float = 0.0, stimp_ft: float = 10.0
) -> Floats:
    """Chance of holing a putt.

    Parameters: ``distance_m`` any shape [m]; ``slope`` along the line as rise over run, uphill positive;
    ``stimp_ft`` only matters on a slope. Returns the same shape. Raises `CaddieError` for a negative
    distance or a slope too steep for the ball to stop.

    On a slope the player's speed error is that of the level putt of the same length, so the length error
    grows with the square root of level over actual deceleration, and the 3 ft that the hole forgives, which
    is a speed, stretches with that ratio: a putt from above the hole is the harder one.

    >>> round(float(make_chance(10 * FOOT_M, skill_for(-5))), 3)
    0.389
    """
    distance = _checked(distance_m)
    stretch = _stretch(slope, stimp_ft)
    sd = skill.distance_sd * math.sqrt(stretch) * (distance + AIM_PAST_M)
    on_line = _normal_inside(_half_angle_rad(distance) / skill.angle_sd_rad)
    aim_m = _aim_past_m(stretch)
    past = _normal_below((TOLERANCE_PAST_M * stretch - aim_m) / sd)
    return np.asarray(on_line * (past - _normal_below(-aim_m / sd)))


def expected_putts(
    distance_m: ArrayLike, skill: PuttingSkill, slope: float = 0.0, stimp_ft: float = 10.0
) -> Floats:
    """Mean putts to hole out, 1.0 at the hole; parameters as in :func:`make_chance`.

    Putts after a miss are valued as level. Tabulated once per skill, interpolated after that; a putt longer
    than 60 m counts as 60 m.

    >>> round(float(expected_putts(30 * FOOT_M, skill_for(-5))), 2)
    1.98
    """
    return _look_up(_outcomes(skill, slope, stimp_ft).expected, distance_m)


def three_putt_chance(
    distance_m: ArrayLike, skill: PuttingSkill, slope: float = 0.0, stimp_ft: float = 10.0
) -> Floats:
    """Chance of needing three putts or more; parameters as in :func:`make_chance`."""
    return _look_up(_outcomes(skill, slope, stimp_ft).three_or_more, distance_m)


@dataclass(frozen=True)
class _Outcomes:
    """What putts lead to, each array on steps of 1 cm from 0 to 60 m."""

    expected: Floats
    three_or_more: Floats


@lru_cache(maxsize=64)
def _outcomes(skill: PuttingSkill, slope: float, stimp_ft: float) -> _Outcomes:
    start_m = LONGEST_M * np.linspace(0, 1, _NODES) ** 2
    made = make_chance(start_m, skill)
    moves = _misses(start_m, skill, 1.0, made)
    expected = np.ones(_NODES)
    change = 1.0
    while change > 1e-12:
        # Not linalg.solve nor @: their threads wait tens of milliseconds for each other on a busy machine.
        following = 1 + np.einsum("ij,j->i", moves, expected)
        change, expected = float(np.abs(following - expected).max()), following
    made_next = made
    if slope != 0:
        made = make_chance(start_m, skill, slope, stimp_ft)
        moves = _misses(start_m, skill, _stretch(slope, stimp_ft), made)
        expected = 1 + np.einsum("ij,j->i", moves, expected)
    three = np.clip(1 - made - np.einsum("ij,j->i", moves, made_next), 0, 1)
    # Rounding of 1e-9 must not turn a longer putt into an easier one.
    expected = np.maximum.accumulate(expected - expected[0] + 1)
    fine_m = np.arange(0, LONGEST_M + _STEP_M / 2, _STEP_M)
    return _Outcomes(*(np.interp(fine_m, start_m, column) for column in (expected, three)))


def _misses(start_m: Floats, skill: PuttingSkill, stretch: float, made: Floats) -> Floats:
    """Chance of going from each start to each leave (n, n), by Gauss quadrature.

    The plane of the two errors is cut where the hole begins and ends, so that no panel holds a jump.
    """
    aim_m = _aim_past_m(stretch)
    reach_m = start_m + aim_m
    sd_m = skill.distance_sd * math.sqrt(stretch) * (start_m + AIM_PAST_M)
    edge = np.minimum(_half_angle_rad(start_m) / skill.angle_sd_rad, _WIDEST_SD)
    short = np.maximum(-aim_m / sd_m, -_WIDEST_SD)
    long = np.minimum((TOLERANCE_PAST_M * stretch - aim_m) / sd_m, _WIDEST_SD)
    zero, widest = np.zeros_like(start_m), np.full_like(start_m, _WIDEST_SD)
    off, on = _panel(edge, widest), _panel(zero, edge)
    lengths = [_panel(-widest, short), _panel(short, long), _panel(long, widest)]
    leaves, weights = [], []
    for angle, length in [*((off, each) for each in lengths), (on, lengths[0]), (on, lengths[2])]:
        angle_rad = (angle[0] * skill.angle_sd_rad)[:, :, None]
        rolled_m = np.maximum(reach_m[:, None] + sd_m[:, None] * length[0], 0)[:, None, :]
        along_m = rolled_m * np.cos(angle_rad) - start_m[:, None, None]
        leaves.append(np.hypot(along_m, rolled_m * np.sin(angle_rad)).reshape(_NODES, -1))
        weights.append((2 * angle[1][:, :, None] * length[1][:, None, :]).reshape(_NODES, -1))
    leave_m = np.minimum(np.hstack(leaves), LONGEST_M)
    weight = np.hstack(weights)
    missed = weight.sum(axis=1)
    # The tails past six SD are cut: give the misses exactly the chance that the closed form leaves them.
    weight *= np.where(missed > 1e-12, (1 - made) / np.maximum(missed, 1e-12), 0)[:, None]
    below = np.minimum(np.sqrt(leave_m / LONGEST_M) * (_NODES - 1), _NODES - 1.000001).astype(np.intp)
    share = np.clip((leave_m - start_m[below]) / (start_m[below + 1] - start_m[below]), 0, 1)
    cell = (np.arange(_NODES)[:, None] * _NODES + below).ravel()
    moves: Floats = np.bincount(cell, (weight * (1 - share)).ravel(), _NODES**2).astype(np.float64)
    moves += np.bincount(cell + 1, (weight * share).ravel(), _NODES**2)
    return moves.reshape(_NODES, _NODES)


def _panel(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Gauss-Legendre points (n, 8) between two bounds (n,), and their weights times the normal density."""
    half = (high - low)[:, None] / 2
    points = (high + low)[:, None] / 2 + half * _GAUSS
    return points, half * _GAUSS_WEIGHT * np.exp(-(points**2) / 2) / math.sqrt(2 * math.pi)


def _look_up(fine: Floats, distance_m: ArrayLike) -> Floats:
    steps = np.atleast_1d(_checked(distance_m)) * (1 / _STEP_M)
    below = np.minimum(steps, len(fine)).astype(np.intp)
    steps -= below
    steps *= np.diff(fine, append=fine[-1]).take(below, mode="clip")
    steps += fine.take(below, mode="clip")
    return steps.reshape(np.shape(distance_m))


def _checked(distance_m: ArrayLike) -> Floats:
    distance = np.asarray(distance_m, dtype=np.float64)
    if distance.size and not distance.min() >= 0:
        raise CaddieError("distance of a putt: give 0 or more metres")
    return distance


def _stretch(slope: float, stimp_ft: float) -> float:
    """Level deceleration over that on the slope: how much farther the same speed rolls."""
    if slope == 0:
        return 1.0
    if not (abs(slope) <= 1 and stimp_ft > 0):
        raise CaddieError(f"slope {slope:g}, stimp {stimp_ft:g}: give a slope of -1..1 and a stimp above 0")
    level = float(deceleration(stimp_ft))
    pull = ROLL_GRAVITY_M_S2 * math.sin(math.atan(slope))
    if level + pull < 0.05 * level:
        raise CaddieError(
            f"slope {slope:.0%} at stimp {stimp_ft:g}: a ball cannot stop there; give a gentler slope"
        )
    return level / (level + pull)


def _aim_past_m(stretch: float) -> float:
    """1 ft past, but up a steep slope no more than half of what the hole forgives."""
    return min(AIM_PAST_M, TOLERANCE_PAST_M * stretch / 2)


def _half_angle_rad(distance_m: Floats) -> Floats:
    return np.asarray(np.arcsin(HOLE_LESS_BALL_M / np.maximum(distance_m, HOLE_LESS_BALL_M)))


def _normal_below(z: Floats) -> Floats:
    return np.asarray(0.5 + 0.5 * _normal_inside(z))


def _normal_inside(z: Floats) -> Floats:
    return np.asarray(_erf(z / math.sqrt(2)), dtype=np.float64)
