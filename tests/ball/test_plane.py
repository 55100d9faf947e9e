"""Rolling on planes and over lines, against integrations that know no closed form."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from roll2d import roll2d
from scipy.integrate import solve_ivp

from caddie.ball.ground import Ground, Patch, Strip, Surface
from caddie.ball.leg import Balls, Slopes
from caddie.ball.plane import holds, way_of
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.ball.track import roll_out
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration

GREEN = Surface.GREEN
WITHIN_M = 0.03


def rolled(ground: Ground, speed: np.ndarray, azimuth: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    motion = np.array([speed * np.cos(azimuth), speed * np.sin(azimuth)])
    rest = roll_out(ground, Slopes.of(ground), Balls.of(np.zeros_like(motion), motion))
    return rest.x_m, rest.y_m


def integrated(speed: float, along: float, across: float, stimp_ft: float) -> tuple[float, float]:
    """A sphere on an inclined plane by scipy, in coordinates on the plane, seen from above."""
    tilt = np.arctan(np.hypot(along, across))
    loss = float(deceleration(stimp_ft)) * np.cos(tilt)
    pull = 5 / 7 * GRAVITY_M_S2 * np.sin(tilt)
    down = -np.array([along, across]) / np.hypot(along, across)
    start = np.array([speed * down[0] / np.cos(tilt), -speed * down[1]])

    def rate(_: float, state: np.ndarray) -> list[float]:
        drag = loss / max(float(np.hypot(state[2], state[3])), 1e-12)
        return [state[2], state[3], pull - drag * state[2], -drag * state[3]]

    def stands(_: float, state: np.ndarray) -> float:
        return float(np.hypot(state[2], state[3])) - 1e-3

    stands.terminal = True  # type: ignore[attr-defined]
    way = solve_ivp(rate, (0, 60), [0, 0, *start], method="DOP853", events=stands, rtol=1e-9, atol=1e-10)
    fall, aside = way.y[0, -1] * np.cos(tilt), way.y[1, -1]
    return float(fall * down[0] - aside * down[1]), float(fall * down[1] + aside * down[0])


@pytest.mark.parametrize("stimp_ft", [8.0, 10.0, 12.0])
@pytest.mark.parametrize("slope", [0.01, 0.02, 0.03, 0.04, 0.05, 0.06])
def test_a_ball_ends_where_an_independent_integration_puts_it(slope: float, stimp_ft: float) -> None:
    """Runs of 5 to 19 m on a green that falls toward, away, across and oblique: within 3 cm of the project's
    integration and, to 4 %, of scipy's; there the load's share for a ball running across a steep fall is told
    apart, which the project does not: 0.2 % of the run at 6 %.
    """
    loss = float(deceleration(stimp_ft))
    if slope * ROLL_GRAVITY_M_S2 > 0.9 * loss:
        assert slope > 0.05, "only a steep fast green holds no ball"
        return
    checked = 0
    for turn in np.radians(np.arange(0, 360, 45)):
        along, across = slope * np.cos(turn), slope * np.sin(turn)
        ground = Ground.of_strips([Strip(0.0, GREEN, along, across)], stimp_ft=stimp_ft)
        wanted_m = np.array([5.0, 10.0, 19.0])
        aim = np.zeros(3)
        speed = np.sqrt(2 * (loss + ROLL_GRAVITY_M_S2 * along) * wanted_m)
        for _ in range(3):
            speed *= np.sqrt(wanted_m / np.hypot(*rolled(ground, speed, aim)))
        x, y = rolled(ground, speed, aim)
        rest = roll2d(speed, aim, ground)
        assert np.all(np.hypot(x - rest.x_m, y - rest.y_m) < WITHIN_M)
        other = np.array([integrated(each, along, across, stimp_ft) for each in speed]).T
        checked += np.count_nonzero((np.hypot(x, y) > 4.5) & (np.hypot(x, y) < 20.5))
        assert np.all(np.hypot(x - other[0], y - other[1]) < (WITHIN_M if slope < 0.045 else 0.05))
    assert checked >= 15


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0.5, 4.0),
    st.floats(-3.1, 3.1),
    st.floats(-0.05, 0.05),
    st.floats(-0.05, 0.05),
    st.floats(6, 11),
)
def test_over_borders_side_limits_and_a_patch_as_the_two_dimensional_integration(
    speed: float, azimuth: float, slope: float, cross: float, stimp_ft: float
) -> None:
    side = {"left_m": 3.0, "right_m": 2.5, "beside": Surface.LIGHT_ROUGH}
    rows = [
        Strip(-2.0, Surface.FRINGE, slope / 2, 0.0),
        Strip(0.7, GREEN, slope, cross, **side),
        Strip(3.5, GREEN, -slope, cross / 2, **side),
        Strip(7.0, Surface.FRINGE),
    ]
    patch = Patch(1.5, 2.5, -2.4, -1.2, Surface.HEAVY_ROUGH)
    ground = Ground.of_strips(rows, patches=(patch,), stimp_ft=stimp_ft)
    (x,), (y,) = rolled(ground, np.array([speed]), np.array([azimuth]))
    rest = roll2d([speed], [azimuth], ground)
    if rest.never_stopped[0]:
        return
    # A chord that passes a corner may take another line first than the way itself; the step of 0.02 s meets
    # a border up to 8 cm late.
    assert np.hypot(x - rest.x_m[0], y - rest.y_m[0]) < 0.08 + 0.02 * np.hypot(x, y)


@settings(max_examples=200, deadline=None)
@given(
    st.floats(0.05, 6.0),
    st.floats(-3.1, 3.1),
    st.floats(0.0, 1.4),
    st.floats(0.02, 0.98),
    st.floats(-1.4, 1.4),
)
def test_a_line_on_the_way_is_met_exactly(
    speed: float, azimuth: float, steep: float, share: float, turn: float
) -> None:
    """Any line that the first stretch of the way crosses, on planes that hold a ball or do not."""
    resist = 0.55
    one = np.ones(1)
    way = way_of(
        0 * one, 0 * one, speed * np.cos(azimuth) * one, speed * np.sin(azimuth) * one,
        resist * one, steep * resist * one, 0 * one,
    )  # fmt: skip
    lost = -np.log(share) * one
    (far_x,), (far_y,) = way.moved(lost)
    heading = np.arctan2(far_y, far_x) + turn
    axis_x, axis_y = np.cos(heading), np.sin(heading)
    distance = far_x * axis_x + far_y * axis_y
    if distance < 1e-6:
        return
    found, x, y = way.reach(axis_x * one, axis_y * one, distance * one)
    assert (x * axis_x + y * axis_y)[0] == pytest.approx(distance, abs=2e-4)
    assert found[0] <= 30.0
    assert bool(holds(way)[0]) == (steep < 1.0)


def test_velocity_is_the_slope_of_the_way() -> None:
    """d/d(lost) of the place is v v / a (finite differences)."""
    resist = np.full(5, 0.6)
    vx, vy = np.array([1.0, 2.0, 0.3, -1.0, 0.1]), np.array([0.4, -1.0, 2.0, 0.2, 0.0])
    way = way_of(
        np.zeros(5), np.zeros(5), vx, vy, resist, np.array([0.1, 0.0, 0.5, 0.7, 0.0]), np.full(5, 0.05)
    )
    lost, step = np.full(5, 0.4), 1e-5
    before, after = way.moved(lost - step), way.moved(lost + step)
    speed_x, speed_y = way.velocity(lost)
    rate = np.hypot(speed_x, speed_y) / resist
    assert (after[0] - before[0]) / (2 * step) == pytest.approx(speed_x * rate, rel=1e-6, abs=1e-9)
    assert (after[1] - before[1]) / (2 * step) == pytest.approx(speed_y * rate, rel=1e-6, abs=1e-9)


def test_place_and_time_follow_the_velocity_forward_and_backward() -> None:
    """d/d(lost) of the place is v v / a, of the time v / a (finite differences); also back in time."""
    vx, vy = np.array([1.0, 2.0, 0.3, -1.0]), np.array([0.4, -1.0, 2.0, 0.2])
    pull_x, pull_y = np.array([0.1, 0.0, 0.3, 0.7]), np.full(4, 0.05)
    resist = np.full(4, 0.6)
    for backward in (False, True):
        way = way_of(np.zeros(4), np.zeros(4), vx, vy, resist, pull_x, pull_y, backward)
        lost, step = np.full(4, 0.4), 1e-5
        there, before, after = way.spot(lost), way.spot(lost - step), way.spot(lost + step)
        rate = there.speed() / resist
        assert (after.moved_x - before.moved_x) / (2 * step) == pytest.approx(there.vx * rate, rel=1e-6)
        assert (after.moved_y - before.moved_y) / (2 * step) == pytest.approx(there.vy * rate, rel=1e-6)
        took = (way.time_s(lost + step) - way.time_s(lost - step)) / (2 * step)
        assert took == pytest.approx(rate, rel=1e-6)


@settings(max_examples=100, deadline=None)
@given(st.floats(0.3, 4.0), st.floats(-3.1, 3.1), st.floats(0.0, 1.4), st.floats(0.05, 1.5))
def test_a_stretch_followed_back_in_time_returns_to_its_start(
    speed: float, azimuth: float, steep: float, lost: float
) -> None:
    """A round trip is the identity: place within 1e-9 m of the start, speed that of the start."""
    resist, one = 0.55, np.ones(1)
    pull = steep * resist * one
    vx, vy = speed * np.cos(azimuth) * one, speed * np.sin(azimuth) * one
    there = way_of(0 * one, 0 * one, vx, vy, resist * one, pull, 0 * one).spot(lost * one)
    back = way_of(
        there.moved_x, there.moved_y, -there.vx, -there.vy, resist * one, pull, 0 * one, backward=True
    )
    start = back.spot(lost * one)
    assert (back.x + start.moved_x)[0] == pytest.approx(0.0, abs=1e-8)
    assert (back.y + start.moved_y)[0] == pytest.approx(0.0, abs=1e-8)
    assert start.speed()[0] == pytest.approx(speed, rel=1e-8)


@settings(max_examples=100, deadline=None)
@given(
    st.floats(0.5, 4.0), st.floats(-3.1, 3.1), st.floats(0.0, 0.9), st.floats(0.05, 1.0), st.floats(-0.3, 0.3)
)
def test_a_ball_level_with_a_point_has_it_square_to_its_way(
    speed: float, azimuth: float, steep: float, lost: float, aside: float
) -> None:
    """A point set square beside the way is found again, and so is how far beside it lies."""
    one = np.ones(1)
    way = way_of(
        0 * one, 0 * one, speed * np.cos(azimuth) * one, speed * np.sin(azimuth) * one,
        0.6 * one, steep * 0.6 * one, 0 * one,
    )  # fmt: skip
    there = way.spot(lost * one)
    aside = min(aside, 0.5 * speed**2 * lost) if aside > 0 else max(aside, -0.5 * speed**2 * lost)
    to_x, to_y = (
        there.moved_x + aside * there.vy / there.speed(),
        there.moved_y - aside * there.vx / there.speed(),
    )
    if to_x[0] * np.cos(azimuth) + to_y[0] * np.sin(azimuth) <= 0.0:
        return
    last = 1.5 * lost * one
    if way.spot(last).past(to_x, to_y)[0] < 0.0:
        return
    found = way.spot(way.level_with(to_x, to_y, last))
    assert found.past(to_x, to_y)[0] == pytest.approx(0.0, abs=1e-8)
    if abs(aside) < 0.05:
        assert found.left_of(to_x, to_y)[0] == pytest.approx(aside, abs=1e-6)
