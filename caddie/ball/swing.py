"""What the same swing does with another face: ball speed when the club arrives with more or less loft."""

import numpy as np
from numpy.typing import ArrayLike

from caddie.ball.launch import _ATTACK_RAD, _LEAN_RAD, Flight
from caddie.ball.sphere import FloatArray


def same_swing_speed(loft_rad: ArrayLike, flight: Flight, lean_rad: float | None = None) -> FloatArray:
    """Ball speed with this flight as a share of the stock flight's, the swing being the same.

    In an oblique impact the ball keeps the part of the club's speed along the face's normal, so its speed
    goes with the cosine of the spin loft (standard mechanics; the small tangential part is left out).
    """
    loft = np.asarray(loft_rad, dtype=float)
    lean = _LEAN_RAD[flight] if lean_rad is None else lean_rad

    def along_normal(shaft_lean: float) -> FloatArray:
        return np.cos(np.minimum(np.maximum(loft - shaft_lean, 0.0) + _ATTACK_RAD, np.radians(85.0)))

    return np.asarray(along_normal(lean) / along_normal(_LEAN_RAD[Flight.STOCK]))
