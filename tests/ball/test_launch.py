from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.air import Air, air
from caddie.ball.flight import fly
from caddie.ball.launch import (
    CONTACT,
    Contact,
    Flight,
    dry_friction,
    launch_for,
    modified,
    on_slope,
    speed_for_carry,
    splash_for,
)
from caddie.ball.sphere import RADIUS_M
from caddie.errors import CaddieError
from caddie.units import RPM_RAD_S

lofts = st.floats(np.radians(20), np.radians(64))
speeds = st.floats(5.0, 45.0)


@given(lofts, speeds, st.sampled_from(list(Flight)), st.floats(0.1, 1.0))
def test_strike_obeys_friction_and_rolling(loft: float, speed: float, flight: Flight, share: float) -> None:
    """Spin, speed off the face and turn of an oblique impact are tied: spin = 5/2 v sin(turn) / r."""
    lean = {Flight.LOW: 19.5, Flight.STOCK: 12.0, Flight.HIGH: 1.5}[flight]
    struck = launch_for(loft, speed, flight, Contact(friction_share=share))
    delivered = max(loft - np.radians(lean), 0.0)
    turn = delivered - float(struck.angle_rad)
    assert float(struck.spin_rad_s) == pytest.approx(2.5 * speed * np.sin(turn) / RADIUS_M, rel=1e-9)
    spin_loft = delivered + np.radians(5)
    assert np.tan(turn) <= share * float(dry_friction(speed, spin_loft)) + 1e-12
    assert np.tan(turn) <= (2 / 7) * 1.3 / 1.7 * np.tan(spin_loft) + 1e-12


@given(lofts, speeds)
def test_less_friction_launches_higher_with_less_spin(loft: float, speed: float) -> None:
    clean, grass = launch_for(loft, speed), launch_for(loft, speed, contact=Contact(friction_share=0.3))
    assert grass.angle_rad >= clean.angle_rad
    assert grass.spin_rad_s <= clean.spin_rad_s


@given(lofts, speeds)
def test_flights_are_low_stock_high(loft: float, speed: float) -> None:
    low, stock, high = (launch_for(loft, speed, flight).angle_rad for flight in Flight)
    assert low <= stock <= high


def test_friction_rises_with_speed_and_falls_with_obliqueness() -> None:
    speeds = np.linspace(5, 45, 50)
    assert np.all(np.diff(dry_friction(speeds, 0.9)) >= 0)
    assert np.all(np.diff(dry_friction(20.0, np.linspace(0.4, 1.3, 50))) <= 0)


@pytest.mark.parametrize("lie", sorted(CONTACT))
def test_no_lie_adds_speed_or_friction(lie: str) -> None:
    assert 0 < CONTACT[lie].friction_share <= 1
    assert 0 < CONTACT[lie].speed_share <= 1


def test_modifiers_order() -> None:
    rough = CONTACT["light_rough"]
    assert modified(rough, wet=True).friction_share == pytest.approx(0.63 * rough.friction_share)
    assert modified(rough, dirty_grooves=True).friction_share < rough.friction_share
    up, down = modified(rough, sitting_up=True), modified(rough, sitting_down=True)
    assert down.friction_share < rough.friction_share < up.friction_share < 1
    assert down.speed_share < rough.speed_share < up.speed_share
    assert modified(rough) == rough


@given(st.floats(0.02, 0.35), lofts, speeds)
def test_slopes_turn_the_shot_as_players_say(slope: float, loft: float, speed: float) -> None:
    """Common practice, for a right-hander: uphill higher and left, ball above left, ball below right."""
    level = launch_for(loft, speed)
    up, down = (launch_for(loft, speed, contact=on_slope(Contact(), uphill_rad=s)) for s in (slope, -slope))
    slower = on_slope(Contact(), uphill_rad=slope).speed_share
    assert slower < 1.0 and up.speed_m_s == pytest.approx(slower * level.speed_m_s)
    assert up.angle_rad == pytest.approx(launch_for(loft, slower * speed).angle_rad + slope)
    assert down.angle_rad == pytest.approx(level.angle_rad - slope)
    assert up.azimuth_rad > 0 > down.azimuth_rad
    above, below = (
        launch_for(loft, speed, contact=on_slope(Contact(), above_rad=s)) for s in (slope, -slope)
    )
    if level.angle_rad > 0.02:
        assert above.azimuth_rad > 0 > below.azimuth_rad
    assert above.axis_rad > 0 > below.axis_rad
    other = launch_for(loft, speed, contact=on_slope(Contact(), slope, slope, right_handed=False))
    mirror = launch_for(loft, speed, contact=on_slope(Contact(), slope, slope))
    assert float(other.azimuth_rad) == pytest.approx(-float(mirror.azimuth_rad))
    assert float(other.axis_rad) == pytest.approx(-float(mirror.axis_rad))


