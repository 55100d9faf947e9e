"""A wind never makes a shot easier, and never narrows where the balls go."""

from functools import cache

import numpy as np
import pytest

from caddie.bag import load_bag
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, build
from caddie.plan.choose import advise
from caddie.plan.scene import lay_out
from caddie.plan.search import launch_rows
from caddie.plan.unknowns import most_telling
from caddie.situation import Fall, Firmness, Green, Lie, PinPosition, Situation, Wind, WindFrom, WindKnownBy
from caddie.units import MPH_M_S, YARD_M

BAG = load_bag()
HOLE = 0.02
"""Strokes that a hole of the demo bag costs."""
FLAGS_YD = (20.0, 40.0, 60.0, 80.0, 100.0)
SIDES = (WindFrom.AHEAD, WindFrom.AHEAD_LEFT, WindFrom.LEFT, WindFrom.BEHIND_LEFT, WindFrom.BEHIND)
"""From the right it is the mirror (`test_metamorphic`)."""


def at(pin_yd: float, from_: WindFrom | None = None, mph: float = 0.0, **said: object) -> Situation:
    wind = Wind(from_=from_, speed_m_s=mph * MPH_M_S) if from_ else Wind()
    return Situation(**{"pin_m": pin_yd * YARD_M, "lie": Lie.FAIRWAY, "wind": wind, **said})


@cache
def calm(pin_yd: float) -> float:
    """Strokes of the best shot in calm air."""
    return advise(at(pin_yd), BAG).options[0].strokes


@pytest.mark.parametrize("from_", SIDES)
@pytest.mark.parametrize("mph", [5.0, 10.0, 20.0])
def test_no_wind_of_any_strength_or_side_gains_strokes(mph: float, from_: WindFrom) -> None:
    """Common practice: a wind costs strokes, from whichever side (no source for how many).

    At a single distance it may bring a measured swing to the flag that calm air leaves between two of them:
    the bag's hole is worth that much, not the wind. Over the distances it costs.
    """
    cost = [advise(at(pin_yd, from_, mph), BAG).options[0].strokes - calm(pin_yd) for pin_yd in FLAGS_YD]
    assert min(cost) > -HOLE, cost
    assert np.mean(cost) > 0.0, cost


@pytest.mark.parametrize("from_", SIDES)
def test_a_wind_never_narrows_a_spread(from_: WindFrom) -> None:
    """The same swings in calm air and in wind: spread of length and of direction, heavy and thin strikes."""
    quiet, windy = (lay_out(complete(at(80.0, side, 15.0))[0], BAG) for side in (None, from_))
    still, blown = launch_rows(quiet, BAG, ANY), launch_rows(windy, BAG, ANY)
    for row in range(len(still)):
        speed = still.curve_of(row).speed_at(np.linspace(0.3, 0.95, 8)) * still.geometry[row]
        one, other = (
            build(scene, rows, BAG, np.full(8, row), np.interp(speed, rows.speed_m_s[row], rows.carry_m[row]))
            for scene, rows in ((quiet, still), (windy, blown))
        )
        assert np.all(other.side_sd_m > one.side_sd_m)
        assert np.all(other.length_sd_m > one.length_sd_m)


def test_a_felt_wind_is_a_stronger_one_than_a_forecast_of_the_same_number() -> None:
    """1.44 times: the log profile between 1.7 m and 10 m over open grass (WMO Guide No. 8), worked by hand."""
    winds = [
        Wind(from_=WindFrom.AHEAD, speed_m_s=10 * MPH_M_S, known_by=known_by)
        for known_by in (WindKnownBy.FELT, WindKnownBy.FORECAST)
    ]
    felt, told = (complete(Situation(pin_m=73.0, wind=wind)) for wind in winds)
    assert "wind.known_by" not in felt[1] | told[1]
    blown = [lay_out(situation, BAG).air.wind_along_m_s for situation, _ in (felt, told)]
    assert blown[0] == pytest.approx(1.44 * blown[1], rel=0.01)


def test_a_speed_of_unknown_kind_is_taken_for_a_forecasts_and_named() -> None:
    plan = advise(at(80.0, WindFrom.AHEAD, 10.0), BAG)
    assert plan.assumed["wind.known_by"] is WindKnownBy.FORECAST
    assert plan.situation.wind.known_by is WindKnownBy.FORECAST


def test_which_wind_is_meant_is_asked_only_where_it_changes_the_shot() -> None:
    known = {
        "pin_position": PinPosition.MIDDLE,
        "green": Green(firmness=Firmness.MEDIUM, fall=Fall.TOWARD),
    }
    asked = {}
    for mph in (5.0, 30.0):
        said = at(95.0, WindFrom.LEFT, mph, **known)
        asked[mph] = most_telling(said, advise(said, BAG), BAG)
    assert asked[5.0] is None
    assert asked[30.0] is not None and asked[30.0].field == "wind.known_by"


@pytest.mark.parametrize("from_", [WindFrom.AHEAD, WindFrom.AHEAD_LEFT])
@pytest.mark.parametrize("mph", [10.0, 25.0, 40.0])
def test_no_swing_carries_farther_into_a_wind(mph: float, from_: WindFrom) -> None:
    """Common practice: whatever lift a headwind adds, no teacher counts on a ball that it carries on."""
    quiet, windy = (lay_out(complete(at(60.0, side, mph))[0], BAG) for side in (None, from_))
    still, blown = launch_rows(quiet, BAG, ANY), launch_rows(windy, BAG, ANY)
    assert len(still) == len(blown) > 10
    for row in range(len(still)):
        speed = np.linspace(still.speed_m_s[row, 0], still.speed_m_s[row, -1], 60)
        calm_m, into_m = (np.interp(speed, each.speed_m_s[row], each.carry_m[row]) for each in (still, blown))
        assert np.max(into_m - calm_m) < 0.1, still.curve_of(row).club.id
