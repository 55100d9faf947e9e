"""No room for the swing, bushes and tall grass, a way round and under trees, paths and the fringe on a line.

Common practice, no source, but for the Rules of Golf, January 2023, which are named where they decide.
"""

import itertools

import pytest

from caddie.bag import Family, load_bag
from caddie.ball.launch import Flight
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.hampered import CRAMPED
from caddie.plan.option import Plan
from caddie.reply.cue import cue_for
from caddie.reply.spoken import MOST_WORDS, speak
from caddie.situation import (
    Against,
    Firmness,
    Green,
    Hampered,
    Hazard,
    HazardKind,
    InLine,
    Lie,
    Obstruction,
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


def plan_at(pin_yd: float, lie: Lie = Lie.LIGHT_ROUGH, **said: object) -> Plan:
    return advise(Situation(pin_m=pin_yd * YARD_M, lie=lie, **said), BAG)


def told(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


def trees(**said: object) -> tuple[Hazard, ...]:
    return (Hazard(kind=HazardKind.TREES, side=Side.SHORT, **said),)


@pytest.mark.parametrize("hampered", [None, *Hampered])
@pytest.mark.parametrize("pin_yd", [20, 50, 85])
def test_what_hampers_a_swing_never_gains_strokes_and_is_said(pin_yd: int, hampered: Hampered | None) -> None:
    free, held = plan_at(pin_yd), plan_at(pin_yd, hampered=hampered)
    assert held.options[0].strokes > free.options[0].strokes - NOISE
    assert len(told(held).split()) <= MOST_WORDS
    if hampered is not None:
        assert held.options[0].strokes > free.options[0].strokes + 0.03
        if held.dropped:
            return
        assert all(option.share <= CRAMPED[hampered].longest + 0.06 for option in held.options)
        assert not any(option.wide_open or option.flight is Flight.HIGH for option in held.options)


@pytest.mark.parametrize(
    ("hampered", "word"),
    [
        (Hampered.BACKSWING, "hinge"),
        (Hampered.FOLLOW_THROUGH, "wrists"),
        (Hampered.STANCE, "narrow"),
        (Hampered.GROWTH, "eyes"),
        (Hampered.TURNED, "backwards"),
    ],
)
def test_how_a_hampered_swing_is_made_is_said_first(hampered: Hampered, word: str) -> None:
    plan = plan_at(35, hampered=hampered)
    assert word in told(plan).split(". ", 1)[1].split(". ")[0].lower()
    assert any(word in why.lower() or hampered is Hampered.TURNED for why in plan.reasons)


def test_turned_over_the_ball_is_only_got_out_and_the_drop_stands_beside_it() -> None:
    """Rule 19: an unplayable ball costs one stroke."""
    plan = plan_at(35, hampered=Hampered.TURNED)
    assert plan.chosen.sideways and plan.chosen.turned
    assert any("Rule 19" in why and "one stroke" in why for why in plan.reasons)
    turned = plan_at(28, hampered=Hampered.TURNED, against=Against.TRUNK)
    assert turned.chosen.turned, "told how it is played, so not dropped"
    assert plan_at(28, against=Against.TRUNK).chosen.strokes > plan_at(28).chosen.strokes + 0.9


@pytest.mark.parametrize("pin_yd", [20, 35, 60, 90])
def test_a_drop_that_costs_less_than_a_bush_is_played_and_told_with_both_figures(pin_yd: int) -> None:
    plan, free = plan_at(pin_yd, hampered=Hampered.GROWTH), plan_at(pin_yd)
    out = min(option.strokes for option in plan.options)
    assert plan.dropped and plan.chosen.strokes > free.chosen.strokes + 0.9
    assert any("after the drop" in why for why in plan.reasons)
    assert "better dropped, one stroke" in told(plan).lower()
    assert out >= free.options[0].strokes + 0.9


@pytest.mark.parametrize("pin_yd", [20, 35, 60, 90])
@pytest.mark.parametrize(("hampered", "most"), [(Hampered.TO_HIP, 0.25), (Hampered.TO_CHEST, 0.5)])
def test_a_swing_told_to_end_somewhere_is_no_longer_in_any_option(
    pin_yd: int, hampered: Hampered, most: float
) -> None:
    free, held = plan_at(pin_yd), plan_at(pin_yd, hampered=hampered)
    assert all(option.share <= most + 0.06 for option in held.options if not option.sideways)
    assert held.options[0].strokes > free.options[0].strokes - NOISE


@pytest.mark.parametrize("pin_yd", [30, 40, 60, 90])
def test_what_cannot_be_gone_over_is_gone_under_or_passed_aside(pin_yd: int) -> None:
    over, barred = (
        plan_at(pin_yd, Lie.FAIRWAY, hazards=trees(height_m=6.0, not_over=told)) for told in (None, True)
    )
    assert barred.chosen.sideways or barred.dropped or barred.chosen.in_trouble < 0.2
    assert barred.chosen.strokes > over.chosen.strokes - NOISE
    under = plan_at(pin_yd, Lie.FAIRWAY, hazards=trees(clear_m=2.4, not_over=True))
    assert under.chosen.sideways or under.chosen.in_trouble < 0.2


def test_short_of_near_water_a_small_stroke_is_played_where_the_long_one_costs_more() -> None:
    pond = (Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=42 * YARD_M),)
    ill = {"stance": (Stance.DOWNHILL,), "steepness": Steepness.SEVERE, "hazards": pond}
    plan = plan_at(55, Lie.DIVOT, **ill)
    going = min(option.strokes for option in plan.options if not option.lay_up)
    assert plan.chosen.lay_up and plan.chosen.strokes < going
    assert plan.chosen.carry_m + plan.chosen.run_m < 27 * YARD_M
    good = plan_at(55, Lie.FAIRWAY, hazards=pond)
    assert not good.chosen.lay_up


@pytest.mark.parametrize("pin_yd", [15, 30, 60, 90])
def test_on_frozen_ground_a_ball_runs_farther_and_nothing_is_gained(pin_yd: int) -> None:
    firm, frozen = (
        plan_at(pin_yd, Lie.FAIRWAY, green=Green(firmness=told)) for told in (Firmness.FIRM, Firmness.FROZEN)
    )
    assert frozen.options[0].strokes > firm.options[0].strokes - NOISE
    assert any("Frozen" in why for why in frozen.reasons)


@pytest.mark.parametrize("lip_m", [0.3, 1.0, 1.6])
def test_off_packed_sand_no_face_is_laid_wide_open(lip_m: float) -> None:
    plan = plan_at(12, Lie.BUNKER, sand=Sand.FIRM, wet=True, lip_m=lip_m)
    assert not any(option.flight is Flight.HIGH for option in plan.options)


@pytest.mark.parametrize("lie", [Lie.DIVOT, Lie.HEAVY_ROUGH, Lie.BARE, Lie.FAIRWAY])
def test_nothing_is_meant_to_land_far_past_the_flag(lie: Lie) -> None:
    plan = plan_at(55, lie, stance=(Stance.DOWNHILL,), steepness=Steepness.SEVERE)
    assert all(option.land_short_of_pin_m > -9.0 for option in plan.options)


def test_grass_to_the_knee_is_deeper_than_thick_rough() -> None:
    for pin_yd in (40, 70, 100):
        thick, tall = (plan_at(pin_yd, Lie.HEAVY_ROUGH, tall_grass=said) for said in (None, True))
        assert tall.options[0].strokes > thick.options[0].strokes + 0.1
        assert max(o.carry_m for o in tall.options) < max(o.carry_m for o in thick.options) + 1.0
    ravine = (Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=70 * YARD_M),)
    plan = plan_at(101, Lie.HEAVY_ROUGH, tall_grass=True, hazards=ravine)
    assert plan.chosen.lay_up or plan.chosen.sideways
    assert plan.chosen.carry_m < 40 * YARD_M


