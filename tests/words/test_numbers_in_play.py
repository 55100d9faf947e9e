"""What says of a number that it is how far the flag is, an age, or a pace that is only supposed."""

import pytest

from caddie.words.carry_told import without_carry
from caddie.words.numbers_in_play import ages_said_so, says_how_far, supposes_pace


@pytest.mark.parametrize(
    "text",
    [
        "it's forty-five",
        "call it forty",
        "make that 35",
        "I'm thirty off now",
        "the laser says 84",
        "thirty-eight to the pin",
        "no, sorry, fifty",
        "more like it's about a good sixty",
        "I paced it at twenty",
        "eighteen footer",
    ],
)
def test_said_of_the_flag(text: str) -> None:
    assert says_how_far(text)


@pytest.mark.parametrize(
    "text",
    [
        "I need a four here",
        "I've two putted the last three",
        "fifty-six",
        "into the wind, fifteen",
        "I'm seventy-four, love",
        "one in six is too much",
        "it's two up with three to play",
    ],
)
def test_not_said_of_the_flag(text: str) -> None:
    assert not says_how_far(text)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("I'm seventy-four, love", "I'm seventy-four years old, love"),
        ("I turned eighty and it shows", "I turned eighty years old and it shows"),
        ("at sixty-eight I can't get it up", "at sixty-eight years old I can't get it up"),
        ("I'm fifty off the green", "I'm fifty off the green"),
        ("I'm seventy-four yards out", "I'm seventy-four yards out"),
        ("I'm sixty years old", "I'm sixty years old"),
        ("I'm three over", "I'm three over"),
    ],
)
def test_ages(text: str, meant: str) -> None:
    assert ages_said_so(text, lambda number: False) == meant


def test_a_number_that_may_be_how_far_is_an_age_where_other_words_tell_of_one() -> None:
    assert ages_said_so("I'm forty", lambda number: True) == "I'm forty"
    assert ages_said_so("I'm forty, bad hip", lambda number: True) == "I'm forty years old, bad hip"


@pytest.mark.parametrize(
    ("text", "supposed"),
    [
        ("if I roll it two feet past, what's the read?", True),
        ("what would the line be three feet past", True),
        ("with more pace, a foot by", True),
        ("firmer, two feet past?", True),
        ("I hit it firmer, two feet past", False),
        ("two feet past", False),
    ],
)
def test_a_pace_supposed(text: str, supposed: bool) -> None:
    assert supposes_pace(text) is supposed


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("Sixty to the chest goes 46.", "what about 60 degree chest?"),
        ("My 56 to the shoulder flies 80. Any good?", "what about 56 degree shoulder? Any good?"),
        ("a chest high sixty is a 46 shot", "what about 60 degree chest?"),
        ("with the sixty to the hip I get 20", "what about 60 degree hip?"),
        ("my 56 goes 80", ""),
        ("I carry the 54 79 stock at shoulder height", ""),
    ],
)
def test_a_carry_told_in_play_asks_about_its_shot(text: str, asked: str) -> None:
    assert without_carry(text, {56, 60}) == (asked, True)
    assert without_carry(text)[1]
