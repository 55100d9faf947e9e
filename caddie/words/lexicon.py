"""Which words are known, and which may be meant by a slip of the finger."""

from collections.abc import Iterable
from functools import lru_cache

from caddie.words.grammar import grammar
from caddie.words.kept import kept
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.reduction import spelled


@lru_cache(maxsize=1)
def _said() -> dict[str, list[str]]:
    return kept(
        "lexicon",
        lambda: {
            "facts": _plainly(grammar().fact_words()),
            "talk": _plainly(grammar().talk_words()),
        },
    )


def _plainly(words: Iterable[str]) -> list[str]:
    return sorted({part for word in words for part in spelled(word)})


@lru_cache(maxsize=1)
def trade_words() -> frozenset[str]:
    """Every plain word of the templates that give facts, and of the units."""
    return frozenset(_said()["facts"]).union(*grammar().units)


@lru_cache(maxsize=1)
def known_words() -> frozenset[str]:
    """Words that are no surprise in an utterance."""
    words = grammar()
    joined = {word for said, names in words.joins.items() for word in (*said, *names)}
    return trade_words().union(_said()["talk"], words.plain, words.skip, NUMBER_WORDS, joined)


@lru_cache(maxsize=1)
def spellable_words() -> frozenset[str]:
    """Words that a misspelt one may stand for: the trade's own and numbers, of four letters and more."""
    units = grammar().units
    other = {word for said, unit in units.items() if unit == "other" for word in said}
    trade = trade_words() - (other - frozenset(_said()["facts"]))
    return frozenset(word for word in trade | NUMBER_WORDS if len(word) >= 4 and word.isalpha())
