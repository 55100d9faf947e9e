"""Slips of the finger are put right, real words are left alone."""

import random
from pathlib import Path

import pocketsphinx
import pytest

from caddie.words import understand
from caddie.words.grammar import grammar
from caddie.words.lexicon import known_words, spellable_words
from caddie.words.spelling import nearest, tokens


def english_words() -> set[str]:
    """Words of the CMU Pronouncing Dictionary as PocketSphinx ships it."""
    path = Path(pocketsphinx.get_model_path("en-us/cmudict-en-us.dict"))
    heads = (line.split()[0].split("(")[0].lower() for line in path.read_text(encoding="utf-8").splitlines())
    return {word for word in heads if word.isalpha()}


@pytest.mark.parametrize("every", [10, pytest.param(1, marks=pytest.mark.rare)])
def test_no_english_word_is_turned_into_another(every: int) -> None:
    known, wanted, real = known_words(), spellable_words(), grammar().real
    words = sorted(english_words() - known)[::every]
    changed = {word: near for word in words if (near := nearest(word, wanted, real))}
    assert not changed, "add to real_words.toml: " + " ".join(sorted(changed))


@pytest.mark.parametrize(
    ("slip", "word"),
    [
        ("bunkr", "bunker"),
        ("fiarway", "fairway"),
        ("uphil", "uphill"),
        ("yads", "yards"),
        ("dwonhill", "downhill"),
    ],
)
def test_slips_are_put_right(slip: str, word: str) -> None:
    assert nearest(slip, spellable_words(), grammar().real) == word


def test_most_swapped_letters_are_put_right() -> None:
    chance = random.Random(1)
    words = sorted(word for word in spellable_words() if len(word) >= 6)
    tried = right = 0
    for word in words:
        at = chance.randrange(1, len(word) - 2)
        slip = word[:at] + word[at + 1] + word[at] + word[at + 2 :]
        if slip == word or slip in known_words():
            continue
        tried += 1
        right += nearest(slip, spellable_words(), grammar().real) == word
    assert right / tried > 0.97


def test_speech_is_not_respelt() -> None:
    assert understand("70 yards from the fiarway").situation.lie == "fairway"
    assert understand("70 yards from the fiarway", from_speech=True).situation.lie is None


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Flag’s 6′6″ away", "flag is 6 feet 6 inches away"),
        ("65–70yds", "65 to 70 yds"),
        ("½ wedge", "half wedge"),
        ("it isn't, can't, won't", "it is not can not can not"),
        ("L-to-R, R to L", "left to right right to left"),
        ("1,000", "1000"),
        ("-10", "minus 10"),
        ("Café—naïve", "cafe naive"),
    ],
)
def test_one_spelling(text: str, plain: str) -> None:
    assert " ".join(token.text for token in tokens(text)) == plain
