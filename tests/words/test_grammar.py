"""The grammar files: breadth, the template language, and sentences that the reader understands."""

import re
from itertools import islice

import pytest

from caddie.errors import CaddieError
from caddie.words import Intent, sentences, understand, vocabulary
from caddie.words.grammar import grammar
from caddie.words.reduction import reducer
from caddie.words.sample import ways_of_saying
from caddie.words.templates import firsts, parse

A_FEW = 30
"""Ways to say one template that count."""


def test_breadth() -> None:
    assert len(grammar().shapes) >= 60
    phrases = {
        tuple(pattern)
        for entry in grammar().entries
        for node in entry.say
        for pattern in islice(reducer().patterns(node), A_FEW)
    }
    assert len(phrases) >= 4000
    assert ways_of_saying() >= len(phrases)


@pytest.mark.parametrize("template", ["(deep rough", "deep] rough", "{Flag}", "a {b", "deep | ) rough"])
def test_a_broken_template_is_told(template: str) -> None:
    with pytest.raises(CaddieError, match="grammar template"):
        parse(template)


def test_every_template_says_something() -> None:
    for entry in grammar().entries:
        for node in entry.say:
            assert not firsts(node, lambda name: (frozenset(), False))[1], f"may be nothing: {entry.facts}"
            assert any(reducer().patterns(node, whole=entry.whole)) or entry.facts, entry.facts


def test_sentences_are_in_spoken_form_and_repeat_with_their_seed() -> None:
    said = sentences(3000, seed=3)
    assert said == sentences(3000, seed=3)
    assert said != sentences(3000, seed=4)
    spoken = re.compile(r"[a-z]+(?:'[a-z]+)?(?: [a-z]+(?:'[a-z]+)?)*")
    assert all(spoken.fullmatch(sentence) for sentence in said)
    assert {word for sentence in said for word in sentence.split()} <= vocabulary()


def test_sampled_sentences_are_understood() -> None:
    said = sentences(3000, seed=7)
    heard = [understand(text, from_speech=True) for text in said]
    lost = [each.heard for each in heard if each.intent is Intent.OUT_OF_SCOPE and not each.asks]
    assert len(lost) / len(said) < 0.01, lost[:20]


def test_sampled_distances_are_those_of_the_short_game() -> None:
    said = [understand(text, from_speech=True) for text in sentences(2000, seed=11)]
    refused = [u.heard for u in said if u.problem]
    assert len(refused) < 10, refused


def test_numbers_need_no_unit_word_in_the_vocabulary() -> None:
    assert {"seventy", "fifteen", "hundred", "oh", "paces", "yards", "foot", "feet"} <= vocabulary()
    assert {"bunker", "flag's", "fairway", "chunked", "greenside", "downwind"} <= vocabulary()
