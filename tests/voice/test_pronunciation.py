import doctest

import pocketsphinx
import pytest

from caddie.voice import pronunciation
from caddie.voice.pronunciation import dictionary_file, missing_words, pronounce, shipped_dictionary
from caddie.words import vocabulary

DICTIONARY = shipped_dictionary(pocketsphinx.get_model_path("en-us/cmudict-en-us.dict"))
PHONES = {phone for sounds in DICTIONARY.values() for sound in sounds for phone in sound.split()}


@pytest.mark.parametrize(
    "word", ["divot", "duffed", "chunked", "shanked", "greenside", "hardpan", "sidehill", "stimp", "upslope"]
)
def test_words_of_the_trade_have_a_sound(word: str) -> None:
    sounds = pronounce(word, DICTIONARY)
    assert sounds
    assert all(set(sound.split()) <= PHONES for sound in sounds)


def test_added_words_use_the_recognisers_phones() -> None:
    for word, sounds in pronunciation.ADDED.items():
        for sound in sounds:
            assert set(sound.split()) <= PHONES, word


@pytest.mark.parametrize(
    ("word", "british"),
    [
        ("half", "HH AA F"), ("yards", "Y AA D Z"), ("short", "SH AO T"), ("forty", "F AO T IY"),
        ("water", "W AO T AH"), ("bunker", "B AH NG K AH"), ("metres", "M IY T AH Z"), ("there", "DH EH AH"),
        ("grass", "G R AA S"), ("lob", "L AO B"), ("flag", "F L AA G"),
    ],
)  # fmt: skip
def test_british_speech_has_its_own_variants(word: str, british: str) -> None:
    """Wells (1982): no r unless a vowel follows, long a, rounded "lot"."""
    sounds = pronounce(word, DICTIONARY)
    assert sounds[0] == (DICTIONARY.get(word) or pronunciation.ADDED[word])[0]
    assert british in sounds


@pytest.mark.parametrize(
    ("built", "known"),
    [("chunking", "ch ah ng k ih ng"), ("hybrids", "hh ay b r ih d z"), ("greenside", "g r iy n s ay d")],
)
def test_unknown_words_are_built_from_known_ones(built: str, known: str) -> None:
    lacking = {word: sounds for word, sounds in DICTIONARY.items() if word != built}
    assert known.upper() in pronounce(built, lacking)


def test_a_word_nobody_can_say_is_named() -> None:
    assert missing_words(["fifty yards", "xqzt yards"], DICTIONARY) == ["xqzt"]
    assert pronounce("xqzt", DICTIONARY) == []


def test_every_word_of_the_grammar_can_be_heard() -> None:
    """A word listed here needs a pronunciation in `caddie.voice.pronunciation.ADDED`."""
    assert missing_words(vocabulary(), DICTIONARY) == []


def test_the_file_numbers_its_variants() -> None:
    lines = dictionary_file(["yards", "half"], DICTIONARY).splitlines()
    assert lines[0].startswith("half ")
    assert any(line.startswith("half(2) ") for line in lines)
    assert any(line == "yards(2) Y AA D Z" for line in lines)


def test_examples_hold() -> None:
    assert doctest.testmod(pronunciation).failed == 0
