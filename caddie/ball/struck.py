"""The ball just after impact, as data."""

from dataclasses import dataclass

from caddie.arrays import Floats


@dataclass(frozen=True)
class Launch:
    """The ball just after impact; every field an array or number, broadcastable, any shape.

    ``azimuth_rad`` is positive to the player's left. ``axis_rad`` tilts the axis of the backspin in the
    plane square to the flight; a positive tilt curves the ball left.
    """

    speed_m_s: Floats
    angle_rad: Floats
    azimuth_rad: Floats
    spin_rad_s: Floats
    axis_rad: Floats
