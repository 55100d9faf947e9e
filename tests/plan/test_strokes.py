import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.errors import CaddieError
from caddie.plan.putt.skill import PuttingSkill, expected_putts, skill_for
from caddie.plan.strokes import (
    LIE_CODES,
    HoleOutTable,
    dropped,
    hole_out_table,
    out_of_bounds_cost,
    strokes_to_hole_out,
    water_cost,
)
from caddie.situation import Lie
from caddie.units import YARD_M

TOUR = -5
HANDICAPS = st.floats(-8, 54)
DISTANCES_M = st.floats(0, 130)
LIES = st.sampled_from(list(Lie))
OFF_GREEN = [lie for lie in Lie if lie is not Lie.GREEN]


@settings(deadline=None)
@given(HANDICAPS, HANDICAPS, DISTANCES_M, LIES)
def test_more_skill_never_costs_strokes(one, other, distance_m, lie):
    better, worse = HoleOutTable(min(one, other)), HoleOutTable(max(one, other))
    assert better.strokes(distance_m, lie) <= worse.strokes(distance_m, lie) + 1e-9
    assert better.recovery(distance_m) <= worse.recovery(distance_m) + 1e-9


@settings(deadline=None)
@given(HANDICAPS, DISTANCES_M)
def test_a_better_lie_never_costs_strokes(handicap, distance_m):
    table = HoleOutTable(handicap)
    order = [Lie.GREEN, Lie.FRINGE, Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH]
    if distance_m > 60:
        order.remove(Lie.GREEN)  # putts are only valued to 60 m
    values = [float(table.strokes(distance_m, lie)) for lie in order]
    assert values == sorted(values)
    assert table.strokes(distance_m, Lie.FAIRWAY) <= table.strokes(distance_m, Lie.BARE)
    assert table.strokes(distance_m, Lie.FAIRWAY) <= table.strokes(distance_m, Lie.DIVOT)
    assert table.strokes(distance_m, Lie.BUNKER) < table.strokes(distance_m, Lie.PLUGGED)
    assert table.strokes(distance_m, Lie.HEAVY_ROUGH) < table.recovery(distance_m)


@settings(deadline=None)
@given(HANDICAPS, st.sampled_from([lie for lie in Lie if lie not in (Lie.BUNKER, Lie.PLUGGED)]))
def test_closer_never_costs_strokes_except_in_sand(handicap, lie):
    """Published sand values dip past 80 yd, so sand is left out."""
    values = HoleOutTable(handicap).strokes(np.linspace(0, 130, 2000), lie)
    assert np.diff(values).min() >= -1e-9


@pytest.mark.parametrize("handicap", [-5, 0, 10, 18, 36])
def test_just_off_the_green_is_slightly_above_a_putt(handicap):
    """Common practice, no source: a fringe costs up to an eighth of a stroke on a short putt."""
    distance_m = np.array([1, 2, 3, 5]) * YARD_M
    above = strokes_to_hole_out(distance_m, Lie.FRINGE, handicap) - strokes_to_hole_out(
        distance_m, Lie.GREEN, handicap
    )
    assert (above > 0.03).all()
    assert (above < 0.125).all()


@settings(deadline=None)
@given(HANDICAPS, st.sampled_from(OFF_GREEN), st.floats(9.2, 120))
def test_up_and_down_is_a_chance_that_agrees_with_strokes(handicap, lie, distance_m):
    """Not up and down means three strokes or more, so strokes >= 3 - share - share holed outright (< 0.2)."""
    table = HoleOutTable(handicap)
    share = float(table.up_and_down(distance_m, lie))
    assert 0 <= share <= 1
    if lie not in (Lie.FRINGE, Lie.FAIRWAY, Lie.BARE):
        assert table.strokes(distance_m, lie) >= 3 - share - 0.2


def test_on_the_green_strokes_are_putts():
    distance_m = np.linspace(0, 40, 300)
    got = strokes_to_hole_out(distance_m, Lie.GREEN, 14)
    assert got == pytest.approx(expected_putts(distance_m, skill_for(14)), abs=0.001)
    assert float(hole_out_table(14).up_and_down(5.0, Lie.GREEN)) > 0.9


def test_own_putting_replaces_that_of_the_handicap():
    good, poor = (HoleOutTable(14, PuttingSkill(math.radians(each), 0.1)) for each in (1.0, 2.0))
    for lie in Lie:
        assert good.strokes(5.0, lie) < poor.strokes(5.0, lie)


def test_balls_on_mixed_lies_get_the_value_of_their_own():
    rng = np.random.default_rng(3)
    distance_m, code = rng.uniform(0, 140, 500), rng.integers(0, len(LIE_CODES), 500)
    table = hole_out_table(14)
    together = table.strokes_by_code(distance_m, code)
    alone = [float(table.strokes(d, LIE_CODES[c])) for d, c in zip(distance_m, code, strict=True)]
    assert together == pytest.approx(alone, abs=1e-12)


def test_out_of_bounds_is_stroke_and_distance():
    """Rule 18.2 (2023)."""
    table = hole_out_table(14)
    assert out_of_bounds_cost(table, 60.0, Lie.FAIRWAY) == 1 + table.strokes(60.0, Lie.FAIRWAY)


def test_water_gives_the_cheaper_of_its_reliefs():
    """Rule 17.1d (2023): previous spot, or back on the line, one stroke each."""
    table = hole_out_table(14)
    replay = 1 + table.strokes(60.0, Lie.FAIRWAY)
    assert water_cost(table, 60.0, Lie.FAIRWAY) == replay
    assert water_cost(table, 60.0, Lie.FAIRWAY, 20.0) == 1 + table.strokes(20.0, Lie.LIGHT_ROUGH)
    assert water_cost(table, 60.0, Lie.FAIRWAY, 100.0) == replay
    both = water_cost(table, 60.0, Lie.FAIRWAY, np.array([20.0, 100.0]))
    assert both[1] == replay > both[0]


def test_a_dropped_ball_neither_plugs_nor_falls_into_the_divot():
    assert dropped(Lie.PLUGGED) is Lie.BUNKER
    assert dropped(Lie.DIVOT) is Lie.FAIRWAY
    assert dropped(Lie.HEAVY_ROUGH) is Lie.HEAVY_ROUGH


@settings(deadline=None)
@given(HANDICAPS, DISTANCES_M, DISTANCES_M, LIES)
def test_a_penalty_never_beats_the_same_spot_without_one(handicap, origin_m, spot_m, origin_lie):
    table = HoleOutTable(handicap)
    best_drop = min(
        float(table.strokes(origin_m, dropped(origin_lie))), float(table.strokes(spot_m, Lie.LIGHT_ROUGH))
    )
    assert water_cost(table, origin_m, origin_lie, spot_m) == pytest.approx(1 + best_drop)
    assert out_of_bounds_cost(table, origin_m, origin_lie) >= water_cost(table, origin_m, origin_lie, spot_m)


def test_far_away_counts_as_140_yards():
    assert strokes_to_hole_out(400.0, Lie.FAIRWAY, TOUR) == pytest.approx(2.91, abs=0.001)


@pytest.mark.parametrize(
    "call",
    [
        lambda: HoleOutTable(61),
        lambda: HoleOutTable(math.nan),
        lambda: strokes_to_hole_out(-1.0, Lie.FAIRWAY, 10),
        lambda: strokes_to_hole_out(np.array([3.0, math.nan]), Lie.FAIRWAY, 10),
    ],
)
def test_nonsense_is_refused_in_one_line(call):
    with pytest.raises(CaddieError) as error:
        call()
    assert "\n" not in str(error.value)
