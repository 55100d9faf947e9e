"""Pieces put in the order in which the templates say them."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.order import ordered
from caddie.words.quantities import Piece

Pieces = Callable[[str], list[Piece]]
SAID = "seventy yards,|to a back|pin|front|right|up|slopes|slightly|toward me|52|63|bunker|left,|green".split(
    "|"
)


def texts(pieces: list[Piece]) -> str:
    """Pauses as commas."""
    words = ((", " if piece.after_break else " ") + piece.text for piece in pieces)
    return "".join(words).strip(" ,")


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("30 yards to a back pin", "# to FLAG back"),
        ("30 yards to the pin at the back", "# to FLAG at back"),
        ("pin's right up the front", "FLAG up front"),
        ("pin on the right", "FLAG on right"),
        ("slopes slightly back towards me", "slightly slopes back towards me"),
        ("52 front 63 pin", "# front, # FLAG"),
        ("front 52 pin 63", "front #, FLAG #"),
    ],
)
def test_one_order_for_several_ways_to_say_it(pieces_of: Pieces, text: str, order: str) -> None:
    assert texts(ordered(pieces_of(text))) == order


@given(st.lists(st.sampled_from(SAID), max_size=8).map(" ".join))
def test_nothing_is_lost_but_a_right_that_strengthens(pieces_of: Pieces, text: str) -> None:
    before = [piece.text for piece in pieces_of(text)]
    after = [piece.text for piece in ordered(pieces_of(text))]
    assert sorted(word for word in before if word != "right") == sorted(
        word for word in after if word != "right"
    )
    assert after.count("right") <= before.count("right")
    assert [piece.quantity for piece in ordered(pieces_of(text)) if piece.quantity] == [
        piece.quantity for piece in pieces_of(text) if piece.quantity
    ]


@given(st.lists(st.sampled_from(SAID), max_size=8, unique=True).map(" ".join))
def test_what_is_in_order_stays_so(pieces_of: Pieces, text: str) -> None:
    once = ordered(pieces_of(text))
    assert texts(ordered(list(once))) == texts(once)


@given(st.lists(st.integers(1, 120), min_size=3, max_size=3, unique=True).map(sorted))
def test_three_rising_numbers_are_front_middle_and_back(pieces_of: Pieces, values: list[int]) -> None:
    said = [piece.text for piece in ordered(pieces_of(" ".join(map(str, values))))]
    assert said == ["front", "#", "middle", "#", "back", "#"]