def test_a_tree_is_flown_only_from_far_enough_or_where_it_is_low() -> None:
    near, far = (plan_at(85, Lie.FAIRWAY, hazards=trees(height_m=12.2, carry_m=x * YARD_M)) for x in (20, 45))
    assert near.chosen.sideways and not far.chosen.sideways
    strokes = [
        plan_at(85, Lie.FAIRWAY, hazards=trees(height_m=high_m, carry_m=18.0)).options[0].strokes
        for high_m in (4.0, 8.0, 12.0)
    ]
    assert all(higher > lower - NOISE for lower, higher in itertools.pairwise(strokes))


@pytest.mark.parametrize("side", [Side.LEFT, Side.RIGHT])
def test_a_tree_is_gone_round_on_the_side_that_is_free(side: Side) -> None:
    barred = plan_at(82, hazards=trees(height_m=20.0))
    free = plan_at(82, hazards=trees(round=side))
    aside_m = free.chosen.aim_left_m if side is Side.LEFT else -free.chosen.aim_left_m
    assert aside_m > 4.0 and f"{side.value}" in told(free)
    assert free.options[0].strokes < barred.options[0].strokes + NOISE
    assert free.options[0].strokes > plan_at(82).options[0].strokes + 0.1


def test_the_way_round_is_as_good_on_either_side() -> None:
    """Symmetry left and right."""
    left, right = (plan_at(70, Lie.FAIRWAY, hazards=trees(round=side)) for side in (Side.LEFT, Side.RIGHT))
    assert left.options[0].strokes == pytest.approx(right.options[0].strokes, abs=0.03)


