"""What lie, stance and the state of the face do to a strike.

Shares of friction: a 56-degree shot of 70 yards from 2 in rough keeps 30 % of its fairway spin (20-50 %,
read); light rough up to 2 in takes 40 % (F. Thomas, secondary); wet grass takes about 37 % (read). The
rest, and all shares of speed, are common practice without measurement.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Contact:
    """What the lie does to the strike.

    ``friction_share`` scales the friction between face and ball (1 = dry and clean), ``speed_share`` the
    ball speed of the same swing, ``loft_change_rad`` turns the launch up (or down), ``azimuth_change_rad``
    turns it left, ``tilt_rad`` tilts the whole strike about the target line toward the player's left (ball
    above a right-hander's feet). ``shuts`` is the share that grass takes of how far a face is laid open: it wraps
    round the hosel and turns the toe over.
    """

    friction_share: float = 1.0
    speed_share: float = 1.0
    loft_change_rad: float = 0.0
    azimuth_change_rad: float = 0.0
    tilt_rad: float = 0.0
    shuts: float = 0.0


CONTACT: Mapping[str, Contact] = {
    "green": Contact(),
    "fringe": Contact(friction_share=0.95),
    "fairway": Contact(),
    "first_cut": Contact(friction_share=0.8, speed_share=0.99),
    "light_rough": Contact(friction_share=0.6, speed_share=0.97, shuts=0.1),
    "heavy_rough": Contact(friction_share=0.3, speed_share=0.85, shuts=0.45),
    "bare": Contact(),
    "divot": Contact(friction_share=0.85, speed_share=0.95, loft_change_rad=-0.05),
    "bunker": Contact(friction_share=0.6, speed_share=0.92),
    "plugged": Contact(friction_share=0.2, speed_share=0.7),
    "pine_straw": Contact(friction_share=0.7, speed_share=0.95),
}


UPHILL_SLOWS = 0.5
"""Share of the speed that a radian of upslope takes from a swing."""


def on_slope(
    contact: Contact, uphill_rad: float = 0.0, above_rad: float = 0.0, right_handed: bool = True
) -> Contact:
    """The contact on a slope.

    A player stands square to the slope: uphill adds its angle to the launch (downhill, negative, takes it
    off) and the ball starts a little left of a right-hander's aim. Uphill the weight stays behind and the
    swing is slower, so that the ball flies higher and shorter, by about a club on a usual slope (common
    practice, no source). With the ball above the feet by the slope ``above_rad`` the whole strike is tilted
    about the target line, so loft points the ball left and tilts its spin axis left (geometry; both signs are
    common practice).
    """
    side = 1.0 if right_handed else -1.0
    return replace(
        contact,
        speed_share=contact.speed_share * (1.0 - UPHILL_SLOWS * max(uphill_rad, 0.0)),
        loft_change_rad=contact.loft_change_rad + uphill_rad,
        azimuth_change_rad=contact.azimuth_change_rad + side * 0.15 * uphill_rad,
        tilt_rad=contact.tilt_rad + side * above_rad,
    )


TALL = (0.7, 0.65)
"""Shares of the friction and of the speed that grass to the knee leaves of those of thick rough: under half the carry
(common practice, no source)."""
HIDDEN = 0.75
"""Share of the speed that is left to a ball down at the bottom of grass like that (common practice, no source)."""
FLYER = (0.4, 1.02)
"""Shares of the friction and of the speed that a flyer keeps (common practice)."""
FIRM_SAND, SOFT_SAND = (1.1, 0.6), (0.88, 0.85)
"""Shares of the speed and of the friction that wet or packed sand, and soft sand, leave of those of clean dry sand:
the club skids through the one with the ball, the other swallows it (common practice)."""
FIRM_SAND_LOWERS_RAD = 0.10
"""Packed sand gives no cushion that lifts the ball: it comes out so much lower (common practice, no source)."""


def in_sand(contact: Contact, firm: bool = False, soft: bool = False) -> Contact:
    """The contact in sand that is packed or wet (``firm``), or soft."""
    speed, friction = FIRM_SAND if firm else SOFT_SAND if soft else (1.0, 1.0)
    return replace(
        contact,
        speed_share=speed * contact.speed_share,
        friction_share=friction * contact.friction_share,
        loft_change_rad=contact.loft_change_rad - (FIRM_SAND_LOWERS_RAD if firm else 0.0),
    )


def modified(
    contact: Contact,
    wet: bool = False,
    dirty_grooves: bool = False,
    sitting_up: bool = False,
    sitting_down: bool = False,
    flyer: bool = False,
    tall: bool = False,
) -> Contact:
    """The contact with what else lies between face and ball.

    Wet grass keeps 0.63 of the friction (about 37 % less spin, read); dirty grooves 0.75, a ball sitting up
    in the grass half of what the grass took back and flies a little higher, one sitting down 0.7 of the
    friction, 0.93 of the speed and a steeper, less lofted strike; a flyer comes off grass that takes the spin and
    not the speed (common practice).
    """
    friction, speed, loft = contact.friction_share, contact.speed_share, contact.loft_change_rad
    if wet:
        friction *= 0.63
    if dirty_grooves:
        friction *= 0.75
    if sitting_up:
        friction, speed, loft = 0.5 * (1.0 + friction), 0.5 * (1.0 + speed), loft + 0.02
    if sitting_down:
        friction, speed, loft = 0.7 * friction, 0.93 * speed, loft - 0.03
    if tall:
        friction, speed = TALL[0] * friction, TALL[1] * speed * (HIDDEN if sitting_down else 1.0)
    if flyer:
        friction, speed = min(friction, FLYER[0]), max(speed, FLYER[1])
    return replace(contact, friction_share=friction, speed_share=speed, loft_change_rad=loft)
