import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.ground import Ground, Strip, Surface, flat
from caddie.ball.hole import HOLMES_M_S
from caddie.ball.putt import roll2d, roll_path
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.errors import CaddieError


def plane(slope: float, cross: float, stimp: float = 10.0) -> Ground:
    return Ground.of_strips([Strip(0.0, Surface.GREEN, slope=slope, cross_slope=cross)], stimp_ft=stimp)


@given(st.floats(0.3, 4.0), st.floats(-0.05, 0.05))
def test_straight_putts_on_a_slope_follow_the_rolling_sphere(speed: float, slope: float) -> None:
    """Loss a cos(theta) + (5/7) g sin(theta) along the surface, projected onto the level (closed form)."""
    cosine = 1 / np.sqrt(1 + slope**2)
    loss = (float(deceleration(10.0)) + ROLL_GRAVITY_M_S2 * slope) * cosine**2
    rest = roll2d(speed, 0.0, plane(slope, 0.0))
    assert float(rest.x_m) == pytest.approx(speed**2 / (2 * loss), rel=1e-3, abs=2e-3)
    assert float(rest.y_m) == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 3.0), st.floats(-1.0, 1.0), st.floats(-0.03, 0.03), st.floats(-0.03, 0.03))
def test_energy_falls_along_every_path(speed: float, azimuth: float, slope: float, cross: float) -> None:
    """Rolling sphere: 7/10 v^2 + g h never grows; the loss per metre is the rolling resistance."""
    ground = plane(slope, cross)
    _, times, x, y = roll_path(speed, azimuth, ground)
    v = np.hypot(np.diff(x), np.diff(y)) / np.diff(times)[0]
    middle_x, middle_y = 0.5 * (x[1:] + x[:-1]), 0.5 * (y[1:] + y[:-1])
    energy = 0.7 * v**2 + GRAVITY_M_S2 * ground.height_m(middle_x, middle_y)
    assert np.all(np.diff(energy[:-2]) < 1e-3)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 3.0), st.floats(-1.0, 1.0), st.floats(-0.03, 0.03), st.floats(-0.03, 0.03))
def test_a_mirrored_putt_is_mirrored(speed: float, azimuth: float, slope: float, cross: float) -> None:
    one, other = roll2d(speed, azimuth, plane(slope, cross)), roll2d(speed, -azimuth, plane(slope, -cross))
    assert float(other.x_m) == pytest.approx(float(one.x_m), abs=1e-9)
    assert float(other.y_m) == pytest.approx(-float(one.y_m), abs=1e-9)


def test_equal_putts_from_an_arc_share_a_target_point_on_the_fall_line() -> None:
    """R. D. Grober, "The geometry of putting on a planar surface", arXiv:1106.1698 (2011), abstract.

    Putts of 3 m that die at the hole from within 30 degrees of straight uphill: the aim lines cross the fall
    line within 6 % of the putt's length of one point, well above the hole.
    """
    ground, length = plane(0.02, 0.0), 3.0
    arc = np.radians([-30.0, -20.0, -10.0, 10.0, 20.0, 30.0])
    x0, y0 = -length * np.cos(arc), -length * np.sin(arc)
    speed, aim = np.full(6, 2.1), arc.copy()
    for _ in range(12):
        base = roll2d(speed, aim, ground, x0, y0)
        faster, wider = roll2d(speed + 1e-3, aim, ground, x0, y0), roll2d(speed, aim + 1e-3, ground, x0, y0)
        slopes = [(r.x_m - base.x_m, r.y_m - base.y_m) for r in (faster, wider)]
        (a, c), (b, d) = slopes
        determinant = a * d - b * c
        speed = speed - 1e-3 * (d * base.x_m - b * base.y_m) / determinant
        aim = aim - 1e-3 * (a * base.y_m - c * base.x_m) / determinant
    rest = roll2d(speed, aim, ground, x0, y0)
    assert np.hypot(rest.x_m, rest.y_m).max() < 0.005
    target = x0 - y0 / np.tan(aim)
    assert np.ptp(target) < 0.06 * length
    assert target.mean() > 0.1


def test_path_starts_at_the_ball_and_ends_at_rest() -> None:
    rest, times, x, y = roll_path([1.0, 2.0], [0.1, -0.2], plane(0.01, 0.02), x0_m=1.0, y0_m=[0.0, 0.5])
    assert x.shape == y.shape == (times.size, 2)
    assert (x[0].tolist(), y[0].tolist()) == ([1.0, 1.0], [0.0, 0.5])
    assert x[-1] == pytest.approx(rest.x_m)
    assert y[-1] == pytest.approx(rest.y_m)


def test_hole_takes_slow_and_refuses_fast() -> None:
    loss = float(deceleration(9.5))
    crossing = np.array([0.2, 1.0, HOLMES_M_S - 0.1, HOLMES_M_S + 0.1])
    rest = roll2d(np.sqrt(crossing**2 + 2 * loss * 3.0), 0.0, flat(), hole=(3.0, 0.0))
    assert rest.holed.tolist() == [True, True, True, False]
    assert rest.x_m[:3].tolist() == [3.0] * 3
    stricter = roll2d(
        np.sqrt(crossing**2 + 2 * loss * 3.0), 0.0, flat(), hole=(3.0, 0.0), capture="free_fall"
    )
    assert stricter.holed.tolist() == [True, True, False, False]


def test_a_putt_that_skids_first_comes_up_short_of_one_that_rolls() -> None:
    rolls, skids = roll2d(2.0, 0.0, flat()), roll2d(2.0, 0.0, flat(), skids=True)
    assert float(skids.x_m) == pytest.approx(
        (5 / 7 * 2.0) ** 2 / (2 * float(deceleration(9.5))) + 12 / 49 * 4.0 / (0.35 * GRAVITY_M_S2), rel=1e-3
    )
    assert skids.x_m < rolls.x_m


def test_a_green_too_steep_to_hold_is_reported() -> None:
    rest = roll2d([1.0, 1.0], [0.0, np.pi], plane(0.12, 0.0, stimp=12.0))
    assert rest.never_stopped.all()
    assert roll2d(1.0, 0.0, plane(0.05, 0.0)).never_stopped == np.False_


def test_water_stops_a_rolling_ball() -> None:
    ground = Ground.of_strips([Strip(0.0, Surface.GREEN), Strip(2.0, Surface.WATER)])
    rest = roll2d(3.0, 0.0, ground)
    assert rest.surface == Surface.WATER
    assert float(rest.x_m) == pytest.approx(2.0, abs=0.08)


def test_nonsense_is_refused() -> None:
    with pytest.raises(CaddieError, match="speed_m_s must be 0 to 30"):
        roll2d(99.0, 0.0, flat())
    with pytest.raises(CaddieError, match="capture"):
        roll2d(1.0, 0.0, flat(), hole=(1.0, 0.0), capture="magic")
