"""A player's putts from one meant line and pace: what becomes of them, and the putts they lead to."""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats
from caddie.ball.hole import Hole
from caddie.ball.track import RolledPutts, roll_putts
from caddie.plan.putt.after import putts_left
from caddie.plan.putt.green import PuttGreen
from caddie.plan.putt.player import Stroke


@dataclass(frozen=True)
class Putts:
    """Simulated putts (..., n): where they went, and the putts to hole out."""

    rolled: RolledPutts
    strokes: Floats


def simulate(
    green: PuttGreen, stroke: Stroke, speed_m_s: Floats, azimuth_rad: Floats, drawn: Floats, handicap: float
) -> Putts:
    """Putts meant with ``speed_m_s`` and ``azimuth_rad`` (...,), struck with standard errors (2, n)."""
    speed, azimuth = stroke.scatter(speed_m_s, azimuth_rad, green.pin_m, green.resist_m_s2, drawn)
    rolled = roll_putts(green.ground, speed, azimuth, Hole(green.pin_m))
    after = putts_left(green, rolled.end, handicap)
    return Putts(rolled, np.where(rolled.end.holed, 1.0, 1.0 + after))
