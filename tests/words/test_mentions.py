"""Typed mentions found in pieces."""

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.mentions import Mention, finder
from caddie.words.quantities import Piece

Pieces = Callable[[str], list[Piece]]
SAID = "seventy yards|to the flag|bunker|short|,|into the wind|thick rough|holed it|pin at the back|no|why".split(
    "|"
)


def facts(pieces: list[Piece]) -> list[Mention]:
    return finder().find(pieces)["facts"]


def test_the_longest_phrase_counts(pieces_of: Pieces) -> None:
    (short,) = [m.get("lie") for m in facts(pieces_of("rough"))]
    (long,) = [m.get("lie") for m in facts(pieces_of("thick rough"))]
    assert (short, long) == ("light_rough", "heavy_rough")


def test_a_phrase_does_not_go_across_a_pause(pieces_of: Pieces) -> None:
    assert any("distance" in m for m in facts(pieces_of("70 to the flag")))
    assert not any("distance" in m for m in facts(pieces_of("70, to the flag")))


@pytest.mark.parametrize(
    ("text", "key", "found"),
    [
        ("70 yards to the flag", "distance", True),
        ("70 mph to the flag", "distance", False),
        ("stimp 11", "stimp", True),
        ("stimp 11 yards", "stimp", False),
        ("wind from two o'clock", "wind_clock", True),
        ("wind from two yards", "wind_clock", False),
    ],
)
def test_a_number_has_to_be_counted_in_what_is_asked_for(
    pieces_of: Pieces, text: str, key: str, found: bool
) -> None:
    assert any(key in mention for mention in facts(pieces_of(text))) is found


def test_a_mention_tells_its_number_and_its_trouble(pieces_of: Pieces) -> None:
    pieces = pieces_of("40 to carry the bunker")
    (mention,) = [m for m in facts(pieces) if "distance" in m]
    assert mention.quantity is not None and mention.quantity.low == 40
    assert mention.quantity_at is not None and pieces[mention.quantity_at].text == "#"
    assert mention.trouble_at is not None and pieces[mention.trouble_at].text == "BUNKER"


@given(st.lists(st.sampled_from(SAID), max_size=8).map(" ".join))
def test_mentions_stand_in_order_and_none_overlap(pieces_of: Pieces, text: str) -> None:
    pieces = pieces_of(text)
    for found in finder().find(pieces).values():
        for mention in found:
            assert 0 <= mention.start < mention.end <= len(pieces)
            assert not any(piece.after_break for piece in pieces[mention.start + 1 : mention.end])
        for first, second in pairwise(found):
            assert first.end <= second.start


def test_nothing_is_found_in_nothing() -> None:
    assert not any(finder().find([]).values())
