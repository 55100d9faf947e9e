"""Strokes to hole out from where a ball finishes, for one player, and what the Rules add.

For a tour player the numbers off the green are published: M. Broadie, *Interfaces* 42(2), 146-165 (2012),
table 9 of the 2011 working paper. For anybody else no such table was found, so the rest is an **estimate**:

- The published value V says how far the tour leaves the ball: the mean of a Rayleigh-distributed leave whose
  expected tour putts are V - 1.
- Another player leaves it `leave_growth(handicap)` times as far and putts with their own skill.
- Some of their shots are wasted (heavy, thin, left in the sand), each costing most of a stroke.
- From short grass they may putt instead when that is cheaper.

Growth is fitted to published outcomes (see :func:`leave_growth`); wasted shots and the lies that the table
lacks (light against heavy rough, bare, divot, plugged, pine straw, fringe) are reasoned, without a source.
"""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from caddie.arrays import Floats
from caddie.bag.amateurs import TOUR_HANDICAP
from caddie.errors import CaddieError
from caddie.plan.putt.skill import (
    LONGEST_M,
    PuttingSkill,
    expected_putts,
    make_chance,
    skill_for,
    three_putt_chance,
)
from caddie.situation import IN_SAND, Lie
from caddie.units import YARD_M

TABLE_YD = (10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 120, 140)
FROM_FAIRWAY = (2.18, 2.40, 2.52, 2.60, 2.66, 2.70, 2.72, 2.75, 2.77, 2.80, 2.85, 2.91)
FROM_ROUGH = (2.34, 2.59, 2.70, 2.78, 2.87, 2.91, 2.93, 2.96, 2.99, 3.02, 3.08, 3.15)
FROM_SAND = (2.43, 2.53, 2.66, 2.82, 2.92, 3.15, 3.21, 3.24, 3.24, 3.23, 3.21, 3.22)
FROM_RECOVERY = (3.45, 3.51, 3.57, 3.71, 3.79, 3.83, 3.84, 3.84, 3.82, 3.80, 3.78, 3.80)

LIE_CODES: tuple[Lie, ...] = tuple(Lie)
"""A lie's place here is its code in :meth:`HoleOutTable.strokes_by_code`."""

LEAVE_GROWTH = 0.06
ROUGH_SHARE: Mapping[Lie, float] = MappingProxyType(
    {Lie.FIRST_CUT: 0.3, Lie.LIGHT_ROUGH: 0.7, Lie.HEAVY_ROUGH: 1.45}
)
"""Share of the way from fairway to the rough column; six light lies to four heavy ones give the column."""
HARDER: Mapping[Lie, float] = MappingProxyType({Lie.BARE: 0.10, Lie.DIVOT: 0.12, Lie.PINE_STRAW: 0.05})
"""Tour strokes above the fairway (pine straw: above the rough)."""
PLUGGED_EXTRA = 0.45
WASTED = 0.006
"""Wasted shots from the fairway for each handicap stroke above the tour: one in seven at handicap 18."""
WASTED_COST = 0.8
WASTED_BY_LIE: Mapping[Lie, float] = MappingProxyType(
    {
        Lie.FRINGE: 0.7,
        Lie.FAIRWAY: 1.0,
        Lie.FIRST_CUT: 1.1,
        Lie.LIGHT_ROUGH: 1.2,
        Lie.HEAVY_ROUGH: 1.7,
        Lie.BARE: 1.6,
        Lie.DIVOT: 1.6,
        Lie.BUNKER: 2.5,
        Lie.PLUGGED: 2.5,
        Lie.PINE_STRAW: 1.5,
    }
)
FRINGE_SHARE = 0.4
"""A ball on the fringe is worth this share of the way from a putt to a fairway shot."""
PUTT_OFF_GREEN = 0.25
PUTT_OFF_GREEN_PER_M = 0.01
"""Putting through short grass costs this above a putt of the length, and so much more a metre past 10 yd."""

_NEAREST_M = TABLE_YD[0] * YARD_M
_FARTHEST_M = TABLE_YD[-1] * YARD_M
_STEP_M = 0.05
_GRID_M = np.arange(0, _FARTHEST_M + _STEP_M, _STEP_M)
_LEAVES_M = LONGEST_M * np.linspace(0, 1, 241) ** 2
_QUANTILES = (np.arange(64) + 0.5) / 64
_RAYLEIGH = np.sqrt(-2 * np.log1p(-_QUANTILES)) / np.sqrt(np.pi / 2)


