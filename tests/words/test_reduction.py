"""A text reduced to pieces: phrases found longest first, what carries no fact passed over."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.quantities import Piece
from caddie.words.reduction import Phrases, reducer
from caddie.words.templates import parse

Pieces = Callable[[str], list[Piece]]
PHRASES = st.lists(st.sampled_from("abc"), min_size=1, max_size=4).map(tuple)


@given(st.dictionaries(PHRASES, st.integers(), max_size=8), st.lists(st.sampled_from("abcd"), max_size=8))
def test_the_longest_phrase_is_found(phrases: dict[tuple[str, ...], int], words: list[str]) -> None:
    found = Phrases(phrases)
    for at in range(len(words)):
        there = [phrase for phrase in phrases if tuple(words[at : at + len(phrase)]) == phrase]
        longest = max(there, key=len, default=None)
        assert found.at(words, at) == (None if longest is None else (len(longest), phrases[longest]))
        assert found.begins(words[at]) >= bool(there)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("um, seventy yards please", "seventy yards"),
        ("fair way, 70 yards", "fairway, 70 yards"),
        ("up the hill", "uphill"),
        ("er, forty yards, you know", "40 yards"),
        ("the stick is at the back", "the flag is at the back"),
        ("pw", "pitching wedge"),
    ],
)
def test_two_ways_to_say_the_same_are_the_same_pieces(pieces_of: Pieces, text: str, said: str) -> None:
    plain = [(piece.text, piece.quantity, piece.value) for piece in pieces_of(said)]
    assert [(piece.text, piece.quantity, piece.value) for piece in pieces_of(text)] == plain


@pytest.mark.parametrize(
    ("text", "name", "value"),
    [("gap wedge", "CLUB", "gap wedge"), ("the trap", "BUNKER", None), ("the stick", "FLAG", None)],
)
def test_a_thing_goes_by_one_name(pieces_of: Pieces, text: str, name: str, value: str | None) -> None:
    (piece,) = pieces_of(text)
    assert (piece.text, piece.value) == (name, value)


def test_a_number_in_a_clubs_name_is_kept(pieces_of: Pieces) -> None:
    (piece,) = pieces_of("9 iron")
    assert piece.text == "CLUB"
    assert piece.quantity is not None and piece.quantity.low == 9


def test_a_name_does_not_go_across_a_pause(pieces_of: Pieces) -> None:
    assert [piece.text for piece in pieces_of("pitching wedge")] == ["CLUB"]
    assert [piece.text for piece in pieces_of("pitching, wedge")] != ["CLUB"]


def test_a_pause_moves_on_to_what_is_kept(pieces_of: Pieces) -> None:
    pieces = pieces_of("fairway, um, 70 yards")
    assert [(piece.text, piece.after_break) for piece in pieces] == [
        ("fairway", False),
        ("hesitation", True),
        ("#", True),
    ]


def test_roughly_marks_the_number_it_stands_by(pieces_of: Pieces) -> None:
    (about,) = pieces_of("58 yards or so")
    assert about.quantity is not None and about.quantity.approximate
    assert [piece.text for piece in pieces_of("58 or 54")] == ["#", "or", "#"]


@pytest.mark.parametrize(
    ("template", "text"),
    [
        ("{distance} to the {flag}", "seventy yards to the stick"),
        ("in the (thick|deep) rough", "in the deep rough"),
        ("up the hill", "up the hill"),
        ("{distance} [to] (carry|clear) the {bunker}", "40 to clear the trap"),
    ],
)
def test_a_template_is_reduced_like_a_text_that_says_it(pieces_of: Pieces, template: str, text: str) -> None:
    assert [piece.text for piece in pieces_of(text)] in list(reducer().patterns(parse(template)))
