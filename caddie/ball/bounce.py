"""What the ground gives back when a spinning ball hits it.

A model turns the speeds of an impact into three figures: the tilt of the crater the ball bounces off, the
restitution along the tilted normal, and the friction. :func:`rebound` then does the mechanics of a rigid
sphere in three dimensions: the contact point slips with u = v_t - r omega x n; friction takes k u from the
velocity with k = min(2/7, mu (1 + e) |v_n| / |u|), so that the ball leaves sliding or rolling, and the spin
changes by (5 k / 2 r) n x u (standard mechanics; the moment of inertia is 2/5 m r^2).

``penner_2002``: A. R. Penner, "The run of a golf ball", *Can. J. Phys.* 80, 931-940 (2002), recalled from
memory: the crater tilts the surface back by 15.4 deg (v / 18.6)(theta / 44.4 deg), theta from the normal, and e
falls from 0.51 with the normal speed, e = 0.510 - 0.0375 v + 0.000903 v^2 up to 20 m/s, 0.120 above. Penner's turf is
taken for a firm one; the tilt grows by 60 % toward a soft one.
``penner``, the default: the same mechanics for shots around the green. Penner's tilt suits full shots; it makes a
low running shot bite and a chip bounce on and on. Here the tilt is his 15.4 deg at his impact but follows the
normal speed, which digs the crater, with the powers 0.45 and 0.34, fitted by this project to common practice (rule of 12
for chips; the release of half and full wedges), as is its growth by 40 % from firm to soft.
``rigid``: the level rigid surface without a crater, the model of bare or frozen ground: it runs far too long on
turf, as only friction takes up the backspin.

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

_TILT_RAD = float(np.radians(15.4))
_SPEED_M_S = 18.6
_ANGLE_RAD = float(np.radians(44.4))
_NORMAL_M_S = _SPEED_M_S * float(np.cos(_ANGLE_RAD))
_MOST_TILT_RAD = 0.7


def restitution(normal_m_s: FloatArray) -> FloatArray:
    """Restitution of turf at a normal impact speed in m/s, Penner (2002)."""
    held = np.minimum(normal_m_s, 20.0)
    return np.asarray((0.000903 * held - 0.0375) * held + 0.510)


def penner_2002(
    normal_m_s: FloatArray, level_m_s: FloatArray, firmness: FloatArray
) -> tuple[FloatArray | float, FloatArray]:
    """Crater tilt and restitution of Penner (2002), the tilt growing as the ground softens."""
    speed = np.sqrt(normal_m_s * normal_m_s + level_m_s * level_m_s)
    steepness = np.arctan(level_m_s / np.maximum(normal_m_s, 1e-9))
    tilt = _TILT_RAD / (_SPEED_M_S * _ANGLE_RAD) * speed * steepness * (1.6 - 0.6 * firmness)
    return np.minimum(tilt, _MOST_TILT_RAD), restitution(normal_m_s)


def penner(
    normal_m_s: FloatArray, level_m_s: FloatArray, firmness: FloatArray
) -> tuple[FloatArray | float, FloatArray]:
    """Penner's crater for shots around the green: its tilt by normal speed, angle and firmness."""
    steepness = np.arctan(level_m_s / np.maximum(normal_m_s, 1e-9))
    dug = (normal_m_s * (1 / _NORMAL_M_S)) ** 0.45 * (steepness * (1 / _ANGLE_RAD)) ** 0.34
    tilt = _TILT_RAD * dug * (1.4 - 0.4 * firmness)
    return np.minimum(tilt, _MOST_TILT_RAD), restitution(normal_m_s) * (0.95 + 0.2 * firmness)


def rigid(
    normal_m_s: FloatArray, level_m_s: FloatArray, firmness: FloatArray
) -> tuple[FloatArray | float, FloatArray]:
    """No crater; the restitution of turf."""
    return 0.0, restitution(normal_m_s)


BOUNCE: Mapping[str, Bounce] = {"penner": penner, "penner_2002": penner_2002, "rigid": rigid}


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
