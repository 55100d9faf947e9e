"""Legs end at the lines that a ball's way meets, forward and back in time."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.ground import Ground, Patch, Strip, Surface
from caddie.ball.leg import Balls, Slopes, leg_of

GREEN = Surface.GREEN


def start(speed: float, azimuth: float, x: float = 0.0, y: float = 0.0) -> Balls:
    velocity = speed * np.array([[np.cos(azimuth)], [np.sin(azimuth)]])
    return Balls.of(np.array([[x], [y]]), velocity)


@pytest.mark.parametrize("backward", [False, True])
def test_a_leg_ends_just_beyond_the_border_the_side_limit_or_the_patch(backward: bool) -> None:
    """Straight ahead on the level: each line is met where it lies, and the ball goes on from there."""
    rows = [Strip(0.0, GREEN, left_m=1.5, right_m=9.0), Strip(3.0, Surface.FRINGE)]
    ground = Ground.of_strips(rows, patches=(Patch(1.0, 2.0, -3.0, -2.0, Surface.HEAVY_ROUGH),), stimp_ft=10)
    for azimuth, x, y in ((0.0, 3.0, 0.0), (np.pi / 2, 0.0, 1.5), (np.arctan2(-2.5, 1.0), 1.0, -2.5)):
        leg = leg_of(ground, Slopes.of(ground), start(4.0, azimuth), backward)
        assert not leg.stops[0]
        assert (leg.end_x[0], leg.end_y[0]) == (pytest.approx(x, abs=1e-4), pytest.approx(y, abs=1e-4))


def test_a_ball_that_would_turn_round_beyond_a_border_crosses_it_first() -> None:
    """Up a slope it cannot rest on and back: its leg ends at the top border though it would end far below."""
    rows = [Strip(-20.0, GREEN, slope=0.15), Strip(0.5, GREEN)]
    ground = Ground.of_strips(rows, stimp_ft=12)
    leg = leg_of(ground, Slopes.of(ground), start(2.0, 0.1))
    assert leg.end_x[0] == pytest.approx(0.5, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.3, 4.0), st.floats(-3.1, 3.1), st.floats(-0.04, 0.04), st.floats(-0.04, 0.04))
def test_speed_is_gained_back_in_time_and_lost_forward_on_ground_that_holds(
    speed: float, azimuth: float, slope: float, cross: float
) -> None:
    """Energy: forward the balance 7/10 v^2 + g h falls, backward it grows."""
    rows = [Strip(-1.0, GREEN, slope, cross), Strip(0.6, GREEN, slope, cross)]
    ground = Ground.of_strips(rows, stimp_ft=10)
    for backward, sense in ((False, -1.0), (True, 1.0)):
        balls = start(speed, azimuth)
        leg = leg_of(ground, Slopes.of(ground), balls, backward)
        after = leg.onward(balls)
        if not after.number.size:
            continue
        height = ground.height_m(after.x, after.y) - ground.height_m(0.0, 0.0)
        change = 0.7 * (after.vx**2 + after.vy**2 - speed**2) + 9.80665 * height
        assert sense * change[0] > 0.0


def test_balls_that_are_absorbed_or_lie_still_go_nowhere() -> None:
    ground = Ground.of_strips([Strip(0.0, Surface.SAND), Strip(5.0, GREEN)])
    for balls in (start(2.0, 0.3), start(0.01, 0.3, x=6.0)):
        leg = leg_of(ground, Slopes.of(ground), balls)
        assert leg.stops[0]
        assert (leg.moved_x[0], leg.moved_y[0]) == (0.0, 0.0)
