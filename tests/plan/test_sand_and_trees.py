"""Lips, packed and soft sand, branches, the way out sideways, and balls that are dropped (common practice, no source,
but for the Rules of Golf, January 2023, which are named where they decide)."""

import itertools

import numpy as np
import pytest

from caddie.bag import Family, load_bag
from caddie.ball.ground import Surface
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.lip import face_of
from caddie.plan.option import Option
from caddie.plan.scene import lay_out
from caddie.plan.strikes import strike_rates
from caddie.plan.view import view_of
from caddie.reply.cue import cue_for
from caddie.reply.spoken import speak
from caddie.situation import Against, Hazard, HazardKind, Lie, Sand, Side, Sitting, Situation
from caddie.units import FOOT_M, YARD_M

BAG = load_bag()
NOISE = 0.01
"""Strokes: see :mod:`test_metamorphic`."""


def at(pin_yd: float, lie: Lie, **said: object) -> Situation:
    return Situation(pin_m=pin_yd * YARD_M, lie=lie, **said)


def best(situation: Situation, **only: object) -> Option:
    return advise(situation, BAG, only=Only(**only)).options[0]


def branch(clear_ft: float, away_yd: float | None = None) -> Hazard:
    return Hazard(
        kind=HazardKind.TREES,
        side=Side.SHORT,
        clear_m=clear_ft * FOOT_M,
        carry_m=None if away_yd is None else away_yd * YARD_M,
    )


def tree(height_ft: float, away_yd: float) -> Hazard:
    return Hazard(
        kind=HazardKind.TREES, side=Side.SHORT, height_m=height_ft * FOOT_M, carry_m=away_yd * YARD_M
    )


@pytest.mark.parametrize("pin_yd", [12, 20, 90])
def test_a_higher_lip_never_gains_strokes_and_leaves_more_in_the_sand(pin_yd: int) -> None:
    shots = [best(at(pin_yd, Lie.BUNKER, lip_m=lip_ft * FOOT_M)) for lip_ft in (1, 3, 5, 7)]
    for lower, higher in itertools.pairwise(shots):
        assert higher.strokes > lower.strokes - NOISE
    assert shots[-1].trouble["sand"] > shots[0].trouble.get("sand", 0.0) + 0.05


def test_from_a_fairway_bunker_the_lip_decides_the_club() -> None:
    low, high = (
        advise(at(90, Lie.BUNKER, lip_m=lip_m, under_lip=under), BAG).options[0]
        for lip_m, under in ((0.3, None), (1.5, True))
    )
    assert high.sideways or high.loft_deg > low.loft_deg
    assert high.strokes > low.strokes + 0.1


def test_under_the_lip_the_most_lofted_club_comes_out_and_plugged_there_the_ball_goes_sideways() -> None:
    assert advise(at(12, Lie.BUNKER, under_lip=True), BAG).chosen.loft_deg == 60
    assert advise(at(15, Lie.PLUGGED, under_lip=True), BAG).chosen.sideways


def test_a_face_is_as_high_and_as_far_as_it_was_told() -> None:
    told = complete(at(14, Lie.BUNKER, lip_m=4 * FOOT_M))[0]
    assert face_of(told)[0] == 4 * FOOT_M
    scene = lay_out(told, BAG)
    beyond = np.array([scene.front_m - 0.2])
    assert float(scene.ground.height_m(beyond, np.zeros(1))[0]) == pytest.approx(4 * FOOT_M, abs=0.1)
    assert scene.barrier is not None and scene.barrier.surface is Surface.SAND
    assert face_of(complete(at(90, Lie.BUNKER))[0])[1] > face_of(complete(at(12, Lie.BUNKER))[0])[1]


