"""The way of one putt in steps of time, against the solver and the balance of energy."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.hole import Hole
from caddie.ball.path import STEP_S, roll_path
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.ball.track import roll_putts


def green(slope: float, cross: float) -> Ground:
    """A green that gets half as steep 1.5 m ahead."""
    strips = [
        Strip(0.0, Surface.GREEN, slope=slope, cross_slope=cross),
        Strip(1.5, Surface.GREEN, slope=slope / 2, cross_slope=cross),
    ]
    return Ground.of_strips(strips, stimp_ft=10.0)


PUTTS = (st.floats(0.5, 3.0), st.floats(-1.0, 1.0), st.floats(-0.03, 0.03), st.floats(-0.03, 0.03))


@settings(max_examples=40, deadline=None)
@given(*PUTTS)
def test_it_starts_at_the_ball_and_ends_where_the_solver_says(
    speed: float, azimuth: float, slope: float, cross: float
) -> None:
    ground = green(slope, cross)
    path = roll_path(ground, speed, azimuth)
    rest = roll_putts(ground, np.array([speed]), np.array([azimuth]), Hole(-1e3)).end
    assert (path.x_m[0], path.y_m[0]) == (0.0, 0.0)
    assert path.speed_m_s[0] == pytest.approx(speed)
    assert path.x_m[-1] == pytest.approx(rest.x_m[0], abs=1e-9)
    assert path.y_m[-1] == pytest.approx(rest.y_m[0], abs=1e-9)
    assert np.diff(path.time_s[:-1]) == pytest.approx(STEP_S)
    assert (np.diff(path.time_s) > 0).all()


@settings(max_examples=40, deadline=None)
@given(*PUTTS)
def test_its_speed_is_the_way_a_second(speed: float, azimuth: float, slope: float, cross: float) -> None:
    """Mean of two speeds over a step of 0.02 s, where they hardly change: within 1 cm/s."""
    path = roll_path(green(slope, cross), speed, azimuth)
    way = np.hypot(np.diff(path.x_m), np.diff(path.y_m))[:-1] / STEP_S
    assert way == pytest.approx(0.5 * (path.speed_m_s[1:-1] + path.speed_m_s[:-2]), abs=0.01)


@settings(max_examples=40, deadline=None)
@given(*PUTTS)
def test_energy_falls_along_every_path(speed: float, azimuth: float, slope: float, cross: float) -> None:
    """Rolling sphere: 7/10 v^2 + g h never grows."""
    ground = green(slope, cross)
    path = roll_path(ground, speed, azimuth)
    energy = 0.7 * path.speed_m_s**2 + GRAVITY_M_S2 * ground.height_m(path.x_m, path.y_m)
    assert np.all(np.diff(energy) < 1e-3)
