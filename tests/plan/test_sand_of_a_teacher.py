"""The lip's distance, thin sand, mud on a side, a ball half in water, and what may be asked of a shot out of sand
(common practice, no source, but for the Rules of Golf, January 2023, which are named where they decide)."""

import itertools

import pytest

from caddie.bag import Family, load_bag
from caddie.plan.candidates import ANY, PAST_FLAG_FROM_SAND_M, Only
from caddie.plan.choose import _as_it_lies, advise
from caddie.plan.lip import face_of
from caddie.plan.option import Plan
from caddie.plan.unplayable import splash_or_drop, splashed_out
from caddie.reply.cue import cue_for
from caddie.reply.spoken import speak
from caddie.reply.written import assumed_line, write
from caddie.situation import (
    Against,
    BallSide,
    Hazard,
    HazardKind,
    Lie,
    Sand,
    Side,
    Situation,
    Stance,
    Steepness,
)
from caddie.units import YARD_M

BAG = load_bag()
NOISE = 0.01
"""Strokes: see :mod:`test_metamorphic`."""


def plan_at(pin_yd: float, lie: Lie, **said: object) -> Plan:
    return advise(Situation(pin_m=pin_yd * YARD_M, lie=lie, **said), BAG)


def spoken(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


@pytest.mark.parametrize("pin_yd", [14, 95])
def test_a_nearer_lip_never_gains_strokes_and_stands_where_it_was_told(pin_yd: int) -> None:
    plans = [plan_at(pin_yd, Lie.BUNKER, lip_m=1.3, lip_away_m=away_m) for away_m in (6.0, 3.0, 1.5)]
    for farther, nearer in itertools.pairwise(plans):
        assert nearer.options[0].strokes > farther.options[0].strokes - NOISE
    assert [face_of(plan.situation)[1] for plan in plans] == [6.0, 3.0, 1.5]


def test_a_lip_that_is_used_can_be_read_and_heard() -> None:
    plan = plan_at(105, Lie.BUNKER, lip_m=1.3, lip_away_m=2.7)
    assert "lip 4 feet high 3 ahead" in write(plan, BAG, cue_for(plan, BAG))
    assert "lip" in spoken(plan).lower()


@pytest.mark.parametrize("pin_yd", [10, 15])
def test_hardly_any_sand_is_no_splash_and_costs_more_than_sand(pin_yd: int) -> None:
    thin, clean = (plan_at(pin_yd, Lie.BUNKER, sand=sand) for sand in (Sand.THIN, None))
    assert all(option.family is not Family.SPLASH for option in thin.options if not option.sideways)
    assert "plash" not in spoken(thin)
    assert thin.chosen.loft_deg < 60.0
    assert thin.options[0].strokes > clean.options[0].strokes + NOISE


@pytest.mark.parametrize("pin_yd", [50, 80, 110])
@pytest.mark.parametrize("sand", [None, Sand.FIRM])
def test_a_far_flag_without_a_high_lip_is_picked_clean(pin_yd: int, sand: Sand | None) -> None:
    plan = plan_at(pin_yd, Lie.BUNKER, sand=sand, lip_m=0.3)
    assert all(option.family is not Family.SPLASH for option in plan.options if not option.sideways)


@pytest.mark.parametrize("lie", [Lie.BUNKER, Lie.PLUGGED])
def test_out_of_sand_nothing_is_aimed_far_past_the_flag(lie: Lie) -> None:
    for pin_yd in (7, 12):
        chosen = plan_at(pin_yd, lie, stance=(Stance.BALL_BELOW,), steepness=Steepness.SEVERE).chosen
        assert chosen.sideways or -chosen.land_short_of_pin_m <= PAST_FLAG_FROM_SAND_M + 0.5


def test_of_a_plugged_ball_near_the_flag_anywhere_on_the_green_will_do() -> None:
    assert "nywhere on the green will do" in spoken(plan_at(6, Lie.PLUGGED, lip_m=0.3))


def test_mud_sends_the_ball_to_its_other_side_and_costs_strokes() -> None:
    clean, left, right = (
        plan_at(90, Lie.FAIRWAY, mud_on_ball=side is not None or None, mud_side=side)
        for side in (None, BallSide.LEFT, BallSide.RIGHT)
    )
    assert right.chosen.aim_left_m < clean.chosen.aim_left_m - 2.0
    assert left.chosen.aim_left_m > clean.chosen.aim_left_m + 2.0
    assert min(left.chosen.strokes, right.chosen.strokes) > clean.chosen.strokes - NOISE
    assert "mud right" in spoken(right).lower()


def test_half_in_water_is_splashed_or_dropped_and_wholly_in_it_is_dropped() -> None:
    """Rules of Golf, January 2023, Rule 17.1: played as it lies, or dropped for one stroke."""
    half = plan_at(18, Lie.LIGHT_ROUGH, against=Against.WATER)
    assert half.chosen.family is not Family.SPLASH, "a splash out of water must be worth it"
    assert "drop it, one stroke, or splash it" in spoken(half)
    assert any("Rule 17.1" in reason for reason in half.reasons)
    assert any("stays in the water" in reason and "stance" not in reason for reason in half.reasons)
    assert any("stand firmly" in reason for reason in half.reasons)
    under = plan_at(18, Lie.LIGHT_ROUGH, against=Against.WATER, unplayable=True)
    assert "drop clear, one stroke" in spoken(under)
    assert under.chosen.strokes >= half.chosen.strokes - NOISE


def test_a_splash_out_of_water_goes_where_nobody_knows_and_often_stays() -> None:
    wet = Situation(pin_m=18 * YARD_M, lie=Lie.LIGHT_ROUGH, against=Against.WATER)
    splash = splash_or_drop(
        _as_it_lies(splashed_out(wet), BAG, 1, ANY), plan_at(18, Lie.LIGHT_ROUGH, unplayable=True)
    )
    lying = _as_it_lies(splashed_out(wet), BAG, 1, ANY).chosen
    assert lying.on_green < 0.45 and lying.trouble["water"] > 0.25 and "sand" not in lying.trouble
    assert splash.chosen.family is not Family.SPLASH


def test_sand_behind_the_ball_is_picked_up_over_and_never_gains_strokes() -> None:
    free, behind = (
        plan_at(16, Lie.BUNKER, stance=(Stance.DOWNHILL,), sand_behind=there) for there in (None, True)
    )
    assert behind.options[0].strokes > free.options[0].strokes - NOISE
    assert "steep" in cue_for(behind, BAG).say


def test_from_a_sandy_divot_no_lob_wedge_is_swung() -> None:
    for pin_yd in (40, 47, 60):
        assert plan_at(pin_yd, Lie.DIVOT, sand=Sand.SOFT).chosen.loft_deg < 60.0


def test_on_a_side_slope_in_thick_grass_no_face_is_laid_open() -> None:
    chosen = plan_at(8, Lie.HEAVY_ROUGH, stance=(Stance.BALL_ABOVE,), steepness=Steepness.SEVERE).chosen
    assert chosen.family is not Family.LOB


def test_water_behind_is_named_when_a_plugged_ball_often_stays_in() -> None:
    water = Hazard(kind=HazardKind.WATER, side=Side.LONG)
    assert "ater behind" in spoken(plan_at(9, Lie.PLUGGED, room_m=3.0, hazards=(water,)))


def test_a_splash_out_of_water_that_is_asked_for_is_planned_beside_the_drop() -> None:
    wet = Situation(pin_m=18 * YARD_M, lie=Lie.LIGHT_ROUGH, against=Against.WATER)
    splash = advise(wet, BAG, only=Only(family=Family.SPLASH))
    assert splash.chosen.family is Family.SPLASH
    assert splash.situation.against is Against.WATER
    assert any("stand firmly" in reason for reason in splash.reasons)
    assert splash.chosen.strokes > advise(wet, BAG).chosen.strokes


def test_a_high_face_of_which_no_place_is_told_is_near_however_far_the_flag():
    told = Situation(pin_m=75 * YARD_M, lie=Lie.BUNKER, lip_m=1.5)
    placed = told.model_copy(update={"lip_away_m": 6.0})
    low = told.model_copy(update={"lip_m": 0.4})
    assert face_of(told)[1] < face_of(low)[1]
    assert face_of(placed) == (1.5, 6.0)
    plan = advise(told, load_bag())
    assert plan.chosen.loft_deg > advise(low, load_bag()).chosen.loft_deg


@pytest.mark.parametrize("yards", [60, 80, 95])
def test_out_of_a_far_bunker_right_before_a_wall_it_goes_sideways(yards):
    there = Situation(pin_m=yards * YARD_M, lie=Lie.BUNKER, lip_m=1.6, lip_away_m=1.2)
    assert advise(there, load_bag()).chosen.sideways


@pytest.mark.parametrize("lie", [Lie.BUNKER, Lie.PLUGGED])
def test_the_height_of_a_lip_that_was_not_told_is_taken_and_not_told(lie: Lie) -> None:
    """What decides the shot and nobody said stands under what was taken, and not beside what was told."""
    bag = load_bag()
    under = Situation(pin_m=12.0, lie=lie, under_lip=True)
    plan = advise(under, bag)
    head, taken = write(plan, bag, cue_for(plan, bag)).splitlines()[0], assumed_line(plan, bag)
    assert "high" not in head and "under the lip" in head
    assert "lip high" in taken
    told = advise(under.model_copy(update={"lip_m": 0.9}), bag)
    assert "lip_m" not in told.assumed