def test_packed_sand_is_hit_thin_and_soft_sand_heavy_the_more_by_the_wrong_sole() -> None:
    share = np.array([0.5])

    def rates(sand: Sand | None, bounce_deg: float) -> tuple[float, float]:
        situation = complete(at(15, Lie.BUNKER, sand=sand))[0]
        heavy, thin = strike_rates(
            BAG.player, situation, Family.SPLASH, 56.0, share, None, bounce_deg=bounce_deg
        )
        return float(heavy[0]), float(thin[0])

    usual = rates(None, 12.0)
    assert rates(Sand.FIRM, 12.0)[1] > rates(Sand.FIRM, 6.0)[1] > usual[1]
    assert rates(Sand.SOFT, 6.0)[0] > rates(Sand.SOFT, 12.0)[0] > usual[0]


@pytest.mark.parametrize("sand", list(Sand))
def test_packed_and_soft_sand_cost_more_than_clean_sand(sand: Sand) -> None:
    for pin_yd in (12, 20):
        clean, other = (best(at(pin_yd, Lie.BUNKER, sand=each)) for each in (None, sand))
        assert other.strokes > clean.strokes + 0.01


def test_soft_sand_wants_a_longer_swing_and_packed_sand_a_square_face() -> None:
    clean, soft, firm = (
        advise(at(20, Lie.BUNKER, sand=sand), BAG, only=Only(club="56")).chosen
        for sand in (None, Sand.SOFT, Sand.FIRM)
    )
    assert soft.share > clean.share
    assert firm.flight is Flight.LOW and clean.flight is Flight.STOCK


def test_a_fairway_bunker_costs_about_half_a_stroke_on_the_fairway() -> None:
    """Broadie, *Interfaces* 42(2), 2012, table 9 of the 2011 working paper: 3.24 from sand, 2.77 from the fairway at
    90 yards on tour."""
    sand, fairway = best(at(90, Lie.BUNKER)), best(at(90, Lie.FAIRWAY))
    assert 0.35 < sand.strokes - fairway.strokes < 0.8


@pytest.mark.parametrize("pin_yd", [40, 70])
def test_a_branch_never_gains_strokes_and_a_lower_one_sends_the_ball_lower(pin_yd: int) -> None:
    free = best(at(pin_yd, Lie.FAIRWAY))
    under = [best(at(pin_yd, Lie.FAIRWAY, hazards=(branch(clear_ft),))) for clear_ft in (12, 8, 5)]
    for shot in under:
        assert shot.strokes > free.strokes - NOISE
    for higher, lower in itertools.pairwise(under):
        assert lower.strokes > higher.strokes - NOISE
    punched = under[-1]
    assert punched.loft_deg - 7.5 * (punched.flight is Flight.LOW) < free.loft_deg
    assert punched.in_trouble < 0.2


def test_a_tree_too_near_and_too_high_is_left_sideways_and_a_low_one_is_flown() -> None:
    out = advise(at(60, Lie.FAIRWAY, hazards=(tree(40, 5),)), BAG)
    assert out.chosen.sideways
    assert out.chosen.leave_m > 55 * YARD_M
    over = advise(at(90, Lie.FAIRWAY, hazards=(tree(15, 40),)), BAG)
    assert not over.chosen.sideways
    assert any(option.sideways for option in over.options), "the way out is told beside it"
    assert over.options[0].strokes > best(at(90, Lie.FAIRWAY)).strokes - NOISE


def test_the_way_out_sideways_is_drawn_and_said_as_such() -> None:
    plan = advise(at(60, Lie.FAIRWAY, hazards=(tree(40, 5),)), BAG)
    view = view_of(plan, BAG)
    assert float(np.median(np.abs(view.ball_y_m))) > float(np.median(view.ball_x_m))
    assert "Out sideways" in speak(plan, BAG, cue_for(plan, BAG))


