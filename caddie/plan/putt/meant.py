"""Where a putt goes that is struck just as it was meant: into the hole, past it on one side, or short of it."""

from dataclasses import dataclass

import numpy as np

from caddie.bag import Bag
from caddie.ball.hole import Hole
from caddie.ball.track import roll_putts
from caddie.plan.option import Option, Plan
from caddie.plan.putt.green import green_of


@dataclass(frozen=True)
class Meant:
    """What becomes of the ball as meant."""

    drops: bool
    short: bool
    """Whether it stops before the hole."""
    low: bool
    """Whether it passes the hole below its middle, on the side that the green falls to."""
    by_m: float
    """How far from the middle of the hole it passes."""


def as_meant(plan: Plan, option: Option, bag: Bag) -> Meant:
    """The putt of a plan on another line or at another pace, struck without any error."""
    assert option.line is not None
    green = green_of(plan.situation, bag)
    speed, azimuth = np.array([option.line.speed_m_s]), np.array([option.line.azimuth_rad])
    rolled = roll_putts(green.ground, speed, azimuth, Hole(green.pin_m))
    offset_m = float(rolled.passing.offset_m[0])
    holed = bool(rolled.end.holed[0])
    return Meant(
        drops=holed,
        short=not holed and float(rolled.passing.farthest_x_m[0]) < green.pin_m,
        low=offset_m * green.across < 0,
        by_m=abs(offset_m),
    )
