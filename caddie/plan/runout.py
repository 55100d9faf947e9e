"""Every launch run out once on a grid of carries and directions, for all the candidates that use it.

Where a ball ends depends on how it leaves the club, not on what was meant with it. So the balls of a launch
are settled once, one in every cell of a grid of carry and direction, and a candidate weighs their strokes by
its own chance of sending a ball into each cell: heavy strikes fall among the short carries, thin ones on a
grid of the same club struck thin. Hundreds of candidates then cost a product of matrices each, without any
luck of the draw between them. Inside its cell each ball lies at a place of an additive recurrence, so that
the edges of a bunker are not all met at the same spot of a cell.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.bag import Bag, Risk
from caddie.plan.dispersion import aim_bias, length_bias, normal_quantile, student_chance
from caddie.plan.finish import HEAVY_SPEED, NEAREST_CARRY_M, THIN_QUALITY, Candidates, finish
from caddie.plan.launches import Rows
from caddie.plan.scene import Scene
from caddie.plan.strokes import HoleOutTable
from caddie.plan.value import RISK_WEIGHT, strokes_of, weighed_tail

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CARRIES = 48
THIN_SPEEDS = 24
FAN = np.array([0.0, 0.3, 0.65, 1.1, 1.7, 2.5, 3.6, 5.2, 8.0])
"""Edges of the directions to one side, in :data:`FAN_UNIT` at the flag: finest along the line."""
FAN_UNIT_M = 0.5
FAN_UNIT_SHARE = 0.05
PAST_M = 12.0
PAST_SHARE = 0.35
"""Carries are run out to so far beyond the flag, in metres and as a share of its distance."""
_STEP = 1.2207440846057596 ** -np.arange(1.0, 4.0)
"""Powers of 1/phi with phi^4 = phi + 1: the most even three-dimensional recurrence."""


@dataclass(frozen=True, eq=False)
class RunOut:
    """Strokes of a ball in every cell: ``m`` clean and ``t`` thin launches, ``s`` carries, ``a`` directions."""

    rows: Rows
    place: Ints
    """Where each launch row is found in the grids; -1 for one left out."""
    carry_edge_m: Floats
    """Shape ``(m, s + 1)``."""
    azimuth_edge: Floats
    """Shape ``(a + 1,)``."""
    clean: Floats
    """Strokes, shape ``(m, s, a)``."""
    thin_edge_m_s: Floats
    """Shape ``(t, s + 1)``."""
    thin: Floats

    def scores(self, scene: Scene, shots: Candidates, bag: Bag) -> Floats:
        """What candidates are ranked by, shape ``(c,)``: mean strokes, moved by the player's risk dial."""
        score = np.empty(len(shots.row))
        across = self._across(scene, shots, bag)
        for row in np.unique(shots.row):
            mine = np.flatnonzero(shots.row == row)
            score[mine] = self._row_scores(int(row), shots.take(mine), across[mine], bag)
        return score

    def _row_scores(self, row: int, shots: Candidates, across: Floats, bag: Bag) -> Floats:
        along, along_thin = self._along(row, shots, bag)
        clean = self.clean[self.place[row]]
        thin = self.thin[self.place[self.rows.thin_row[row]]]
        mean = ((along @ clean + along_thin @ thin) * across).sum(axis=1)
        weight = RISK_WEIGHT[bag.player.risk]
        if bag.player.risk is Risk.EVEN:
            return np.asarray(mean)
        both = np.concatenate([along, along_thin], axis=1)[:, :, None] * across[:, None, :]
        balls = np.concatenate([clean, thin])
        tail = weighed_tail(balls.ravel(), both.reshape(len(both), -1))
        return np.asarray(mean + weight * (tail - mean))

    def _along(self, row: int, shots: Candidates, bag: Bag) -> tuple[Floats, Floats]:
        """Chances of a ball in each carry of the clean grid, and in each speed of the thin one: (c, s)."""
        edge = self.carry_edge_m[self.place[row]]
        mean = (shots.carry_m + length_bias(bag.player, shots.length_sd_m))[:, None]
        drawn = student_chance((edge - mean) / shots.length_sd_m[:, None])
        speed = np.interp(edge, self.rows.carry_m[row], self.rows.speed_m_s[row])
        nominal = shots.speed_m_s[:, None]
        fallen = _even(speed, nominal * HEAVY_SPEED[0], nominal * HEAVY_SPEED[1])
        heavy, thin = shots.heavy[:, None], shots.thin[:, None]
        clean = (1.0 - heavy - thin) * _cells(drawn) + heavy * _cells(fallen)
        nominal = nominal * self.rows.thin_ratio[row]
        edge = self.thin_edge_m_s[self.place[self.rows.thin_row[row]]]
        skulled = _even(edge, nominal * THIN_QUALITY[0], nominal * THIN_QUALITY[1])
        return clean, thin * _cells(skulled)

    def _across(self, scene: Scene, shots: Candidates, bag: Bag) -> Floats:
        """Chance of a ball in each direction, (c, a)."""
        off = self.azimuth_edge - np.arctan(shots.aim_left_m / scene.pin_m)[:, None]
        side = np.tan(np.clip(off, -1.2, 1.2)) * np.maximum(shots.carry_m, 1.0)[:, None]
        spread = shots.side_sd_m[:, None]
        return _cells(student_chance((side - aim_bias(bag.player, spread)) / spread))


