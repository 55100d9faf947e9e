"""A player's putts from one meant line and pace: what becomes of them, and the putts they lead to."""

from dataclasses import dataclass

import numpy as np

from caddie.plan.putt.after import putts_left
from caddie.plan.putt.green import PuttGreen
from caddie.plan.putt.player import Stroke
from caddie.plan.putt.roll import Floats, Rolled, roll_putts


@dataclass(frozen=True)
class Putts:
    """Simulated putts (..., n): where they went, and the putts to hole out."""

    rolled: Rolled
    strokes: Floats


def simulate(
    green: PuttGreen, stroke: Stroke, speed_m_s: Floats, azimuth_rad: Floats, drawn: Floats, handicap: float
) -> Putts:
    """Putts meant with ``speed_m_s`` and ``azimuth_rad`` (...,), struck with standard errors (2, n)."""
    speed, azimuth = stroke.scatter(speed_m_s, azimuth_rad, green.pin_m, green.resist_m_s2, drawn)
    rolled = roll_putts(green.ground, speed, azimuth, (green.pin_m, 0.0))
    after = putts_left(green, rolled, handicap)
    return Putts(rolled, np.where(rolled.holed, 1.0, 1.0 + after))
