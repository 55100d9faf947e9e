"""Guesses and sounds of thinking."""

from collections.abc import Callable

import pytest

from caddie.words.hesitations import afterthoughts_led, guesses_marked, hesitations_judged
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
        ("two metres above me, hmm, three metres", True),
        ("two metres above me, hmm, forty metres", False),
    ],
)
def test_a_sound_of_thinking_corrects_only_between_like_things(
    pieces_of: Pieces, text: str, corrects: bool
) -> None:
    said = [piece.text for piece in hesitations_judged(pieces_of(text))]
    assert ("CORRECTION" in said) is corrects
    assert "hesitation" not in said


@pytest.mark.parametrize(
    ("text", "led"),
    [
        ("in the rough, the fairway rather", True),
        ("bunker on the left, on the right I should say", True),
        ("70 yards, in fact in the rough, 50 to the front", False),
        ("bunker left, seventy yards sorry", False),
        ("it's rather wet, seventy yards", False),
    ],
)
def test_what_takes_back_behind_its_clause_is_put_before_it(pieces_of: Pieces, text: str, led: bool) -> None:
    said = [piece.text for piece in afterthoughts_led(pieces_of(text))]
    assert ("CORRECTION" in said and said[-1] != "CORRECTION") is led
