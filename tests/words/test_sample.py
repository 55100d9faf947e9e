"""Sentences drawn from the grammar."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.errors import CaddieError
from caddie.words.grammar import grammar
from caddie.words.sample import sample, spoken_words, ways_of_saying

KINDS = sorted({shape.kind for shape in grammar().shapes})


@given(st.integers(0, 10_000), st.integers(0, 20))
def test_a_seed_gives_its_sentences_and_fewer_are_their_beginning(seed: int, n: int) -> None:
    said = sample(n, seed)
    assert len(said) == n
    assert said == sample(n, seed)


def test_another_seed_gives_other_sentences() -> None:
    assert sample(20, 1) != sample(20, 2)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_said_in_plain_words(kind: str) -> None:
    said = sample(40, 3, [kind])
    assert all(re.fullmatch(r"[a-z' ]+", sentence) for sentence in said)
    assert all("  " not in sentence and sentence == sentence.strip() for sentence in said)
    assert {word for sentence in said for word in sentence.split()} <= spoken_words()
    assert len(set(said)) > 3


def test_a_kind_that_there_is_none_of_is_told() -> None:
    with pytest.raises(CaddieError, match="sentence shape of the kind tennis"):
        sample(1, 0, ["tennis"])


def test_there_are_many_ways() -> None:
    assert ways_of_saying() > 10 * len(grammar().entries)
