"""Launch of wedge shots against published radar readings (sources in the file)."""

import csv
from pathlib import Path

import numpy as np
import pytest

from caddie.ball.air import Air
from caddie.ball.flight import fly
from caddie.ball.launch import CONTACT, Contact, Flight, Launch, launch_for, modified, speed_for_carry
from caddie.ball.sphere import RADIUS_M
from caddie.units import MPH_M_S, RPM_RAD_S, YARD_M

HERE = Path(__file__).parent


def samples() -> dict[str, dict[str, str]]:
    lines = (HERE / "wedge_launch_samples.csv").read_text(encoding="utf-8").splitlines()
    return {row["shot"]: row for row in csv.DictReader(line for line in lines if not line.startswith("#"))}


SAMPLES = samples()


@pytest.mark.parametrize(("flight", "name"), [("low", "low"), ("stock", "mid"), ("high", "high")])
def test_fifteen_yard_wedges(flight: str, name: str) -> None:
    """One coach's readings, 58 degrees: launch within 2 degrees, spin within 15 %, carry within 15 %."""
    row = SAMPLES[f"58 deg, {name}, 15 yd carry"]
    struck = launch_for(np.radians(58), float(row["ball_speed_mph"]) * MPH_M_S, Flight(flight))
    assert np.degrees(struck.angle_rad) == pytest.approx(float(row["launch_deg"]), abs=2.0)
    assert struck.spin_rad_s / RPM_RAD_S == pytest.approx(float(row["spin_rpm"]), rel=0.15)
    carry = float(fly(struck, Air.calm()).x_m) / YARD_M
    assert carry == pytest.approx(float(row["carry_yd"]), rel=0.15)


@pytest.mark.parametrize("name", ["low", "mid", "high"])
def test_fifteen_yard_carries_from_the_measured_launch(name: str) -> None:
    """Flight alone: the measured speed, angle and spin carry 15 yards within 15 %."""
    row = SAMPLES[f"58 deg, {name}, 15 yd carry"]
    values = (
        float(row["ball_speed_mph"]) * MPH_M_S,
        np.radians(float(row["launch_deg"])),
        0.0,
        float(row["spin_rpm"]) * RPM_RAD_S,
        0.0,
    )
    carry = float(fly(Launch(*(np.asarray(value) for value in values)), Air.calm()).x_m) / YARD_M
    assert carry == pytest.approx(15.0, rel=0.15)


def test_pitching_wedge_from_a_wet_grassy_lie() -> None:
    """Mean of 10, taken for wet light rough (the lie is not described).

    Launch within 4 degrees, spin within 15 %, carry within 5 %.
    """
    row = SAMPLES["pitching wedge, wet grassy lie"]
    lie = modified(CONTACT["light_rough"], wet=True)
    struck = launch_for(np.radians(46), float(row["ball_speed_mph"]) * MPH_M_S / lie.speed_share, contact=lie)
    assert np.degrees(struck.angle_rad) == pytest.approx(float(row["launch_deg"]), abs=4.0)
    assert struck.spin_rad_s / RPM_RAD_S == pytest.approx(float(row["spin_rpm"]), rel=0.15)
    assert float(fly(struck, Air.calm()).x_m) / YARD_M == pytest.approx(float(row["carry_yd"]), rel=0.05)


@pytest.mark.parametrize(
    ("face", "share"), [("low-friction", 0.55), ("middling", 0.85), ("high-friction", 1.25)]
)
def test_seventy_yard_wedges_by_friction(face: str, share: float) -> None:
    """56 degrees, 70 yards, faces of three frictions: spin within 15 %, launch within 7 degrees."""
    row = SAMPLES[f"56 deg, 70 yd, tight fairway, {face} face"]
    contact = Contact(friction_share=share)
    speed = speed_for_carry(70 * YARD_M, np.radians(56), Air.calm(), contact=contact)
    struck = launch_for(np.radians(56), speed, contact=contact)
    assert struck.spin_rad_s / RPM_RAD_S == pytest.approx(float(row["spin_rpm"]), rel=0.15)
    assert np.degrees(struck.angle_rad) == pytest.approx(float(row["launch_deg"]), abs=7.0)


def delivered_deg(name: str, ball_speed_m_s: float) -> float:
    """Loft at impact by launch angle and spin of a reading: launch + atan(t), spin = 5/2 t v cos(atan t) / r."""
    row = SAMPLES[name]
    share = float(row["spin_rpm"]) * RPM_RAD_S * RADIUS_M / (2.5 * ball_speed_m_s)
    return float(row["launch_deg"]) + float(np.degrees(np.arcsin(share)))


def test_what_the_seventy_yard_test_says_of_the_lean() -> None:
    """Three faces of unlike friction imply one delivered loft within 0.5 degrees: the mechanics hold.

    It is 5 degrees less than the lean of the 58-degree readings leaves, which is why the launch angles are
    out (see :mod:`caddie.ball.launch`).
    """
    found = []
    for face in ("low-friction", "middling", "high-friction"):
        name = f"56 deg, 70 yd, tight fairway, {face} face"
        angle, spin = float(SAMPLES[name]["launch_deg"]), float(SAMPLES[name]["spin_rpm"])
        speeds = np.linspace(20.0, 40.0, 400)
        flown = fly(
            Launch(speeds, *(np.full(400, each) for each in (np.radians(angle), 0.0, spin * RPM_RAD_S, 0.0))),
            Air.calm(),
        )
        found.append(delivered_deg(name, float(np.interp(70 * YARD_M, flown.x_m, speeds))))
    assert max(found) - min(found) < 0.5
    lean = 56 - np.mean(found)
    mid = "58 deg, mid, 15 yd carry"
    other = 58 - delivered_deg(mid, float(SAMPLES[mid]["ball_speed_mph"]) * MPH_M_S)
    assert lean == pytest.approx(16.5, abs=0.5)
    assert other == pytest.approx(10.8, abs=0.5)


def test_seventy_yard_wedge_mean_spin_and_rough() -> None:
    """Mean 7,130 rpm on a tight fairway within 10 %; from 2 in rough 2,140 rpm, 30 % kept (20-50 %)."""
    here, loft = Air.calm(), np.radians(56)
    fairway = launch_for(loft, speed_for_carry(70 * YARD_M, loft, here))
    assert fairway.spin_rad_s / RPM_RAD_S == pytest.approx(7130, rel=0.10)
    rough = CONTACT["heavy_rough"]
    grass = launch_for(loft, speed_for_carry(70 * YARD_M, loft, here, contact=rough), contact=rough)
    assert grass.spin_rad_s / RPM_RAD_S == pytest.approx(2140, rel=0.2)
    assert 0.2 < grass.spin_rad_s / fairway.spin_rad_s < 0.5


@pytest.mark.parametrize(
    ("loft", "mph", "degrees", "rpm"), [(33.5, 120, 16.3, 7097), (46.0, 102, 24.2, 9304)]
)
def test_full_irons_launch(loft: float, mph: float, degrees: float, rpm: float) -> None:
    """Tour averages (from memory): launch within 2 degrees, spin within 12 %."""
    struck = launch_for(np.radians(loft), mph * MPH_M_S)
    assert np.degrees(struck.angle_rad) == pytest.approx(degrees, abs=2.0)
    assert struck.spin_rad_s / RPM_RAD_S == pytest.approx(rpm, rel=0.12)
