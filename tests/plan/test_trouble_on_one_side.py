"""Trouble told to be on one side, and not on which: it may be on either, and is never on the way."""

import pytest

from caddie import advise, load_bag
from caddie.reply.cue import cue_for
from caddie.reply.situation import hazard_said
from caddie.reply.spoken import speak
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation

BESIDE = Hazard(kind=HazardKind.TREES, beside=True)
OPEN = Situation(pin_m=36.0, lie=Lie.FAIRWAY)


def test_trees_on_one_side_are_not_flown() -> None:
    plan = advise(OPEN.model_copy(update={"hazards": (BESIDE,)}), load_bag())
    free = advise(OPEN, load_bag())
    assert (plan.chosen.club, plan.chosen.swing) == (free.chosen.club, free.chosen.swing)
    assert "tree_height_m" not in plan.assumed


@pytest.mark.parametrize("kind", [HazardKind.TREES, HazardKind.WATER, HazardKind.BUNKER])
def test_it_may_be_on_either_side_and_that_is_told(kind: HazardKind) -> None:
    told = Hazard(kind=kind, beside=True)
    plan = advise(OPEN.model_copy(update={"hazards": (told,)}), load_bag())
    assert {each.side for each in plan.situation.hazards} == {Side.LEFT, Side.RIGHT}
    assert plan.assumed["trouble_side"] == "left or right"


def test_it_is_said_back_as_told() -> None:
    bag = load_bag()
    assert hazard_said(BESIDE, bag) == "trees on one side"
    plan = advise(OPEN.model_copy(update={"hazards": (BESIDE,)}), bag)
    assert "rees on one side" in speak(plan, bag, cue_for(plan, bag))
