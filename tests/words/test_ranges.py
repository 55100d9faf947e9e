"""Two numbers that tell one length."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.quantities import Piece
from caddie.words.ranges import settle

Pieces = Callable[[str], list[Piece]]
Span = tuple[float, float, str | None]


def numbers(pieces: list[Piece]) -> list[Span]:
    return [(p.quantity.low, p.quantity.high, p.quantity.unit) for p in pieces if p.quantity is not None]


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("sixty to sixty-five yards", [(60, 65, "yards")]),
        ("between forty and fifty", [(40, 50, None)]),
        ("seventy or seventy five", [(70, 75, None)]),
        ("fifty, not sixty yards", [(50, 50, "yards")]),
        ("a hundred less five yards", [(95, 95, "yards")]),
        ("five short of seventy", [(65, 65, None)]),
        ("five yards inside the hundred", [(95, 95, "yards")]),
        ("two more than fifty metres", [(52, 52, "metres")]),
        ("ten short of twelve", [(10, 10, None), (12, 12, None)]),
        ("about twelve feet, maybe thirteen", [(12, 13, "feet")]),
        ("thirty, thirty-three if I'm honest", [(33, 33, None)]),
        ("forty yards, ten on", [(40, 40, "yards"), (10, 10, None)]),
        ("ten to ninety yards", [(10, 10, None), (90, 90, "yards")]),
    ],
)
def test_numbers_settled(pieces_of: Pieces, text: str, left: list[Span]) -> None:
    assert numbers(settle(pieces_of(text))) == left


@given(st.integers(20, 90), st.integers(1, 25))
def test_a_range_is_rising_and_narrow(pieces_of: Pieces, low: int, width: int) -> None:
    assert numbers(settle(pieces_of(f"{low} to {low + width} yards"))) == [(low, low + width, "yards")]
    assert len(numbers(settle(pieces_of(f"{low + width} to {low} yards")))) == 2


@given(
    st.lists(
        st.sampled_from(["sixty", "70 yards", ",", "no", "to", "sorry", "or", "not", "bunker"]), max_size=7
    )
)
def test_settled_once_is_settled(pieces_of: Pieces, words: list[str]) -> None:
    once = settle(pieces_of(" ".join(words)))
    assert settle(once) == once
