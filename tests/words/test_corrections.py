"""What is taken back in the same breath."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.corrections import put_right
from caddie.words.quantities import Piece
from caddie.words.scene import Scene

Pieces = Callable[[str], list[Piece]]
Scenes = Callable[[str], Scene]


@given(
    st.integers(1, 120),
    st.integers(1, 120),
    st.sampled_from([", no, ", ", sorry, ", ", make that ", " no ", " I mean ", " actually "]),
)
def test_the_last_of_two_numbers_stays(pieces_of: Pieces, first: int, second: int, joint: str) -> None:
    [piece] = put_right(pieces_of(f"{first} yards{joint}{second}"))
    assert piece.quantity is not None
    assert (piece.quantity.low, piece.quantity.unit) == (second, "yards")


@pytest.mark.parametrize(
    ("text", "plainly"),
    [
        ("front 50, sorry, 55, fairway", "front 55, fairway"),
        ("bunker left, no, the right", "bunker right"),
        ("seventy to the front, I mean to the flag", "seventy to the flag"),
        ("wind from the left, sorry, the right", "wind from the right"),
        ("twenty feet uphill, wait, downhill", "twenty feet downhill"),
        ("62, sorry, I looked at the wrong flag, 57", "57"),
        ("54 yards er 45, light rough", "45 yards, light rough"),
        ("in the bunker, no wait I'm not, on the fringe", "on the fringe"),
        ("the flag's 60, no the front's 60 and the flag's 68", "the front's 60 and the flag's 68"),
    ],
)
def test_the_later_words_stand_where_the_earlier_stood(pieces_of: Pieces, text: str, plainly: str) -> None:
    def told(pieces: list[Piece]) -> list[tuple[str, float | None, str | None]]:
        return [(p.text, p.quantity and p.quantity.low, p.quantity and p.quantity.unit) for p in pieces]

    assert told(put_right(pieces_of(text))) == told(pieces_of(plainly))


@pytest.mark.parametrize(
    "text",
    ["no bunkers", "bunker left, hang on, water left as well", "sorry, 60", "pin back, actually wind behind"],
)
def test_what_takes_nothing_back_stays(pieces_of: Pieces, text: str) -> None:
    assert put_right(pieces_of(text)) == pieces_of(text)


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [
        ("fairway, I mean fringe", "lie", "fringe"),
        ("I'm in the rough, no hang on I'm not, it's on the fringe", "lie", "fringe"),
        ("not in the rough, on the fringe", "lie", "fringe"),
        ("uphill, I mean downhill lie", "stance", "downhill"),
        ("wind from the left, sorry the right", "wind_from", "right"),
        ("pin front, no, back", "where", "back"),
    ],
)
def test_of_two_facts_the_last_stays(scene_of: Scenes, text: str, key: str, value: str) -> None:
    assert [mention.get(key) for mention in scene_of(text).having(key)] == [value]


@pytest.mark.parametrize(
    ("text", "plainly"),
    [
        ("sixty yards, I mean metres", "sixty metres"),
        ("slow greens, no fast", "fast greens"),
        ("ten feet above me, sorry, five feet below me", "five feet below me"),
        ("wind ten mph, no, fifteen mph", "wind fifteen mph"),
        (
            "eighty metres, hang on, that's to the back, seventy to the flag",
            "eighty metres to the back, 70 to the flag",
        ),
    ],
)
def test_whatever_tells_the_same_may_be_put_right(scene_of: Scenes, text: str, plainly: str) -> None:
    def told(scene: Scene) -> list[object]:
        return [(mention.readings, mention.quantity and mention.quantity.low) for mention in scene.facts]

    assert told(scene_of(text)) == told(scene_of(plainly))


def test_a_long_row_of_corrections_ends(pieces_of: Pieces) -> None:
    assert put_right(pieces_of("seventy no " * 40)) != []