def test_unplayable_costs_a_stroke_and_brings_the_options_of_the_rules() -> None:
    """Rules 19.2 and 19.3: one stroke; in a bunker the drop stays in it, for two strokes it comes out."""
    rough, unplayable = (
        advise(at(40, Lie.HEAVY_ROUGH, unplayable=said), BAG).chosen for said in (None, True)
    )
    assert unplayable.strokes == pytest.approx(rough.strokes + 1.0, abs=NOISE)
    grass, sand = (advise(at(20, lie, unplayable=True), BAG) for lie in (Lie.LIGHT_ROUGH, Lie.PLUGGED))
    assert "Rule 19.2" in grass.reasons[0] and "two club-lengths" in grass.reasons[0]
    assert "Rule 19.3" in sand.reasons[0] and "two strokes" in sand.reasons[0]


@pytest.mark.parametrize("thing", [Against.ROOT, Against.ROCK])
def test_against_a_root_or_a_rock_wrists_are_spared(thing: Against) -> None:
    plan = advise(at(20, Lie.LIGHT_ROUGH, against=thing), BAG)
    assert "wrist" in plan.reasons[0] and thing.value in plan.reasons[0]
    assert "Spare your wrists" in speak(plan, BAG, cue_for(plan, BAG))
    assert plan.chosen.strokes > best(at(20, Lie.LIGHT_ROUGH)).strokes + 0.9


def test_a_ball_embedded_in_the_rough_is_dropped_free_and_is_no_bunker_shot() -> None:
    """Rule 16.3."""
    plan = advise(at(15, Lie.HEAVY_ROUGH, sitting=Sitting.EMBEDDED), BAG)
    assert "Rule 16.3" in plan.reasons[0]
    assert plan.chosen.family is not Family.SPLASH
    assert plan.chosen.strokes == pytest.approx(advise(at(15, Lie.HEAVY_ROUGH), BAG).chosen.strokes)


def test_mud_on_the_ball_takes_no_spin_off_and_is_named() -> None:
    clean, muddy = (advise(at(75, Lie.FAIRWAY, mud_on_ball=mud), BAG) for mud in (None, True))
    assert (muddy.chosen.club, muddy.chosen.swing) == (clean.chosen.club, clean.chosen.swing)
    assert muddy.chosen.strokes > clean.chosen.strokes - NOISE
    assert any("Mud on the ball" in why for why in muddy.reasons)
    assert not any("grooves" in why for why in muddy.reasons)


def test_the_first_cut_lies_between_fairway_and_light_rough() -> None:
    for pin_yd in (30, 80):
        fairway, cut, rough = (
            best(at(pin_yd, lie)).strokes for lie in (Lie.FAIRWAY, Lie.FIRST_CUT, Lie.LIGHT_ROUGH)
        )
        assert fairway < cut < rough


def test_the_putter_from_off_the_green_is_told_as_a_flat_putt_and_nothing_is_certain() -> None:
    level, above = (
        advise(at(15, Lie.FRINGE, elevation_m=rise_m), BAG, only=Only(family=Family.PUTT)).chosen
        for rise_m in (None, 4 * FOOT_M)
    )
    assert 40 * FOOT_M < level.roll_m < 55 * FOOT_M
    assert above.roll_m > 1.3 * level.roll_m
    assert above.strokes > level.strokes > 2.0
    spoken = speak(advise(at(15, Lie.FRINGE), BAG), BAG, cue_for(advise(at(15, Lie.FRINGE), BAG), BAG))
    assert "as a forty-five-footer" in spoken


def test_much_grass_before_the_green_is_not_putted_through() -> None:
    plan = advise(at(30, Lie.FAIRWAY, elevation_m=-8 * FOOT_M), BAG)
    assert all(option.family is not Family.PUTT for option in plan.options)


def test_no_swing_is_told_as_below_the_full_one() -> None:
    clubs = tuple(
        club.model_copy(
            update={"carries": tuple(cell for cell in club.carries if cell.swing == "full"), "splash": ()}
        )
        for club in BAG.clubs
    )
    swings = tuple(swing for swing in BAG.swings if swing.name == "full")
    bag = BAG.model_copy(update={"clubs": clubs, "swings": swings})
    for pin_yd in (15, 40, 70):
        for option in advise(at(pin_yd, Lie.FAIRWAY), bag).options:
            assert option.swing != "under full"
