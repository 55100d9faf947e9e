"""What the ground gives back when a spinning ball hits it.

A model turns the speeds of an impact into three figures: the tilt of the crater the ball bounces off, the
restitution along the tilted normal, and the friction. :func:`rebound` then does the mechanics of a rigid
sphere in three dimensions: the contact point slips with u = v_t - r omega x n; friction takes k u from the
velocity with k = min(2/7, mu (1 + e) |v_n| / |u|), so that the ball leaves sliding or rolling, and the spin
changes by (5 k / 2 r) n x u (standard mechanics; the moment of inertia is 2/5 m r^2).

``penner_2002``: A. R. Penner, "The run of a golf ball", *Can. J. Phys.* 80, 931-940 (2002), recalled from
memory: the crater tilts the surface back by 15.4 deg (v / 18.6)(theta / 44.4 deg), theta from the normal,
and e falls from 0.51 with the normal speed, e = 0.510 - 0.0375 v + 0.000903 v^2 up to 20 m/s, 0.120 above.
Penner's turf is taken for a firm one; the tilt grows by 60 % toward a soft one.
``penner``, the default: the same mechanics for shots around the green. Penner's tilt suits full shots; it
makes a low running shot bite and a chip bounce on and on. Here the tilt is his 15.4 deg at his impact but
follows the normal speed, which digs the crater, as v_n / (v_n + 5.3 m/s), and the angle with the power
0.47, growing by 44 % from firm to soft: fitted by this project to common practice (rule of 12 for chips;
the release of partial wedges). On ground softer than a medium green the ball sinks into a mark of its own: there the
tilt grows faster, the more the slower it comes, and less is given back, so that a pitch runs half as far as on a
medium one (common practice, no source).
``rigid``: the level rigid surface without a crater, the model of bare or frozen ground: it runs far too
long on turf, as only friction takes up the backspin.

Known to be wrong: more than 1,000 filmed bounces leave slipping and fit a piecewise-affine map better than
either (Biber and others, *Sports Eng.* 26, 2023, abstract). S. J. Haake (thesis, 1989; *Science and Golf II*
ch. 64, 1994): firm greens keep backspin that starts above about 350 rad/s, soft ones throw the ball forward.
"""

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from caddie.arrays import Floats
from caddie.ball.sphere import RADIUS_M
from caddie.errors import CaddieError

Bounce = Callable[[Floats, Floats, Floats], tuple[Floats | float, Floats]]
"""(normal speed m/s, level speed m/s, firmness) -> (tilt rad, restitution), each (n,)."""

_TILT_RAD = float(np.radians(15.4))
_SPEED_M_S = 18.6
_ANGLE_RAD = float(np.radians(44.4))
_NORMAL_M_S = _SPEED_M_S * float(np.cos(_ANGLE_RAD))
_MOST_TILT_RAD = 0.7
_CRATER_M_S = 5.3
_CLIMBS_SOFT, _CLIMBS_FIRMER = 0.3, 0.3
_MEDIUM, _DUG_TILT, _DUG_GIVES, _DUG_KEEPS, _DUG_M_S = 0.5, 1.5, 0.6, 0.5, 18.0
_CRATER_SCALE = _TILT_RAD / _ANGLE_RAD**0.47 * (1 + _CRATER_M_S / _NORMAL_M_S)


def restitution(normal_m_s: Floats) -> Floats:
    """Restitution of turf at a normal impact speed in m/s, Penner (2002)."""
    held = np.minimum(normal_m_s, 20.0)
    return np.asarray((0.000903 * held - 0.0375) * held + 0.510)


def penner_2002(normal_m_s: Floats, level_m_s: Floats, firmness: Floats) -> tuple[Floats | float, Floats]:
    """Crater tilt and restitution of Penner (2002), the tilt growing as the ground softens."""
    speed = np.sqrt(normal_m_s * normal_m_s + level_m_s * level_m_s)
    steepness = np.arctan(level_m_s / np.maximum(normal_m_s, 1e-9))
    tilt = _TILT_RAD / (_SPEED_M_S * _ANGLE_RAD) * speed * steepness * (1.6 - 0.6 * firmness)
    return np.minimum(tilt, _MOST_TILT_RAD), restitution(normal_m_s)


