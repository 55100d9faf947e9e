from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_flight import reference_landing

from caddie.ball.air import Air, air
from caddie.ball.flight import Landing, fly, trace
from caddie.ball.launch import Launch
from caddie.errors import CaddieError
from caddie.units import MPH_M_S, RPM_RAD_S, YARD_M

GRAVITY = 9.80665

angles = st.floats(0.05, 1.2)
speeds = st.floats(4.0, 50.0)
spins = st.floats(0.0, 1100.0)


def launch(speed: float, angle: float, spin: float = 0.0, azimuth: float = 0.0, axis: float = 0.0) -> Launch:
    return Launch(*(np.asarray(value, dtype=float) for value in (speed, angle, azimuth, spin, axis)))


@pytest.mark.parametrize("model", ["bearman_harvey", "smits_smith"])
@pytest.mark.parametrize(
    ("mph", "degrees", "rpm", "azimuth", "tilt", "along", "across"),
    [
        (102, 24.2, 9304, 0.0, 0.0, 0.0, 0.0),
        (65, 32.0, 6800, 0.05, 0.1, -6.0, 3.0),
        (45, 42.0, 4200, -0.1, -0.2, 8.0, -5.0),
        (28, 50.0, 1250, 0.0, 0.3, 4.0, 4.0),
        (15, 25.0, 1100, 0.02, 0.0, -3.0, 0.0),
        (120, 16.3, 7097, 0.0, 0.05, 0.0, 6.0),
    ],
)
def test_landing_agrees_with_an_independent_integrator_within_a_tenth_of_a_yard(
    model: str,
    mph: float,
    degrees: float,
    rpm: float,
    azimuth: float,
    tilt: float,
    along: float,
    across: float,
) -> None:
    here = air(22.0, altitude_m=200.0, wind_along_m_s=along, wind_across_m_s=across)
    start = launch(mph * MPH_M_S, np.radians(degrees), rpm * RPM_RAD_S, azimuth, tilt)
    x, y, time = reference_landing(start, here, model)
    end = fly(start, here, aero=model)
    assert np.hypot(end.x_m - x, end.y_m - y) < 0.1 * YARD_M
    assert end.time_s == pytest.approx(time, abs=0.005)


@given(speeds, angles, st.floats(-3.0, 3.0), st.floats(-1.0, 1.0))
def test_without_air_the_flight_is_the_parabola(
    speed: float, angle: float, height: float, azimuth: float
) -> None:
    rise = speed * np.sin(angle)
    if rise**2 <= 2 * GRAVITY * height + 0.05:
        height = -abs(height)
    time = (rise + np.sqrt(rise**2 - 2 * GRAVITY * height)) / GRAVITY
    end = fly(launch(speed, angle, 300.0, azimuth), Air.calm(), height, aero="vacuum")
    assert end.time_s == pytest.approx(time, rel=1e-6)
    assert np.hypot(end.x_m, end.y_m) == pytest.approx(speed * np.cos(angle) * time, rel=1e-6)
    assert end.z_m == pytest.approx(height, abs=1e-6)
    assert end.apex_m == pytest.approx(rise**2 / (2 * GRAVITY), rel=1e-6)
    assert end.vz_m_s == pytest.approx(rise - GRAVITY * time, rel=1e-6)


@settings(max_examples=30)
@given(speeds, angles, spins, st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), st.floats(-8, 8), st.floats(-8, 8))
def test_a_mirrored_shot_lands_mirrored(
    speed: float, angle: float, spin: float, azimuth: float, tilt: float, along: float, across: float
) -> None:
    here = air(wind_along_m_s=along, wind_across_m_s=across)
    end = fly(launch(speed, angle, spin, azimuth, tilt), here)
    other = fly(launch(speed, angle, spin, -azimuth, -tilt), replace(here, wind_across_m_s=-across))
    assert float(other.x_m) == pytest.approx(float(end.x_m), abs=1e-9)
    assert float(other.y_m) == pytest.approx(-float(end.y_m), abs=1e-9)
    assert other.spin_y_rad_s == pytest.approx(end.spin_y_rad_s)


@settings(max_examples=30)
@given(st.floats(8.0, 50.0), st.floats(0.3, 0.7), st.floats(0.5, 10.0))
def test_drag_shortens_and_a_headwind_never_carries_farther(speed: float, angle: float, wind: float) -> None:
    start = launch(speed, angle)
    still = float(fly(start, Air.calm()).x_m)
    assert still < fly(start, Air.calm(), aero="vacuum").x_m
    assert fly(start, replace(Air.calm(), wind_along_m_s=-wind)).x_m < still
    assert fly(start, replace(Air.calm(), wind_along_m_s=wind)).x_m > still


