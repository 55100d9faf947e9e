"""How the ball leaves the club: speed, launch angle and spin from loft, lie and flight.

The strike is an oblique impact of a rigid sphere with friction. With t the ratio of the ball's tangential to
its normal speed off the face,

    t = min(mu, (2/7) (1 + e_t) tan(spin loft) / (1 + e)),  launch = delivered loft - atan(t),
    spin = (5/2) t v cos(atan t) / r,

the first branch a ball that slides off the face, the second one that grips it (standard mechanics of a sphere
with normal and tangential restitution e and e_t; R. Cross and P. Dewhurst, *Eur. J. Phys.* 39, 065003,
2018, treat the case). Delivered loft is static loft less the lean of the shaft, spin loft a typical attack
of 5 degrees more. The friction of a dry clean face is this project's own fit to published radar readings of
wedge shots (:func:`dry_friction`), so a launch is within a few degrees and a tenth of the spin of those, no
closer; a player's measured carries set the speed, and radar columns replace angle and spin.

The lean is where the sources part. Launch angle and spin of a reading give the delivered loft by the forms
above. The 7-iron and pitching-wedge averages (33.5 and 46 degrees of loft) then lean 10.4 and 11.3 degrees,
the 58-degree readings of 15 yards 19.2, 10.8 and 1.3 (low, mid, high): the leans used here. The 70-yard test
with 56 degrees leans 16.3 to 16.7 with all three faces, so the mechanics hold there and the lean does not: it
launches 4 to 6 degrees lower than here, whichever the face. A lean that grows with loft and speed together would
meet all of them, but it would rest on that one test, which reports no ball speed; so it is left out.
"""

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats, distinct
from caddie.ball.air import Air
from caddie.ball.flight import Launch, fly
from caddie.ball.lie import CONTACT, Contact, modified, on_slope
from caddie.ball.sphere import RADIUS_M
from caddie.errors import CaddieError

__all__ = [
    "CONTACT",
    "Contact",
    "Flight",
    "Launch",
    "dry_friction",
    "launch_for",
    "modified",
    "on_slope",
    "speed_for_carry",
    "splash_for",
]


class Flight(StrEnum):
    """How the shaft is leaned: forward for a low ball, opened for a high one."""

    LOW = "low"
    STOCK = "stock"
    HIGH = "high"


_LEAN_RAD = {
    Flight.LOW: float(np.radians(19.5)),
    Flight.STOCK: float(np.radians(12.0)),
    Flight.HIGH: float(np.radians(1.5)),
}
LOW_SPEED = 0.97
"""Ball speed of a low shot as a share of the plain one's from the same backswing. A straighter face would send the
ball off faster, but the punch is held back with a short finish and never flies farther than the plain shot: this
project's estimate, so that a chest-high punch carries 0.68 of the full shot with a pitching wedge and 0.67 with a
9-iron, where a teacher's table has 0.68 and 0.74. A swing of its own, to be measured."""
_SPLASH_OPEN_RAD = {Flight.LOW: 0.0, Flight.STOCK: float(np.radians(6)), Flight.HIGH: float(np.radians(14))}
_ATTACK_RAD = float(np.radians(5))
_GRIPS = (2 / 7) * (1 + 0.3) / (1 + 0.7)
_SPLASH_RISE = 0.85
_SPLASH_SPIN_RATIO = 0.35
_GRID = 28


def dry_friction(speed_m_s: ArrayLike, spin_loft_rad: ArrayLike) -> Floats:
    """Friction between a dry clean face and the ball, any shape.

    It rises with ball speed and falls as the ball slips more on a more oblique face: this project's fit to
    the 58-degree readings at 12.5 m/s (0.160, 0.114 and 0.089 at spin lofts of 44, 52 and 62 degrees) and
    the 56-degree mean of 7,130 rpm at 70 yards.
    """
    share = np.clip((np.asarray(speed_m_s, dtype=float) - 11.8) / 8.1, 0.0, 1.0)
    by_speed = 0.11 + 0.09 * share * share * (3.0 - 2.0 * share)
    slip = (np.tan(np.radians(52)) / np.maximum(np.tan(spin_loft_rad), 0.05)) ** 0.8
    return np.asarray(by_speed * np.minimum(slip, 1.6))


def _checked_loft(loft_rad: ArrayLike) -> Floats:
    loft = np.asarray(loft_rad, dtype=float)
    if not np.all((loft >= 0.0) & (loft <= np.radians(80))):
        raise CaddieError(
            f"launch: loft_rad must be 0 to 80 degrees, got {np.round(np.degrees(loft), 1).tolist()}"
        )
    return loft


def _checked_speed(speed_m_s: ArrayLike) -> Floats:
    speed = np.asarray(speed_m_s, dtype=float)
    if not np.all((speed >= 0.0) & (speed <= 100.0)):
        raise CaddieError("launch: speed_m_s must be 0 to 100")
    return speed


