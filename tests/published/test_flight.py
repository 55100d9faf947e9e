"""Trajectories and aerodynamics against published values."""

import csv
from pathlib import Path

import numpy as np
import pytest

from caddie.ball.air import Air
from caddie.ball.flight import SPIN_DECAY, fly
from caddie.ball.launch import Launch
from caddie.ball.sphere import RADIUS_M
from caddie.ball.wind_tunnel import AIR_SPEED_M_S, DRAG, LIFT, SPIN_RPM
from caddie.units import MPH_M_S, RPM_RAD_S, YARD_M

HERE = Path(__file__).parent


def launch(mph: float, degrees: float, rpm: float) -> Launch:
    values = (mph * MPH_M_S, np.radians(degrees), 0.0, rpm * RPM_RAD_S, 0.0)
    return Launch(*(np.asarray(value) for value in values))


@pytest.mark.parametrize(("name", "table"), [("drag", DRAG), ("lift", LIFT)])
def test_wind_tunnel_table_is_the_published_one(name: str, table: np.ndarray) -> None:
    """P. W. Bearman & J. K. Harvey, Aeronautical Quarterly 27, 112-122 (1976), digitised (secondary)."""
    lines = (HERE / f"ball_{name}_bearman_harvey1976.csv").read_text(encoding="utf-8").splitlines()
    head, *body = list(csv.reader(line for line in lines if not line.startswith("#")))
    assert [float(cell) for cell in head[1:]] == AIR_SPEED_M_S.tolist()
    assert [float(row[0]) for row in body] == SPIN_RPM.tolist()
    assert np.array([[float(cell) for cell in row[1:]] for row in body]) == pytest.approx(table)


@pytest.mark.parametrize(
    ("club", "mph", "degrees", "rpm", "carry_yd"),
    [("7-iron", 120, 16.3, 7097, 172), ("pitching wedge", 102, 24.2, 9304, 136)],
)
def test_full_iron_carries(club: str, mph: float, degrees: float, rpm: float, carry_yd: float) -> None:
    """Tour averages of carry (from memory): within 5 %; the landing is known to be 2.5-5 degrees shallow."""
    end = fly(launch(mph, degrees, rpm), Air.calm())
    assert float(end.x_m) / YARD_M == pytest.approx(carry_yd, rel=0.05)


def test_spin_decay() -> None:
    """P. Dewhurst, The Science of the Perfect Swing (2015), 5 %: 120 mph, 7,097 rpm lose 340 rpm/s."""
    per_second = SPIN_DECAY * 120 * MPH_M_S * 7097 / (2 * RADIUS_M)
    assert per_second == pytest.approx(340, rel=0.05)
    start = launch(120, 16.3, 7097)
    early = fly(start, Air.calm(), landing_height_m=-0.0)
    lost = (7097 - float(early.spin_rad_s) / RPM_RAD_S) / float(early.time_s)
    assert 150 < lost < 340


def test_wind_of_thumb() -> None:
    """Into +1 % a mph, down -0.5 % a mph (common practice), for a full pitching wedge in 10 mph: a band.

    The thumb rule is about the wind a player feels; 0.56 % and 0.40 % were measured for a driver (read).
    """
    start = launch(102, 24.2, 9304)
    still = float(fly(start, Air.calm()).x_m)
    into, down = (
        float(fly(start, Air(1.225, 1.7894e-5, wind_along_m_s=s * 10 * MPH_M_S)).x_m) / still - 1
        for s in (-1, 1)
    )
    assert -0.20 < into < -0.056
    assert 0.02 < down < 0.14
    assert abs(into) > down