@given(st.floats(0.05, 0.4))
def test_a_tilt_to_the_left_curves_left_and_thin_air_carries_farther(tilt: float) -> None:
    start = launch(28.0, 0.55, 650.0, axis=tilt)
    assert fly(start, Air.calm()).y_m > 0.3
    flat = launch(40.0, 0.35, 300.0)
    assert fly(flat, air(altitude_m=2500)).x_m > fly(flat, air(altitude_m=0)).x_m


def test_energy_through_still_air_only_falls() -> None:
    t, x, y, z = trace(launch(30.0, 0.5, 700.0, axis=0.2), Air.calm(), points=400)
    speed = np.sqrt(np.diff(x) ** 2 + np.diff(y) ** 2 + np.diff(z) ** 2) / np.diff(t)
    energy = 0.5 * speed**2 + GRAVITY * (z[1:] + z[:-1]) / 2
    assert np.all(np.diff(energy) < 1e-3)


def test_trace_starts_at_the_ball_and_ends_at_the_landing() -> None:
    start = launch(np.array([[12.0], [25.0]]), 0.6, 400.0)
    end = fly(start, Air.calm(), -1.0)
    t, x, y, z = trace(start, Air.calm(), -1.0, points=50)
    assert x.shape == (50, 2, 1)
    assert (x[0], y[0], z[0]) == (pytest.approx(0.0), pytest.approx(0.0), pytest.approx(0.0))
    assert x[-1] == pytest.approx(end.x_m, abs=0.01)
    assert z[-1] == pytest.approx(end.z_m, abs=0.01)
    assert t[-1] == pytest.approx(end.time_s)
    assert z.max(axis=0) == pytest.approx(end.apex_m, abs=0.05)


def test_a_ball_too_low_for_a_raised_green_is_followed_down_to_where_it_started() -> None:
    end = fly(launch(np.array([8.0, 20.0]), 0.3), Air.calm(), 2.0)
    assert end.apex_m[0] < 2.0 < end.apex_m[1] or end.z_m[0] == pytest.approx(0.0, abs=1e-6)
    assert end.z_m == pytest.approx([0.0, 0.0 if end.apex_m[1] < 2 else 2.0], abs=1e-6)


def test_a_topped_ball_lands_where_it_lies() -> None:
    end = fly(launch(10.0, -0.1), Air.calm())
    assert (end.x_m, end.time_s) == (0.0, 0.0)
    assert end.vx_m_s == pytest.approx(10 * np.cos(0.1))


def test_shape_is_kept_and_heights_broadcast() -> None:
    start = launch(np.full((3, 4), 25.0), 0.6, 500.0)
    end = fly(start, Air.calm(), np.array([[-2.0], [0.0], [2.0]]))
    assert all(getattr(end, field.name).shape == (3, 4) for field in fields(Landing))
    assert np.all(np.diff(end.x_m[:, 0]) < 0)
    assert end.z_m[:, 0] == pytest.approx([-2.0, 0.0, 2.0], abs=1e-6)


def test_spin_direction_and_axis_are_reported() -> None:
    end = fly(launch(25.0, 0.6, 500.0, axis=0.2), Air.calm())
    assert end.spin_y_rad_s < 0 < end.spin_z_rad_s
    assert 460 < end.spin_rad_s < 500
    assert np.radians(30) < end.angle_rad < np.radians(60)
    assert end.axis_rad > 0


@pytest.mark.parametrize("bad", [launch(np.nan, 0.5), launch(500.0, 0.5), launch(-1.0, 0.5)])
def test_nonsense_is_refused(bad: Launch) -> None:
    with pytest.raises(CaddieError, match="launch"):
        fly(bad, Air.calm())


def test_step_and_model_are_checked() -> None:
    with pytest.raises(CaddieError, match="step_s"):
        fly(launch(20.0, 0.5), Air.calm(), step_s=0.0)
    with pytest.raises(CaddieError, match="no aero model"):
        fly(launch(20.0, 0.5), Air.calm(), aero="magic")
    assert fly(launch(20.0, 0.5, 300.0), Air.calm(), step_s=0.002).x_m == pytest.approx(
        fly(launch(20.0, 0.5, 300.0), Air.calm()).x_m, abs=0.01
    )
