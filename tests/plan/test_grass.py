"""What grass takes from a swing and from a face laid open, and where nothing but the safe way is played (common
practice, no source)."""

import itertools

import numpy as np
import pytest

from caddie.bag import Family, load_bag
from caddie.ball.launch import CONTACT, Flight, launch_for
from caddie.plan.choose import advise
from caddie.plan.grass import LOFTED_DEG, hold_of
from caddie.plan.option import Plan
from caddie.plan.strikes import strike_rates
from caddie.plan.trust import AS_LIKELY_AS_NOT, OFFERED
from caddie.reply.cue import cue_for
from caddie.reply.spoken import speak
from caddie.situation import (
    Fall,
    Grain,
    Green,
    Hazard,
    HazardKind,
    Lie,
    Sand,
    Side,
    Sitting,
    Situation,
    Stance,
    Steepness,
)
from caddie.units import YARD_M

BAG = load_bag()
AGAINST = Green(grain=Grain.AGAINST)


def at(pin_yd: float, lie: Lie = Lie.HEAVY_ROUGH, **said: object) -> Situation:
    return Situation(pin_m=pin_yd * YARD_M, lie=lie, **said)


def plan_at(pin_yd: float, lie: Lie = Lie.HEAVY_ROUGH, **said: object) -> Plan:
    return advise(at(pin_yd, lie, **said), BAG)