def _strike(
    loft_rad: Floats, speed_m_s: Floats, lean_rad: Floats, friction_share: float
) -> tuple[Floats, Floats]:
    """Launch angle and backspin of an oblique impact with friction."""
    delivered = np.maximum(loft_rad - lean_rad, 0.0)
    spin_loft = np.clip(delivered + _ATTACK_RAD, 0.0, np.radians(85))
    slides = friction_share * dry_friction(speed_m_s, spin_loft)
    ratio = np.minimum(slides, _GRIPS * np.tan(spin_loft))
    turned = np.arctan(ratio)
    spin = 2.5 * ratio * speed_m_s * np.cos(turned) / RADIUS_M
    return np.asarray(delivered - turned), np.asarray(spin)


def _placed(speed: Floats, angle: Floats, spin: Floats, contact: Contact) -> Launch:
    """The launch with the strike turned as the lie and stance turn it."""
    angle = angle + contact.loft_change_rad
    tilt = contact.tilt_rad
    azimuth = np.arctan(np.tan(angle) * np.sin(tilt))
    axis = np.sign(tilt) * np.arccos(np.clip(np.cos(tilt) * np.cos(azimuth), -1.0, 1.0))
    raised = np.arcsin(np.sin(angle) * np.cos(tilt))
    arrays = np.broadcast_arrays(speed, raised, azimuth + contact.azimuth_change_rad, spin, axis)
    return Launch(*(np.asarray(array, dtype=float) for array in arrays))


def launch_for(
    loft_rad: ArrayLike,
    speed_m_s: ArrayLike,
    flight: Flight = Flight.STOCK,
    contact: Contact | None = None,
    lean_rad: ArrayLike | None = None,
    angle_rad: ArrayLike | None = None,
    spin_rad_s: ArrayLike | None = None,
) -> Launch:
    """Launch of a swing that sends a ball from a clean lie off at ``speed_m_s``; arguments broadcast.

    Args:
        loft_rad: static loft.
        speed_m_s: ball speed of this swing from a clean lie; ``contact.speed_share`` of it is kept.
        flight: sets the lean of the shaft: low 19.5, stock 12, high 1.5 degrees.
        contact: the lie, by default a fairway.
        lean_rad: a lean in place of the flight's.
        angle_rad: the launch angle a radar measured for this swing from a clean lie; the lie then changes
        it by as
            much as it changes the model's.
        spin_rad_s: the measured backspin, changed by the lie in the model's proportion.

    Raises:
        CaddieError: loft outside 0 to 80 degrees, speed outside 0 to 100 m/s.
    """
    contact = contact or CONTACT["fairway"]
    loft, speed = np.broadcast_arrays(_checked_loft(loft_rad), _checked_speed(speed_m_s))
    lean = np.asarray(_LEAN_RAD[flight] if lean_rad is None else lean_rad, dtype=float)
    angle, spin = _strike(loft, speed * contact.speed_share, _shut(lean, contact), contact.friction_share)
    clean_angle, clean_spin = _strike(loft, speed, lean, 1.0)
    if angle_rad is not None:
        angle = angle - clean_angle + np.asarray(angle_rad, dtype=float)
    if spin_rad_s is not None:
        spin = spin / np.maximum(clean_spin, 1e-9) * np.asarray(spin_rad_s, dtype=float)
    return _placed(speed * contact.speed_share, angle, spin, contact)


def _shut(lean_rad: Floats, contact: Contact) -> Floats:
    """The lean that is left of a face laid open, leaning less than a plain one, when the lie has turned it over."""
    opened = np.maximum(_LEAN_RAD[Flight.STOCK] - lean_rad, 0.0)
    return np.asarray(lean_rad + contact.shuts * opened)


def splash_for(
    loft_rad: ArrayLike,
    speed_m_s: ArrayLike,
    flight: Flight = Flight.STOCK,
    contact: Contact | None = None,
) -> Launch:
    """Launch of a bunker splash: the club goes through the sand and the ball rides out on it.

    The ball leaves at 0.85 of the loft as opened (low not at all, stock 6, high 14 degrees) with a spin ratio
    omega r / v of 0.35; a plugged ball comes out flatter and with less spin. Common practice, no
    measurement; anchor the speed on measured splash carries with :func:`speed_for_carry` and
    ``splash=True``.

    Args:
        loft_rad: static loft.
        speed_m_s: ball speed from a clean lie in sand.
        flight: how far the face is opened.
        contact: the lie, by default a clean one in a bunker.

    Raises:
        CaddieError: loft outside 0 to 80 degrees, speed outside 0 to 100 m/s.
    """
    clean = CONTACT["bunker"]
    contact = contact or clean
    loft, speed = np.broadcast_arrays(_checked_loft(loft_rad), _checked_speed(speed_m_s))
    kept = contact.friction_share / clean.friction_share
    speed = speed * (contact.speed_share / clean.speed_share)
    spin = _SPLASH_SPIN_RATIO * kept * speed / RADIUS_M
    rise = _SPLASH_RISE * (loft + _SPLASH_OPEN_RAD[flight])
    return _placed(speed, rise, np.asarray(spin), contact)


