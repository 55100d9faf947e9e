"""The lay-up: a measured swing that stays short of the water, and leaves a distance the player owns."""

import numpy as np

from caddie.arrays import Floats, Ints
from caddie.ball.launch import Flight
from caddie.plan.finish import Candidates
from caddie.plan.launches import Rows
from caddie.plan.scene import PENALTIES, Scene, trouble_ahead_m
from caddie.situation import Situation
from caddie.units import YARD_M

FAR_TROUBLE_M = 30 * YARD_M
"""Short of nearer trouble one lays up only where that is the best by numbers (common practice, no source)."""
FARTHER_BACK = 0.8
"""A lay-up farther back carries no more than this share of the one that is best by numbers."""
FEEL_M = 16.0
"""A lay-up no longer than a chip needs no measured swing (common practice, no source)."""
SAFE_SPREADS = 2.3
"""How many spreads of its carry a lay-up stays short: one in a hundred is long by more."""
RUN_SHARE = 0.12
"""Run that is allowed for, as a share of the carry (common practice, no source)."""
FAVOURITE_WORTH = 0.06
"""Strokes that leaving a distance that was measured is worth (common practice, no source)."""
FAVOURITE_WITHIN_M = 2 * YARD_M
"""A distance no farther from a measured carry is the player's own."""


def lays_up(scene: Scene, carry_m: float) -> bool:
    """Whether a shot of this carry stays short of the trouble ahead."""
    ahead_m = trouble_ahead_m(scene)
    return ahead_m is not None and carry_m < ahead_m


def struck_for(scene: Scene, carry_m: Floats, some: Ints) -> list[tuple[Situation, Ints]]:
    """The candidates by what they are struck for: the flag, or a spot short of the trouble ahead.

    A small stroke to a spot near by does not go wrong as often as one to a far flag.
    """
    ahead_m = trouble_ahead_m(scene)
    if ahead_m is None:
        return [(scene.situation, some)]
    short = carry_m[some] < ahead_m
    nearer = scene.situation.model_copy(update={"pin_m": ahead_m})
    return [(scene.situation, some[~short]), (nearer, some[short])]


def best_lay_up(scene: Scene, rows: Rows, shots: Candidates, score: Floats) -> Ints:
    """Positions of the lay-up among candidates with these scores, of one that stays farther back, and of the best that
    goes for it; empty when there is nothing to lay up before."""
    ahead_m = trouble_ahead_m(scene)
    over_m = max((patch.x1_m for patch in scene.ground.patches if patch.surface in PENALTIES), default=0.0)
    if ahead_m is None:
        return np.empty(0, dtype=np.int64)
    plain = np.array([_is_plain(rows, int(row)) for row in shots.row], dtype=bool)
    reach_m = (1.0 + RUN_SHARE) * shots.carry_m + SAFE_SPREADS * shots.length_sd_m
    safe = np.flatnonzero(plain & (shots.owned | (shots.carry_m <= FEEL_M)) & (reach_m < ahead_m))
    if ahead_m < FAR_TROUBLE_M and safe.size and score[safe].min() > score.min():
        return np.empty(0, dtype=np.int64)
    if not safe.size:
        return safe
    owned_m = np.concatenate([curve.carry_m[1:] for curve in rows.curves])
    left_m = scene.pin_m - (1.0 + RUN_SHARE) * shots.carry_m[safe]
    favourite = np.abs(left_m[:, None] - owned_m).min(axis=1) <= FAVOURITE_WITHIN_M
    worth = score[safe] - FAVOURITE_WORTH * favourite
    first = int(np.argmin(worth))
    back = shots.carry_m[safe] < FARTHER_BACK * shots.carry_m[safe[first]]
    picked = [safe[first], *(safe[[int(np.argmin(np.where(back, worth, np.inf)))]] if back.any() else [])]
    goes = np.flatnonzero(shots.carry_m >= over_m)
    picked += [goes[int(np.argmin(score[goes]))]] if goes.size else []
    return np.array(picked, dtype=np.int64)


def _is_plain(rows: Rows, row: int) -> bool:
    kind = rows.kinds[row]
    return kind.flight is Flight.STOCK and not kind.splash
