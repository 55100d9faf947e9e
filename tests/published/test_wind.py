"""Flights in wind, and low ones, against published values and against the point-mass rule for a crosswind."""

import csv
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest

from caddie.ball.air import Air
from caddie.ball.flight import fly
from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.launch import Flight, Launch, launch_for, same_swing_speed, speed_for_carry
from caddie.ball.roll import settle
from caddie.units import MPH_M_S, RPM_RAD_S, YARD_M

HERE = Path(__file__).parent
TOUR_7_IRON = (120, 16.3, 7097)
"""Tour average (from memory, as in `test_flight`)."""


@dataclass(frozen=True)
class EvenAir(Air):
    """Air whose wind is the same at every height, as the point-mass rule has it."""

    def wind_at(self, height_m: object) -> tuple[np.ndarray, np.ndarray]:
        none = np.zeros_like(np.asarray(height_m, dtype=float))
        return none + self.wind_along_m_s, none + self.wind_across_m_s


def radar(mph: float, degrees: float, rpm: float) -> Launch:
    values = (mph * MPH_M_S, np.radians(degrees), 0.0, rpm * RPM_RAD_S, 0.0)
    return Launch(*(np.asarray(value) for value in values))


def swung(loft_deg: float, carry_yd: float) -> Launch:
    """The launch that carries so far in calm air."""
    loft = np.radians(loft_deg)
    return launch_for(loft, speed_for_carry(carry_yd * YARD_M, loft, Air.calm()))


def blown(along_mph: float = 0.0, across_mph: float = 0.0) -> Air:
    return replace(Air.calm(), wind_along_m_s=along_mph * MPH_M_S, wind_across_m_s=across_mph * MPH_M_S)