def test_a_narrower_gap_never_gains_strokes() -> None:
    strokes = [
        plan_at(70, Lie.FAIRWAY, hazards=trees(height_m=15.0, gap_m=wide_m)).options[0].strokes
        for wide_m in (12.0, 4.0, 2.0)
    ]
    assert all(narrow > wide - NOISE for wide, narrow in itertools.pairwise(strokes))


def test_kept_under_a_height_for_a_stretch_it_flies_low_all_the_way_to_its_end() -> None:
    low = [
        plan_at(44, Lie.FAIRWAY, hazards=trees(clear_m=clear_m, carry_m=10.0)).chosen
        for clear_m in (3.5, 2.0)
    ]
    assert all(shot.loft_deg < 50.0 for shot in low)
    assert low[1].strokes > low[0].strokes - NOISE
    longer = plan_at(44, Lie.FAIRWAY, hazards=trees(clear_m=2.0, carry_m=18.0)).options[0].strokes
    assert longer > low[1].strokes - 2 * NOISE


def test_against_the_collar_no_face_is_laid_open() -> None:
    plan = plan_at(5, Lie.FRINGE, against=Against.COLLAR)
    assert plan.chosen.family is Family.PUTT
    assert not any(option.wide_open or option.flight is Flight.HIGH for option in plan.options)
    assert "collar" in told(plan)


def test_nothing_is_putted_off_a_path_and_free_relief_hangs_on_local_rules() -> None:
    """Rule 16.1."""
    plan = plan_at(19, Lie.BARE, obstruction=Obstruction.PATH)
    assert all(option.family is not Family.PUTT for option in plan.options)
    assert any("Rule 16.1" in why and "local rules" in why for why in plan.reasons)
    assert "local rules" in told(plan)


@pytest.mark.parametrize("thing", list(InLine))
def test_what_lies_on_the_line_of_a_putt_is_said(thing: InLine) -> None:
    plan = plan_at(10, Lie.GREEN, in_line=thing)
    assert thing.value in told(plan).lower()
    assert any(thing.value in why.lower() for why in plan.reasons)


@pytest.mark.parametrize("club", ["7i", "8i", "9i"])
@pytest.mark.parametrize("clear_m", [1.2, 1.8])
def test_the_run_is_that_of_the_swing_and_not_of_what_is_caught(club: str, clear_m: float) -> None:
    """A ball that a branch knocked down never ran: it makes the run that is told neither short nor backward."""
    bag = load_bag()
    open_way = Situation(pin_m=45.0, lie=Lie.LIGHT_ROUGH)
    branches = open_way.model_copy(update={"hazards": (Hazard(kind=HazardKind.TREES, clear_m=clear_m),)})
    only = Only(club=club, flight=Flight.LOW)
    there = {option.swing: option.run_m for option in advise(open_way, bag, only=only).options}
    for option in advise(branches, bag, only=only).options:
        assert option.sideways or option.run_m > 0.0
        if option.swing in there and not option.sideways:
            assert option.run_m > 0.5 * there[option.swing]
