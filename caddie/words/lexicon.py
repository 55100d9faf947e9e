"""Which words are known, and which may be meant by a slip of the finger."""

from functools import lru_cache

from caddie.words.grammar import grammar
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.reduction import spelled


@lru_cache(maxsize=1)
def trade_words() -> frozenset[str]:
    """Every plain word of the templates that give facts, and of the units."""
    words = grammar()
    said = {part for word in words.fact_words() for part in spelled(word)}
    return frozenset(said | {part for phrase in words.units for part in phrase})


@lru_cache(maxsize=1)
def known_words() -> frozenset[str]:
    """Words that are no surprise in an utterance."""
    words = grammar()
    joined = {word for said, names in words.joins.items() for word in (*said, *names)}
    talk = {part for word in words.talk_words() for part in spelled(word)}
    return trade_words() | talk | words.plain | words.skip | NUMBER_WORDS | joined


@lru_cache(maxsize=1)
def spellable_words() -> frozenset[str]:
    """Words that a misspelt one may stand for: the trade's own and numbers, of four letters and more."""
    return frozenset(word for word in trade_words() | NUMBER_WORDS if len(word) >= 4 and word.isalpha())
