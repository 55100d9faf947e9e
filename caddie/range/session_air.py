"""A carry measured in one air as it would be in another: the session's temperature and altitude taken out."""

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.bag.models import Conditions

_GRID = 9
_SHORTEST_M = 2.0


def carry_in(
    carry_m: ArrayLike,
    loft_deg: float,
    measured_in: Conditions,
    wanted_in: Conditions,
    splash: bool = False,
) -> Floats:
    """Carry [m] of the same strikes, or of the same splashes, in another air, any shape.

    The ball speed that explains a carry in ``measured_in`` is flown again in ``wanted_in``, at a few carries
    across the range, and joined between them. Carries under 2 m are left as they are.
    """
    from caddie.ball import air, fly, launch_for, speed_for_carry, splash_for

    carry = np.asarray(carry_m, dtype=np.float64)
    if measured_in == wanted_in or carry.size == 0 or carry.max() <= _SHORTEST_M:
        return carry.copy()
    there = air(measured_in.temperature_c, measured_in.altitude_m)
    here = air(wanted_in.temperature_c, wanted_in.altitude_m)
    # A misread carry may be one that no speed reaches with this loft; the nearest ratio serves for it.
    longest = max(min(float(carry.max()), 1.3 * float(np.median(carry))), _SHORTEST_M + 0.01)
    grid = np.linspace(max(min(float(carry.min()), longest - 0.01), _SHORTEST_M), longest, _GRID)
    loft_rad = np.radians(loft_deg)
    speed = speed_for_carry(grid, loft_rad, there, splash=splash)
    ratio = fly((splash_for if splash else launch_for)(loft_rad, speed), here).x_m / grid
    return np.asarray(np.where(carry < _SHORTEST_M, carry, carry * np.interp(carry, grid, ratio)))
