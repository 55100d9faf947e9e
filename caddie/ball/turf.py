"""What each surface does to a ball that bounces, skids or rolls on it.

Green speed is the one measured figure: a rolling ball loses v0^2 / (2 S) on the level, with the stimpmeter's
release speed v0 = 1.83 m/s (6.00 ft/s, secondary; another sheet of the same body implies 1.95 m/s, so a
deceleration inferred from a reading is uncertain by about 13 %). The other surfaces are plausible values of
this project, ordered as greenkeepers order them and tuned so that the trade's run-outs come out (common
practice, no measurement): a fringe rolls like a green of stimp 6, a fairway like one of 5, grass that hides
the ball stops it within a stride or two.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.ball.ground import Ground, Surface
from caddie.ball.sphere import GRAVITY_M_S2, RADIUS_M
from caddie.units import FOOT_M

RELEASE_M_S = 1.83
"""Speed at which a ball leaves the stimpmeter."""

ROLL_GRAVITY_M_S2 = 5 / 7 * GRAVITY_M_S2
"""Pull along a unit slope on a rolling uniform sphere."""


def deceleration(stimp_ft: ArrayLike) -> Floats:
    """Deceleration in m/s^2 of a ball rolling on a level green that reads ``stimp_ft``: v0^2 / (2 S).

    >>> round(float(deceleration(10.0)), 3)
    0.549
    """
    return np.asarray(RELEASE_M_S**2 / (2 * np.asarray(stimp_ft, dtype=float) * FOOT_M))


def steepest_hold(stimp_ft: ArrayLike) -> Floats:
    """Steepest slope (rise over run) on which a ball can stop.

    Resistance goes with the load on the turf, so (5/7) g sin(theta) = a cos(theta). A field value for stimp
    14 is 4.2 % against 5.6 % here (secondary): greens are stricter than the formula.

    >>> round(float(steepest_hold(10.0)), 4)
    0.0784
    """
    return np.asarray(deceleration(stimp_ft) / ROLL_GRAVITY_M_S2)


@dataclass(frozen=True)
class Turf:
    """A surface to a ball: resistance to rolling m/s^2 (nan: as the green reads), friction of a skid and of a
    bounce, and how it scales the restitution and the crater's tilt of a bounce. ``absorbs`` ends the ball's
    way.
    """

    roll_m_s2: float
    skid: float
    friction: float
    restitution: float
    tilt: float
    absorbs: bool = False


TURF_OF: dict[Surface, Turf] = {
    Surface.GREEN: Turf(np.nan, 0.35, 0.40, 1.0, 1.0),
    Surface.FRINGE: Turf(0.92, 0.40, 0.42, 0.95, 1.05),
    Surface.FAIRWAY: Turf(1.10, 0.40, 0.45, 0.95, 1.1),
    Surface.LIGHT_ROUGH: Turf(3.5, 0.60, 0.60, 0.65, 1.4),
    Surface.HEAVY_ROUGH: Turf(8.0, 0.80, 0.80, 0.35, 1.8),
    Surface.SAND: Turf(9.0, 0.8, 0.8, 0.0, 1.0, absorbs=True),
    Surface.WATER: Turf(9.0, 0.8, 0.8, 0.0, 1.0, absorbs=True),
    Surface.OUT_OF_BOUNDS: Turf(9.0, 0.8, 0.8, 0.0, 1.0, absorbs=True),
    Surface.TREES: Turf(9.0, 0.8, 0.8, 0.0, 1.0, absorbs=True),
    Surface.BARE: Turf(1.2, 0.40, 0.40, 1.25, 0.7),
    Surface.PINE_STRAW: Turf(2.5, 0.40, 0.45, 0.6, 1.3),
}

ABSORBS = np.array([TURF_OF[surface].absorbs for surface in Surface])
SKID = np.array([TURF_OF[surface].skid for surface in Surface])
FRICTION = np.array([TURF_OF[surface].friction for surface in Surface])
RESTITUTION = np.array([TURF_OF[surface].restitution for surface in Surface])
TILT = np.array([TURF_OF[surface].tilt for surface in Surface])


def rolling_m_s2(ground: Ground) -> Floats:
    """Resistance to rolling by :class:`Surface`, the green as its speed reads and a fringe no faster."""
    table = np.array([TURF_OF[surface].roll_m_s2 for surface in Surface])
    green = float(deceleration(ground.stimp_ft))
    table[Surface.GREEN] = green
    for mown in (Surface.FRINGE, Surface.FAIRWAY):
        table[mown] = max(ground.blades * table[mown], green)
    return table


def skid(
    position: Floats,
    velocity: Floats,
    spin: Floats,
    normal: Sequence[Floats],
    friction: Floats,
) -> tuple[Floats, Floats]:
    """Position (2, n) and level velocity (2, n) where sliding ends and rolling begins.

    Friction mu g acts against the slip u until it is gone, after 2 |u| / (7 mu g); the velocity then is
    v - (2/7) u, which for a ball that starts without spin is (5/7) v (standard mechanics). ``position`` is
    (2, n); ``velocity``, ``spin`` and the unit ``normal`` of the ground are (3, n).
    """
    vx, vy, vz = velocity
    wx, wy, wz = spin
    nx, ny, nz = normal
    into = vx * nx + vy * ny + vz * nz
    vx, vy = vx - into * nx, vy - into * ny
    ux = vx - RADIUS_M * (wy * nz - wz * ny)
    uy = vy - RADIUS_M * (wz * nx - wx * nz)
    rolling_x, rolling_y = vx - (2 / 7) * ux, vy - (2 / 7) * uy
    time = (2 / 7) * np.sqrt(ux * ux + uy * uy) / (friction * GRAVITY_M_S2)
    moved = np.array(
        [position[0] + 0.5 * time * (vx + rolling_x), position[1] + 0.5 * time * (vy + rolling_y)]
    )
    return moved, np.array([rolling_x, rolling_y])


def skid_to_roll(speed_m_s: ArrayLike, friction: ArrayLike = 0.35) -> tuple[Floats, Floats]:
    """Rolling speed m/s and length m of the skid of a ball that starts level without spin.

    >>> speed, length = skid_to_roll(1.4, 0.4)
    >>> round(float(speed), 3), round(float(length), 3)
    (1.0, 0.122)
    """
    speed = np.asarray(speed_m_s, dtype=float)
    rolling = 5 / 7 * speed
    slid = (speed * speed - rolling * rolling) / (2 * np.asarray(friction, dtype=float) * GRAVITY_M_S2)
    return rolling, np.asarray(slid)
