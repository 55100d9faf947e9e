"""Numbers that are clubs, and those that are lengths."""

import pytest

from caddie.words.carry_told import without_carry
from caddie.words.club_numbers import ClubsKnown, club_numbers
from caddie.words.put_right import put_right_by_value

BAG = ClubsKnown(
    lofts=frozenset({52, 56, 60}),
    irons=frozenset({7, 8, 9}),
    lengths=frozenset({50}),
    named=frozenset({56}),
    in_play=True,
)
"""Three wedges and three irons, a shot of fifty yards in play, the fifty-six advised."""


@pytest.mark.parametrize(
    ("text", "clubs"),
    [
        ("no i said 60 not 56!! 60 w the face wide open", [60, 56, 60]),
        ("so which is it, 52 or 56?", [52, 56]),
        ("52's not in my bag. What do you have for a 56", [52, 56]),
        ("sixty open, came out super soft n plopped on like 6 ft past", [60]),
        ("no, six feet. sixty was my club", [60]),
        ("the 56 or bump an eight iron?", [56]),
        ("sixty, fifty-six or fifty-two?", [60, 56, 52]),
        ("open up the sixty", [60]),
        ("stock 56", [56]),
        ("I've a sixty", [60]),
        ("I don't own a 58", [58]),
        ("I said 56", [56]),
        ("my trusty 60", [60]),
        ("putter or 52", [52]),
        ("only the 60 and the 56 today", [60, 56]),
        ("a soft eight", [8]),
        ("hit the sixty from 60 yards", [60]),
    ],
)
def test_a_number_near_words_of_clubs_is_a_club(text: str, clubs: list[int]) -> None:
    assert [each.number for each in club_numbers(text, BAG)] == clubs


@pytest.mark.parametrize(
    "text",
    [
        "it's sixty out",
        "sixty yards not fifty-six",
        "52 or 56 yards, I can't tell",
        "no, sixty",
        "I said 60 paces",
        "call it 56 to the flag",
        "50 or 52?",
        "fifty-six to the pin, 52 to the front",
        "a 60 footer",
        "60 percent of the time",
        "what about the 56 yards",
    ],
)
def test_a_number_with_what_it_measures_is_a_length(text: str) -> None:
    assert club_numbers(text, BAG) == []


def test_without_a_shot_in_play_only_plain_words_of_clubs_make_one() -> None:
    fresh = ClubsKnown(lofts=BAG.lofts, irons=BAG.irons)
    assert club_numbers("52 or 56", fresh) == []
    assert [each.number for each in club_numbers("30 out, 60 with the face open", fresh)] == [60]


def test_a_club_before_where_it_ended_goes_by_its_name() -> None:
    named = ClubsKnown(lofts=BAG.lofts, irons=BAG.irons, in_play=True, names={56: "sand wedge"})
    assert club_numbers("the fifty-six to six feet", named)[0].said == "sand wedge"


@pytest.mark.parametrize(
    ("text", "new"),
    [
        ("So call it sixteen, not eighteen feet.", 16),
        ("not eighteen, sixteen", 16),
        ("I said sixteen rather than eighteen", 16),
        ("it's 16 not 18", 16),
    ],
)
def test_a_number_takes_the_place_of_the_one_that_was_told(text: str, new: int) -> None:
    found = put_right_by_value(text, lambda told: told == 18)
    assert found is not None
    assert (found.new, found.old) == (new, 18)


def test_a_number_that_was_not_told_is_not_put_right() -> None:
    assert put_right_by_value("sixteen, not eighteen", lambda told: told == 40) is None


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("I carry the 54 79 stock at shoulder height, 52's not mine.", "52's not mine."),
        ("My 56 goes 85 full", ""),
        ("I hit my sand wedge about 90 yards. Forty out", "Forty out"),
        ("the eight iron carries 140", ""),
    ],
)
def test_the_carry_of_an_own_club_is_taken_out(text: str, rest: str) -> None:
    assert without_carry(text) == (rest, True)


@pytest.mark.parametrize(
    "text", ["how far does my 56 go?", "I hit the 56 to six feet", "the 60 goes 20 past the flag"]
)
def test_what_tells_no_carry_stays(text: str) -> None:
    assert without_carry(text) == (text, False)
