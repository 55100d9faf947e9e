"""Which words are known, which may be meant by a slip of the finger, and which belong to other subjects."""

from functools import lru_cache

from caddie.words.grammar import grammar
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.spelling import tokens
from caddie.words.templates import parse, words_of


@lru_cache(maxsize=1)
def trade_words() -> frozenset[str]:
    """Every plain word in the grammar's templates and spellings."""
    words = grammar()
    said: set[str] = set()
    nodes = [node for noun in words.nouns for node in noun.say]
    nodes += [node for entry in words.entries for node in entry.say]
    nodes += [shape.template for shape in words.shapes]
    nodes += [parse(template) for templates in words.unit_words.values() for template in templates]
    for node in nodes:
        for text in words_of(node):
            said.update(token.text for token in tokens(text))
    return frozenset(said)


@lru_cache(maxsize=1)
def known_words() -> frozenset[str]:
    """Words that are no surprise in an utterance."""
    words = grammar()
    return trade_words() | words.plain | words.skip | NUMBER_WORDS | words.joined_words


@lru_cache(maxsize=1)
def spellable_words() -> frozenset[str]:
    """Words that a misspelt one may stand for: the trade's own and numbers, of four letters and more."""
    return frozenset(word for word in trade_words() | NUMBER_WORDS if len(word) >= 4 and word.isalpha())
