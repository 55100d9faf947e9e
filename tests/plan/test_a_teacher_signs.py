"""What two teachers refused to sign, and what they would sign in its place (common practice, no source, for each)."""

import numpy as np
import pytest

from caddie.bag import Family, load_bag
from caddie.ball.bounce import penner
from caddie.ball.launch import Flight
from caddie.ball.lie import Contact, on_slope
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.plan.patches import carry_needed_m
from caddie.plan.prefer import WELL_PAST_M
from caddie.plan.shapes import HEIGHT_M
from caddie.plan.wind_error import unsteady
from caddie.reply.cue import cue_for
from caddie.reply.phrases import one_in
from caddie.reply.spoken import speak
from caddie.situation import (
    Against,
    Fall,
    Firmness,
    Grain,
    Green,
    Hampered,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Sitting,
    Situation,
    Stance,
    Steepness,
    Wind,
    WindFrom,
)
from caddie.units import FOOT_M, YARD_M

BAG = load_bag()
BUNKER_SHORT = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT)


def planned(pin_yd: float, lie: Lie = Lie.FAIRWAY, **said: object) -> Plan:
    return advise(Situation(pin_m=pin_yd * YARD_M, lie=lie, **said), BAG)


def putt(feet: float, *hazards: Hazard, **green: object) -> Plan:
    return advise(Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, hazards=hazards, green=Green(**green)), BAG)


def aloud(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


@pytest.mark.parametrize("stimp_ft", [8.0, 9.5, 11.5])
def test_the_grain_changes_the_pace_and_is_said(stimp_ft: float) -> None:
    down, plain, into = (
        putt(20, stimp_ft=stimp_ft, grain=grain) for grain in (Grain.WITH, None, Grain.AGAINST)
    )
    assert down.chosen.pace_m < 0.93 * plain.chosen.pace_m
    assert into.chosen.pace_m > 1.07 * plain.chosen.pace_m
    assert "down grain" in aloud(down) and "into the grain" in aloud(into) and "grain" not in aloud(plain)


def test_a_slope_that_was_told_is_never_putted_with_a_flat_pace() -> None:
    for feet in (4, 6, 8, 12, 20):
        for fall in (Fall.TOWARD, Fall.AWAY):
            assert "flat pace" not in aloud(putt(feet, fall=fall, fall_slope=0.01)).lower()
    assert "flat pace" in aloud(putt(12)).lower()


@pytest.mark.parametrize("last", [Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT])
@pytest.mark.parametrize("feet", [18, 35, 50])
def test_of_two_breaks_the_line_is_on_the_side_of_the_last(last: Fall, feet: int) -> None:
    plan = putt(feet, fall=last, double_break=True)
    assert (plan.chosen.aim_left_m > 0) == (last is Fall.LEFT_TO_RIGHT)
    single = putt(feet, fall=last)
    assert abs(plan.chosen.aim_left_m) < 0.5 * abs(single.chosen.aim_left_m)


def test_a_putt_down_a_tier_gets_to_the_edge_and_is_told_so() -> None:
    for feet, past_ft in ((20, 8), (30, 6), (40, 12)):
        tier = Hazard(kind=HazardKind.TIER, side=Side.LONG, down=True)
        plan = advise(
            Situation(pin_m=feet * FOOT_M, room_m=past_ft * FOOT_M, lie=Lie.GREEN, hazards=(tier,)), BAG
        )
        edge_m = (feet - past_ft) * FOOT_M - 2.5
        assert edge_m < plan.chosen.pace_m < edge_m + 3.0
        assert "over the edge" in aloud(plan)


def test_a_putt_over_a_ridge_tops_the_crest() -> None:
    ridge = Hazard(kind=HazardKind.RIDGE, side=Side.SHORT)
    for feet in (30, 45):
        level, over = putt(feet), putt(feet, ridge)
        assert over.chosen.three_putt < level.chosen.three_putt + 0.25
        assert "over the crest" in aloud(over)
    near = advise(
        Situation(
            pin_m=40 * FOOT_M,
            room_m=8 * FOOT_M,
            lie=Lie.GREEN,
            hazards=(ridge,),
            green=Green(fall=Fall.AWAY),
        ),
        BAG,
    )
    assert near.chosen.line is not None and near.chosen.line.holds, "no hole is cut on the far side"
    climb_m = (
        HEIGHT_M[HazardKind.RIDGE] * ROLL_GRAVITY_M_S2 / deceleration(near.situation.green.stimp_ft or 9.5)
    )
    assert near.chosen.pace_m > 20 * FOOT_M + climb_m, "it tops the crest, half way there"


def test_a_pitch_on_a_soft_green_runs_half_as_far() -> None:
    medium, soft = (planned(55, green=Green(firmness=f)) for f in (Firmness.MEDIUM, Firmness.SOFT))
    same = [
        next(each for each in plan.options if each.club == "PW" and each.flight is Flight.STOCK)
        for plan in (medium, soft)
    ]
    assert same[1].run_m < 0.75 * same[0].run_m
    normal, level = np.array([8.0]), np.array([8.0])
    tilt, give = zip(*(penner(normal, level, np.array([f])) for f in (0.2, 0.5)), strict=True)
    assert tilt[0] > tilt[1] and give[0] < give[1]


def test_off_an_upslope_a_ball_flies_higher_and_shorter() -> None:
    up = on_slope(Contact(), uphill_rad=0.1)
    assert up.loft_change_rad > 0 and up.speed_share < 1.0
    assert on_slope(Contact(), uphill_rad=-0.1).speed_share == 1.0


def test_what_must_be_carried_is_carried_well_where_it_costs_nothing() -> None:
    heavy = planned(100, Lie.HEAVY_ROUGH, hazards=(BUNKER_SHORT,), pin_position=PinPosition.MIDDLE)
    bare = planned(12, Lie.BARE, hazards=(BUNKER_SHORT,), room_m=4 * YARD_M)
    for plan in (heavy, bare):
        assert plan.chosen.carry_m > carry_needed_m(BUNKER_SHORT, plan.situation) + 0.9 * WELL_PAST_M
        assert "stays short" not in aloud(plan).lower()


def test_trouble_near_one_in_five_is_said_with_its_odds() -> None:
    water = planned(
        70, hazards=(Hazard(kind=HazardKind.WATER, side=Side.SHORT),), pin_position=PinPosition.FRONT
    )
    share = water.chosen.trouble["water"]
    assert share >= 0.145
    assert f"Water {one_in(share)}" in aloud(water)


def test_a_lay_up_is_told_beside_going_for_it() -> None:
    water = Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=95 * YARD_M)
    plan = planned(110, Lie.HEAVY_ROUGH, hazards=(water,))
    going = next(each for each in plan.options if not each.lay_up)
    assert plan.chosen.lay_up and going.in_trouble > 2 * plan.chosen.in_trouble
    assert any(reason.startswith("Going for it") for reason in plan.reasons)
    assert "Going for it, water" in aloud(plan)


