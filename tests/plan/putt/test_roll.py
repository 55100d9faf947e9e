"""The exact roll on planes and tiers against closed forms, energy and the step-by-step integrator."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.roll import deceleration, roll2d, roll_path
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.errors import CaddieError
from caddie.plan.putt.read import read_putt
from caddie.plan.putt.roll import roll_putts

NOWHERE = (-1e3, 0.0)


def plane(along=0.0, across=0.0, stimp_ft=10.0):
    strip = Strip(0.0, Surface.GREEN, slope=along, cross_slope=across)
    return Ground.of_strips([strip], stimp_ft=stimp_ft)


def tier(rise, across=0.0):
    strips = [
        Strip(0.0, Surface.GREEN, cross_slope=across),
        Strip(1.5, Surface.GREEN, slope=rise, cross_slope=across),
        Strip(2.5, Surface.GREEN, cross_slope=across),
    ]
    return Ground.of_strips(strips, stimp_ft=10.0)


def _holed_starts(ground):
    read = read_putt(ground, 2.5)
    return read.at(np.linspace(0.1, 0.9, 25))


@pytest.mark.parametrize("slope", [-0.04, -0.02, 0.0, 0.02, 0.05])
def test_straight_putt_rolls_its_closed_form(slope):
    """v^2 / (2 (a + 5/7 g slope) cos^2) along the level, standard mechanics; within 0.1 mm."""
    cosine = math.cos(math.atan(slope))
    loss = (float(deceleration(10.0)) + 5 / 7 * GRAVITY_M_S2 * slope) * cosine**2
    rest = roll_putts(plane(slope), np.array([1.7]), np.array([0.0]), NOWHERE)
    assert rest.x_m[0] == pytest.approx(1.7**2 / (2 * loss), abs=1e-4)
    assert rest.y_m[0] == pytest.approx(0.0, abs=1e-7)


@pytest.mark.parametrize(
    ("along", "across", "stimp_ft"),
    [(0.02, 0.02, 10), (-0.03, 0.02, 10), (0.0, 0.04, 9), (-0.05, 0.03, 10), (0.04, -0.03, 11)],
)
def test_agrees_with_the_integrator_on_planes(along, across, stimp_ft):
    """The same balls by ``roll2d``: every one within 5 mm, nine of ten within 3 mm; the same ones holed."""
    ground = plane(along, across, stimp_ft)
    generator = np.random.default_rng(3)
    speed = generator.uniform(1.0, 2.4, 150)
    azimuth = generator.uniform(-0.5, 0.5, 150)
    speed[:25], azimuth[:25] = _holed_starts(ground)
    exact = roll_putts(ground, speed, azimuth, (2.5, 0.0))
    steps = roll2d(speed, azimuth, ground, hole=(2.5, 0.0))
    apart = np.hypot(exact.x_m - steps.x_m, exact.y_m - steps.y_m)
    assert apart.max() < 5e-3
    assert np.quantile(apart, 0.9) < 3e-3
    np.testing.assert_array_equal(exact.holed, steps.holed)
    assert exact.holed[:25].sum() > 20


@pytest.mark.parametrize(("rise", "across"), [(0.1, 0.0), (0.1, 0.02), (-0.1, 0.02)])
def test_agrees_with_the_integrator_over_a_tier(rise, across):
    """Nine of ten within 5 cm, median 2 cm: the integrator steps over the tier's edges (2 m/s every 0.02 s).

    A ball that just fails on the tier's crest ends a metre or more from one that just tops it.
    """
    ground = tier(rise, across)
    speed = np.linspace(2.0, 2.6, 40)
    azimuth = np.linspace(-0.2, 0.2, 40)
    exact = roll_putts(ground, speed, azimuth, NOWHERE)
    steps = roll2d(speed, azimuth, ground)
    apart = np.hypot(exact.x_m - steps.x_m, exact.y_m - steps.y_m)
    assert np.quantile(apart, 0.9) < 0.05
    assert np.median(apart) < 0.02


@settings(max_examples=25, deadline=None)
@given(
    st.floats(-0.04, 0.04),
    st.floats(-0.04, 0.04),
    st.floats(0.8, 2.6),
    st.floats(-0.6, 0.6),
    st.floats(7, 13),
)
def test_break_is_symmetric(along, across, speed, azimuth, stimp_ft):
    one = roll_putts(plane(along, across, stimp_ft), np.array([speed]), np.array([azimuth]), (2.0, 0.0))
    other = roll_putts(plane(along, -across, stimp_ft), np.array([speed]), np.array([-azimuth]), (2.0, 0.0))
    assert one.x_m[0] == pytest.approx(other.x_m[0], abs=1e-6)
    assert one.y_m[0] == pytest.approx(-other.y_m[0], abs=1e-6)
    assert one.holed[0] == other.holed[0]


@pytest.mark.parametrize(("along", "across"), [(0.0, 0.03), (0.03, 0.02), (-0.03, 0.03)])
def test_energy_pays_for_height_and_way(along, across):
    """7/10 m v^2 is lost to friction along the way and to height: passing speed within 0.5 %.

    With a = (5/7) mu g the balance per mass is v^2 = v0^2 - 2 a s - (10/7) g h, s measured along the ground.
    """
    ground, speed, azimuth, hole_x = plane(along, across), 1.9, 0.25, 1.5
    passing = roll_putts(ground, np.array([speed]), np.array([azimuth]), (hole_x, 0.4))
    _, _, x, y = roll_path(np.array(speed), np.array(azimuth), ground)
    z = along * x + across * y
    nearest = int(np.argmin(np.hypot(x - hole_x, y - 0.4)))
    way = np.sqrt(np.diff(x) ** 2 + np.diff(y) ** 2 + np.diff(z) ** 2)[:nearest].sum()
    left = speed**2 - 2 * float(deceleration(10.0)) * way - 10 / 7 * GRAVITY_M_S2 * z[nearest]
    assert passing.reached[0]
    # One step of the path (0.02 s) either way moves the speed by about 0.01 m/s.
    assert float(passing.speed_m_s[0]) == pytest.approx(math.sqrt(left), abs=0.02)


def test_more_speed_never_rolls_less_far_on_a_plane():
    rest = roll_putts(plane(0.01, 0.02), np.linspace(0.5, 3, 60), np.zeros(60), NOWHERE)
    assert (np.diff(rest.x_m) > 0).all()


def test_a_slope_steeper_than_it_can_hold_never_stops_a_ball_and_never_hangs():
    rest = roll_putts(plane(-0.1), np.array([0.5, 2.0]), np.zeros(2), NOWHERE)
    assert rest.never_stopped.all()
    back = roll_putts(plane(0.1, 0.01), np.array([2.0]), np.array([0.1]), NOWHERE)
    assert back.never_stopped.all()
    assert back.x_m[0] < 0


def test_a_ball_that_dies_on_the_lip_has_not_reached():
    level = plane()
    speed = math.sqrt(2 * float(deceleration(10.0)) * 1.9)
    rest = roll_putts(level, np.array([speed]), np.array([0.0]), (2.0, 0.0))
    assert not rest.reached[0]
    assert not rest.holed[0]
    assert rest.x_m[0] == pytest.approx(1.9, abs=1e-6)


def test_unknown_capture_is_one_line():
    with pytest.raises(CaddieError, match="no capture model"):
        roll_putts(plane(), np.array([2.0]), np.array([0.0]), (2.0, 0.0), capture="magnet")