def run_out(
    scene: Scene, rows: Rows, table: HoleOutTable, wanted: Ints | None = None, fineness: int = 1
) -> RunOut:
    """Settle the grids of the ``wanted`` rows (all by default), each side ``fineness`` times finer."""
    wanted = np.arange(len(rows)) if wanted is None else wanted
    struck_thin = np.unique(rows.thin_row[wanted])
    place = np.full(len(rows.launch.speed_m_s), -1)
    place[wanted], place[struck_thin] = np.arange(len(wanted)), np.arange(len(struck_thin))
    azimuth_edge = _fan(scene, fineness)
    farthest = scene.pin_m * (1.0 + PAST_SHARE) + PAST_M
    reach = np.minimum(rows.carry_m[wanted, -1], farthest)
    carry_edge = _between(np.full(len(wanted), NEAREST_CARRY_M), reach, CARRIES * fineness)
    speed = np.stack(
        [
            np.interp(_inside(edge, len(azimuth_edge) - 1, i), rows.carry_m[row], rows.speed_m_s[row])
            for i, (row, edge) in enumerate(zip(wanted, carry_edge, strict=True))
        ]
    )
    thin_speeds = rows.launch.speed_m_s[struck_thin]
    thin_edge = _between(thin_speeds[:, 0], thin_speeds[:, -1], THIN_SPEEDS * fineness)
    thin_speed = np.stack([_inside(edge, len(azimuth_edge) - 1, i) for i, edge in enumerate(thin_edge)])
    return RunOut(
        rows=rows,
        place=place,
        carry_edge_m=carry_edge,
        azimuth_edge=azimuth_edge,
        clean=_settled(scene, rows, table, wanted, speed, azimuth_edge),
        thin_edge_m_s=thin_edge,
        thin=_settled(scene, rows, table, struck_thin, thin_speed, azimuth_edge),
    )


def _settled(
    scene: Scene, rows: Rows, table: HoleOutTable, row: Ints, speed: Floats, azimuth_edge: Floats
) -> Floats:
    """Strokes of the balls of rows (m,) with speeds (m, s, a), each direction drawn inside its own edges."""
    at = _scatter(speed.shape)
    left_to_right = np.where(np.arange(speed.shape[2]) < speed.shape[2] // 2, at[1], 1.0 - at[1])
    azimuth = azimuth_edge[:-1] + left_to_right * np.diff(azimuth_edge)
    each = np.broadcast_to(row[:, None, None], speed.shape)
    kick = normal_quantile(at[2])
    return strokes_of(scene, finish(scene, rows, each, speed, azimuth, kick), table)


def _fan(scene: Scene, fineness: int) -> Floats:
    unit = FAN_UNIT_M + FAN_UNIT_SHARE * scene.pin_m
    fine = np.interp(np.linspace(0, len(FAN) - 1, (len(FAN) - 1) * fineness + 1), np.arange(len(FAN)), FAN)
    return np.arctan(np.concatenate([-fine[:0:-1], fine]) * unit / scene.pin_m)


def _between(low: Floats, high: Floats, cells: int) -> Floats:
    """Edges (m, cells + 1) of even cells between limits (m,)."""
    return low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, cells + 1)


def _inside(edge: Floats, directions: int, row: int) -> Floats:
    """A place inside every cell of a row's edges (s + 1,), for every direction: (s, a)."""
    at = _scatter((row + 1, len(edge) - 1, directions))[0, row]
    return edge[:-1, None] + at * np.diff(edge)[:, None]


def _scatter(shape: tuple[int, ...]) -> Floats:
    """Three numbers in 0..1 for every cell (3, m, s, a), even over neighbours and the same on both sides."""
    rows, cells, directions = shape
    half = directions // 2
    mirrored = np.abs(np.arange(directions) - (directions - 1) / 2).astype(np.int64)
    number = (np.arange(rows)[:, None, None] * cells + np.arange(cells)[:, None]) * half + mirrored
    return (0.5 + _STEP[:, None, None, None] * number) % 1.0


def _even(edge: Floats, low: Floats, high: Floats) -> Floats:
    """Chance below each edge when every speed between ``low`` and ``high`` is as likely."""
    return np.asarray(np.clip((edge - low) / (high - low), 0.0, 1.0))


def _cells(below: Floats) -> Floats:
    """Chance of each cell from the chance below its edges; the outermost cells take what lies beyond."""
    below[:, 0], below[:, -1] = 0.0, 1.0
    return np.asarray(np.diff(below, axis=1))