def published(situation: str, condition: str) -> float:
    lines = (HERE / "wind_and_low_shots.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(lines[1:])
    return next(
        float(row["value"]) for row in rows if (row["situation"], row["condition"]) == (situation, condition)
    )


def test_a_full_7_iron_into_10_20_and_30_mph_loses_what_was_measured() -> None:
    """A golf magazine's test in a simulator, Feb 2020 (read): 15, 37 and 63 m; within 20 %."""
    calm, *into = (float(fly(radar(*TOUR_7_IRON), blown(-mph)).x_m) for mph in (0, 10, 20, 30))
    steps = [
        published("7-iron full", f"{condition} mph headwind{against}")
        for condition, against in (
            ("10", " against calm"),
            ("20 against 10", ""),
            ("30 against 20", ""),
        )
    ]
    assert [carry - calm for carry in into] == pytest.approx(np.cumsum(steps), rel=0.2)


@pytest.mark.parametrize("carry_yd", [105.0, 112.0])
def test_a_full_54_degree_wedge_into_10_mph_loses_what_was_measured(carry_yd: float) -> None:
    """The same test: 12.3 m; within 20 %. It names no carry: a professional's is 105 to 112 yards (memory)."""
    start = swung(54.0, carry_yd)
    lost = float(fly(start, blown(-10)).x_m - fly(start, Air.calm()).x_m)
    assert lost == pytest.approx(published("54-degree full", "10 mph headwind against calm"), rel=0.2)


@pytest.mark.parametrize(("loft_deg", "carry_yd"), [(33.0, 152.0), (37.0, 141.0), (46.0, 118.0)])
def test_an_amateurs_full_7_iron_8_iron_and_pitching_wedge_lose_as_measured(
    loft_deg: float, carry_yd: float
) -> None:
    """The same test: a full 7-iron loses 24 % to 20 mph ahead; here 19 to 28 %, falling below 77 degrees.

    The same test (read): a tailwind gains less than the same headwind takes.
    """
    start = swung(loft_deg, carry_yd)
    calm, ahead, behind = (fly(start, blown(mph)) for mph in (0, -20, 20))
    assert 0.19 < 1.0 - float(ahead.x_m / calm.x_m) < 0.28
    assert np.degrees(float(ahead.angle_rad)) < 77.0
    assert float(behind.x_m - calm.x_m) < float(calm.x_m - ahead.x_m)


@pytest.mark.parametrize("mph", [5.0, 15.0, 25.0])
def test_without_spin_a_crosswind_drifts_a_ball_by_the_lag_rule(mph: float) -> None:
    """W (T - D / v0x): exact for a point mass with drag alone in an even wind (Didion, 1859; memory)."""
    here = EvenAir(1.225, 1.7894e-5, wind_across_m_s=mph * MPH_M_S)
    start = replace(radar(85, 30, 0), spin_rad_s=np.asarray(0.0))
    end = fly(start, here)
    level_m_s = float(start.speed_m_s * np.cos(start.angle_rad))
    assert end.y_m == pytest.approx(mph * MPH_M_S * (end.time_s - end.x_m / level_m_s), rel=0.01)


@pytest.mark.parametrize(("loft_deg", "carry_yd"), [(46.0, 88.0), (52.0, 89.0), (56.0, 92.0)])
def test_15_mph_across_moves_a_90_yard_wedge_about_ten_yards(loft_deg: float, carry_yd: float) -> None:
    """About 10 to 12 yards (common practice): 8.5 to 13. The lag rule counts the lift's braking as drag, and so
    it is above: by up to a quarter."""
    start = swung(loft_deg, carry_yd)
    end = fly(start, blown(across_mph=15))
    level_m_s = float(start.speed_m_s * np.cos(start.angle_rad))
    lag_m = 15 * MPH_M_S * float(end.time_s - end.x_m / level_m_s)
    assert 8.5 * YARD_M < float(end.y_m) < 13.0 * YARD_M
    assert 0.75 * lag_m < float(end.y_m) < lag_m


@pytest.mark.parametrize("firmness", [0.2, 0.5, 0.85])
def test_an_amateurs_8_iron_into_20_mph_comes_back_a_few_paces_at_most(firmness: float) -> None:
    """Common practice, no source: not ten; in calm air it runs on."""
    green = Ground.of_strips([Strip(0.0, Surface.GREEN, firmness=firmness)])
    start = swung(37.0, 141.0)
    calm, ahead = (fly(start, blown(mph)) for mph in (0, -20))
    assert float(settle(ahead, green).x_m - ahead.x_m) > -3.0 * YARD_M
    assert float(settle(calm, green).x_m - calm.x_m) > 2.0 * YARD_M


@pytest.mark.parametrize("loft_deg", [33.0, 41.0, 46.0, 52.0, 56.0, 60.0])
@pytest.mark.parametrize("share", [0.15, 0.4, 0.75, 1.0])
def test_a_low_shot_never_outflies_the_plain_one_of_the_same_swing(loft_deg: float, share: float) -> None:
    """A teacher's table, 25 Nov 2015 (read): a punch carries less than the full shot with every club."""
    loft = np.radians(loft_deg)
    full_yd = 152.0 - 2.9 * (loft_deg - 33.0)
    speed = speed_for_carry(share * full_yd * YARD_M, loft, Air.calm())
    low = launch_for(loft, speed * same_swing_speed(loft, Flight.LOW), Flight.LOW)
    plain = launch_for(loft, speed)
    assert fly(low, Air.calm()).x_m < fly(plain, Air.calm()).x_m
    assert low.angle_rad < plain.angle_rad


@pytest.mark.parametrize(
    ("club", "loft_deg", "chest_yd", "full_yd"),
    [("9-iron", 41.0, 98.0, 130.0), ("pitching wedge", 46.0, 88.0, 118.0)],
)
def test_a_chest_high_punch_carries_about_the_share_of_a_full_shot_that_is_taught(
    club: str, loft_deg: float, chest_yd: float, full_yd: float
) -> None:
    """The same table: 100 of 135 and 85 of 125 yards; within 10 %, from the demo player's chest-high swings."""
    lines = (HERE / "wind_and_low_shots.csv").read_text(encoding="utf-8").splitlines()
    punch, full = next(
        row["value"].split(" of ")
        for row in csv.DictReader(lines[1:])
        if row["situation"] == club and "punch" in row["condition"]
    )
    loft = np.radians(loft_deg)
    speed = speed_for_carry(chest_yd * YARD_M, loft, Air.calm()) * same_swing_speed(loft, Flight.LOW)
    low_m = float(fly(launch_for(loft, speed, Flight.LOW), Air.calm()).x_m)
    assert low_m / (full_yd * YARD_M) == pytest.approx(float(punch) / float(full), rel=0.1)


def test_a_low_56_degree_wedge_launches_at_most_at_30_degrees() -> None:
    """A teacher's page with radar values (read): tour players, delivered loft 36.7, launch at most 30 degrees."""
    start = launch_for(np.radians(56.0), 28.0, Flight.LOW)
    assert np.degrees(float(start.angle_rad)) <= 30.0
