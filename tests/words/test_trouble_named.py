"""Trouble has one vocabulary: what tells of it where it is said is what it is asked about by, in any words."""

import pytest

from caddie.situation import HazardKind
from caddie.words import understand
from caddie.words.grammar import Noun, grammar
from caddie.words.templates import expansions
from caddie.words.trouble_named import troubles_named

CAUGHT = (
    "will it go in the {trouble}?",
    "could it end up in the {trouble}?",
    "any chance of it going into the {trouble}?",
)
CLEARED = ("will I clear the {trouble}?", "is that going to carry over the {trouble}?")
"""Common practice, no source."""
IS_NO_NAME = frozenset("runs falls drops slopes rolls feeds kicks everything ball it over out there".split())
"""Ways that begin so tell trouble and are no name of it: "everything runs off"."""


def names(noun: Noun) -> list[str]:
    """The shortest way to name it with each last word."""
    shortest: dict[str, tuple[str, ...]] = {}
    for node in noun.say:
        for words in expansions(node):
            if words[0] not in IS_NO_NAME and not any(word.startswith("{") for word in words):
                before = shortest.get(words[-1])
                shortest[words[-1]] = words if before is None or len(words) < len(before) else before
    return [" ".join(words) for words in shortest.values()]


NAMED = [(noun.name, name) for noun in grammar().troubles() for name in names(noun)]


@pytest.mark.parametrize(("noun", "name"), NAMED)
def test_trouble_is_asked_about_by_every_name_it_is_told_by(noun: str, name: str) -> None:
    caught = {frame.format(trouble=name): "will_be_caught" for frame in CAUGHT}
    cleared = {frame.format(trouble=name): "will_clear" for frame in CLEARED}
    asked = {text: understand(text).asks[:1] for text in caught | cleared}
    of_clearing = {text: ("cover",) for text in cleared if asked[text] == ("cover",)}
    assert asked == {text: (kind,) for text, kind in (caught | cleared).items()} | of_clearing
    assert troubles_named(f"will it go in the {name}?"), noun


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        ("am I over the lip", HazardKind.BUNKER),
        ("does it clear the hill", HazardKind.RIDGE),
        ("will it get up the step", HazardKind.TIER),
        ("is the rough in play", HazardKind.ROUGH),
    ],
)
def test_a_word_that_tells_none_by_itself_asks_about_trouble_too(asked: str, kind: HazardKind) -> None:
    assert troubles_named(asked) == (kind,)


@pytest.mark.parametrize(
    "asked", ["would the sand wedge do", "can I get there with the five wood", "where is the flag"]
)
def test_a_club_is_no_trouble(asked: str) -> None:
    assert troubles_named(asked) == ()


@pytest.mark.parametrize(
    "asked", ["will it go in?", "will it go right in?", "will it drop in the jar?", "will I hole it?"]
)
def test_a_ball_in_the_hole_is_in_no_trouble(asked: str) -> None:
    assert understand(asked).asks[:1] == ("will_hole",) or "will_be_caught" not in understand(asked).asks
