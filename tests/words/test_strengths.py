"""How much of what an adjective says is passed over, for all adjectives alike."""

import pytest

from caddie.words.grammar import grammar
from caddie.words.spelling import tokens
from caddie.words.strengths import toned_down


def toned(text: str) -> str:
    """Pauses as commas."""
    said = (
        (", " if token.after_break else " ") + token.text for token in toned_down(tokens(text), grammar())
    )
    return "".join(said).strip(" ,")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("in some right thick rough", "in some thick rough"),
        ("in the deepest, darkest rough", "in the deep dark rough"),
        ("the lightest of breezes", "the light breezes"),
        ("wettest grass", "wet grass"),
        ("a sort of hollow", "a hollow"),
        ("the ball is kind of lower than my feet", "the ball is lower than my feet"),
        ("sunk way down in it", "sunk down in it"),
    ],
)
def test_degrees_are_passed_over(text: str, plain: str) -> None:
    assert toned(text) == plain


@pytest.mark.parametrize(
    "text",
    [
        "bunker on the right thick rough left",
        "what sort of lie is that",
        "the ball is way below my feet",
        "all the way down",
        "wet, deep rough",
    ],
)
def test_what_tells_something_stays(text: str) -> None:
    assert toned(text) == " ".join(text.split())
