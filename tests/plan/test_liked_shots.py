"""Shots that are as good within what is assumed: a teacher's taste decides (common practice, no source)."""

import pytest

from caddie.bag import Family, load_bag
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.green_size import HALF_WIDTH_M, NEAR_SIDE_M
from caddie.plan.option import Option, Plan
from caddie.plan.prefer import AT_FLAG_M, MOST_GIVEN, liked_for, liked_less, runs_away
from caddie.plan.safe_side import INWARD
from caddie.plan.trust import fits
from caddie.situation import (
    Against,
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Stance,
)
from caddie.units import YARD_M

BAG = load_bag()
WATER_RIGHT = (Hazard(kind=HazardKind.WATER, side=Side.RIGHT),)


def planned(pin_yd: float, lie: Lie = Lie.FAIRWAY, **said: object) -> Plan:
    return advise(Situation(pin_m=pin_yd * YARD_M, lie=lie, **said), BAG)


def changed(**fields: object) -> Option:
    plain = planned(60).chosen.model_copy(update={"trusted": False, "share": 0.6, "flight": Flight.STOCK})
    return plain.model_copy(update=fields)


def test_each_trait_that_a_teacher_warns_of_makes_a_shot_less_liked() -> None:
    there = complete(Situation(pin_m=60 * YARD_M, lie=Lie.FAIRWAY))[0]
    plain = liked_less(changed(), there)
    opened = liked_less(changed(flight=Flight.HIGH), there)
    assert plain < opened < liked_less(changed(flight=Flight.HIGH, wide_open=True), there)
    assert plain < liked_less(changed(share=1.0), there), "nothing is left in hand"
    farther = changed(land_short_of_pin_m=15.0, run_m=1.0)
    assert plain < liked_less(farther, there), "it finishes short of the flag"
    short = changed(carry_m=there.front_m - 8.0)
    assert plain < liked_less(short, there), "it lands on ground that nobody looked at"


@pytest.mark.parametrize("pin_yd", [8, 14, 22, 35, 60, 90, 110])
@pytest.mark.parametrize("fall", [None, Fall.AWAY])
def test_taste_costs_no_more_than_the_noise_and_buys_no_poor_fit(pin_yd: int, fall: Fall | None) -> None:
    plan = planned(pin_yd, Lie.LIGHT_ROUGH, green=Green(fall=fall))
    shot, best = plan.chosen, plan.options[0]
    assert shot.rank_score <= best.rank_score + MOST_GIVEN + BAG.player.margin_strokes
    assert fits(shot, best, plan.situation) or shot.rank_score == best.rank_score
    total = [each.rank_score + liked_less(each, plan.situation) for each in (shot, best)]
    assert total[0] <= total[1] + BAG.player.margin_strokes


@pytest.mark.parametrize("pin_yd", [12, 18, 25, 32])
def test_on_a_green_that_runs_away_it_lands_short_of_the_flag(pin_yd: int) -> None:
    plan = planned(pin_yd, Lie.LIGHT_ROUGH, green=Green(fall=Fall.AWAY), room_m=6 * YARD_M)
    assert runs_away(plan.situation)
    assert plan.chosen.land_short_of_pin_m >= AT_FLAG_M


@pytest.mark.parametrize("grass_yd", [6, 7, 8])
def test_a_putter_through_much_soft_grass_is_no_first_choice_and_one_from_the_fringe_is(
    grass_yd: int,
) -> None:
    soft = planned(19, front_m=grass_yd * YARD_M, green=Green(firmness=Firmness.SOFT))
    assert soft.chosen.family is not Family.PUTT
    assert planned(12, Lie.FRINGE).chosen.family is Family.PUTT


def test_against_the_collar_the_putter_is_among_the_shots() -> None:
    there = planned(5, Lie.LIGHT_ROUGH, against=Against.COLLAR)
    assert any(option.family is Family.PUTT for option in there.options)


def test_a_putter_that_is_asked_for_rolls_through_more_grass() -> None:
    there = Situation(pin_m=23 * YARD_M, front_m=14 * YARD_M, lie=Lie.BARE)
    assert all(option.family is not Family.PUTT for option in advise(there, BAG).options)
    assert advise(there, BAG, only=Only(family=Family.PUTT)).chosen.family is Family.PUTT


@pytest.mark.parametrize("pin_yd", [55, 68, 80, 95])
@pytest.mark.parametrize("side", [Side.LEFT, Side.RIGHT])
def test_a_flag_beside_trouble_is_played_from_the_fat_of_the_green(pin_yd: int, side: Side) -> None:
    flag = PinPosition.MIDDLE_LEFT if side is Side.LEFT else PinPosition.MIDDLE_RIGHT
    trouble = (Hazard(kind=HazardKind.WATER, side=side),)
    shot = planned(pin_yd, pin_position=flag, hazards=trouble).chosen
    inward = -1 if side is Side.LEFT else 1
    assert inward * shot.aim_left_m >= 0.99 * INWARD * (HALF_WIDTH_M - NEAR_SIDE_M)
    other = planned(pin_yd, pin_position=flag).chosen
    assert abs(other.aim_left_m) < abs(shot.aim_left_m)


@pytest.mark.parametrize("pin_yd", [40, 57, 75, 92])
def test_a_ball_below_the_feet_is_aimed_a_few_paces_aside_and_no_more(pin_yd: int) -> None:
    shot = planned(pin_yd, stance=(Stance.BALL_BELOW,)).chosen
    assert 0.01 * pin_yd <= shot.aim_left_m / YARD_M <= 0.055 * pin_yd


def test_what_speaks_for_the_liked_shot_is_told() -> None:
    plan = planned(19, front_m=7 * YARD_M, green=Green(firmness=Firmness.SOFT))
    putt = next(option for option in plan.options if option.family is Family.PUTT)
    assert "grass" in liked_for(plan.chosen, putt, plan.situation)
    assert liked_for(putt, plan.chosen, plan.situation) == ""