def leave_growth(handicap: float) -> float:
    """How many times as far as the tour a player of this handicap leaves the ball.

    1 + 0.06 (handicap + 5): the least-squares fit in the logarithm (0.058) to four published outcomes, each
    told as a multiple of the tour's leave. They disagree by up to 1.7 times from it: Cochran & Stobbs 1968,
    good lies, tour mixed with 1-2 handicaps (0.71, put at -2); elite amateurs' wedge test, *Open Sports Sci.
    J.* 14, 86, 2021 (1.57, put at 0); D. Pelz's up-and-downs from 30 yd (2.57 at 10); M. Broadie's golfers
    who shoot 90, from 150 yd (1.89 at 18).

    >>> leave_growth(-5), round(leave_growth(18), 2)
    (1.0, 2.38)
    """
    return 1 + LEAVE_GROWTH * _above_tour(handicap)


def mean_leave_m(distance_m: float, lie: Lie, handicap: float) -> float:
    """How far from the hole [m] a shot that is not wasted ends in the mean.

    >>> round(mean_leave_m(20 * YARD_M, Lie.FAIRWAY, 18), 1)
    5.4
    """
    return leave_growth(handicap) * float(np.interp(distance_m, _GRID_M, _tour_leave_m(lie)))


class HoleOutTable:
    """Strokes to hole out for one player, tabulated every 5 cm from the hole to 140 yd.

    ``putting`` replaces the skill typical of the handicap by the player's own. Farther than 140 yd counts
    as 140 yd. Raises `CaddieError` for a handicap outside -10..60; one below -5 counts as -5.
    """

    def __init__(self, handicap: float, putting: PuttingSkill | None = None) -> None:
        self.handicap = handicap
        self.putting = putting or skill_for(handicap)
        self._above = _above_tour(handicap)
        mean_putts = _mean_putts(self.putting)
        putts = expected_putts(_GRID_M, self.putting)
        struck = [lie for lie in LIE_CODES if lie not in (Lie.GREEN, Lie.FRINGE)]
        rows: dict[Lie, Floats] = {lie: self._chipped(lie, mean_putts) for lie in struck}
        rows[Lie.PLUGGED] = rows[Lie.BUNKER] + PLUGGED_EXTRA * (1 + self._wasted(Lie.PLUGGED))
        through_grass = putts + PUTT_OFF_GREEN
        through_grass += PUTT_OFF_GREEN_PER_M * np.maximum(_GRID_M - _NEAREST_M, 0)
        for lie in (Lie.FAIRWAY, Lie.BARE):
            rows[lie] = np.minimum(rows[lie], through_grass)
        near = int(np.searchsorted(_GRID_M, _NEAREST_M))
        for row in rows.values():
            # Inside 10 yd nothing is published: keep what the lie adds to a putt there.
            row[:near] = putts[:near] + (row[near] - putts[near])
        rows[Lie.GREEN] = putts
        fringe = putts + FRINGE_SHARE * (rows[Lie.FAIRWAY] - putts)
        rows[Lie.FRINGE] = np.minimum(fringe, rows[Lie.FAIRWAY])
        self._rows = np.stack([rows[lie] for lie in LIE_CODES])
        tour_heavy = _tour_strokes(Lie.HEAVY_ROUGH)
        excess = np.maximum(rows[Lie.HEAVY_ROUGH] - tour_heavy, 0)
        excess[:near] = excess[near]
        self._recovery = _column(FROM_RECOVERY) + excess

    def strokes(self, distance_m: ArrayLike, lie: Lie) -> Floats:
        """Expected strokes to hole out, the next one included, ``distance_m`` (any shape) from the hole [m].

        >>> round(float(HoleOutTable(-5).strokes(50 * YARD_M, Lie.FAIRWAY)), 2)
        2.66
        """
        return self.strokes_by_code(distance_m, np.intp(LIE_CODES.index(lie)))

    def strokes_by_code(self, distance_m: ArrayLike, lie_code: NDArray[np.integer] | np.intp) -> Floats:
        """The same for balls on different lies: ``lie_code`` (broadcastable) indexes :data:`LIE_CODES`."""
        return _between_steps(self._rows, distance_m, lie_code)

    def recovery(self, distance_m: ArrayLike) -> Floats:
        """Strokes to hole out from among trees or another place that must be escaped first.

        The table's recovery column plus what heavy rough costs this player above the tour (an estimate).
        """
        return _between_steps(self._recovery[None], distance_m, np.intp(0))

    def up_and_down(self, distance_m: ArrayLike, lie: Lie) -> Floats:
        """Chance of holing out in two: not wasted, then one putt from the leave; on the green two putts.

        ``distance_m`` any shape [m].
        """
        if lie is Lie.GREEN:
            return 1 - three_putt_chance(distance_m, self.putting)
        leave_m = np.interp(np.asarray(distance_m, dtype=np.float64), _GRID_M, _tour_leave_m(lie))
        spread_m = leave_growth(self.handicap) * leave_m[..., None] * _RAYLEIGH
        made = make_chance(spread_m, self.putting).mean(axis=-1)
        return np.asarray((1 - self._wasted(lie)) * made)

    def _wasted(self, lie: Lie) -> float:
        return min(WASTED * WASTED_BY_LIE[lie] * self._above, 0.5)

    def _chipped(self, lie: Lie, mean_putts: Floats) -> Floats:
        leave_m = leave_growth(self.handicap) * _tour_leave_m(lie)
        return 1 + np.interp(leave_m, _LEAVES_M, mean_putts) + WASTED_COST * self._wasted(lie)