def test_into_a_strong_wind_it_is_more_club_and_a_smoother_swing() -> None:
    wind = Wind(from_=WindFrom.AHEAD, speed_m_s=13.4)
    front = {"pin_position": PinPosition.FRONT, "hazards": (BUNKER_SHORT,), "wind": wind}
    plan = planned(110, green=Green(firmness=Firmness.FIRM), **front)
    assert plan.chosen.share < 0.9
    assert plan.chosen.land_short_of_pin_m < 0.0


def test_a_full_swing_is_the_unsteadier_in_a_wind() -> None:
    from caddie.ball.air import air

    full, smooth = unsteady(air(wind_along_m_s=-10.0), np.array([1.0, 0.7]))
    assert full > smooth > 1.0


def test_a_short_splash_is_a_swing_to_commit_to() -> None:
    plan = planned(6, Lie.BUNKER, front_m=3 * YARD_M)
    assert plan.chosen.family is Family.SPLASH and plan.chosen.share > 0.28
    assert plan.chosen.land_short_of_pin_m < 0.5


def test_up_a_mown_bank_the_putter_is_played_where_it_is_as_good() -> None:
    bank = Hazard(kind=HazardKind.UPSLOPE)
    assert planned(12, room_m=5 * YARD_M, hazards=(bank,)).chosen.family is Family.PUTT


def test_a_bank_close_before_the_ball_is_no_wall() -> None:
    bank, uphill = Hazard(kind=HazardKind.UPSLOPE), Green(fall=Fall.TOWARD)
    plan = planned(15, Lie.FIRST_CUT, front_m=2 * YARD_M, hazards=(bank,), green=uphill, sitting=Sitting.DOWN)
    assert plan.chosen.on_green > 0.7 and plan.chosen.strokes < 3.0


