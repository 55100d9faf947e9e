"""What is expected of a player before a ball is measured: carry by loft and swing length, and spread.

The figures are common practice among teachers, no measurement behind them. They only have the right shape:
a handful of the player's own carries moves the whole curve (:mod:`caddie.range.shrinkage`).
"""

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.units import YARD_M

_LOFT_DEG = (8.0, 20.0, 27.0, 33.0, 37.0, 41.0, 46.0, 50.0, 54.0, 58.0, 62.0, 72.0)
_FULL_YARDS = (215.0, 188.0, 168.0, 150.0, 140.0, 129.0, 115.0, 105.0, 94.0, 82.0, 68.0, 40.0)
_FULL_AT_HANDICAP = 14.0
_PER_STROKE = 0.009
_SHARE = (0.0, 0.25, 0.5, 0.75, 1.0)
_FRACTION = (0.0, 0.28, 0.66, 0.86, 1.0)
_SPEED = tuple(np.sqrt(_FRACTION).tolist())

SAND_SPREAD = 1.8
"""How much wider the pattern is out of sand than from a clean lie: a ratio of 15.8 % to 7.8 % of the distance
was counted over all sand (Cochran & Stobbs 1968, quoted in a secondary text)."""


def swing_fraction(share: ArrayLike) -> Floats:
    """Carry of a swing as a fraction of the full swing's; any shape, rising.

    >>> float(swing_fraction(0.5))
    0.66
    """
    return np.asarray(np.interp(np.asarray(share, dtype=np.float64), _SHARE, _FRACTION))


def speed_fraction(share: ArrayLike) -> Floats:
    """Ball speed of a swing as a fraction of the full swing's: carry goes with its square. Any shape, rising.

    >>> round(float(speed_fraction(0.5)), 2)
    0.81
    """
    return np.asarray(np.interp(np.asarray(share, dtype=np.float64), _SHARE, _SPEED))


def share_of_speed(fraction: ArrayLike) -> Floats:
    """Inverse of :func:`speed_fraction`; beyond the full swing infinity.

    >>> round(float(share_of_speed(speed_fraction(0.6))), 2)
    0.6
    """
    return np.asarray(np.interp(np.asarray(fraction, dtype=np.float64), _SPEED, _SHARE, right=np.inf))


def full_carry_m(loft_deg: ArrayLike, handicap: float) -> Floats:
    """Carry [m] of a full swing by loft, falling; players of a higher handicap hit it less far."""
    yards = np.interp(np.asarray(loft_deg, dtype=np.float64), _LOFT_DEG, _FULL_YARDS)
    return np.asarray(yards * YARD_M * np.exp(-_PER_STROKE * (handicap - _FULL_AT_HANDICAP)))


def expected_carry_m(loft_deg: ArrayLike, share: ArrayLike, handicap: float) -> Floats:
    """Carry [m] expected of a club and swing share; the two are broadcast together."""
    return full_carry_m(loft_deg, handicap) * swing_fraction(share)


def skill_factor(handicap: float) -> float:
    """How wide a pattern is, by handicap: a tour player's 0.8, a scratch player's 1.03, a 14's 1.66.

    The slope meets the tour's median leaves and the mean leaves of scratch players (tests/plan/test_outcomes.py,
    tests/published/test_amateurs.py); a 14's width is common practice.
    """
    return 0.8 + 0.0455 * max(handicap + 5.0, 0.0)


def expected_spread_m(carry_m: ArrayLike, handicap: float) -> tuple[Floats, Floats]:
    """Spread (one standard deviation) in length and in direction [m] of clean strikes from a good lie.

    About 5 % of an 85 m carry and 13 % of an 8 m one for a scratch player; the share grows as the shot
    shortens, as measured for elite amateurs (Open Sports Sci. J. 14, 86, 2021: 19 % of 45 m, 8.4 % of 85 m,
    misjudged distance included). Patterns are half as long again as wide (M. Broadie, 90-shooters).
    """
    length = skill_factor(handicap) * (0.7 + 0.038 * np.asarray(carry_m, dtype=np.float64))
    return length, length / 1.5


def expected_mishits(handicap: float) -> float:
    """Chance of a heavy strike, and as large a one of a thin strike, with a wedge from a good lie."""
    return 0.004 + 0.0026 * max(handicap + 5.0, 0.0)
