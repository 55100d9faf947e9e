"""What is said and written of a putt."""

import re

import pytest
from scenarios import putter_bag

from caddie.plan.choose import advise
from caddie.reply import speak, write
from caddie.reply.cue import cue_for
from caddie.reply.putt import HOLE_M, line_said, pace_said
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, Situation
from caddie.units import FOOT_M

BAG = putter_bag()


def putt(feet, *hazards, **green):
    return Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=Green(**green), hazards=hazards)


def spoken(situation):
    plan = advise(situation, BAG)
    return speak(plan, BAG, cue_for(plan, BAG))


def written(situation):
    plan = advise(situation, BAG)
    return write(plan, BAG, cue_for(plan, BAG))


SITUATIONS = [
    putt(1),
    putt(12),
    putt(45),
    putt(12, fall=Fall.LEFT_TO_RIGHT),
    putt(75, fall=Fall.AWAY, fall_slope=0.02, side_fall=Fall.RIGHT_TO_LEFT, side_slope=0.03, stimp_ft=11.0),
    putt(149, Hazard(kind=HazardKind.TIER, carry_m=30.0), fall=Fall.TOWARD, side_fall=Fall.LEFT_TO_RIGHT),
    putt(10, fall=Fall.AWAY, fall_slope=0.1, side_fall=Fall.LEFT_TO_RIGHT, side_slope=0.04),
    putt(25, fall=Fall.TOWARD, fall_slope=0.12),
]


@pytest.mark.parametrize("situation", SITUATIONS)
def test_at_most_thirty_words_that_can_be_said_aloud(situation):
    text = spoken(situation)
    assert len(text.split()) <= 30
    assert not re.search(r"[\d%_()]", text)
    assert text.endswith(".")
    assert not re.search(r"\ba (eight|eleven|eighteen)", text)


def test_a_breaking_uphill_putt_as_a_caddie_says_it():
    text = spoken(putt(12, fall=Fall.TOWARD, fall_slope=0.02, side_fall=Fall.LEFT_TO_RIGHT, side_slope=0.02))
    assert text.startswith(
        "Twelve feet, uphill, left to right. Start it two cups outside the left. Roll it as a fifteen-footer."
    )


def test_a_level_putt_as_a_caddie_says_it():
    assert spoken(putt(12)).startswith(
        "Twelve feet. Straight at the middle. Flat pace, to finish a foot past."
    )


def test_too_steep_to_stop_is_said_aloud():
    assert "Too steep to stop: a miss runs" in spoken(putt(10, fall=Fall.LEFT_TO_RIGHT, fall_slope=0.1))


@pytest.mark.parametrize(
    ("cups_left", "said"),
    [
        (0.0, "Straight at the middle"),
        (0.3, "Start it just inside the left edge"),
        (-0.5, "Start it at the right edge"),
        (1.0, "Start it half a cup outside the left"),
        (-1.5, "Start it a cup outside the right"),
        (2.5, "Start it two cups outside the left"),
        (-4.4, "Start it four cups outside the right"),
        (8.5, "Start it three feet left of the hole"),
    ],
)
def test_lines_in_cups_and_feet(cups_left, said):
    assert line_said(cups_left * HOLE_M) == said


@pytest.mark.parametrize(("feet", "article"), [(8, "an eight"), (11, "an eleven"), (14, "a fourteen")])
def test_paces_take_the_right_article(feet, article):
    plan = advise(putt(20), BAG)
    option = plan.chosen.model_copy(update={"pace_m": feet * FOOT_M})
    assert pace_said(option, plan.situation) == f"Roll it as {article}-footer"


def test_the_written_read_has_every_part():
    text = written(putt(15, fall=Fall.LEFT_TO_RIGHT))
    heads = [line.split(":")[0] for line in text.splitlines()[1:]]
    for head in ("Line", "Spot", "Pace", "Odds", "Miss", "Range", "Ask", "Why", "Taken", "Cue"):
        assert head in heads
    assert re.search(r"three putts \d+%", text)
    assert "a pace ahead" in text


def test_what_is_known_is_not_asked_again():
    known = putt(
        15, fall=Fall.AWAY, fall_slope=0.02, side_fall=Fall.LEFT_TO_RIGHT, side_slope=0.02, stimp_ft=10.0
    )
    assert "Ask:" not in written(known)
