"""Rolling, holding, sloped greens, capture and run-outs against published values and common practice."""

import csv
from pathlib import Path

import numpy as np
import pytest

from caddie.ball.air import air
from caddie.ball.flight import Landing, fly
from caddie.ball.ground import Ground, Strip, Surface, flat
from caddie.ball.hole import Hole, captured, holmes
from caddie.ball.launch import CONTACT, Contact, Flight, launch_for, speed_for_carry
from caddie.ball.roll import Rest, settle
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.ball.track import Rolled, roll_putts
from caddie.ball.turf import RELEASE_M_S, ROLL_GRAVITY_M_S2, deceleration, skid_to_roll, steepest_hold
from caddie.units import FOOT_M, INCH_M, YARD_M

HERE = Path(__file__).parent
DAY = air(20.0)


def rows(name: str) -> list[dict[str, str]]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


STIMP = rows("stimp_to_deceleration.csv")


def putted(speed_m_s: float, azimuth_rad: float, ground: Ground) -> Rolled:
    return roll_putts(ground, np.array(speed_m_s), np.array(azimuth_rad), Hole(-1e3)).end


@pytest.mark.parametrize("row", STIMP, ids=lambda row: row["stimp_ft"])
def test_deceleration_and_steepest_hold(row: dict[str, str]) -> None:
    """a = v0^2 / (2 S), v0 = 1.83 m/s; a ball holds up to (5/7) g tan(theta) = a (computed); 0.1 %."""
    stimp = float(row["stimp_ft"])
    assert deceleration(stimp) == pytest.approx(float(row["decel_m_s2_v0=1.83"]), rel=1e-3)
    assert 100 * steepest_hold(stimp) == pytest.approx(float(row["max_hold_slope_percent"]), rel=1e-3)


@pytest.mark.parametrize("stimp", [6.0, 10.0, 13.0])
def test_a_stimpmeter_on_our_green_reads_its_speed_and_the_steepest_hold_holds(stimp: float) -> None:
    assert float(putted(RELEASE_M_S, 0.0, flat(stimp_ft=stimp)).x_m) == pytest.approx(
        stimp * FOOT_M, rel=1e-3
    )
    hold = float(steepest_hold(stimp))
    for share, never in ((0.97, False), (1.03, True)):
        down = Ground.of_strips([Strip(0.0, Surface.GREEN, slope=-share * hold)], stimp_ft=stimp)
        assert bool(putted(0.1, 0.0, down).never_stopped) is never


def test_textbook_stimpmeter() -> None:
    """Bauer & Westfall, University Physics, ch. 6 (read, answer computed): 30.0 in, 20.0 deg, 11.1 ft.

    A rolling start down the bar gives v^2 = (10/7) g L sin(20 deg); on the level mu = v^2 / (2 g S) = 0.0550.
    """
    squared = 10 / 7 * GRAVITY_M_S2 * 30 * INCH_M * np.sin(np.radians(20.0))
    assert squared / (2 * GRAVITY_M_S2 * 11.1 * FOOT_M) == pytest.approx(0.0550, abs=1e-4)
    assert np.sqrt(squared) == pytest.approx(RELEASE_M_S, rel=0.05)
    green = flat(stimp_ft=11.1)
    assert float(deceleration(11.1)) / GRAVITY_M_S2 == pytest.approx(0.0550, rel=0.10)
    assert float(putted(np.sqrt(squared), 0.0, green).x_m) == pytest.approx(11.1 * FOOT_M, rel=0.10)


def test_brede_sloped_green() -> None:
    """A. Brede, Green Section Record 28(6) (1990): S = 2 Su Sd / (Su + Sd); 14 and 9 ft -> 10 ft 11 in.

    The slope that makes a stimp of 10 ft 11 in read 14 and 9 is found, and rolled both ways: within 0.5 %.
    """
    down_ft, up_ft = 14.0, 9.0
    level_ft = 2 * up_ft * down_ft / (up_ft + down_ft)
    assert level_ft == pytest.approx(10 + 11 / 12, abs=1 / 24)
    loss = float(deceleration(level_ft))
    slope = loss * (level_ft / up_ft - 1) / ROLL_GRAVITY_M_S2
    green = Ground.of_strips([Strip(0.0, Surface.GREEN, slope=slope)], stimp_ft=level_ft)
    cosine = 1 / np.sqrt(1 + slope**2)
    up = float(putted(RELEASE_M_S * cosine, 0.0, green).x_m) / cosine / FOOT_M
    down = -float(putted(RELEASE_M_S * cosine, np.pi, green).x_m) / cosine / FOOT_M
    assert (down, up) == (pytest.approx(14.0, rel=5e-3), pytest.approx(9.0, rel=5e-3))
    assert 2 * up * down / (up + down) == pytest.approx(level_ft, rel=5e-3)


