"""How many putts come up short, against balls integrated step by step."""

import numpy as np
import pytest
from roll2d import roll2d
from scenarios import putter_bag

from caddie.ball.hole import Hole
from caddie.ball.track import roll_putts
from caddie.plan.assume import complete
from caddie.plan.choose import advise
from caddie.plan.putt.choose import choose_putt
from caddie.plan.putt.green import green_of
from caddie.plan.putt.player import errors, stroke_for
from caddie.situation import Fall, Green, Lie, Situation
from caddie.units import FOOT_M

BAG = putter_bag()


def putt(feet, slope, side_slope):
    green = Green(
        fall=Fall.TOWARD if slope > 0 else Fall.AWAY,
        fall_slope=abs(slope),
        side_fall=Fall.LEFT_TO_RIGHT,
        side_slope=side_slope,
    )
    return Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=green)


@pytest.mark.parametrize("slope", [-0.02, 0.02, 0.04, 0.05])
@pytest.mark.parametrize("side_slope", [0.0, 0.02])
def test_the_share_that_comes_up_short_is_that_of_balls_integrated(slope, side_slope):
    """``tests/shared/roll2d.py``, an independent Runge-Kutta: within 2 points; no such green rolls a ball back."""
    situation = putt(30, slope, side_slope)
    green = green_of(complete(situation)[0], BAG)
    choice = choose_putt(green, BAG.player.handicap, 1)
    speed, azimuth = stroke_for(BAG.player.handicap).scatter(
        np.array(choice.speed_m_s),
        np.array(choice.azimuth_rad),
        green.pin_m,
        green.resist_m_s2,
        errors(2000, 1),
    )
    rolled = roll2d(speed, azimuth, green.ground, hole=(green.pin_m, 0.0))
    short = float((~rolled.holed & (rolled.x_m < green.pin_m)).mean())
    told = advise(situation, BAG).chosen.line.short
    assert told == pytest.approx(short, abs=0.02)
    assert 0.15 < told < 0.6


def test_a_ball_that_passes_the_hole_and_rolls_back_is_not_short():
    situation = putt(12, 0.10, 0.0)
    green = green_of(complete(situation)[0], BAG)
    passing = roll_putts(green.ground, np.array([2.6, 5.0]), np.zeros(2), Hole(green.pin_m, 0.5)).passing
    integrated = []
    for speed in (2.6, 5.0):
        # Uphill the speed falls evenly: v^2 / 2a, a from the turf and 5/7 of the slope's pull.
        pull = 5 / 7 * 9.80665 * 0.10 / np.hypot(1.0, 0.10)
        integrated.append(speed**2 / (2 * (green.resist_m_s2 + pull)))
    assert passing.farthest_x_m == pytest.approx(integrated, rel=0.01)
    assert integrated[0] < green.pin_m < integrated[1]
