"""What the player wants, read by itself."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.intents import LONE_NUMBER, Evidence, corrects, whole_intent
from caddie.words.quantities import Piece
from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]
Pieces = Callable[[str], list[Piece]]
POINTS = st.floats(0, 5)


@pytest.mark.parametrize(
    ("text", "intent"),
    [
        ("yes", "yes"),
        ("no thanks", "no"),
        ("say that again", "repeat"),
        ("thanks, next hole", "next_hole"),
        ("good morning, what can I say", "help"),
        ("seventy yards", None),
        ("yes, seventy yards", None),
        ("hello, I'm in the bunker", None),
    ],
)
def test_a_phrase_counts_when_it_is_all_that_was_said(
    scene_of: Scenes, text: str, intent: str | None
) -> None:
    assert whole_intent(scene_of(text)) == intent


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("no, fifty", "#"),
        ("sorry, the rough", "rough"),
        ("not thirty, forty", "#"),
        ("no no, fifty", "#"),
        ("fifty", None),
        ("no bunker left", None),
        ("no", None),
    ],
)
def test_how_a_correction_begins(pieces_of: Pieces, text: str, rest: str | None) -> None:
    correcting, left = corrects(pieces_of(text))
    assert correcting is (rest is not None)
    assert [piece.text for piece in left] == ([rest] if rest else [piece.text for piece in pieces_of(text)])


@given(POINTS, POINTS, POINTS, POINTS)
def test_more_for_a_shot_never_makes_it_other_talk(
    shot: float, named: float, strange: float, elsewhere: float
) -> None:
    evidence = Evidence(shot, named, strange, elsewhere)
    if evidence.is_ours:
        assert replace(evidence, shot=shot + 1).is_ours
        assert replace(evidence, named=named + 1).is_ours
    else:
        assert not replace(evidence, strange=strange + 1).is_ours
        assert not replace(evidence, elsewhere=elsewhere + 1).is_ours


def test_nothing_told_is_about_no_shot_and_a_number_alone_is() -> None:
    assert not Evidence(0, 0, 0, 0).is_ours
    assert Evidence(LONE_NUMBER, 0, 0, 0, besides=0).is_ours
    assert not Evidence(LONE_NUMBER, 0, 0, 0, besides=1).is_ours
