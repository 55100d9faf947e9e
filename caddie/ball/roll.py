"""The ball on the ground: bounce, skid and roll to rest."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from caddie.ball.air import FloatArray
from caddie.ball.flight import Landing
from caddie.ball.ground import Ground, IntArray

RELEASE_M_S = 1.83


@dataclass(frozen=True)
class Rest:
    """Where balls come to rest; every field (n,)."""

    x_m: FloatArray
    y_m: FloatArray
    surface: IntArray
    first_bounce_x_m: FloatArray
    first_bounce_y_m: FloatArray
    run_m: FloatArray
    holed: NDArray[np.bool_]
    never_stopped: NDArray[np.bool_]


def deceleration(stimp_ft: ArrayLike) -> FloatArray:
    """Deceleration m/s^2 of a rolling ball on a level green: v0^2 / (2 S), v0 = 1.83 m/s."""
    return np.asarray(RELEASE_M_S**2 / (2 * np.asarray(stimp_ft, dtype=float) * 0.3048))


def settle(
    landing: Landing,
    ground: Ground,
    bounce: str = "penner",
    hole: tuple[float, float] | None = None,
) -> Rest:
    """Bounce and roll every ball to rest."""
    x, y = landing.x_m, landing.y_m
    level = np.hypot(landing.vx_m_s, landing.vy_m_s) + 1e-9
    speed = np.maximum(0.55 * level - 0.012 * landing.spin_rad_s * 0.3, 0.1)
    run = speed**2 / (2 * deceleration(ground.stimp_ft)) * 0.5
    rest_x, rest_y = x + run * landing.vx_m_s / level, y + run * landing.vy_m_s / level
    nothing = np.zeros(x.shape, dtype=bool)
    return Rest(rest_x, rest_y, ground.surface_at(rest_x, rest_y), x, y, run, nothing, nothing)
