from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from roll2d import roll2d

from caddie.ball.flight import Landing
from caddie.ball.ground import Ground, Patch, Strip, Surface, flat
from caddie.ball.hole import Hole
from caddie.ball.impact import fall
from caddie.ball.leg import Balls, Slopes
from caddie.ball.roll import Rest, settle
from caddie.ball.sphere import GRAVITY_M_S2, RADIUS_M
from caddie.ball.track import Rolled, roll_out
from caddie.ball.turf import ROLL_GRAVITY_M_S2, TURF_OF, deceleration, skid, skid_to_roll
from caddie.errors import CaddieError

GREEN = Surface.GREEN


def landing(
    x: object = 20.0,
    y: object = 0.0,
    z: object = 0.0,
    ahead: object = 8.0,
    left: object = 0.0,
    down: object = 8.0,
    back: object = 300.0,
) -> Landing:
    """Balls coming down with backspin about an axis square to their heading."""
    arrays = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in (x, y, z, ahead, left, down, back)))
    x_m, y_m, z_m, vx, vy, vz, spin = (np.atleast_1d(array).astype(float) for array in arrays)
    level = np.hypot(vx, vy) + 1e-12
    zero = np.zeros_like(x_m)
    return Landing(
        x_m, y_m, z_m, vx, vy, -vz, spin * vy / level, -spin * vx / level, zero, zero + 3.0, zero + 10.0
    )


def rolled(ground: Ground, speed: object, azimuth: object, hole: Hole | None = None) -> Rolled:
    speeds, azimuths = np.broadcast_arrays(np.asarray(speed, dtype=float), np.asarray(azimuth, dtype=float))
    motion = np.array([speeds * np.cos(azimuths), speeds * np.sin(azimuths)]).reshape(2, -1)
    return roll_out(ground, Slopes.of(ground), Balls.of(np.zeros_like(motion), motion), hole)


@given(st.floats(0.2, 4.0), st.floats(-3.1, 3.1), st.floats(4, 14))
def test_level_roll_is_v_squared_over_twice_the_deceleration(
    speed: float, azimuth: float, stimp: float
) -> None:
    rest = rolled(flat(stimp_ft=stimp), speed, azimuth)
    assert np.hypot(rest.x_m, rest.y_m) == pytest.approx([speed**2 / (2 * deceleration(stimp))])
    assert np.arctan2(rest.y_m, rest.x_m) == pytest.approx([azimuth], abs=1e-9)


