"""How this player's putts scatter about the line and pace they mean.

:mod:`caddie.plan.putt.skill` fits a player's two errors to a hole that takes every ball within 3 ft past it.
Here the hole takes a ball by its speed and offset (Holmes 1991) and the pace is chosen, so the same player
needs other errors. The numbers below were fitted together, at stimp 10 on the level, to the makes of 2016-18
(31 distances, chi-square 42 with the case study's model error of 0.003) and to the tour's three-putt shares
of M. Broadie, "Putts Gained" (2011), from 10 to 60 ft. Real putts break: what is misread is in them.
"""

from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

import numpy as np

from caddie.arrays import Floats
from caddie.plan.putt.skill import AIM_PAST_M, skill_for

ANGLE_SCALE = 1.34
DISTANCE_SCALE = 1.083
MISREAD_M = 12.43
"""The line's error grows with the square root of 1 + (distance / this)^2: a long putt is also misread."""


@dataclass(frozen=True)
class Stroke:
    """A player's two errors with the putter: SD of a short putt's line [rad], SD of the pace as a share."""

    angle_sd_rad: float
    pace_sd: float

    def scatter(
        self,
        speed_m_s: Floats,
        azimuth_rad: Floats,
        pin_m: float,
        resist_m_s2: float,
        errors: Floats,
        misread_m: float = 0.0,
    ) -> tuple[Floats, Floats]:
        """Speeds and lines really struck, for those meant (...,) and standard errors (2, n): shape (..., n).

        The pace, a length on the level, errs by the share of sqrt(its length x (distance + 1 ft)): the speed
        error of the level putt of the same distance, as in :mod:`caddie.plan.putt.skill`. ``misread_m`` is how far
        the length may be off because a step on the way was judged by eye.
        """
        rolls_m = (speed_m_s**2 / (2 * resist_m_s2))[..., None]
        sd_m = np.hypot(self.pace_sd * np.sqrt(rolls_m * (pin_m + AIM_PAST_M)), misread_m)
        struck_m = np.maximum(rolls_m + sd_m * errors[0], 0.02 * rolls_m)
        off_rad = self.angle_sd_rad * np.sqrt(1 + (pin_m / MISREAD_M) ** 2) * errors[1]
        return np.sqrt(2 * resist_m_s2 * struck_m), azimuth_rad[..., None] + off_rad


def stroke_for(handicap: float) -> Stroke:
    """The stroke of a handicap: the errors of its :func:`caddie.plan.putt.skill.skill_for`, scaled as fitted."""
    skill = skill_for(handicap)
    return Stroke(ANGLE_SCALE * skill.angle_sd_rad, DISTANCE_SCALE * skill.distance_sd)


@lru_cache(maxsize=8)
def errors(count: int, seed: int) -> Floats:
    """Standard normal errors (2, count): pace and line, spread evenly, each line error with its mirror image.

    An additive recurrence on the plastic number (M. Roberts, 2018) from a random start: less noise than free
    draws.
    """
    half = (count + 1) // 2
    shift = np.random.default_rng(seed).random(2)
    ratio = 1.32471795724474602596
    step = np.arange(half)
    points = (shift[:, None] + step / np.array([[ratio], [ratio**2]])) % 1.0
    normal = NormalDist().inv_cdf
    pace = np.array([normal(min(max(share, 1e-9), 1 - 1e-9)) for share in points[0]])
    line = np.array([normal(min(max(share, 1e-9), 1 - 1e-9)) for share in points[1]])
    drawn = np.array([np.repeat(pace, 2), np.repeat(line, 2) * np.tile([1.0, -1.0], half)])[:, :count]
    drawn.setflags(write=False)
    return drawn