@lru_cache(maxsize=32)
def hole_out_table(handicap: float, putting: PuttingSkill | None = None) -> HoleOutTable:
    """The table of :class:`HoleOutTable`, kept for the next call."""
    return HoleOutTable(handicap, putting)


def strokes_to_hole_out(distance_m: ArrayLike, lie: Lie, handicap: float) -> Floats:
    """Expected strokes to hole out from ``distance_m`` [m] for a handicap, the next stroke included.

    >>> round(float(strokes_to_hole_out(30 * YARD_M, Lie.BUNKER, -5)), 2)
    2.66
    """
    return hole_out_table(handicap).strokes(distance_m, lie)


def water_cost(
    table: HoleOutTable,
    origin_distance_m: ArrayLike,
    origin_lie: Lie,
    crossing_distance_m: ArrayLike | None = None,
    drop_lie: Lie = Lie.LIGHT_ROUGH,
) -> Floats:
    """Strokes to hole out after a shot into a penalty area, the penalty included (Rule 17.1d, 2023).

    The cheaper of one stroke and the previous spot, or one stroke and a drop: ``crossing_distance_m`` is the
    distance from the hole [m] of the nearest spot where the ball may be dropped, which is back on the line
    behind a yellow area and where the ball crossed the edge for a red one; None or nan when there is no such
    spot.
    """
    replay = out_of_bounds_cost(table, origin_distance_m, origin_lie)
    if crossing_distance_m is None:
        return replay
    spot_m = np.asarray(crossing_distance_m, dtype=np.float64)
    drop = 1 + table.strokes(np.nan_to_num(spot_m, nan=0.0), drop_lie)
    return np.where(np.isnan(spot_m), replay, np.minimum(replay, drop))


def out_of_bounds_cost(table: HoleOutTable, origin_distance_m: ArrayLike, origin_lie: Lie) -> Floats:
    """Strokes to hole out after a ball out of bounds: one stroke and the previous spot (Rule 18.2)."""
    return 1 + table.strokes(origin_distance_m, dropped(origin_lie))


def dropped(lie: Lie) -> Lie:
    """The lie of a ball dropped where one was played: it neither plugs nor falls back into the divot."""
    return {Lie.PLUGGED: Lie.BUNKER, Lie.DIVOT: Lie.FAIRWAY}.get(lie, lie)


def _above_tour(handicap: float) -> float:
    if not -10 <= handicap <= 60:
        raise CaddieError(f"handicap {handicap:g}: give one from -10 (better than scratch) to 60")
    return max(handicap - TOUR_HANDICAP, 0.0)


def _column(strokes: tuple[float, ...]) -> Floats:
    value: Floats = np.interp(_GRID_M, np.asarray(TABLE_YD) * YARD_M, np.asarray(strokes))
    return value


def _tour_strokes(lie: Lie) -> Floats:
    """The published value (n,) on the grid, or what is reasoned from it, for a tour player."""
    if lie in IN_SAND:
        return _column(FROM_SAND) + (PLUGGED_EXTRA if lie is Lie.PLUGGED else 0)
    if lie is Lie.PINE_STRAW:
        return _column(FROM_ROUGH) + HARDER[lie]
    fairway = _column(FROM_FAIRWAY)
    return fairway + ROUGH_SHARE.get(lie, 0) * (_column(FROM_ROUGH) - fairway) + HARDER.get(lie, 0)


def _mean_putts(skill: PuttingSkill) -> Floats:
    """Expected putts (241,) when the leave is Rayleigh with mean :data:`_LEAVES_M`."""
    return np.asarray(expected_putts(_LEAVES_M[:, None] * _RAYLEIGH, skill).mean(axis=1))


@lru_cache(maxsize=16)
def _tour_leave_m(lie: Lie) -> Floats:
    putts_left = _tour_strokes(lie) - 1
    return np.asarray(np.interp(putts_left, _mean_putts(skill_for(TOUR_HANDICAP)), _LEAVES_M))


def _between_steps(rows: Floats, distance_m: ArrayLike, row: NDArray[np.integer] | np.intp) -> Floats:
    distance = np.asarray(distance_m, dtype=np.float64)
    if distance.size and not distance.min() >= 0:
        raise CaddieError("distance from the hole: give 0 or more metres")
    steps = np.minimum(distance, _FARTHEST_M) * (1 / _STEP_M)
    below = np.minimum(steps, rows.shape[1] - 2).astype(np.intp)
    share = steps - below
    start = row * rows.shape[1] + below
    flat = rows.ravel()
    low = flat[start]
    value: Floats = low + share * (flat[start + 1] - low)
    return value