@given(st.floats(0.5, 3.0), st.floats(-0.05, 0.05))
def test_break_across_a_slope_is_the_closed_form(speed: float, cross: float) -> None:
    """a_c v0^2 / (4 (a^2 - a_c^2)) on a line across the fall (own derivation)."""
    y = rolled(Ground.of_strips([Strip(0.0, GREEN, cross_slope=cross)], stimp_ft=10), speed, 0.0).y_m
    loss = float(deceleration(10.0))
    pull = ROLL_GRAVITY_M_S2 * cross
    assert y == pytest.approx([-pull * speed**2 / (4 * (loss**2 - pull**2))], rel=4e-3, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(0.5, 3.5),
    st.floats(-0.6, 0.6),
    st.floats(-0.035, 0.035),
    st.floats(-0.03, 0.03),
    st.floats(6, 12),
)
def test_strips_rolled_in_closed_form_agree_with_the_two_dimensional_integration(
    speed: float, azimuth: float, slope: float, cross: float, stimp: float
) -> None:
    rows = [
        Strip(0.0, GREEN, slope, cross),
        Strip(1.5, GREEN, -slope / 2, cross / 2),
        Strip(4.0, Surface.FRINGE),
    ]
    ground = Ground.of_strips(rows, stimp_ft=stimp)
    exact, rest = rolled(ground, speed, azimuth), roll2d([speed], [azimuth], ground)
    length = max(float(np.hypot(rest.x_m, rest.y_m)[0]), 0.2)
    assert np.hypot(exact.x_m - rest.x_m, exact.y_m - rest.y_m)[0] < 0.01 * length + 0.02


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1.0, 14.0),
    st.floats(2.0, 14.0),
    st.floats(0, 900),
    st.floats(-0.12, 0.12),
    st.floats(-0.06, 0.06),
    st.sampled_from(["penner", "penner_2002", "rigid"]),
)
def test_mirrored_landing_settles_mirrored(
    ahead: float, down: float, back: float, slope: float, cross: float, model: str
) -> None:
    def ground(side: float) -> Ground:
        rows = [Strip(0.0, GREEN, slope, side * cross), Strip(25.0, Surface.FAIRWAY)]
        return Ground.of_strips(rows, stimp_ft=9)

    one = settle(landing(y=1.0, ahead=ahead, left=0.5, down=down, back=back), ground(1.0), model)
    other = settle(landing(y=-1.0, ahead=ahead, left=-0.5, down=down, back=back), ground(-1.0), model)
    assert other.x_m == pytest.approx(one.x_m, abs=1e-6)
    assert other.y_m == pytest.approx(-one.y_m, abs=1e-6)
    assert other.never_stopped.tolist() == one.never_stopped.tolist()


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1.0, 16.0),
    st.floats(1.0, 16.0),
    st.floats(0, 900),
    st.floats(-0.06, 0.06),
    st.floats(-0.05, 0.05),
)
def test_energy_never_grows_from_landing_to_rest(
    ahead: float, down: float, back: float, slope: float, cross: float
) -> None:
    """At rest a ball cannot lie higher than its energy at landing allows."""
    ground = Ground.of_strips([Strip(0.0, GREEN, slope, cross)], stimp_ft=10)
    start = landing(ahead=ahead, down=down, back=back, z=20 * slope)
    rest = settle(start, ground)
    kinetic = 0.5 * (ahead**2 + down**2) + 0.2 * (RADIUS_M * back) ** 2
    gained = ground.height_m(rest.x_m, rest.y_m) - 20 * slope
    assert gained[0] * GRAVITY_M_S2 <= kinetic + 1e-9


def test_more_backspin_stops_sooner_and_can_come_back() -> None:
    back = np.linspace(0, 1100, 12)
    run = settle(landing(ahead=10.0, down=14.0, back=back), flat(firmness=0.3)).run_m
    assert np.all(np.diff(run) < 1e-9)
    assert run[0] > 2.0
    assert run[-1] < -0.1


