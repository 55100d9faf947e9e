"""What the balls of one shot come to, as fields of an option."""

from typing import Any

import numpy as np

from caddie.arrays import Floats, median
from caddie.ball.ground import Surface
from caddie.plan.finish import Finishes
from caddie.plan.scene import Scene
from caddie.plan.value import TROUBLE_SURFACES, bad_tail


def expected_of(scene: Scene, finishes: Finishes, strokes: Floats, i: int) -> dict[str, Any]:
    """What the balls of candidate ``i`` come to: strokes, shares of finishes and the leave."""
    surface, x_m = finishes.surface[i], finishes.x_m[i]
    shares = {kind.name.lower(): float((surface == int(kind)).mean()) for kind in TROUBLE_SURFACES}
    trouble = {kind: round(share, 6) for kind, share in shares.items() if share > 0}
    on_green = finishes.holed[i] | (surface == int(Surface.GREEN))
    return {
        "strokes": round(float(strokes[i].mean()), 4),
        "strokes_se": round(float(strokes[i].std(ddof=1) / np.sqrt(strokes.shape[1])), 4),
        "bad_tail": round(float(bad_tail(strokes[i : i + 1])[0]), 4),
        "on_green": float(on_green.mean()),
        "in_trouble": sum(trouble.values()),
        "trouble": trouble,
        "short_of_green": float((~on_green & (x_m < scene.front_m)).mean()),
        "through_green": float((~on_green & (x_m > scene.back_m)).mean()),
        "leave_m": round(median(np.hypot(scene.pin_m - x_m, finishes.y_m[i])), 3),
    }