@given(st.floats(-0.35, 0.35), st.floats(0.2, 1.0))
def test_tilted_strike_is_a_rotation_about_the_target_line(tilt: float, loft: float) -> None:
    """The direction's part along the line is unchanged and the spin axis stays square to the direction."""
    level = launch_for(loft, 20.0)
    turned = launch_for(loft, 20.0, contact=Contact(tilt_rad=tilt))
    ahead = np.cos(turned.angle_rad) * np.cos(turned.azimuth_rad)
    assert float(ahead) == pytest.approx(float(np.cos(level.angle_rad)), abs=1e-12)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(1.5, 95.0),
    st.floats(np.radians(40), np.radians(62)),
    st.sampled_from(list(Flight)),
    st.booleans(),
)
def test_solved_speed_carries_what_was_asked(carry: float, loft: float, flight: Flight, splash: bool) -> None:
    here = air(18.0, altitude_m=300.0)
    carry = min(carry, 40.0) if splash else carry
    speed = speed_for_carry(carry, loft, here, flight, splash=splash)
    struck = (splash_for if splash else launch_for)(loft, speed, flight)
    assert float(fly(struck, here).x_m) == pytest.approx(carry, abs=0.02)


def test_speeds_come_in_the_shape_asked_and_rise_with_carry() -> None:
    carry = np.linspace(5.0, 80.0, 12).reshape(3, 4)
    found = speed_for_carry(carry, np.radians(52), Air.calm())
    assert found.shape == (3, 4)
    assert np.all(np.diff(found.ravel()) > 0)
    assert speed_for_carry(30.0, np.radians([46, 60]), Air.calm()).shape == (2,)


def test_rough_costs_the_same_swing_carry_through_speed_only() -> None:
    """A speed solved on the fairway falls short from heavy rough; one solved in the rough does not."""
    here, loft, rough = Air.calm(), np.radians(56), CONTACT["heavy_rough"]
    fairway = speed_for_carry(50.0, loft, here)
    assert fly(launch_for(loft, fairway, contact=rough), here).x_m < 50.0
    needed = speed_for_carry(50.0, loft, here, contact=rough)
    assert needed > fairway
    assert float(fly(launch_for(loft, needed, contact=rough), here).x_m) == pytest.approx(50.0, abs=0.01)


def test_radar_columns_replace_angle_and_spin_and_the_lie_still_counts() -> None:
    angle, spin = np.radians(28.0), 7000 * RPM_RAD_S
    clean = launch_for(np.radians(56), 29.0, angle_rad=angle, spin_rad_s=spin)
    assert clean.angle_rad == pytest.approx(angle)
    assert clean.spin_rad_s == pytest.approx(spin)
    rough = launch_for(np.radians(56), 29.0, contact=Contact(0.3), angle_rad=angle, spin_rad_s=spin)
    assert rough.angle_rad > angle
    assert float(rough.spin_rad_s) == pytest.approx(0.3 * spin, rel=0.1)


def test_splash_is_high_and_a_plugged_ball_comes_out_with_little_spin() -> None:
    stock = splash_for(np.radians(56), 13.0)
    assert np.radians(45) < stock.angle_rad < np.radians(60)
    plugged = splash_for(np.radians(56), 13.0, contact=CONTACT["plugged"])
    assert plugged.spin_rad_s < 0.5 * stock.spin_rad_s
    assert plugged.speed_m_s < stock.speed_m_s
    assert splash_for(np.radians(56), 13.0, Flight.HIGH).angle_rad > stock.angle_rad


def test_nonsense_is_refused_by_name() -> None:
    with pytest.raises(CaddieError, match="loft_rad must be 0 to 80 degrees"):
        launch_for(np.radians(95), 20.0)
    with pytest.raises(CaddieError, match="speed_m_s"):
        launch_for(0.9, 500.0)
    with pytest.raises(CaddieError, match=r"no ball speed carries \[900.0\] m"):
        speed_for_carry(900.0, 0.9, Air.calm())
    with pytest.raises(CaddieError, match="loft"):
        splash_for(-0.1, 10.0)
    assert replace(Contact(), friction_share=0.5).speed_share == 1.0
