"""Roundabout ways put plainly, whatever they are told of."""

from collections.abc import Callable

import pytest

from caddie.words.frames import plainly_put
from caddie.words.quantities import Piece

Pieces = Callable[[str], list[Piece]]


def put(pieces: list[Piece]) -> str:
    """Pauses as commas."""
    words = ((", " if piece.after_break else " ") + piece.text for piece in plainly_put(pieces))
    return "".join(words).strip(" ,")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("front edge distance is 51", "front edge #"),
        ("the pin yardage reads 64", "FLAG #"),
        ("the bunker comes up at 30", "BUNKER #"),
        ("to the front it's 55", "# to front"),
        ("distance to the hole: 35", "# to FLAG"),
        ("22 metres, the first nine of which get me to the edge", "#, # to edge"),
        ("of which only the last six are green", "# of GREEN"),
        ("a minimum of 22 metres is required to clear it", "# to clear it"),
        ("green four metres below where I'm standing", "GREEN # below me"),
        ("it wanders off to the right", "it breaks to right"),
    ],
)
def test_a_frame_leaves_what_it_goes_round(pieces_of: Pieces, text: str, plain: str) -> None:
    assert put(pieces_of(text)) == plain


def test_a_pause_inside_parts_a_frame_unless_it_may_stand_there(pieces_of: Pieces) -> None:
    assert put(pieces_of("it wanders off, to the right")) == "it wanders off, to right"
    assert put(pieces_of("six metres behind the edge, pin's there")) == "FLAG # past front"


def test_the_number_of_a_frame_keeps_its_unit(pieces_of: Pieces) -> None:
    number = next(p.quantity for p in plainly_put(pieces_of("to the front it's 55 metres")) if p.quantity)
    assert (number.middle, number.unit) == (55, "metres")
