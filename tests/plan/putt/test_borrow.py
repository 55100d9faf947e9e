"""The player's own read: its line is played, its slope solved, and what cannot be is said."""

import math

import numpy as np
import pytest
from roll2d import roll2d
from scenarios import putter_bag

from caddie.ball.hole import HOLE_RADIUS_M
from caddie.plan.assume import complete
from caddie.plan.choose import advise
from caddie.plan.putt.borrow import as_read, break_left_m, own_read
from caddie.plan.putt.clue import telling_clue
from caddie.plan.putt.green import green_of
from caddie.situation import (
    BALL_ACROSS_M,
    CUP_M,
    Borrow,
    BorrowUnit,
    Fall,
    Green,
    Hazard,
    HazardKind,
    Lie,
    Side,
    Situation,
)
from caddie.units import FOOT_M, INCH_M

BAG = putter_bag()
CUP = Borrow(amount=1, unit=BorrowUnit.CUPS, outside=True)
FOOT = Borrow(amount=1, unit=BorrowUnit.FEET)
EDGE = Borrow(amount=0, unit=BorrowUnit.CUPS, outside=True)
STRAIGHT = Borrow(amount=0, unit=BorrowUnit.CUPS)


def putt(feet, borrow=None, side=Fall.LEFT_TO_RIGHT, slope=None, along=None, along_slope=None, **more):
    first = along if along is not None else side
    green = Green(
        fall=first,
        fall_slope=along_slope if along is not None else slope,
        side_fall=side if along is not None else None,
        side_slope=slope if along is not None else None,
        borrow=borrow,
        stimp_ft=more.pop("stimp_ft", None),
    )
    return Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=green, **more)


def clue(situation):
    return telling_clue(situation, advise(situation, BAG), BAG)


def test_cups_and_balls_are_those_of_the_rules():
    """The hole is 4 1/4 in (Rules of Golf, Definitions), the ball 1.680 in (Equipment Rules)."""
    assert pytest.approx(4.25 * INCH_M, abs=1e-4) == CUP_M == 2 * HOLE_RADIUS_M
    assert pytest.approx(1.68 * INCH_M, abs=1e-5) == BALL_ACROSS_M
    assert Borrow(amount=2, unit=BorrowUnit.BALLS, outside=True).aim_m == pytest.approx(
        CUP_M / 2 + 2 * BALL_ACROSS_M
    )
    assert Borrow(amount=-1, unit=BorrowUnit.CUPS, outside=True).aim_m == 0
    assert FOOT.aim_m == FOOT_M


@pytest.mark.parametrize(("feet", "borrow"), [(6, EDGE), (10, CUP), (20, FOOT), (30, FOOT)])
@pytest.mark.parametrize("along", [None, Fall.TOWARD, Fall.AWAY])
@pytest.mark.parametrize(("side", "sign"), [(Fall.LEFT_TO_RIGHT, 1), (Fall.RIGHT_TO_LEFT, -1)])
def test_the_told_line_is_the_line_and_its_green_takes_it_into_the_hole(feet, borrow, along, side, sign):
    """The ball rolled along it by ``tests/shared/roll2d.py``, an independent Runge-Kutta, drops."""
    plan = advise(putt(feet, borrow, side, along=along), BAG)
    line = plan.chosen.line
    assert plan.chosen.aim_left_m == pytest.approx(sign * borrow.aim_m, abs=1e-3)
    assert line.told == borrow
    green = green_of(plan.situation, BAG)
    speed, azimuth = np.array([line.speed_m_s]), np.array([line.azimuth_rad])
    rolled = roll2d(speed, azimuth, green.ground, hole=(green.pin_m, 0.0))
    assert rolled.holed.all()


def test_more_break_told_is_more_slope():
    slopes = [
        own_read(complete(putt(15, Borrow(amount=inches, unit=BorrowUnit.INCHES)))[0], BAG).side_slope
        for inches in (2, 4, 8, 16)
    ]
    assert slopes == sorted(slopes)
    assert slopes[-1] > 4 * slopes[0]


def test_the_same_break_takes_less_slope_on_a_quick_green_and_downhill():
    slow, quick = (own_read(complete(putt(15, CUP, stimp_ft=s))[0], BAG).side_slope for s in (8.0, 12.0))
    up, down = (
        own_read(complete(putt(15, CUP, along=fall, along_slope=0.02))[0], BAG).side_slope
        for fall in (Fall.TOWARD, Fall.AWAY)
    )
    assert quick < slow
    assert down < up


@pytest.mark.parametrize("slope", [0.005, 0.01, 0.02, 0.03])
@pytest.mark.parametrize("feet", [6, 15, 30])
def test_a_break_read_off_a_slope_gives_that_slope_back(slope, feet):
    """Round trip: the aim that a slope asks for, told as a borrow at the same pace, is that slope."""
    plan = advise(putt(feet, slope=slope), BAG)
    past_m = plan.chosen.line.past_flat_m
    aim_m = break_left_m(plan.situation, BAG, past_m)
    told = putt(feet, Borrow(amount=aim_m / FOOT_M, unit=BorrowUnit.FEET))
    assert own_read(complete(told)[0], BAG, past_m).side_slope == pytest.approx(slope, rel=0.06)


