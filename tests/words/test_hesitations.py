"""Guesses and sounds of thinking."""

from collections.abc import Callable

import pytest

from caddie.words.hesitations import guesses_marked, hesitations_judged
from caddie.words.quantities import Piece

Pieces = Callable[[str], list[Piece]]


@pytest.mark.parametrize(
    "text", ["call it seventy", "seventy to the flag, or thereabouts", "60 out, give or take"]
)
def test_a_guess_makes_its_number_rough(pieces_of: Pieces, text: str) -> None:
    [number] = [piece.quantity for piece in guesses_marked(pieces_of(text)) if piece.quantity is not None]
    assert number.approximate


@pytest.mark.parametrize(
    ("text", "corrects"),
    [
        ("54 yards er 45", True),
        ("bunker left, er, right", True),
        ("the flag is, um, at the back", False),
        ("sixty yards, er, rough", False),
        ("sixty um five yards", False),
        ("fifty, er, 120 yards", False),
    ],
)
def test_a_sound_of_thinking_corrects_only_between_like_things(
    pieces_of: Pieces, text: str, corrects: bool
) -> None:
    said = [piece.text for piece in hesitations_judged(pieces_of(text))]
    assert ("CORRECTION" in said) is corrects
    assert "hesitation" not in said
