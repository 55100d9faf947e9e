"""The flight of one shot as it is meant, in the air of the day."""

from contextlib import suppress

import numpy as np

from caddie.bag import Bag, Family
from caddie.ball import fly, launch_for, speed_for_carry, splash_for
from caddie.ball.air import Air
from caddie.ball.flight import Landing
from caddie.errors import CaddieError
from caddie.plan.option import Option
from caddie.plan.scene import lay_out
from caddie.situation import Situation


def flown(option: Option, situation: Situation, bag: Bag) -> Landing:
    """A cleanly struck ball of this shot, of a situation with every gap filled."""
    loft_rad, still = np.radians(option.loft_deg), Air.calm()
    splash = option.family is Family.SPLASH
    speed = speed_for_carry(option.carry_m, loft_rad, still, option.flight, splash=splash)
    launch = (splash_for if splash else launch_for)(loft_rad, speed, option.flight)
    return fly(launch, lay_out(situation, bag).air)


def blown_left_m(option: Option, situation: Situation, bag: Bag) -> float:
    """How far left the wind moves it in the air [m]; right is negative."""
    if option.family is Family.PUTT or situation.wind.from_ is None:
        return 0.0
    with suppress(CaddieError):
        return float(flown(option, situation, bag).y_m)
    # A carry that no launch gives is next to none, and is not blown anywhere.
    return 0.0
