"""Launches run out once on grids of speed and direction, for all the candidates that use them.

Where a ball ends depends on how it leaves the club, not on what was meant with it. So the balls of a launch
are settled once, one in every cell of a grid of speed and direction, and a candidate weighs their strokes by
its own chance of sending a ball into each cell. Hundreds of candidates then cost a few products of matrices,
without any luck of the draw between them. First every launch is run out coarsely over all its speeds; around
the best candidates a closer grid follows. Heavy strikes stay on the coarse grid, thin ones have their own.
Inside its cell each ball lies at a place of an additive recurrence, so that the edge of a bunker is not met
at the same spot of every cell.
"""

from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from caddie.arrays import Floats, Ints, distinct
from caddie.bag import Bag, Risk
from caddie.plan.dispersion import aim_bias, length_bias, normal_quantile, student_chance
from caddie.plan.finish import NEAREST_CARRY_M, Candidates, finish, heavy_speed, thin_factor
from caddie.plan.launches import Rows
from caddie.plan.scene import Scene
from caddie.plan.strokes import HoleOutTable
from caddie.plan.value import RISK_WEIGHT, strokes_of, weighed_tail

CARRIES = 36
THIN_SPEEDS = 20
FAN = np.array([0.0, 0.4, 0.9, 1.6, 2.6, 4.2, 8.0])
"""Edges of the coarse directions to one side in :func:`_fan_unit` at the flag: finest along the line."""
RUN_PAST_M = 12.0
PAST_SHARE = 0.35
"""Carries are run out to so far beyond the flag, in metres and as a share of its distance."""
CLOSE_CARRIES = 60
CLOSE_REACH = 5.0
"""The closer grid covers so many spreads of carry about the candidates."""
CLOSE_FAN = np.array([0.0, 0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1, 2.5, 3.0, 3.7, 4.8, 7.0])
"""Its directions to one side, in spreads of direction."""
_STEP = 1.2207440846057596 ** -np.arange(1.0, 4.0)
"""Powers of 1/phi with phi^4 = phi + 1: the most even three-dimensional recurrence."""


@dataclass(frozen=True, eq=False)
class RunOutGrid:
    """Strokes of one ball in every cell of ``m`` launches, ``s`` speeds and ``a`` directions."""

    place: Ints
    """Where each launch row is found; -1 for one left out."""
    speed_edge_m_s: Floats
    """Shape ``(m, s + 1)``."""
    azimuth_edge: Floats
    """Shape ``(m, a + 1)``."""
    strokes: Floats
    """Shape ``(m, s, a)``."""

    def across(self, row: int, scene: Scene, shots: Candidates, bag: Bag) -> Floats:
        """Chance of a ball in each direction, (c, a)."""
        off = self.azimuth_edge[self.place[row]] - np.arctan(shots.aim_left_m / scene.pin_m)[:, None]
        side = np.tan(np.clip(off, -1.2, 1.2)) * np.maximum(shots.carry_m, 1.0)[:, None]
        spread = shots.side_sd_m[:, None]
        return _cells(student_chance((side - aim_bias(bag.player, spread)) / spread))


@dataclass(frozen=True, eq=False)
class RunOut:
    """The launches run out: clean strikes, heavy ones and thin ones."""

    scene: Scene
    rows: Rows
    table: HoleOutTable
    clean: RunOutGrid
    heavy: RunOutGrid
    thin: RunOutGrid

    def scores(self, shots: Candidates, bag: Bag) -> Floats:
        """What candidates are ranked by, shape ``(c,)``: mean strokes, moved by the player's risk dial."""
        score = np.empty(len(shots.row))
        for row in distinct(shots.row):
            mine = np.flatnonzero(shots.row == row)
            score[mine] = self._row_scores(int(row), shots.take(mine), bag)
        return score

    def closer(self, shots: Candidates, bag: Bag) -> Self:
        """The same with a closer grid of the launches of ``shots``, around these shots."""
        wanted = distinct(shots.row)
        speed_edge, azimuth_edge = [], []
        for row in wanted:
            mine = shots.take(np.flatnonzero(shots.row == row))
            about = mine.carry_m + length_bias(bag.player, mine.length_sd_m)
            low = max(float((about - CLOSE_REACH * mine.length_sd_m).min()), NEAREST_CARRY_M)
            high = float((about + CLOSE_REACH * mine.length_sd_m).max())
            speed_edge.append(self._speeds(int(row), np.linspace(low, high, CLOSE_CARRIES + 1)))
            widest = float((mine.side_sd_m / np.maximum(mine.carry_m, 1.0)).max())
            middle = float(np.mean(np.arctan(mine.aim_left_m / self.scene.pin_m)))
            azimuth_edge.append(middle + np.arctan(widest * _both_sides(CLOSE_FAN)))
        grid = _settled(
            self.scene, self.rows, self.table, wanted, np.stack(speed_edge), np.stack(azimuth_edge)
        )
        return replace(self, clean=grid)

    def _speeds(self, row: int, carry_m: Floats) -> Floats:
        return np.asarray(np.interp(carry_m, self.rows.carry_m[row], self.rows.speed_m_s[row]))

    def _row_scores(self, row: int, shots: Candidates, bag: Bag) -> Floats:
        thin_row = int(self.rows.thin_row[row])
        clean, heavy, thin = self._along(row, shots, bag)
        parts = [
            (along, grid.across(each, self.scene, shots, bag), grid.strokes[grid.place[each]])
            for along, grid, each in (
                (clean, self.clean, row),
                (heavy, self.heavy, row),
                (thin, self.thin, thin_row),
            )
        ]
        mean = np.sum([((along @ strokes) * across).sum(axis=1) for along, across, strokes in parts], axis=0)
        if bag.player.risk is Risk.EVEN:
            return np.asarray(mean)
        weight = [
            (along[:, :, None] * across[:, None, :]).reshape(len(along), -1) for along, across, _ in parts
        ]
        balls = np.concatenate([strokes.ravel() for _, _, strokes in parts])
        tail = weighed_tail(balls, np.concatenate(weight, axis=1))
        return np.asarray(mean + RISK_WEIGHT[bag.player.risk] * (tail - mean))

    def _along(self, row: int, shots: Candidates, bag: Bag) -> tuple[Floats, Floats, Floats]:
        """Chances of a clean, a heavy and a thin ball in each speed of their grids, each (c, s)."""
        edge = self.clean.speed_edge_m_s[self.clean.place[row]]
        carry = np.interp(edge, self.rows.speed_m_s[row], self.rows.carry_m[row])
        mean = (shots.carry_m + length_bias(bag.player, shots.length_sd_m))[:, None]
        drawn = student_chance((carry - mean) / shots.length_sd_m[:, None])
        nominal = shots.speed_m_s[:, None]
        edge = self.heavy.speed_edge_m_s[self.heavy.place[row]]
        least, most = (each[:, None] for each in heavy_speed(self.scene, shots.share))
        fallen = _even(edge, nominal * least, nominal * most)
        nominal = nominal * self.rows.thin_ratio[row]
        edge = self.thin.speed_edge_m_s[self.thin.place[self.rows.thin_row[row]]]
        slowest, fastest = thin_factor(self.scene)
        skulled = _even(edge, nominal * slowest, nominal * fastest)
        heavy, thin = shots.heavy[:, None], shots.thin[:, None]
        return (1.0 - heavy - thin) * _cells(drawn), heavy * _cells(fallen), thin * _cells(skulled)