def speed_for_carry(
    carry_m: ArrayLike,
    loft_rad: ArrayLike,
    air: Air,
    flight: Flight = Flight.STOCK,
    contact: Contact | None = None,
    aero: str = "bearman_harvey",
    splash: bool = False,
    lean_rad: ArrayLike | None = None,
    angle_rad: ArrayLike | None = None,
    spin_rad_s: ArrayLike | None = None,
) -> Floats:
    """Ball speed (from a clean lie) whose modelled carry on level ground is ``carry_m``.

    Arguments broadcast and are those of :func:`launch_for`, or :func:`splash_for` with ``splash``; ``air`` is
    that of the day the carry was measured. Carries are flown at speeds from 2 to 85 m/s, inverted by
    interpolation and corrected once.

    Raises:
        CaddieError: no speed in that range carries so far with this loft and lie.
    """
    given = [np.asarray(value, dtype=float) for value in (carry_m, loft_rad)]
    extras = [None if value is None else np.asarray(value) for value in (lean_rad, angle_rad, spin_rad_s)]
    shape = np.broadcast_shapes(*(v.shape for v in given), *(v.shape for v in extras if v is not None))
    carry, loft = np.broadcast_to(given[0], shape), np.broadcast_to(_checked_loft(given[1]), shape)

    def carried(speed: Floats) -> Floats:
        if splash:
            launch = splash_for(loft, speed, flight, contact)
        else:
            launch = launch_for(loft, speed, flight, contact, *extras)
        landing = fly(launch, air, aero=aero)
        return np.asarray(np.hypot(landing.x_m, landing.y_m))

    speeds = np.geomspace(2.0, 85.0, _GRID)
    reach = carried(np.broadcast_to(speeds.reshape((-1,) + (1,) * len(shape)), (_GRID, *shape)))
    rising = np.maximum.accumulate(reach, axis=0)
    off = (carry < rising[0]) | (carry > rising[-1])
    if np.any(off):
        asked = distinct(np.round(carry[off], 1)).tolist()
        raise CaddieError(
            f"launch: no ball speed carries {asked} m with this loft and lie: check carry_m and loft"
        )
    above = np.clip((rising < carry).sum(axis=0), 1, _GRID - 1)
    low, high = (np.take_along_axis(rising, (above - s)[np.newaxis], axis=0)[0] for s in (1, 0))
    share = np.log(np.maximum(carry, 1e-6) / low) / np.log(np.maximum(high / low, 1.0 + 1e-9))
    speed = np.exp(np.log(speeds[above - 1]) + share * np.log(speeds[1] / speeds[0]))
    spread = np.array([0.985, 1.0, 1.015]).reshape((3,) + (1,) * len(shape))
    near = carried(np.minimum(speed * spread, 100.0))
    first, second = (near[2] - near[0]) / 2, near[2] - 2 * near[1] + near[0]
    gap = carry - near[1]
    first = np.maximum(first, 1e-9)
    step = gap / first
    step = step - 0.5 * second * step * step / first
    return np.asarray(speed * (1.0 + 0.015 * np.clip(step, -4.0, 4.0)))


def same_swing_speed(loft_rad: ArrayLike, flight: Flight, lean_rad: float | None = None) -> Floats:
    """Ball speed with this flight (or shaft lean) as a share of the stock flight's, the swing being the same.

    In an oblique impact the ball keeps the part of the club's speed along the face's normal, so its speed
    goes with the cosine of the spin loft (standard mechanics; the small tangential part is left out). A low
    shot is held back: :data:`LOW_SPEED`.
    """
    loft = _checked_loft(loft_rad)
    if flight is Flight.LOW and lean_rad is None:
        return np.full_like(loft, LOW_SPEED)
    lean = _LEAN_RAD[flight] if lean_rad is None else lean_rad
    return np.asarray(np.cos(_spin_loft(loft, lean)) / np.cos(_spin_loft(loft, _LEAN_RAD[Flight.STOCK])))


def face_sensitivity(loft_rad: ArrayLike, flight: Flight, lean_rad: float | None = None) -> Floats:
    """How much faster ball speed goes with the loft delivered than the stock flight's does, as a share a radian.

    The derivative of :func:`same_swing_speed`'s cosine, the tangent of the spin loft, above that of the stock flight,
    whose error is in the measured spread: a face laid open glances off the ball, and a degree more or less of it
    tells.
    """
    loft = _checked_loft(loft_rad)
    lean = _LEAN_RAD[flight] if lean_rad is None else lean_rad
    more = np.tan(_spin_loft(loft, lean)) - np.tan(_spin_loft(loft, _LEAN_RAD[Flight.STOCK]))
    return np.asarray(np.maximum(more, 0.0))


def _spin_loft(loft_rad: Floats, lean_rad: float) -> Floats:
    return np.minimum(np.maximum(loft_rad - lean_rad, 0.0) + _ATTACK_RAD, np.radians(85.0))