def penner(normal_m_s: Floats, level_m_s: Floats, firmness: Floats) -> tuple[Floats | float, Floats]:
    """Penner's crater for shots around the green: its tilt by normal speed, angle and firmness."""
    steepness = np.arctan(level_m_s / (normal_m_s + 1e-9))
    dug = normal_m_s / (normal_m_s + _CRATER_M_S)
    tilt = steepness**0.47
    tilt *= dug
    dug_in = np.maximum(_MEDIUM - firmness, 0.0)
    slow = np.maximum(1.0 - normal_m_s / _DUG_M_S, 0.0)
    tilt *= _CRATER_SCALE * (1.44 - 0.44 * firmness + _DUG_TILT * slow * dug_in)
    gives = 0.9 + 0.2 * firmness - _DUG_GIVES * dug_in
    return np.minimum(tilt, _MOST_TILT_RAD), restitution(normal_m_s) * gives


def rigid(normal_m_s: Floats, level_m_s: Floats, firmness: Floats) -> tuple[Floats | float, Floats]:
    """No crater; the restitution of turf."""
    return 0.0, restitution(normal_m_s)


def climb_out(velocity: Floats, out: Floats, normal: Sequence[Floats], firmness: Floats) -> None:
    """Slow balls that backspin draws out of their crater the way they came: in ``out`` (3, n), changed in place.

    They leave over the crater's hind wall, which a rigid sphere on a plane does not meet: a soft green throws the
    ball forward and only a firm one keeps backspin (S. J. Haake, as above). Of the speed back a ball keeps 0.05 on
    the softest to 0.6 on the firmest turf, so that a full 8-iron into a strong wind stops or comes back a few
    paces, not ten (common practice, no source).
    """
    into = velocity[0] * normal[0] + velocity[1] * normal[1] + velocity[2] * normal[2]
    level = [velocity[axis] - into * normal[axis] for axis in range(3)]
    onward = out[0] * level[0] + out[1] * level[1] + out[2] * level[2]
    back = np.flatnonzero(onward < 0.0)
    if not back.size:
        return
    way = np.array([value[back] for value in level])
    square = np.maximum((way * way).sum(axis=0), 1e-12)
    firm = firmness[back]
    kept = _CLIMBS_SOFT + _CLIMBS_FIRMER * firm - _DUG_KEEPS * np.maximum(_MEDIUM - firm, 0.0)
    lost = (1.0 - kept) * onward[back] / square
    for axis in range(3):
        out[axis, back] -= lost * way[axis]


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
    velocity: Floats,
    spin: Floats,
    normal: Sequence[Floats],
    tilt_rad: Floats | float,
    restitution: Floats | float,
    friction: Floats | float,
) -> tuple[Floats, Floats]:
    """Velocity and spin (3, n) after hitting a surface with unit ``normal`` tilted back.

    All (3, n); the tilt ``tilt_rad`` (n,) turns the normal against the ball's motion along the surface.
    Kinetic energy never grows for a restitution of at most 1. The sine of the tilt is its series, true to
    2e-5 at 0.7 rad.
    """
    nx, ny, nz = normal
    vx, vy, vz = velocity
    wx, wy, wz = spin
    into = vx * nx + vy * ny + vz * nz
    if np.any(tilt_rad):
        tx, ty, tz = vx - into * nx, vy - into * ny, vz - into * nz
        level = np.sqrt(tx * tx + ty * ty + tz * tz)
        square = tilt_rad * tilt_rad
        lean = tilt_rad * (1.0 - square * (1 / 6 - square * (1 / 120)))
        upright = np.sqrt(1.0 - lean * lean)
        into = upright * into - lean * level
        lean /= level + 1e-12
        nx, ny, nz = upright * nx - lean * tx, upright * ny - lean * ty, upright * nz - lean * tz
    rx, ry, rz = RADIUS_M * wx, RADIUS_M * wy, RADIUS_M * wz
    ux = vx - into * nx - (ry * nz - rz * ny)
    uy = vy - into * ny - (rz * nx - rx * nz)
    uz = vz - into * nz - (rx * ny - ry * nx)
    push = (1.0 + restitution) * np.minimum(into, 0.0)
    slip = np.sqrt(ux * ux + uy * uy + uz * uz)
    grip = np.minimum(-friction * push / (slip + 1e-12), 2 / 7)
    out, turned = np.empty_like(velocity), np.empty_like(spin)
    np.subtract(vx, push * nx + grip * ux, out=out[0])
    np.subtract(vy, push * ny + grip * uy, out=out[1])
    np.subtract(vz, push * nz + grip * uz, out=out[2])
    grip *= 2.5 / RADIUS_M
    np.add(wx, grip * (ny * uz - nz * uy), out=turned[0])
    np.add(wy, grip * (nz * ux - nx * uz), out=turned[1])
    np.add(wz, grip * (nx * uy - ny * ux), out=turned[2])
    return out, turned
