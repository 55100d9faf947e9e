"""Where a ball may be dropped after it went into the water (Rules of Golf, January 2023, Rule 17.1d).

One penalty stroke, and the previous spot, back on the line behind the water, or within two club-lengths of where
the ball last crossed its edge. The last is allowed at a red penalty area alone, and one whose colour is not marked
counts as red (Definitions, "Penalty area", from memory). Back on the line is never nearer the hole than that edge,
so the edge and the previous spot are the two that matter.
"""

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.ball.ground import Patch, Surface
from caddie.plan.finish import Finishes
from caddie.plan.scene import Scene
from caddie.situation import Against


def crossing_distance_m(scene: Scene, finishes: Finishes) -> Floats:
    """Distance from the hole [m] of the spot where each ball last crossed the edge of the water it lies in.

    The shape of the finishes; nan for a ball in no water. A ball is taken to come straight from where it
    was played, and one that first bounced beyond the water to have rolled back into it.
    """
    distance = np.full(finishes.x_m.shape, np.nan)
    for patch in scene.ground.patches:
        if patch.surface is Surface.WATER:
            there = (finishes.surface == int(Surface.WATER)) & _inside(patch, finishes)
            x_m, y_m = finishes.x_m[there], finishes.y_m[there]
            share = _entered(patch, x_m, y_m)
            back = finishes.land_x_m[there] > patch.x1_m
            edge_x_m = np.where(back, patch.x1_m, share * x_m)
            distance[there] = np.hypot(scene.pin_m - edge_x_m, np.where(back, y_m, share * y_m))
    if scene.situation.against is Against.WATER:
        # One that did not come out of the water that it lay in is dropped beside it.
        still = (finishes.surface == int(Surface.WATER)) & np.isnan(distance)
        distance[still] = scene.pin_m
    return distance


def _inside(patch: Patch, finishes: Finishes) -> NDArray[np.bool_]:
    near = 0.01
    return np.asarray(
        (finishes.x_m >= patch.x0_m - near)
        & (finishes.x_m <= patch.x1_m + near)
        & (finishes.y_m >= patch.y0_m - near)
        & (finishes.y_m <= patch.y1_m + near)
    )


def _entered(patch: Patch, x_m: Floats, y_m: Floats) -> Floats:
    """Share of the straight way from the ball's old spot to where it lies at which it met the patch."""
    along = patch.x0_m / np.maximum(x_m, 0.01)
    edge_y_m = np.clip(0.0, patch.y0_m, patch.y1_m)
    across = edge_y_m / np.where(np.abs(y_m) < 0.01, np.inf, y_m)
    return np.asarray(np.clip(np.maximum(along, across), 0.0, 1.0))
