"""The one rolling solver on planes and tiers against closed forms, energy, an integration, and itself backward."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from roll2d import roll2d

from caddie.ball.ground import Ground, Patch, Strip, Surface, flat
from caddie.ball.hole import HOLMES_M_S, Hole
from caddie.ball.path import roll_path
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.ball.track import roll_back, roll_putts
from caddie.ball.turf import deceleration
from caddie.errors import CaddieError
from caddie.plan.putt.read import read_putt

NOWHERE = Hole(-1e3)


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
    rest = roll_putts(plane(slope), np.array([1.7]), np.array([0.0]), NOWHERE).end
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
    exact = roll_putts(ground, speed, azimuth, Hole(2.5)).end
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
    exact = roll_putts(ground, speed, azimuth, NOWHERE).end
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
    one = roll_putts(plane(along, across, stimp_ft), np.array([speed]), np.array([azimuth]), Hole(2.0)).end
    other = roll_putts(
        plane(along, -across, stimp_ft), np.array([speed]), np.array([-azimuth]), Hole(2.0)
    ).end
    assert one.x_m[0] == pytest.approx(other.x_m[0], abs=1e-6)
    assert one.y_m[0] == pytest.approx(-other.y_m[0], abs=1e-6)
    assert one.holed[0] == other.holed[0]


@pytest.mark.parametrize(("along", "across"), [(0.0, 0.03), (0.03, 0.02), (-0.03, 0.03)])
def test_energy_pays_for_height_and_way(along, across):
    """7/10 m v^2 is lost to friction along the way and to height: passing speed within 0.5 %.

    With a = (5/7) mu g the balance per mass is v^2 = v0^2 - 2 a s - (10/7) g h, s measured along the ground.
    """
    ground, speed, azimuth, hole_x = plane(along, across), 1.9, 0.25, 1.5
    passing = roll_putts(ground, np.array([speed]), np.array([azimuth]), Hole(hole_x, 0.4)).passing
    path = roll_path(ground, speed, azimuth)
    x, y = path.x_m, path.y_m
    z = along * x + across * y
    nearest = int(np.argmin(np.hypot(x - hole_x, y - 0.4)))
    way = np.sqrt(np.diff(x) ** 2 + np.diff(y) ** 2 + np.diff(z) ** 2)[:nearest].sum()
    left = speed**2 - 2 * float(deceleration(10.0)) * way - 10 / 7 * GRAVITY_M_S2 * z[nearest]
    assert passing.level[0]
    # One step of the path (0.02 s) either way moves the speed by about 0.01 m/s.
    assert float(passing.speed_m_s[0]) == pytest.approx(math.sqrt(left), abs=0.02)


def test_more_speed_never_rolls_less_far_on_a_plane():
    rest = roll_putts(plane(0.01, 0.02), np.linspace(0.5, 3, 60), np.zeros(60), NOWHERE).end
    assert (np.diff(rest.x_m) > 0).all()


def test_a_slope_steeper_than_it_can_hold_never_stops_a_ball_and_never_hangs():
    rest = roll_putts(plane(-0.1), np.array([0.5, 2.0]), np.zeros(2), NOWHERE).end
    assert rest.never_stopped.all()
    back = roll_putts(plane(0.1, 0.01), np.array([2.0]), np.array([0.1]), NOWHERE).end
    assert back.never_stopped.all()
    assert back.x_m[0] < 0


def test_a_ball_that_dies_on_the_lip_has_not_reached():
    level = plane()
    speed = math.sqrt(2 * float(deceleration(10.0)) * 1.9)
    putt = roll_putts(level, np.array([speed]), np.array([0.0]), Hole(2.0))
    assert not putt.passing.level[0]
    assert not putt.end.holed[0]
    assert putt.end.x_m[0] == pytest.approx(1.9, abs=1e-6)


def test_unknown_capture_is_one_line():
    with pytest.raises(CaddieError, match="no capture model"):
        Hole(2.0, capture="magnet")


@settings(max_examples=60, deadline=None)
@given(
    st.floats(-0.04, 0.04),
    st.floats(-0.04, 0.04),
    st.floats(1.5, 8.0),
    st.floats(0.1, 1.2),
    st.floats(-0.6, 0.6),
)
def test_a_ball_followed_back_from_the_hole_rolls_over_it_again(along, across, pin_m, past_m, way):
    """A round trip is the identity: where the way backward passes the ball's place, a putt from there comes back.

    The hole is put so that the way backward passes over the origin: within 1 mm of its middle, as fast as asked.
    """
    ground, arrival = plane(along, across), math.sqrt(2 * float(deceleration(10.0)) * past_m)
    back = roll_back(ground, np.array([arrival]), np.array([math.pi + way]), Hole(pin_m))
    if not back.level[0] or back.speed_m_s[0] > 8.0:
        return
    # On one plane every place is alike: the passing is beside the origin by its offset, square to its heading.
    heading, off = float(back.heading_rad[0]), float(back.offset_m[0])
    x, y = -off * math.sin(heading), off * math.cos(heading)
    again = roll_putts(ground, back.speed_m_s, back.heading_rad + math.pi, Hole(pin_m - x, -y)).passing
    assert again.level[0]
    assert abs(again.offset_m[0]) < 1e-3
    assert again.speed_m_s[0] == pytest.approx(arrival, abs=1e-4)


def test_a_read_over_a_tier_rolls_back_and_forth_the_same():
    """Backward over two borders and forward again: within 1 mm at the hole."""
    ground, hole = tier(0.1, 0.02), Hole(4.0)
    read = read_putt(ground, hole.x_m)
    again = roll_putts(ground, read.speed_m_s, read.azimuth_rad, hole).passing
    assert read.meets_hole and read.speed_m_s.size > 3
    assert again.level.all()
    assert np.abs(again.offset_m).max() < 1e-3
    arrival = np.sqrt(2 * read.resist_m_s2 * read.past_flat_m)
    assert again.speed_m_s == pytest.approx(arrival, abs=2e-3)


def test_a_slope_that_just_does_not_hold_a_ball_lets_it_roll_back_down_over_its_edge():
    """7.75 % where 7.64 % holds: the ball all but stands on it, and is back on the green below, as integrated."""
    strips = [Strip(0.0, Surface.GREEN, slope=-0.022), Strip(4.0, Surface.GREEN, slope=0.0775)]
    ground = Ground.of_strips(strips, stimp_ft=10.25)
    putt = roll_putts(ground, np.array([2.5]), np.array([-0.06]), NOWHERE).end
    steps = roll2d([2.5], [-0.06], ground)
    assert not putt.never_stopped[0]
    assert putt.x_m[0] == pytest.approx(steps.x_m[0], abs=5e-3)
    assert putt.y_m[0] == pytest.approx(steps.y_m[0], abs=5e-3)


def test_hole_takes_slow_and_refuses_fast():
    loss = float(deceleration(9.5))
    speed = np.sqrt(np.array([0.2, 1.0, HOLMES_M_S - 0.1, HOLMES_M_S + 0.1]) ** 2 + 2 * loss * 3.0)
    rest = roll_putts(flat(), speed, np.zeros(4), Hole(3.0)).end
    assert rest.holed.tolist() == [True, True, True, False]
    assert rest.x_m[:3].tolist() == [3.0] * 3
    stricter = roll_putts(flat(), speed, np.zeros(4), Hole(3.0, capture="free_fall")).end
    assert stricter.holed.tolist() == [True, True, False, False]


def test_a_ball_that_dies_over_the_hole_falls_in_though_never_level_with_its_middle():
    loss = float(deceleration(9.5))
    rest = roll_putts(flat(), np.sqrt(2 * loss * np.array([2.93, 2.96])), np.zeros(2), Hole(3.0)).end
    assert rest.holed.tolist() == [False, True]


def test_equal_putts_from_an_arc_share_a_target_point_on_the_fall_line():
    """R. D. Grober, "The geometry of putting on a planar surface", arXiv:1106.1698 (2011), abstract.

    Putts of 3 m that die at the hole from within 30 degrees of straight uphill: the aim lines cross the fall
    line within 6 % of the putt's length of one point, well above the hole. Each is followed back from the hole.
    """
    length, targets = 3.0, []
    for angle in np.radians([-30.0, -20.0, -10.0, 10.0, 20.0, 30.0]):
        # Seen from the ball, the hole ahead along x: the green rises toward it, turned by the angle.
        ground = plane(0.02 * math.cos(angle), 0.02 * math.sin(angle))
        line = float(read_putt(ground, length, np.array([0.02])).azimuth_rad[0])
        # Where that line meets the fall line through the hole, as height above it.
        up_x, up_y = math.cos(angle), math.sin(angle)
        targets.append(length * math.tan(line) / (up_y - up_x * math.tan(line)))
    assert np.ptp(targets) < 0.06 * length
    assert np.mean(targets) > 0.1


def test_water_and_the_rough_beside_the_green_end_a_putt():
    """A putt rolls into trouble as any ball does: it stays in water, and rough slows it at once."""
    pond = Ground.of_strips([Strip(0.0, Surface.GREEN)], patches=(Patch(2.0, 4.0, -1.0, 1.0, Surface.WATER),))
    wet = roll_putts(pond, np.array([3.0]), np.zeros(1), NOWHERE).end
    assert wet.surface[0] == Surface.WATER
    assert wet.x_m[0] == pytest.approx(2.0, abs=1e-3)
    narrow = Ground.of_strips([Strip(0.0, Surface.GREEN, left_m=1.0, right_m=1.0)], stimp_ft=10)
    beside = roll_putts(narrow, np.array([3.0]), np.array([0.5]), NOWHERE).end
    assert beside.surface[0] == Surface.LIGHT_ROUGH
    assert 1.0 < beside.y_m[0] < 2.0