def test_a_told_read_keeps_the_pace_that_suits_the_slope_told():
    up, down = (advise(putt(12, CUP, along=fall), BAG).chosen for fall in (Fall.TOWARD, Fall.AWAY))
    plain = advise(putt(12, along=Fall.TOWARD, slope=0.01), BAG).chosen
    assert down.pace_m < 12 * FOOT_M < up.pace_m
    assert up.pace_m == pytest.approx(plain.pace_m, rel=0.06)


def test_the_odds_of_a_true_read_are_those_of_the_slope_it_tells():
    plan = advise(putt(12, CUP), BAG)
    slope = plan.situation.green.fall_slope
    same = advise(putt(12, slope=slope), BAG).chosen
    assert plan.chosen.make == pytest.approx(same.make, abs=0.03)
    assert plan.chosen.three_putt == pytest.approx(same.three_putt, abs=0.02)
    assert plan.assumed["green.fall_slope"] == pytest.approx(slope, abs=1e-4)


def test_straight_told_is_straight_whatever_the_slope_along():
    plan = advise(putt(10, STRAIGHT, side=None, along=Fall.AWAY), BAG)
    assert plan.chosen.aim_left_m == 0
    assert clue(putt(10, STRAIGHT, side=None, along=Fall.AWAY)) != "Which side of the hole is higher?"


def test_a_foot_of_borrow_in_three_feet_is_doubted_in_one_line():
    plan = advise(putt(3, FOOT), BAG)
    assert plan.reasons[0].startswith("No hole is cut on a slope that breaks that much")
    assert plan.chosen.line.told is None
    assert 0 < plan.chosen.aim_left_m < FOOT_M
    assert "\n" not in plan.reasons[0]


def test_a_slope_and_a_break_that_disagree_are_told_and_the_read_is_trusted():
    plan = advise(putt(12, CUP, slope=0.03), BAG)
    assert plan.reasons[0].startswith("At 3% it would break more than that")
    assert plan.chosen.aim_left_m == pytest.approx(CUP.aim_m, abs=1e-3)
    agreed = advise(putt(12, CUP, slope=0.009), BAG)
    assert not any("I trust your read" in reason for reason in agreed.reasons)


def test_what_was_told_is_not_asked_for_again():
    for situation in (putt(6, EDGE), putt(15, CUP), putt(30, FOOT, along=Fall.TOWARD, along_slope=0.02)):
        asked = clue(situation)
        assert asked is None or ("side" not in asked and "higher" not in asked)
    ridge = putt(40, None, hazards=(Hazard(kind=HazardKind.RIDGE, side=Side.SHORT),))
    assert clue(ridge) != "Is it uphill or downhill?"


def test_an_amount_without_a_side_asks_for_the_side():
    assert clue(putt(20, CUP, side=None)) == "Which side of the hole is higher?"


def test_a_tier_goes_the_way_it_was_said_and_a_silent_one_the_way_of_the_putt():
    def pace(side, along=None):
        tier = Hazard(kind=HazardKind.TIER, side=side)
        return advise(putt(30, None, side=None, along=along, along_slope=0.01, hazards=(tier,)), BAG)

    up, down = pace(Side.SHORT), pace(Side.LONG)
    assert down.chosen.pace_m < 30 * FOOT_M < up.chosen.pace_m
    assert pace(None, Fall.AWAY).chosen.pace_m < 30 * FOOT_M < pace(None, Fall.TOWARD).chosen.pace_m
    assert up.assumed["hazards.tier.height_m"] == pytest.approx(0.45)


def test_a_ridge_gives_back_what_it_takes():
    """Rolling without slip, height costs the same energy that it gives: the pace is that of the level putt."""
    ridge = advise(putt(40, None, side=None, hazards=(Hazard(kind=HazardKind.RIDGE, side=Side.SHORT),)), BAG)
    level = advise(putt(40, None, side=None), BAG)
    assert ridge.chosen.pace_m == pytest.approx(level.chosen.pace_m, rel=0.05)
    assert any("top the crest" in reason for reason in ridge.reasons)
    assert ridge.assumed["hazards.ridge.height_m"] == pytest.approx(0.25)


def test_a_putt_with_no_read_told_is_as_it_was():
    situation = complete(putt(15, slope=0.02))[0]
    assert as_read(situation, BAG) == situation
    aim = advise(putt(15, slope=0.02), BAG).chosen
    assert aim.line.told is None
    assert math.isfinite(aim.aim_left_m)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_break_on_a_part_of_the_way_is_that_part_of_the_whole(share):
    def left_m(break_part):
        green = Green(fall=Fall.RIGHT_TO_LEFT, fall_slope=0.02, break_part=break_part)
        return advise(Situation(pin_m=6.0, lie=Lie.GREEN, green=green), BAG).chosen.aim_left_m

    assert left_m(share) == pytest.approx(share * left_m(None), abs=0.06)
