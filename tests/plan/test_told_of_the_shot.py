"""What a player tells of slope, grass, sand and grain changes the shot, and every law has its direction.

Directions are common practice, no source; figures are the module's own.
"""

import pytest

from caddie import advise, load_bag, understand
from caddie.bag import Handed
from caddie.plan.assume import rolling_ft
from caddie.plan.dispersion import lie_spread
from caddie.plan.launches import contact_of
from caddie.plan.lip import again_before_a_lip
from caddie.situation import Against, Grain, Green, Lie, Side, Situation, Stance, Steepness

BAG = load_bag()


def test_a_severe_slope_spreads_more_than_a_plain_and_a_slight_one():
    slight, plain, severe = (
        lie_spread(Situation(lie=Lie.FAIRWAY, stance=(Stance.BALL_BELOW,), steepness=each))
        for each in (Steepness.SLIGHT, None, Steepness.SEVERE)
    )
    assert slight < plain < severe


def test_a_ball_slightly_above_the_feet_is_aimed_off_less():
    aims = [
        advise(understand(f"60 yards, fairway, ball {how} above my feet").situation, BAG).chosen.aim_left_m
        for how in ("slightly", "")
    ]
    assert abs(aims[0]) < abs(aims[1])


@pytest.mark.parametrize("lie", [Lie.LIGHT_ROUGH, Lie.DIVOT, Lie.HEAVY_ROUGH, Lie.BUNKER])
def test_down_a_severe_slope_every_lie_has_a_shot_and_no_better_one(lie: Lie):
    said = Situation(pin_m=41.0, lie=lie, stance=(Stance.DOWNHILL, Stance.BALL_BELOW))
    plain, severe = (
        advise(said.model_copy(update={"steepness": each}), BAG).chosen for each in (None, Steepness.SEVERE)
    )
    assert severe.strokes > plain.strokes


def test_grain_quickens_and_slows_a_green():
    with_it, against = (rolling_ft(Green(stimp_ft=10.0, grain=each)) for each in (Grain.WITH, Grain.AGAINST))
    assert against < rolling_ft(Green(stimp_ft=10.0)) < with_it


def test_a_ball_that_stays_before_a_high_face_costs_more_than_one_in_a_plain_bunker():
    high, low = (Situation(pin_m=13.0, lie=Lie.BUNKER, lip_m=each) for each in (1.8, 0.3))
    assert again_before_a_lip(high) > again_before_a_lip(low) == 0.0


def test_lengths_said_in_one_breath_lie_end_to_end():
    heard = understand("three paces of fringe then thirty feet to the hole").situation
    assert heard.pin_m is not None and abs(heard.pin_m - (3 * 0.9144 + 30 * 0.3048)) < 0.01
    ground = understand("putter from off the green, eight yards of fairway then ten yards of green").situation
    assert ground.front_m is not None and ground.room_m is not None
    assert abs(ground.front_m + ground.room_m - 18 * 0.9144) < 0.01


def test_fringe_named_beside_flag_and_room_is_no_front_edge():
    heard = understand("20 yards, fairway, two paces of fringe, pin twelve paces on").situation
    assert heard.front_m is None
    assert heard.room_m is not None and abs(heard.room_m - 12 * 0.9144) < 0.01


def test_an_island_green_has_water_on_every_side_and_a_ball_in_water_is_dropped():
    around = understand("island green, 90 yards").situation.hazards
    assert {hazard.side for hazard in around} == set(Side)
    assert (
        understand("ball half in the water at the edge of the pond, 20 yards").situation.against
        is Against.WATER
    )


def test_a_flyer_comes_off_hotter_with_less_spin_than_plain_rough():
    plain, flyer = (
        contact_of(Situation(pin_m=80.0, lie=Lie.LIGHT_ROUGH, flyer=each), Handed.RIGHT)
        for each in (None, True)
    )
    assert understand("90 yards, flyer lie").situation.flyer
    assert flyer.speed_share > plain.speed_share
    assert flyer.friction_share < plain.friction_share
