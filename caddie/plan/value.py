"""What a finished ball costs, and what shots are ranked by: mean strokes, moved by the player's risk dial."""

import numpy as np

from caddie.arrays import Floats, distinct
from caddie.bag import Risk
from caddie.ball.ground import Surface
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.plan.finish import Finishes
from caddie.plan.lip import again_before_a_lip
from caddie.plan.relief import crossing_distance_m
from caddie.plan.scene import Scene
from caddie.plan.strokes import HoleOutTable, out_of_bounds_cost, water_cost
from caddie.situation import IN_SAND, Lie

TAIL_SHARE = 0.1
STEP_LONGER = 0.7
"""A putt up or down a tier is as hard as one longer by this share of what its height is worth in pace: between what
:mod:`caddie.plan.putt` makes of tiers from 15 and from 45 feet."""
RISK_WEIGHT = {Risk.CAREFUL: 0.12, Risk.EVEN: 0.0, Risk.BOLD: -0.06}
"""How far the ranking moves from the mean toward the mean of the worst tenth."""

TROUBLE_SURFACES = (Surface.WATER, Surface.OUT_OF_BOUNDS, Surface.TREES, Surface.SAND)
_LIE_AFTER = {
    Surface.GREEN: Lie.GREEN,
    Surface.FRINGE: Lie.FRINGE,
    Surface.FAIRWAY: Lie.FAIRWAY,
    Surface.LIGHT_ROUGH: Lie.LIGHT_ROUGH,
    Surface.HEAVY_ROUGH: Lie.HEAVY_ROUGH,
    Surface.SAND: Lie.BUNKER,
    Surface.BARE: Lie.BARE,
    Surface.PINE_STRAW: Lie.PINE_STRAW,
}


def strokes_of(scene: Scene, finishes: Finishes, table: HoleOutTable) -> Floats:
    """Strokes to hole out of every ball, the stroke itself included.

    Out of bounds costs stroke and distance (Rule 18.2), water a penalty stroke and the cheaper of the previous
    spot and the edge that was crossed (Rule 17.1d), trees a recovery.
    """
    distance = np.hypot(scene.pin_m - finishes.x_m, finishes.y_m)
    cost = np.empty_like(distance)
    lie = scene.situation.lie or Lie.FAIRWAY
    for code in distinct(finishes.surface):
        there = finishes.surface == code
        surface = Surface(int(code))
        if surface is Surface.WATER:
            cost[there] = water_cost(table, scene.pin_m, lie, crossing_distance_m(scene, finishes)[there])
        elif surface is Surface.OUT_OF_BOUNDS:
            cost[there] = out_of_bounds_cost(table, scene.pin_m, lie)
        elif surface is Surface.TREES:
            cost[there] = table.recovery(distance[there])
        else:
            after_m = distance[there]
            if surface is Surface.GREEN and scene.stepped:
                after_m = after_m + _as_longer_m(scene, finishes.x_m[there], finishes.y_m[there])
            cost[there] = table.strokes(after_m, _LIE_AFTER[surface])
            if surface is Surface.SAND and lie in IN_SAND:
                cost[there] += again_before_a_lip(scene.situation)
    return 1.0 + np.where(finishes.holed, 0.0, cost)


def _as_longer_m(scene: Scene, x_m: Floats, y_m: Floats) -> Floats:
    """How much longer a level putt is as hard as one over the steps between these balls and the hole [m]."""
    resist = float(deceleration(scene.ground.stimp_ft))
    return np.asarray(STEP_LONGER * scene.step_m(x_m, y_m) * ROLL_GRAVITY_M_S2 / resist)


def rank_scores(strokes: Floats, risk: Risk) -> Floats:
    """What candidates with balls (c, n) are ranked by, shape ``(c,)``."""
    mean = strokes.mean(axis=1)
    return np.asarray(mean + RISK_WEIGHT[risk] * (bad_tail(strokes) - mean))


def bad_tail(strokes: Floats) -> Floats:
    """Mean strokes (c,) of the worst tenth of balls (c, n)."""
    worst = max(int(strokes.shape[1] * TAIL_SHARE), 1)
    return np.asarray(np.partition(strokes, -worst, axis=1)[:, -worst:].mean(axis=1))


def weighed_tail(strokes: Floats, weight: Floats) -> Floats:
    """Mean strokes (c,) of the worst tenth when balls (n,) weigh ``weight`` (c, n), which adds up to 1."""
    order = np.argsort(-strokes, kind="stable")
    heavy = weight[:, order]
    before = np.cumsum(heavy, axis=1) - heavy
    return np.asarray(np.clip(TAIL_SHARE - before, 0.0, heavy) @ strokes[order] / TAIL_SHARE)
