"""Which words are known, and which may be meant by a slip of the finger."""

import pytest

from caddie.words.lexicon import known_words, spellable_words, trade_words


def test_each_set_holds_the_smaller_one() -> None:
    assert trade_words() < known_words()
    assert spellable_words() <= known_words()


@pytest.mark.parametrize("word", ["bunker", "fairway", "yards", "flag", "downhill", "stimp"])
def test_words_of_the_trade(word: str) -> None:
    assert word in trade_words()


@pytest.mark.parametrize("word", ["the", "seventy", "why", "hello"])
def test_words_known_besides(word: str) -> None:
    assert word in known_words()


@pytest.mark.parametrize("word", ["pizza", "france", "qwertz"])
def test_words_of_other_talk_are_not_known(word: str) -> None:
    assert word not in known_words()


def test_only_whole_words_are_meant_by_a_slip() -> None:
    assert all(len(word) >= 4 and word.isalpha() for word in spellable_words())
