"""What is asked of the shot in play, known by words of a few lists wherever they stand: "why" and "stops".

Lists and what they come to together are in ``grammars/en/topics.toml``.
"""

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from caddie.words.gist import MOST_WORDS, WaysByWord, by_first_word, own_words
from caddie.words.grammar import grammar
from caddie.words.reduction import reducer
from caddie.words.sayings import compared, read_grammar

SHOT, PUTT, OTHER, TOLD, ANYWHERE = "shot", "putt", "other", "told", ""
"""Where something may be asked: a shot or a putt in play, beside a shot that was compared, after a result."""


@dataclass(frozen=True)
class Topic:
    """A kind of question or wish, and the lists of each of which something is said with it."""

    kind: str
    by: tuple[str, ...]
    at: str = ANYWHERE
    unless: tuple[str, ...] = ()
    changes: bool = False
    """Whether it may change what is planned, so that it is taken only from words that are nothing else."""
    numbers: bool = False
    """Whether a number beside it is no length of the shot, whatever it is."""


def topic_of(text: str, at: Collection[str], *, changing: bool) -> Topic | None:
    """What the words ask there, the topic with the most of them first; None where they ask nothing of the kind.

    Parameters:
        at: where it is said.
        changing: whether wishes that change what is planned count, too.

    >>> topic_of("what pulls it up so sharp?", {SHOT}, changing=False).kind
    'why_stops'
    """
    found = _found(text)
    likeliest, most = None, 0
    for topic in _topics():
        if (topic.at and topic.at not in at) or (topic.changes and not changing):
            continue
        if not all(name in found for name in topic.by) or any(name in found for name in topic.unless):
            continue
        own = len(frozenset().union(*(found[name] for name in topic.by)))
        if own > most:
            likeliest, most = topic, own
    return likeliest


@lru_cache(maxsize=512)
def _found(text: str) -> dict[str, frozenset[int]]:
    """The lists of which something is said, and the places of the words that say the most of it."""
    said = " ".join(token.text for token in reducer().tokens(text))
    words = tuple(word for word in compared(said) if word not in _skipped())
    found: dict[str, frozenset[int]] = {}
    if len(words) > MOST_WORDS or any(word in grammar().elsewhere for word in words):
        return found
    for start in range(len(words)):
        for name, way in _index().get(words[start], ()):
            own = max(own_words(way, words, start), key=len, default=frozenset())
            if len(own) > len(found.get(name, ())):
                found[name] = own
    return found


@cache
def _skipped() -> frozenset[str]:
    return frozenset(_data()["skipped"]["say"].split())


@cache
def _topics() -> tuple[Topic, ...]:
    return tuple(
        Topic(**{key: tuple(value) if isinstance(value, list) else value for key, value in each.items()})
        for each in _data()["asked"]
    )


@cache
def _index() -> WaysByWord[str]:
    return by_first_word((name, each) for name, written in _data()["words"].items() for each in written)


@cache
def _data() -> dict[str, Any]:
    return read_grammar("topics")