def test_skid_to_roll() -> None:
    """Rolling starts at (5/7) v0 (standard mechanics)."""
    assert skid_to_roll(2.1)[0] == pytest.approx(1.5)


def test_capture() -> None:
    """B. W. Holmes, Am. J. Phys. 59(2), 129-136 (1991): 1.63 m/s centred; offset rule (memory)."""
    assert holmes(0.0) == pytest.approx(1.63)
    assert holmes(0.027) == pytest.approx(1.63 * 0.75)
    assert captured([1.62, 1.64, 1.2, 1.25], [0, 0, 0.027, 0.027]).tolist() == [True, False, True, False]


def finish(
    loft: float,
    carry_yd: float,
    flight: Flight = Flight.STOCK,
    lie: Contact | None = None,
    ground: Ground | None = None,
) -> Rest:
    """A shot carried ``carry_yd`` in level flight, settled on a flat medium green of stimp 10."""
    speed = speed_for_carry(carry_yd * YARD_M, np.radians(loft), DAY, flight, lie)
    landing: Landing = fly(launch_for(np.radians(loft), speed, flight, lie), DAY)
    return settle(landing, ground or flat(stimp_ft=10.0))


def run_yd(rest: Rest) -> float:
    return float(rest.run_m) / YARD_M


RULE_OF_TWELVE = [
    (56, "SW", "B"),
    (46, "PW", "B"),
    (42, "9i", "B"),
    (38, "8i", "B"),
    (34, "7i", "C rule of 12"),
]


@pytest.mark.parametrize(("loft", "club", "scheme"), RULE_OF_TWELVE)
def test_chips_run_by_the_rule_of_twelve(loft: float, club: str, scheme: str) -> None:
    """Roll : carry of chips of 5 and 7 yards, mean of both, within 35 % of the taught (common practice)."""
    wanted = next(
        float(row["roll_parts"]) / float(row["carry_parts"])
        for row in rows("chip_carry_to_roll.csv")
        if row["club"] == club
        and (row["scheme"].startswith(scheme) or scheme in row["scheme"] or club == "7i")
    )
    ratio = np.mean([run_yd(finish(loft, carry, Flight.LOW)) / carry for carry in (5.0, 7.0)])
    assert ratio == pytest.approx(wanted, rel=0.35)


def test_a_half_wedge_releases_and_a_full_lob_wedge_stops() -> None:
    """Common practice: a 56 carried 65 yd releases 1.5-4 yd; a hard 60 stops dead or comes back a little."""
    assert 1.5 < run_yd(finish(56, 65)) < 4.0
    assert -2.0 < run_yd(finish(60, 80)) < 0.5


def test_a_lob_skips_and_a_pitching_wedge_flown_like_it_runs_through() -> None:
    """Common practice: a 60 carried 35-40 yd runs 1-4 yd; a pitching wedge so flown 10-15 yd more."""
    lob, pitch = run_yd(finish(60, 37)), run_yd(finish(46, 37))
    assert 1.0 < lob < 4.0
    assert 9.5 < pitch - lob < 15.0


def test_a_pitching_wedge_landed_into_an_upslope_is_killed_and_runs_on() -> None:
    """Common practice: landed 2 yd short into fringe rising 12 %, it loses much of its pace and gets on."""
    fringe = Ground.of_strips(
        [
            Strip(0.0, Surface.FAIRWAY),
            Strip(17 * YARD_M, Surface.FRINGE, 0.12),
            Strip(20 * YARD_M, Surface.GREEN),
        ],
        stimp_ft=10.0,
    )
    killed, level = run_yd(finish(46, 18, ground=fringe)), run_yd(finish(46, 18))
    assert 2.0 < killed < 0.7 * level


@pytest.mark.parametrize(("lie", "flight"), [("heavy_rough", Flight.HIGH), ("light_rough", Flight.HIGH)])
def test_a_lofted_chop_from_greenside_rough_runs_a_pace_or_two(lie: str, flight: Flight) -> None:
    """Common practice: flown 3-4 paces, the most lofted wedge runs about 1-2."""
    assert 0.8 < run_yd(finish(60, 3.5, flight, CONTACT[lie])) < 2.4
