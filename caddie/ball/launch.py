"""How the ball leaves the club: speed, launch angle and spin from loft, lie and flight."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from caddie.ball.air import Air, FloatArray
from caddie.ball.sphere import RADIUS_M
from caddie.errors import CaddieError


class Flight(StrEnum):
    """How the shaft is leaned: forward for a low ball, opened for a high one."""

    LOW = "low"
    STOCK = "stock"
    HIGH = "high"


@dataclass(frozen=True)
class Launch:
    """The ball just after impact; every field an array or number, broadcastable, any shape.

    ``azimuth_rad`` is positive to the player's left. ``axis_rad`` tilts the axis of the backspin in the
    plane square to the flight; a positive tilt curves the ball left.
    """

    speed_m_s: FloatArray
    angle_rad: FloatArray
    azimuth_rad: FloatArray
    spin_rad_s: FloatArray
    axis_rad: FloatArray


@dataclass(frozen=True)
class Contact:
    """What the lie does to the strike.

    ``friction_share`` scales the friction between face and ball (1 = dry and clean), ``speed_share`` the
    ball speed of the same swing, ``loft_change_rad`` turns the launch up (or down), ``azimuth_change_rad``
    turns it left, ``tilt_rad`` tilts the whole strike about the target line toward the player's left (ball
    above a right-hander's feet).
    """

    friction_share: float = 1.0
    speed_share: float = 1.0
    loft_change_rad: float = 0.0
    azimuth_change_rad: float = 0.0
    tilt_rad: float = 0.0


CONTACT: Mapping[str, Contact] = {
    "green": Contact(),
    "fringe": Contact(friction_share=0.95),
    "fairway": Contact(),
    "light_rough": Contact(friction_share=0.6, speed_share=0.97),
    "heavy_rough": Contact(friction_share=0.3, speed_share=0.85),
    "bare": Contact(),
    "divot": Contact(friction_share=0.85, speed_share=0.95, loft_change_rad=-0.05),
    "bunker": Contact(friction_share=0.6, speed_share=0.92),
    "plugged": Contact(friction_share=0.2, speed_share=0.7),
    "pine_straw": Contact(friction_share=0.7, speed_share=0.95),
}

_LEAN_RAD = {Flight.LOW: np.radians(19.5), Flight.STOCK: np.radians(12.0), Flight.HIGH: np.radians(1.5)}
_ATTACK_RAD = np.radians(5.0)
_ROLLING = (2 / 7) * (1 + 0.3) / (1 + 0.7)


def _checked_loft(loft_rad: ArrayLike) -> FloatArray:
    loft = np.asarray(loft_rad, dtype=float)
    if not np.all((loft >= 0.0) & (loft <= np.radians(80))):
        raise CaddieError(f"launch: loft_rad must be 0 to 80 degrees, got {np.degrees(loft).tolist()}")
    return loft


def _friction(speed_m_s: FloatArray, spin_loft_rad: FloatArray) -> FloatArray:
    """Friction of a dry clean face: rises with speed, falls as the ball slips more."""
    by_speed = np.clip(0.114 + 0.0051 * (speed_m_s - 12.7), 0.08, 0.22)
    slip = (np.tan(np.radians(52)) / np.maximum(np.tan(spin_loft_rad), 0.05)) ** 0.8
    return np.asarray(by_speed * np.minimum(slip, 1.6))


def _strike(
    loft_rad: FloatArray, speed_m_s: FloatArray, lean_rad: FloatArray, friction_share: float
) -> tuple[FloatArray, FloatArray]:
    """Launch angle and backspin of an oblique impact with friction."""
    delivered = np.maximum(loft_rad - lean_rad, 0.0)
    spin_loft = np.clip(delivered + _ATTACK_RAD, 0.0, np.radians(85))
    slide = friction_share * _friction(speed_m_s, spin_loft)
    ratio = np.minimum(slide, _ROLLING * np.tan(spin_loft))
    turned = np.arctan(ratio)
    spin = 2.5 * ratio * speed_m_s * np.cos(turned) / RADIUS_M
    return np.asarray(delivered - turned), np.asarray(spin)


def launch_for(
    loft_rad: ArrayLike,
    speed_m_s: ArrayLike,
    flight: Flight = Flight.STOCK,
    contact: Contact | None = None,
    lean_rad: ArrayLike | None = None,
    angle_rad: ArrayLike | None = None,
    spin_rad_s: ArrayLike | None = None,
) -> Launch:
    """Launch of a swing that would send a ball from a clean lie off at ``speed_m_s``."""
    contact = contact or CONTACT["fairway"]
    loft, speed = np.broadcast_arrays(_checked_loft(loft_rad), np.asarray(speed_m_s, dtype=float))
    lean = np.asarray(_LEAN_RAD[flight] if lean_rad is None else lean_rad, dtype=float)
    angle, spin = _strike(loft, speed * contact.speed_share, lean, contact.friction_share)
    if angle_rad is not None or spin_rad_s is not None:
        clean_angle, clean_spin = _strike(loft, speed, lean, 1.0)
        if angle_rad is not None:
            angle = angle - clean_angle + angle_rad
        if spin_rad_s is not None:
            spin = spin / clean_spin * spin_rad_s
    return _placed(speed * contact.speed_share, angle, spin, contact)


def splash_for(
    loft_rad: ArrayLike, speed_m_s: ArrayLike, flight: Flight = Flight.STOCK, contact: Contact | None = None
) -> Launch:
    """Launch of a bunker splash at ball speed ``speed_m_s``."""
    contact = contact or CONTACT["bunker"]
    bunker = CONTACT["bunker"]
    loft, speed = np.broadcast_arrays(_checked_loft(loft_rad), np.asarray(speed_m_s, dtype=float))
    opened = {Flight.LOW: 0.0, Flight.STOCK: np.radians(6), Flight.HIGH: np.radians(14)}[flight]
    speed = speed * (contact.speed_share / bunker.speed_share)
    spin = 0.35 * (contact.friction_share / bunker.friction_share) * speed / RADIUS_M
    return _placed(speed, 0.85 * (loft + opened), spin, contact)


def _placed(speed: FloatArray, angle: FloatArray, spin: FloatArray, contact: Contact) -> Launch:
    angle = angle + contact.loft_change_rad
    tilt = contact.tilt_rad
    azimuth = np.arctan(np.tan(angle) * np.sin(tilt))
    axis = np.sign(tilt) * np.arccos(np.cos(tilt) * np.cos(azimuth))
    raised = np.arcsin(np.sin(angle) * np.cos(tilt))
    return Launch(*np.broadcast_arrays(speed, raised, azimuth + contact.azimuth_change_rad, spin, axis))


def on_slope(
    contact: Contact, uphill_rad: float = 0.0, above_rad: float = 0.0, right_handed: bool = True
) -> Contact:
    """The contact on a slope: ``uphill_rad`` along the line, ``above_rad`` with the ball above the feet."""
    side = 1.0 if right_handed else -1.0
    return replace(
        contact,
        loft_change_rad=contact.loft_change_rad + uphill_rad,
        azimuth_change_rad=contact.azimuth_change_rad + side * 0.15 * uphill_rad,
        tilt_rad=contact.tilt_rad + side * above_rad,
    )


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
) -> FloatArray:
    """Clean ball speed whose modelled carry on level ground is ``carry_m``."""
    from caddie.ball.flight import fly

    carry, loft = np.broadcast_arrays(np.asarray(carry_m, dtype=float), _checked_loft(loft_rad))

    def carried(speed: FloatArray) -> FloatArray:
        if splash:
            launch = splash_for(loft, speed, flight, contact)
        else:
            launch = launch_for(loft, speed, flight, contact, lean_rad, angle_rad, spin_rad_s)
        landing = fly(launch, air, aero=aero)
        return np.hypot(landing.x_m, landing.y_m)

    grid = np.geomspace(2.0, 85.0, 28).reshape((-1,) + (1,) * carry.ndim)
    carries = carried(grid + np.zeros(carry.shape))
    flat = carries.reshape(28, -1)
    speed = np.array([np.interp(c, flat[:, i], grid.ravel()) for i, c in enumerate(carry.ravel())]).reshape(
        carry.shape
    )
    if np.any(carry > carries.max(axis=0)) or np.any(carry < carries.min(axis=0)):
        raise CaddieError("launch: carry_m cannot be reached with this loft: check the carry")
    for _ in range(3):
        got = carried(speed)
        slope = (carried(speed * 1.01) - got) / (speed * 0.01)
        speed = speed + (carry - got) / slope
    return speed
