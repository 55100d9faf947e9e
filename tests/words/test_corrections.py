"""What is taken back, denied or said as a range."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.corrections import settle
from caddie.words.quantities import Piece
from caddie.words.scene import Scene

Pieces = Callable[[str], list[Piece]]
Scenes = Callable[[str], Scene]
Span = tuple[float, float, str | None]


def numbers(pieces: list[Piece]) -> list[Span]:
    return [(p.quantity.low, p.quantity.high, p.quantity.unit) for p in pieces if p.quantity is not None]


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("sixty to sixty-five yards", [(60, 65, "yards")]),
        ("between forty and fifty", [(40, 50, None)]),
        ("seventy or seventy five", [(70, 75, None)]),
        ("seventy, no, sixty-five", [(65, 65, None)]),
        ("seventy yards, sorry, sixty-five", [(65, 65, "yards")]),
        ("fifty, not sixty yards", [(50, 50, "yards")]),
        ("a hundred less five yards", [(95, 95, "yards")]),
        ("forty yards, ten on", [(40, 40, "yards"), (10, 10, None)]),
        ("ten to ninety yards", [(10, 10, None), (90, 90, "yards")]),
    ],
)
def test_numbers_settled(pieces_of: Pieces, text: str, left: list[Span]) -> None:
    assert numbers(settle(pieces_of(text))) == left


@given(st.integers(1, 120), st.integers(1, 120), st.sampled_from([", no, ", ", sorry, ", ", make that "]))
def test_the_last_of_two_numbers_stays(pieces_of: Pieces, first: int, second: int, joint: str) -> None:
    assert numbers(settle(pieces_of(f"{first} yards{joint}{second}"))) == [(second, second, "yards")]


@given(st.integers(20, 90), st.integers(1, 25))
def test_a_range_is_rising_and_narrow(pieces_of: Pieces, low: int, width: int) -> None:
    assert numbers(settle(pieces_of(f"{low} to {low + width} yards"))) == [(low, low + width, "yards")]
    assert len(numbers(settle(pieces_of(f"{low + width} to {low} yards")))) == 2


@given(st.lists(st.integers(1, 120), min_size=3, max_size=3, unique=True).map(sorted))
def test_three_rising_numbers_are_front_middle_and_back(pieces_of: Pieces, values: list[int]) -> None:
    said = [piece.text for piece in settle(pieces_of(" ".join(map(str, values))))]
    assert said == ["front", "#", "middle", "#", "back", "#"]


@given(
    st.lists(
        st.sampled_from(["sixty", "70 yards", ",", "no", "to", "sorry", "or", "not", "bunker"]), max_size=7
    )
)
def test_settled_once_is_settled(pieces_of: Pieces, words: list[str]) -> None:
    once = settle(pieces_of(" ".join(words)))
    assert settle(once) == once


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
    "text", ["no bunkers", "without a bunker", "not a bunker", "no water or bunker", "never a bunker"]
)
def test_what_is_denied_is_marked(scene_of: Scenes, text: str) -> None:
    scene = scene_of(text)
    named = {at for at in range(len(scene.pieces)) if scene.is_trouble(at)}
    assert named
    assert named <= scene.denied


@pytest.mark.parametrize("text", ["no, bunker left", "bunker left", "fifty, no, sixty, bunker left"])
def test_a_no_before_a_pause_denies_nothing_behind_it(scene_of: Scenes, text: str) -> None:
    scene = scene_of(text)
    assert not any(scene.is_trouble(at) for at in scene.denied)


def test_a_wind_denied_is_a_calm(scene_of: Scenes) -> None:
    assert scene_of("70 yards without any wind").wind_denied
    assert not scene_of("no bunker, wind behind").wind_denied
