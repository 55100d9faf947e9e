"""The ball just after impact, as data."""

from dataclasses import dataclass

from caddie.ball.sphere import FloatArray


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