def run_out(scene: Scene, rows: Rows, table: HoleOutTable, only: Ints | None = None) -> RunOut:
    """Settle the coarse grids of all launches, or ``only`` of these rows."""
    clean = np.arange(len(rows)) if only is None else only
    struck_thin = distinct(rows.thin_row[clean])
    azimuth_edge = np.arctan(_both_sides(FAN) * (0.5 / scene.pin_m + 0.05))
    farthest = scene.pin_m * (1.0 + PAST_SHARE) + RUN_PAST_M
    share = np.linspace(0.0, 1.0, CARRIES + 1)
    reach = np.minimum(rows.carry_m[clean, -1], farthest)[:, None]
    carry = NEAREST_CARRY_M + (reach - NEAREST_CARRY_M) * share
    speed = np.stack(
        [np.interp(each, rows.carry_m[i], rows.speed_m_s[i]) for i, each in zip(clean, carry, strict=True)]
    )
    fast = rows.launch.speed_m_s[struck_thin]
    thin_speed = fast[:, :1] + (fast[:, -1:] - fast[:, :1]) * np.linspace(0.0, 1.0, THIN_SPEEDS + 1)
    grid = _settled(scene, rows, table, clean, speed, np.tile(azimuth_edge, (len(clean), 1)))
    thin = _settled(scene, rows, table, struck_thin, thin_speed, np.tile(azimuth_edge, (len(struck_thin), 1)))
    return RunOut(scene, rows, table, grid, grid, thin)


def _settled(
    scene: Scene, rows: Rows, table: HoleOutTable, wanted: Ints, speed_edge: Floats, azimuth_edge: Floats
) -> RunOutGrid:
    """Settle a ball in every cell of the ``wanted`` rows between their edges (m, s + 1) and (m, a + 1).

    The hole takes none of them: a ball that drops would stand for its whole cell.
    """
    shape = (len(wanted), speed_edge.shape[1] - 1, azimuth_edge.shape[1] - 1)
    at = _scatter(shape)
    left = np.arange(shape[2]) < shape[2] // 2
    speed = speed_edge[:, :-1, None] + at[0] * np.diff(speed_edge)[:, :, None]
    turn = np.where(left, at[1], 1.0 - at[1])
    azimuth = azimuth_edge[:, None, :-1] + turn * np.diff(azimuth_edge)[:, None, :]
    row = np.broadcast_to(wanted[:, None, None], shape)
    balls = finish(scene, rows, row, speed, azimuth, normal_quantile(at[2]), covered=True)
    place = np.full(len(rows.launch.speed_m_s), -1)
    place[wanted] = np.arange(len(wanted))
    return RunOutGrid(place, speed_edge, azimuth_edge, strokes_of(scene, balls, table))


def _both_sides(edges: Floats) -> Floats:
    return np.concatenate([-edges[:0:-1], edges])


def _scatter(shape: tuple[int, int, int]) -> Floats:
    """Three numbers in 0..1 for every cell (3, m, s, a), even over neighbours and the same on both sides."""
    rows, cells, directions = shape
    half = directions // 2
    aside = np.abs(np.arange(directions) - (directions - 1) / 2).astype(np.int64)
    number = (np.arange(rows)[:, None, None] * cells + np.arange(cells)[:, None]) * half + aside
    return np.asarray((0.5 + _STEP[:, None, None, None] * number) % 1.0)


def _even(edge: Floats, low: Floats, high: Floats) -> Floats:
    """Chance below each edge when every speed between ``low`` and ``high`` is as likely."""
    return np.asarray(np.clip((edge - low) / (high - low), 0.0, 1.0))


def _cells(below: Floats) -> Floats:
    """Chance of each cell from the chance below its edges; the outermost cells take what lies beyond."""
    below[:, 0], below[:, -1] = 0.0, 1.0
    return np.asarray(np.diff(below, axis=1))
