"""Shots that keep clear of the trouble on the way."""

from caddie import advise, load_bag
from caddie.plan.careful import clear_of_trouble, laid_up_before_it, short_of_it
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation
from caddie.units import YARD_M

BAG = load_bag()
BUNKER = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT, carry_m=37.0)
OVER_SAND = Situation(pin_m=45.0, lie=Lie.HEAVY_ROUGH, hazards=(BUNKER,))
OVER_WATER = Situation(
    pin_m=80 * YARD_M,
    lie=Lie.LIGHT_ROUGH,
    hazards=(Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=65 * YARD_M),),
)


def test_both_ways_find_trouble_less_than_going_over_it() -> None:
    for situation in (OVER_SAND, OVER_WATER):
        going = advise(situation, BAG)
        clear = clear_of_trouble(going, BAG)
        assert clear
        assert all(option.in_trouble < going.chosen.in_trouble for option in clear)
        assert list(clear) == sorted(clear, key=lambda option: option.rank_score)


def test_a_lay_up_stays_short_and_leaves_the_rest_of_the_way() -> None:
    option = short_of_it(OVER_SAND, BAG)
    assert option is not None
    assert option.lay_up
    assert option.carry_m + option.run_m < 37.0
    assert 0.0 < option.leave_m < 45.0


def test_the_shot_past_the_side_is_aimed_well_beside_the_flag() -> None:
    beside = [option for option in clear_of_trouble(advise(OVER_SAND, BAG), BAG) if not option.lay_up]
    assert beside
    assert all(abs(option.aim_left_m) > 5.0 for option in beside)


def test_nothing_is_laid_up_before_where_nothing_lies_on_the_way() -> None:
    assert laid_up_before_it(advise(Situation(pin_m=45.0, lie=Lie.FAIRWAY), BAG), BAG) is None
