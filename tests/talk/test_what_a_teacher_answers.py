"""Whole turns as a teacher would answer them (common practice, no source): the aim with its reason, the shot asked
for, a carry asked about, a read that is not asked for twice."""

import re

import pytest

from caddie.bag import load_bag
from caddie.talk.conversation import Conversation


def told(text: str) -> str:
    return Conversation(load_bag()).turn(text).spoken


@pytest.mark.parametrize(
    ("said", "aim"),
    [
        ("seventy-five yards, fairway, water down the right, flag on the right", "left, away from the water"),
        (
            "eighty-five yards, fairway, pin on the left, out of bounds on the left",
            "right, away from out of bounds",
        ),
        ("a hundred yards, fairway, wind from the left, twelve miles an hour", "left, (.* )?for the wind"),
        ("fifty yards, ball below my feet, light rough", "left, for the slope"),
        ("thirty yards, fairway, green breaks right to left", "right, for the break"),
        ("sixty yards, fairway, pin on the right, right is dead, it's a ditch", "left, away from the ditch"),
    ],
)
def test_an_aim_beside_the_flag_is_said_with_its_reason(said: str, aim: str) -> None:
    assert re.search(rf"Aim .* {aim}", told(said))


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("trouble", ["water", "bunker", "out of bounds"])
@pytest.mark.parametrize("more", ["", ", wind from the left", ", ball above my feet", ", first cut"])
def test_trouble_at_a_side_is_always_named(side: str, trouble: str, more: str) -> None:
    said = told(f"seventy-eight yards, fairway, flag in the middle, {trouble} {side}{more}")
    assert trouble in said.lower()
    assert len(said.split()) <= 30


@pytest.mark.parametrize(
    ("said", "shot"),
    [
        ("bump and run maybe? twenty-six yards, fairway, nothing in the way", "iron"),
        ("I'd putt it from here, eighteen yards, eleven to the green, dry fairway", "Putter"),
        ("texas wedge, twenty yards, twelve to the green, bare ground", "Putter"),
        ("I fancy a flop, twelve yards, rough, four paces of green", "face open"),
    ],
)
def test_the_shot_asked_for_is_advised_on(said: str, shot: str) -> None:
    assert shot in told(said)


def test_a_shot_asked_for_that_does_not_go_is_refused_and_another_told() -> None:
    said = told("putter from here? heavy rough, fourteen yards, three to the green")
    assert said.startswith("No putter from there") and "Land it" in said


@pytest.mark.parametrize(
    ("said", "answer"),
    [
        ("can I carry ninety over the water, flag at one hundred, fairway", "Yes"),
        ("can I clear the bunker, it's forty to carry, pin at sixty, fairway", "Yes"),
        ("can I carry it, one hundred and four over the pond, pin at one-ten, fairway", "Yes"),
    ],
)
def test_a_carry_asked_about_is_answered_with_the_club(said: str, answer: str) -> None:
    spoken = told(said)
    assert spoken.startswith(answer)
    assert re.search(r"wedge|iron|[Ff]ifty", spoken)


@pytest.mark.parametrize(
    "said",
    ["three-footer, left edge, uphill", "four-footer, right edge, downhill", "ten feet, flat, left edge"],
)
def test_a_read_that_was_told_is_not_asked_for(said: str) -> None:
    assert not told(said).endswith("?")


@pytest.mark.parametrize(
    "said", ["fifteen feet, breaks right to left, flat", "twelve feet, left to right, level"]
)
def test_of_a_side_without_an_amount_the_amount_is_asked(said: str) -> None:
    assert "side slope" in told(said) and "uphill" not in told(said)


@pytest.mark.parametrize(
    "said", ["six feet, two cups of break, downhill", "six feet, a cup of break, uphill"]
)
def test_a_break_without_its_side_is_given_no_line_but_asked_for_the_side(said: str) -> None:
    spoken = told(said)
    assert "of break: which side" in spoken and "Straight" not in spoken


def test_down_a_tier_a_break_is_that_of_the_lower_level_and_two_breaks_come_back_towards_the_middle() -> None:
    assert re.search(
        r"Start it (two|three|four)( and a half)? feet left",
        told("forty feet, it goes down a tier halfway and then breaks right"),
    )
    assert re.search(
        r"Start it (a|two) cups? outside the right",
        told("double breaker, twenty-eight feet, left to right first, then right to left, downhill"),
    )
