"""Clues: which one would help most, and what is done when two disagree."""

import pytest
from scenarios import putter_bag

from caddie.plan.choose import advise
from caddie.plan.putt.clue import as_said, telling_clue
from caddie.plan.putt.green import disagreement, falls, settle_clues
from caddie.situation import Fall, Green, Lie, Situation
from caddie.units import FOOT_M

BAG = putter_bag()


def putt(feet, elevation_m=None, **green):
    return Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=Green(**green), elevation_m=elevation_m)


def clue(situation):
    return telling_clue(situation, advise(situation, BAG), BAG)


def test_a_bare_length_is_asked_which_side_is_higher_or_which_way_is_up():
    assert clue(putt(6)) == "Which side of the hole is higher?"
    assert clue(putt(40)) == "Is it uphill or downhill?"


def test_nothing_is_asked_when_everything_is_known():
    known = putt(
        15,
        fall=Fall.AWAY,
        fall_slope=0.02,
        side_fall=Fall.LEFT_TO_RIGHT,
        side_slope=0.02,
        stimp_ft=10.0,
    )
    assert clue(known) is None


def test_a_flat_putt_is_not_asked_about_its_slope():
    assert clue(putt(10, fall_slope=0.0, stimp_ft=10.0)) is None


def test_a_break_of_unknown_steepness_is_asked_for():
    situation = putt(15, fall=Fall.LEFT_TO_RIGHT, side_fall=Fall.TOWARD, side_slope=0.01, stimp_ft=11.0)
    assert clue(situation) == "How steep is that side slope: slight, clear or severe?"


@pytest.mark.parametrize("feet", [5, 15, 40])
def test_questions_take_one_breath(feet):
    for situation in (putt(feet), putt(feet, fall=Fall.AWAY), putt(feet, fall=Fall.RIGHT_TO_LEFT)):
        question = clue(situation)
        assert question is None or (len(question.split()) <= 10 and question.endswith("?"))


def test_as_said_takes_the_assumptions_out():
    said = putt(15, fall=Fall.LEFT_TO_RIGHT)
    assert as_said(advise(said, BAG)).green == said.green


def test_no_clue_is_asked_off_the_green():
    plan = advise(putt(15), BAG)
    assert telling_clue(Situation(pin_m=10.0, lie=Lie.FRINGE), plan, BAG) is None


def test_two_falls_on_one_axis_disagree_and_the_first_is_trusted():
    both = putt(12, fall=Fall.LEFT_TO_RIGHT, fall_slope=0.02, side_fall=Fall.RIGHT_TO_LEFT, side_slope=0.03)
    assert disagreement(both) == (
        "You said both left to right and right to left: I trust left to right, which came first."
    )
    plan = advise(both, BAG)
    assert plan.chosen.aim_left_m > 0
    assert disagreement(both) in plan.reasons


def test_two_slopes_for_one_fall_disagree():
    twice = putt(12, fall=Fall.AWAY, fall_slope=0.04, side_fall=Fall.AWAY, side_slope=0.01)
    assert "I trust the first, 4%" in disagreement(twice)
    assert falls(settle_clues(twice))["along"] == (Fall.AWAY, 0.04)


def test_a_height_difference_against_the_fall_disagrees():
    against = putt(20, elevation_m=0.2, fall=Fall.AWAY, fall_slope=0.02)
    assert disagreement(against).startswith("You said downhill, yet the hole lies above the ball")


def test_a_height_difference_alone_is_a_slope():
    climbs = putt(20, elevation_m=0.12)
    assert falls(settle_clues(climbs))["along"][0] is Fall.TOWARD
    assert advise(climbs, BAG).chosen.pace_m > 1.1 * 20 * FOOT_M


def test_clues_that_agree_say_nothing():
    assert disagreement(putt(12, fall=Fall.AWAY, side_fall=Fall.LEFT_TO_RIGHT)) is None
    assert disagreement(putt(12)) is None
