"""A bag that was taught a run bias: the plan runs the ball so much farther, and lands it shorter for it."""

import pytest

from caddie.bag import Bag, load_bag
from caddie.ball.launch import Flight
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.situation import Lie, Situation
from caddie.units import YARD_M

SEVENTY = Situation(pin_m=70 * YARD_M, lie=Lie.FAIRWAY)
CHEST_56 = Only(club="56", swing="chest", flight=Flight.STOCK)


def running(run_bias_m: float) -> Bag:
    bag = load_bag()
    clubs = tuple(
        club.model_copy(
            update={"carries": tuple(c.model_copy(update={"run_bias_m": run_bias_m}) for c in club.carries)}
        )
        for club in bag.clubs
    )
    return bag.model_copy(update={"clubs": clubs})


def test_the_run_is_the_models_and_what_was_taught():
    usual = advise(SEVENTY, running(0.0), only=CHEST_56).chosen
    longer = advise(SEVENTY, running(2.5), only=CHEST_56).chosen
    assert longer.run_m - usual.run_m == pytest.approx(2.5, abs=0.4)


def test_a_ball_that_runs_on_is_landed_shorter():
    fifty_six = Only(club="56", flight=Flight.STOCK)
    usual = advise(SEVENTY, running(0.0), only=fifty_six).chosen
    longer = advise(SEVENTY, running(4.0), only=fifty_six).chosen
    assert longer.carry_m < usual.carry_m