def test_firmer_and_faster_greens_run_farther() -> None:
    start = landing(ahead=9.0, down=9.0, back=400.0)
    runs = [settle(start, flat(firmness=f)).run_m[0] for f in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert np.all(np.diff(runs) > 0)
    assert settle(start, flat(stimp_ft=12)).run_m[0] > settle(start, flat(stimp_ft=8)).run_m[0]


def test_surfaces_run_in_the_order_greenkeepers_give_them() -> None:
    """Common practice, no source."""
    order = [Surface.BARE, GREEN, Surface.FRINGE, Surface.FAIRWAY, Surface.LIGHT_ROUGH, Surface.HEAVY_ROUGH]
    start = landing(ahead=6.0, down=4.0, back=150.0)
    runs = [float(settle(start, flat(surface)).run_m[0]) for surface in order]
    assert runs == sorted(runs, reverse=True)
    assert runs[-1] < 1.5
    assert set(TURF_OF) == set(Surface)


@pytest.mark.parametrize("surface", [Surface.SAND, Surface.WATER, Surface.OUT_OF_BOUNDS, Surface.TREES])
def test_trouble_keeps_what_lands_or_rolls_in(surface: Surface) -> None:
    ground = Ground.of_strips([Strip(0.0, GREEN), Strip(22.0, surface), Strip(24.0, GREEN)])
    rest = settle(landing(x=[15.0, 20.0, 23.0], ahead=6.0, down=3.0, back=0.0), ground)
    assert rest.surface[1:].tolist() == [surface, surface]
    assert rest.x_m[1] == pytest.approx(22.0, abs=1.5)
    assert rest.x_m[2] == pytest.approx(23.0)
    assert not rest.never_stopped.any()


def test_a_pond_beside_the_green_takes_a_ball_that_rolls_sideways_into_it() -> None:
    pond = Patch(5.0, 9.0, 1.0, 6.0, Surface.WATER)
    ground = Ground.of_strips([Strip(0.0, GREEN)], patches=(pond,))
    rest = rolled(ground, [3.0, 3.0, 3.0], [0.25, -0.25, 0.95])
    assert rest.surface.tolist() == [Surface.WATER, GREEN, GREEN]
    assert rest.x_m[0] == pytest.approx(5.0, abs=0.01)
    assert rest.y_m[0] == pytest.approx(5.0 * np.tan(0.25), abs=0.01)


def test_rough_beside_the_green_slows_a_ball_that_leaves_it() -> None:
    wide = flat(stimp_ft=10)
    narrow = Ground.of_strips([Strip(0.0, GREEN, left_m=1.0, right_m=1.0)], stimp_ft=10)
    assert rolled(narrow, 3.0, 0.5).y_m[0] < 0.6 * rolled(wide, 3.0, 0.5).y_m[0]
    assert rolled(narrow, 3.0, 0.5).surface.tolist() == [Surface.LIGHT_ROUGH]
    assert rolled(narrow, 3.0, 0.05).x_m == pytest.approx(rolled(wide, 3.0, 0.05).x_m)


def test_a_ball_that_cannot_stop_is_reported_and_not_looped() -> None:
    steep = Ground.of_strips([Strip(0.0, GREEN, slope=-0.15)], stimp_ft=12)
    rest = settle(landing(), steep)
    assert rest.never_stopped.all()
    up_and_back = rolled(Ground.of_strips([Strip(0.0, GREEN, slope=0.15)], stimp_ft=12), 2.0, 0.0)
    assert up_and_back.never_stopped.all()
    assert up_and_back.x_m[0] < 0
    rows = [Strip(-9.0, GREEN), Strip(0.0, GREEN, slope=0.15), Strip(5.0, GREEN)]
    rest = rolled(Ground.of_strips(rows, stimp_ft=12), [2.0, 2.0], [0.0, 0.3])
    assert not rest.never_stopped.any()
    assert np.all(rest.x_m < 0)


def test_a_hollow_that_nobody_can_stop_in_ends_at_its_bottom() -> None:
    rows = [Strip(-50.0, GREEN, slope=-0.2), Strip(3.0, GREEN, slope=0.2)]
    rest = rolled(Ground.of_strips(rows, stimp_ft=12), 2.0, 0.0)
    assert rest.x_m == pytest.approx([3.0], abs=0.2)
    assert not rest.never_stopped.any()


def test_a_funnel_gathers_from_both_sides() -> None:
    ground = Ground.of_strips([Strip(0.0, GREEN, funnel=0.05)], stimp_ft=10)
    start = landing(x=10.0, y=[-3.0, 3.0], ahead=5.0, down=5.0)
    rest = settle(start, ground)
    assert np.all(np.abs(rest.y_m) < 3.0)
    assert rest.y_m[0] == pytest.approx(-rest.y_m[1])


def test_a_ridge_that_is_too_high_turns_the_ball_back() -> None:
    low, high = (
        [Strip(0.0, GREEN), Strip(3.5, GREEN, slope=up), Strip(5.0, GREEN, slope=-up), Strip(6.5, GREEN)]
        for up in (0.05 / 1.5, 0.6 / 1.5)
    )
    over = rolled(Ground.of_strips(low, stimp_ft=10), 3.0, 0.0).x_m[0]
    back = rolled(Ground.of_strips(high, stimp_ft=10), 3.0, 0.0).x_m[0]
    assert over > 6.5
    assert back < 3.5


@given(
    st.floats(-0.3, 0.3), st.floats(-0.3, 0.3), st.floats(1.0, 15.0), st.floats(-3.0, 3.0), st.floats(0.1, 6)
)
def test_falling_balls_meet_the_ground_where_the_parabola_does(
    first: float, second: float, ahead: float, down: float, height: float
) -> None:
    ground = Ground.of_strips([Strip(0.0, GREEN, slope=first), Strip(2.0, GREEN, slope=second)])
    start = np.array([[0.5], [0.3], [float(ground.height_m(0.5, 0.3)) + height]])
    velocity = np.array([[ahead], [0.2], [-down]])
    position, moving = start.copy(), velocity.copy()
    strip = fall(ground, position, moving)
    time = (position[0] - start[0]) / ahead
    parabola = start[2] - down * time - 0.5 * GRAVITY_M_S2 * time**2
    assert position[2] == pytest.approx(parabola, abs=1e-6)
    assert position[2] == pytest.approx(ground.height_m(position[0], position[1]), abs=1e-6)
    assert ground.strip_at(position[0])[0] == strip[0]
    before = np.linspace(0.0, float(time[0]) * 0.999, 200)
    path = start[2] - down * before - 0.5 * GRAVITY_M_S2 * before**2
    assert np.all(path >= ground.height_m(0.5 + ahead * before, 0.3 + 0.2 * before) - 1e-6)


def test_a_ball_short_of_a_raised_green_meets_its_bank() -> None:
    """The reference height is the green's; a ball still flying short of it hits the slope below."""
    rows = [Strip(0.0, Surface.FAIRWAY), Strip(20.0, Surface.FRINGE, slope=0.4), Strip(25.0, GREEN)]
    ground = Ground.of_strips(rows)
    short = settle(landing(x=22.0, z=2.0, ahead=9.0, down=9.0), ground)
    assert 22.5 < short.first_bounce_x_m[0] < 24.5


def test_a_ball_that_never_gets_up_to_the_green_hits_its_bank() -> None:
    """Range 7.3 m and 0.8 m high on the level; the bank rises 2 m from 4 m on."""
    rows = [Strip(0.0, Surface.FAIRWAY), Strip(4.0, Surface.FRINGE, slope=0.4), Strip(9.0, GREEN)]
    rest = settle(landing(x=7.34, z=0.0, ahead=9.0, down=4.0), Ground.of_strips(rows))
    x = float(rest.first_bounce_x_m[0])
    assert 4.5 < x < 6.5
    assert 4.0 * x / 9.0 - 0.5 * GRAVITY_M_S2 * (x / 9.0) ** 2 == pytest.approx(0.4 * (x - 4.0), abs=0.05)


def test_hole_takes_a_ball_that_rolls_over_it_slowly_enough() -> None:
    loss = float(deceleration(9.5))
    speed = np.sqrt(2 * loss * np.array([3.0, 3.5, 9.0]))
    rest = rolled(flat(), speed, 0.0, Hole(3.0))
    assert rest.holed.tolist() == [True, True, False]
    assert rest.x_m[:2].tolist() == [3.0, 3.0]
    assert rest.x_m[2] == pytest.approx(9.0)
    assert not rolled(flat(), speed[1], 0.05, Hole(3.0)).holed.any()


@given(st.floats(0.1, 6.0), st.floats(-400, 400), st.floats(0.1, 0.9))
def test_skid_ends_rolling_with_angular_momentum_about_the_contact_kept(
    speed: float, back: float, friction: float
) -> None:
    """m r v + I omega about the contact point is kept: v' = (5 v - 2 r omega_back) / 7."""
    one = np.ones(1)
    position, velocity = np.zeros((2, 1)), np.array([[speed], [0.0], [0.0]])
    spin = np.array([[0.0], [-back], [0.0]])
    moved, motion = skid(position, velocity, spin, (0 * one, 0 * one, one), friction * one)
    expected = (5 * speed - 2 * RADIUS_M * back) / 7
    assert motion[0] == pytest.approx([expected])
    time = abs(expected - speed) / (friction * GRAVITY_M_S2)
    assert moved[0] == pytest.approx([0.5 * (speed + expected) * time], abs=1e-9)


@given(st.floats(0.1, 10.0), st.floats(0.1, 1.0))
def test_a_ball_without_spin_rolls_at_five_sevenths(speed: float, friction: float) -> None:
    rolling, length = skid_to_roll(speed, friction)
    assert rolling == pytest.approx(5 / 7 * speed)
    assert length == pytest.approx(12 / 49 * speed**2 / (friction * GRAVITY_M_S2))


def test_many_balls_in_chunks_equal_each_ball_alone() -> None:
    rng = np.random.default_rng(5)
    count = 20_000
    start = landing(
        x=rng.normal(25, 4, count),
        y=rng.normal(0, 3, count),
        ahead=rng.uniform(3, 12, count),
        left=rng.normal(0, 1, count),
        down=rng.uniform(2, 14, count),
        back=rng.uniform(0, 800, count),
    )
    rows = [
        Strip(0.0, Surface.FAIRWAY),
        Strip(22.0, GREEN, 0.02, 0.01, left_m=6),
        Strip(35.0, Surface.LIGHT_ROUGH),
    ]
    ground = Ground.of_strips(rows, patches=(Patch(24, 28, -9, -4, Surface.SAND),))
    together = settle(start, ground)
    some = rng.integers(0, count, 40)
    for index in some:
        alone = settle(Landing(*(getattr(start, f.name)[index : index + 1] for f in fields(Landing))), ground)
        for field in fields(Rest):
            assert getattr(alone, field.name)[0] == pytest.approx(
                getattr(together, field.name)[index], abs=1e-9
            )


def test_shape_is_kept_and_models_are_checked() -> None:
    start = landing(x=np.full((2, 3), 20.0))
    assert all(getattr(settle(start, flat()), field.name).shape == (2, 3) for field in fields(Rest))
    with pytest.raises(CaddieError, match="bounce"):
        settle(start, flat(), bounce="magic")
    with pytest.raises(CaddieError, match="hole"):
        settle(start, flat(), hole=(25.0, 0.0), capture="magic")


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1), st.sampled_from([0.02, 0.3, 0.6]))
def test_any_ground_and_any_landing_come_to_an_end(seed: int, steep: float) -> None:
    """Finite rests without a numerical warning; on ground a ball can hold, every ball stops."""
    rng = np.random.default_rng(seed)
    starts = np.sort(rng.choice(np.arange(-10, 60), rng.integers(1, 9), replace=False)).astype(float)
    rows = [
        Strip(
            start,
            Surface(int(rng.integers(0, len(Surface)))),
            rng.uniform(-steep, steep),
            rng.uniform(-steep, steep) * rng.integers(0, 2),
            rng.random(),
            rng.choice([np.inf, 0.0, 3.0]),
            rng.choice([np.inf, 4.0]),
        )
        for start in starts
    ]
    corners = rng.uniform(-10, 30, (rng.integers(0, 4), 2))
    kinds = [Surface(int(kind)) for kind in rng.integers(0, len(Surface), len(corners))]
    patches = tuple(Patch(x, x + 4, y, y + 3, kind) for (x, y), kind in zip(corners, kinds, strict=True))
    ground = Ground.of_strips(rows, patches, stimp_ft=10.0)
    start = landing(
        x=rng.uniform(0, 60, 40),
        y=rng.normal(0, 6, 40),
        z=rng.normal(0, 1, 40),
        ahead=rng.uniform(-1, 20, 40),
        left=rng.normal(0, 3, 40),
        down=rng.uniform(0, 20, 40),
        back=rng.uniform(-200, 1000, 40),
    )
    rest = settle(start, ground, hole=(30.0, 0.0))
    for field in fields(Rest):
        assert np.all(np.isfinite(getattr(rest, field.name)))
    if steep == 0.02:
        assert not rest.never_stopped.any()
