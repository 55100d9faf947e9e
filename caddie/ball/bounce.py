"""What the ground gives back when a spinning ball hits it.

A model turns the speeds of an impact into three figures: the tilt of the crater the ball bounces off, the
restitution along the tilted normal, and the friction. :func:`rebound` then does the mechanics of a rigid
sphere in three dimensions: the contact point slips with u = v_t - r omega x n; friction takes k u from the
velocity with k = min(2/7, mu (1 + e) |v_n| / |u|), so that the ball leaves sliding or rolling, and the spin
changes by (5 k / 2 r) n x u (standard mechanics; the moment of inertia is 2/5 m r^2).

``penner``: A. R. Penner, "The run of a golf ball", *Can. J. Phys.* 80, 931-940 (2002), recalled from memory: the
crater tilts the surface back by 15.4 deg (v / 18.6)(theta / 44.4 deg), theta from the normal, and e falls from
0.51 with the normal speed, e = 0.510 - 0.0375 v + 0.000903 v^2 up to 20 m/s, 0.120 above. Penner's turf is this
project's firm one; softer ground tilts more and gives less back.
``rigid``: the level rigid surface, no crater, with the same restitution: the model of a bare or frozen green;
backspin is taken up by friction alone.

Known to be wrong: more than 1,000 filmed bounces leave slipping and fit a piecewise-affine map better than
either (Biber and others, *Sports Eng.* 26, 2023, abstract). S. J. Haake (thesis, 1989; *Science and Golf II*
ch. 64, 1994): firm greens keep backspin that starts above about 350 rad/s, soft ones throw the ball forward.
"""

from collections.abc import Callable, Mapping

import numpy as np

from caddie.ball.sphere import RADIUS_M, FloatArray
from caddie.errors import CaddieError

Bounce = Callable[[FloatArray, FloatArray, FloatArray], tuple[FloatArray | float, FloatArray]]
"""(normal speed m/s, level speed m/s, firmness) -> (tilt rad, restitution), each (n,)."""

_PENNER_TILT = np.radians(15.4) / (18.6 * np.radians(44.4))


def restitution(normal_m_s: FloatArray) -> FloatArray:
    """Restitution of turf at a normal impact speed in m/s, Penner (2002)."""
    held = np.minimum(normal_m_s, 20.0)
    return np.asarray((0.000903 * held - 0.0375) * held + 0.510)


def penner(
    normal_m_s: FloatArray, level_m_s: FloatArray, firmness: FloatArray
) -> tuple[FloatArray | float, FloatArray]:
    """Crater tilt and restitution of Penner (2002), the tilt by firmness."""
    speed = np.sqrt(normal_m_s * normal_m_s + level_m_s * level_m_s)
    steepness = np.arctan(level_m_s / np.maximum(normal_m_s, 1e-9))
    tilt = _PENNER_TILT * speed * steepness * (1.6 - 0.6 * firmness)
    return np.minimum(tilt, 0.7), restitution(normal_m_s)


def rigid(
    normal_m_s: FloatArray, level_m_s: FloatArray, firmness: FloatArray
) -> tuple[FloatArray | float, FloatArray]:
    """No crater; the restitution of turf."""
    return 0.0, restitution(normal_m_s)


BOUNCE: Mapping[str, Bounce] = {"penner": penner, "rigid": rigid}


def bounce_model(name: str) -> Bounce:
    """The model called ``name``.

    Raises:
        CaddieError: no such model.
    """
    if name not in BOUNCE:
        raise CaddieError(f"bounce: no model {name!r}: choose one of {', '.join(BOUNCE)}")
    return BOUNCE[name]


def rebound(
    velocity: FloatArray,
    spin: FloatArray,
    normal: FloatArray,
    tilt_rad: FloatArray | float,
    restitution: FloatArray | float,
    friction: FloatArray | float,
) -> tuple[FloatArray, FloatArray]:
    """Velocity and spin (3, n) after hitting a surface with unit ``normal`` (3, n) tilted back by ``tilt_rad``.

    The tilt turns the normal against the ball's motion along the surface. Kinetic energy never grows for a
    restitution of at most 1.
    """
    nx, ny, nz = normal
    vx, vy, vz = velocity
    wx, wy, wz = spin
    into = vx * nx + vy * ny + vz * nz
    if np.any(tilt_rad):
        tx, ty, tz = vx - into * nx, vy - into * ny, vz - into * nz
        level = np.sqrt(tx * tx + ty * ty + tz * tz)
        lean = np.sin(tilt_rad)
        upright = np.sqrt(1.0 - lean * lean)
        lean = lean / np.maximum(level, 1e-12)
        nx, ny, nz = upright * nx - lean * tx, upright * ny - lean * ty, upright * nz - lean * tz
        into = vx * nx + vy * ny + vz * nz
    ux = vx - into * nx - RADIUS_M * (wy * nz - wz * ny)
    uy = vy - into * ny - RADIUS_M * (wz * nx - wx * nz)
    uz = vz - into * nz - RADIUS_M * (wx * ny - wy * nx)
    slip = np.sqrt(ux * ux + uy * uy + uz * uz)
    push = (1.0 + restitution) * np.minimum(into, 0.0)
    grip = np.minimum(-friction * push / np.maximum(slip, 1e-12), 2 / 7)
    out, turned = np.empty_like(velocity), np.empty_like(spin)
    out[0] = vx - push * nx - grip * ux
    out[1] = vy - push * ny - grip * uy
    out[2] = vz - push * nz - grip * uz
    twist = (2.5 / RADIUS_M) * grip
    turned[0] = wx + twist * (ny * uz - nz * uy)
    turned[1] = wy + twist * (nz * ux - nx * uz)
    turned[2] = wz + twist * (nx * uy - ny * ux)
    return out, turned