def told(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


def heavy(situation: Situation, loft_deg: float, share: float) -> float:
    return float(strike_rates(BAG.player, situation, Family.CHIP, loft_deg, np.array([share]), None)[0][0])


def test_grass_holds_the_more_the_deeper_the_wetter_and_the_more_it_grows_against_the_swing() -> None:
    plain, wet = at(15), at(15, wet=True)
    against, both = at(15, green=AGAINST), at(15, wet=True, green=AGAINST)
    tall = at(15, tall_grass=True, sitting=Sitting.DOWN)
    assert hold_of(at(15, Lie.FAIRWAY)) == 0.0
    for less, more in itertools.pairwise([plain, wet, both]):
        assert heavy(more, 56, 0.25) > heavy(less, 56, 0.25)
    assert heavy(against, 56, 0.25) > heavy(plain, 56, 0.25)
    assert heavy(tall, 56, 0.25) > heavy(plain, 56, 0.25)
    for situation in (plain, wet, both):
        assert heavy(situation, 46, 0.25) > heavy(situation, 56, 0.25), "less loft is caught"
        assert heavy(situation, 56, 0.1) > heavy(situation, 56, 0.3), "so is less speed"


@pytest.mark.parametrize(
    "said", [{"wet": True, "green": AGAINST}, {"tall_grass": True, "sitting": Sitting.DOWN}]
)
def test_where_grass_holds_firmly_loft_is_played_and_few_greens_are_promised(said: dict[str, object]) -> None:
    plan, plain = plan_at(15, **said), plan_at(15)
    assert all(option.loft_deg >= LOFTED_DEG for option in plan.options)
    assert plan.chosen.strokes > plain.chosen.strokes + 0.1
    assert plan.chosen.heavy > 1.5 * plain.chosen.heavy


def test_thick_grass_shuts_a_face_laid_open_and_the_ball_runs() -> None:
    speed = np.array([12.0])
    opened = {
        lie: launch_for(np.radians(56), speed, Flight.HIGH, CONTACT[lie], np.radians(-10))
        for lie in ("fairway", "heavy_rough")
    }
    assert opened["heavy_rough"].angle_rad < opened["fairway"].angle_rad
    assert opened["heavy_rough"].spin_rad_s < 0.5 * opened["fairway"].spin_rad_s
    falls = Green(fall=Fall.AWAY, stimp_ft=11.5)
    chosen = plan_at(8, room_m=3 * YARD_M, green=falls).chosen
    assert chosen.run_m > 3 * YARD_M


def test_a_ball_into_the_grain_is_chipped_and_with_it_rolls_on() -> None:
    near = {"front_m": 5 * YARD_M}
    into, plain = plan_at(20, Lie.BARE, green=AGAINST, **near), plan_at(20, Lie.BARE, **near)
    assert plain.chosen.family is Family.PUTT and into.chosen.family is not Family.PUTT
    assert any("Grass that grows against" in reason for reason in into.reasons)
    with_it = plan_at(20, Lie.BARE, green=Green(grain=Grain.WITH), **near)
    rolls = [
        next(o.roll_m for o in plan.options if o.family is Family.PUTT) for plan in (with_it, plain, into)
    ]
    assert rolls == sorted(rolls)


def test_under_a_chest_high_lip_the_ball_goes_sideways_and_it_is_said_what_else_it_may_do() -> None:
    plan = plan_at(20, Lie.BUNKER, lip_m=1.3, under_lip=True)
    assert plan.chosen.sideways
    assert any("comes back" in reason for reason in plan.reasons)


def test_before_a_high_lip_near_the_flag_the_most_loft_is_played_and_no_dear_way_is_offered() -> None:
    plan = plan_at(8, Lie.BUNKER, lip_m=1.5)
    assert plan.chosen.loft_deg == 60.0 and "wide open" in told(plan)
    aside = next(option for option in plan.options if option.sideways)
    assert aside.rank_score > plan.chosen.rank_score + OFFERED and "sideways" not in told(plan)


def test_a_shot_that_meets_the_tree_as_likely_as_not_gives_way_to_the_way_out() -> None:
    tree = Hazard(kind=HazardKind.TREES, side=Side.SHORT, carry_m=15 * YARD_M, height_m=9.1)
    plan = plan_at(40, Lie.FAIRWAY, hazards=(tree,))
    assert plan.options[0].in_trouble >= AS_LIKELY_AS_NOT and plan.chosen.sideways


def test_a_surer_way_out_of_sand_is_not_one_that_finds_the_water() -> None:
    water = Hazard(kind=HazardKind.WATER, side=Side.LONG)
    plan = plan_at(12, Lie.PLUGGED, hazards=(water,))
    assert plan.chosen.share < 0.9 and plan.chosen.trouble.get("water", 0.0) < 0.06


def test_off_packed_wet_sand_less_loft_and_less_swing_send_it_lower_and_it_runs() -> None:
    packed, dry = plan_at(18, Lie.BUNKER, wet=True, sand=Sand.FIRM), plan_at(18, Lie.BUNKER)
    assert packed.chosen.loft_deg <= 56.0 and packed.chosen.flight is Flight.LOW
    assert packed.chosen.run_m > dry.chosen.run_m + YARD_M


@pytest.mark.parametrize("stance", [Stance.BALL_ABOVE, Stance.BALL_BELOW])
def test_off_a_slope_across_the_stance_every_shot_is_aimed_against_it(stance: Stance) -> None:
    plan = plan_at(12, Lie.LIGHT_ROUGH, stance=(stance,), steepness=Steepness.SEVERE)
    side = -1.0 if stance is Stance.BALL_ABOVE else 1.0
    assert all(side * option.aim_left_m > 0.0 for option in plan.options if option.family is not Family.PUTT)


def test_nothing_is_landed_on_the_face_of_a_ridge_or_just_past_its_crest() -> None:
    ridge = Hazard(kind=HazardKind.RIDGE, carry_m=22 * YARD_M)
    chosen = plan_at(30, Lie.FAIRWAY, hazards=(ridge,)).chosen
    assert not 19.5 * YARD_M < chosen.carry_m < 23.4 * YARD_M


def test_a_ball_down_in_dry_thick_grass_may_be_lifted_out_with_an_open_face() -> None:
    near = {"room_m": 3 * YARD_M, "sitting": Sitting.DOWN}
    assert plan_at(9, **near).chosen.flight is Flight.HIGH
    assert all(option.flight is not Flight.HIGH for option in plan_at(9, wet=True, **near).options)


@pytest.mark.parametrize("pin_yd", [8, 10, 12])
def test_a_ball_down_in_thick_grass_is_landed_at_the_flag_and_not_past_it_to_be_caught(pin_yd: int) -> None:
    plan, plain = plan_at(pin_yd, sitting=Sitting.DOWN), plan_at(pin_yd)
    assert plan.chosen.flight is Flight.HIGH
    assert plan.chosen.land_short_of_pin_m > -1.5 * YARD_M
    assert plan.chosen.strokes > plain.chosen.strokes, "a worse lie gains nothing"


def test_a_ball_down_in_thick_grass_is_caught_less_often_than_not() -> None:
    assert plan_at(8, sitting=Sitting.DOWN).chosen.heavy < 0.5


@pytest.mark.parametrize("carry_m", [1.8, 4.0])
def test_a_drop_after_which_the_same_trees_stand_in_the_way_is_not_advised(carry_m: float) -> None:
    trees = Hazard(kind=HazardKind.TREES, side=Side.SHORT, carry_m=carry_m)
    plan = plan_at(12, Lie.LIGHT_ROUGH, hazards=(trees,))
    assert not (plan.dropped and plan.chosen.sideways)
