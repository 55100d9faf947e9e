"""Where the balls of a shot end, and shots that finish past the flag."""

import pytest

from caddie.bag import Bag, Family
from caddie.bag.file import load_bag
from caddie.plan.beyond import PAST_M, past_the_flag
from caddie.plan.choose import advise
from caddie.plan.ends import ends_of
from caddie.plan.option import Plan
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation
from caddie.units import YARD_M


@pytest.fixture(scope="module")
def bag() -> Bag:
    return load_bag()


@pytest.fixture(scope="module")
def plan(bag: Bag) -> Plan:
    return advise(Situation(pin_m=30 * YARD_M, lie=Lie.FAIRWAY), bag)


def test_the_balls_are_those_the_shot_was_judged_by(plan: Plan, bag: Bag) -> None:
    ends = ends_of(plan, plan.chosen, bag)
    assert ends is not None
    assert ends.within(plan.chosen.leave_m) == pytest.approx(0.5, abs=0.02)


def test_a_longer_length_holds_more_balls_and_the_mean_lies_beyond_the_median(plan: Plan, bag: Bag) -> None:
    ends = ends_of(plan, plan.chosen, bag)
    assert ends is not None
    shares = [ends.within(each) for each in (0.5, 1.0, 2.0, 5.0, 60.0)]
    assert shares == sorted(shares)
    assert ends.mean_m() > plan.chosen.leave_m
    assert ends.within(0.6) < ends.down_in_two(bag) < ends.within(10.0)


def test_the_putter_from_off_the_green_has_its_balls_too(bag: Bag) -> None:
    plan = advise(Situation(pin_m=12 * YARD_M, lie=Lie.FRINGE), bag)
    putt = next(option for option in plan.options if option.family is Family.PUTT)
    ends = ends_of(plan, putt, bag)
    assert ends is not None
    assert ends.within(putt.leave_m) == pytest.approx(0.5, abs=0.02)


def test_past_the_flag_finishes_past_it_and_finds_the_bunker_before_it_less(bag: Bag) -> None:
    bunker = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT)
    situation = Situation(pin_m=30 * YARD_M, front_m=26 * YARD_M, lie=Lie.FAIRWAY, hazards=(bunker,))
    going = advise(situation, bag)
    past = past_the_flag(going, bag, 0.5 * going.chosen.in_trouble)
    assert past is not None
    assert past.carry_m + past.run_m >= 30 * YARD_M + PAST_M
    assert past.in_trouble < going.chosen.in_trouble