def test_a_long_bunker_shot_is_picked_clean_and_its_danger_named() -> None:
    plan = planned(40, Lie.BUNKER, lip_m=0.5, pin_position=PinPosition.MIDDLE)
    assert plan.chosen.family is not Family.SPLASH
    assert any("thin it flies" in reason for reason in plan.reasons)
    assert "eavy stays in" in aloud(plan) and "Splash" not in aloud(plan)


def test_under_branches_the_straighter_club_keeps_low() -> None:
    low = Hazard(kind=HazardKind.TREES, side=Side.SHORT, clear_m=2.4)
    assert planned(30, Lie.PINE_STRAW, hazards=(low,)).chosen.loft_deg <= 41
    near = Hazard(kind=HazardKind.TREES, side=Side.SHORT, carry_m=10 * YARD_M, clear_m=6 * FOOT_M)
    plan = planned(90, hazards=(near,), pin_position=PinPosition.MIDDLE)
    assert plan.chosen.loft_deg <= 41 and "six feet" in aloud(plan)


def test_a_cue_is_one_that_the_player_can_swing_to() -> None:
    cramped = planned(20, Lie.BARE, hampered=Hampered.BACKSWING)
    assert "longer" not in cue_for(cramped, BAG).say.lower()
    below = planned(30, Lie.HEAVY_ROUGH, stance=(Stance.BALL_BELOW,), hazards=(BUNKER_SHORT,))
    assert cue_for(below, BAG).say.startswith("Sit into your knees")


def test_a_plugged_ball_under_a_lip_is_dug_out_sideways_with_the_drop_named() -> None:
    plan = planned(12, Lie.PLUGGED, under_lip=True, lip_m=1.5)
    assert plan.chosen.sideways and plan.chosen.share > 0.4
    assert "dig down" in aloud(plan).lower() and "drop in the sand" in aloud(plan)


def test_a_steep_downslope_in_sand_goes_sideways_before_water() -> None:
    water = Hazard(kind=HazardKind.WATER, side=Side.LONG)
    plan = planned(16, Lie.BUNKER, stance=(Stance.DOWNHILL,), steepness=Steepness.SEVERE, hazards=(water,))
    assert any(option.sideways for option in plan.options)
    assert plan.chosen.in_trouble < 0.3
    assert any("comes out low" in reason for reason in plan.reasons)


def test_a_ball_hidden_in_tall_grass_is_worse_than_one_that_is_seen_in_it() -> None:
    seen = planned(30, Lie.HEAVY_ROUGH, tall_grass=True)
    hidden = planned(30, Lie.HEAVY_ROUGH, tall_grass=True, sitting=Sitting.DOWN)
    assert hidden.chosen.strokes > seen.chosen.strokes + 0.2
    assert hidden.chosen.on_green < 0.5


def test_nothing_is_swung_with_something_hard_right_behind_the_ball() -> None:
    plan = planned(28, Lie.BARE, hampered=Hampered.NO_BACKSWING)
    assert plan.dropped or plan.chosen.sideways
    assert plan.chosen.strokes > planned(28, Lie.BARE, hampered=Hampered.BACKSWING).chosen.strokes + 0.5


def test_off_frozen_ground_less_loft_is_played_and_it_lands_short() -> None:
    frozen = planned(30, green=Green(firmness=Firmness.FROZEN)).chosen
    assert frozen.loft_deg <= 52.0
    assert frozen.carry_m < 15 * YARD_M
    assert frozen.strokes > planned(30, green=Green(firmness=Firmness.FIRM)).chosen.strokes


def test_a_step_on_the_green_stands_on_the_green() -> None:
    tier = Hazard(kind=HazardKind.TIER, side=Side.SHORT, carry_m=15 * YARD_M)
    plan = planned(25, hazards=(tier,))
    assert plan.situation.front_m < 15 * YARD_M - 3.0


def test_a_putter_through_a_collar_is_less_sure() -> None:
    free, held = (planned(6, Lie.FRINGE, against=against) for against in (None, Against.COLLAR))
    assert held.chosen.strokes > free.chosen.strokes + 0.05
    assert "rolling from the first inch" not in aloud(held)
