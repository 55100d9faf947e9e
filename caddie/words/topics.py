"""What is asked of the shot in play, known by words of a few lists wherever they stand: "why" and "stops".

Lists and what they come to together are in ``grammars/en/topics.toml``.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from caddie.words.gist import MOST_WORDS, WaysByWord, asks_in_part, by_first_word, is_plain_word, own_words
from caddie.words.grammar import grammar
from caddie.words.reduction import reducer
from caddie.words.sayings import compared
from caddie.words.talk_files import gist_data, read_grammar
from caddie.words.templates import words_of

OF_A_SHOT, OF_A_PUTT, OF_ANOTHER, OF_A_RESULT, ANYWHERE = "shot", "putt", "other", "told", ""
"""Where something may be asked: a shot or a putt in play, beside a shot that was compared, after a result."""

_ASKING = "asking"
"""The list of words that ask where they stand first, and elsewhere tell as well."""
_ASKED = "asked"
"""The list of what makes a question of words that are none by their order."""
_WHY = "why"
"""The list of what asks for a reason."""
_BELIEVED = "believed"
"""The list of what tells that something is only believed, of golf at large."""


@dataclass(frozen=True)
class AskedTopic:
    """A kind of question or wish, and the lists of each of which something is said with it."""

    kind: str
    by: tuple[str, ...]
    at: str = ANYWHERE
    unless: tuple[str, ...] = ()
    changes: bool = False
    """Whether it may change what is planned, so that it is taken only from words that are nothing else."""
    plainly: bool = False
    """Whether it may be said without asking anything."""
    tells: bool = False
    """Whether a fact that its own words tell counts."""
    numbers: bool = False
    """Whether a number beside it is no length of the shot, whatever it is."""


def topic_of(text: str, at: Collection[str], *, changing: bool, refused: bool = False) -> AskedTopic | None:
    """What the words ask there, the topic with the most of them first; None where they ask nothing of the kind.

    Parameters:
        at: where it is said.
        changing: whether wishes that change what is planned count, too.
        refused: whether nothing else is made of the words, so that they ask without being a question: "got the
            legs to get there"; no word that asks only where it stands first makes them one: "the train is late".

    >>> topic_of("what pulls it up so sharp?", {OF_A_SHOT}, changing=False).kind
    'why_stops'
    """
    found = _found(text)
    asking = _ASKED in found or asks_in_part(text)
    likeliest, most = None, 0
    for topic in asked_topics():
        if (topic.at and topic.at not in at) or (topic.changes and not changing):
            continue
        if not (asking or topic.plainly or topic.changes or (refused and _ASKING not in topic.by)):
            continue
        if not all(name in found for name in topic.by) or any(name in found for name in topic.unless):
            continue
        own = len(frozenset().union(*(found[name] for name in topic.by)))
        if own > most and own >= _strange(text):
            likeliest, most = topic, own
    return likeliest


def asks_why(text: str) -> bool:
    """Whether a reason is asked, in whatever words: "how come", "what is that for"."""
    return _WHY in _found(text)


def lists_in(text: str) -> frozenset[str]:
    """The names of the lists of which something is said."""
    return frozenset(_found(text))


def is_believed(text: str) -> bool:
    """Whether it is said what one has heard or thinks of how golf is played, and not how it is here."""
    return _BELIEVED in _found(text)


@cache
def loose_kinds() -> frozenset[str]:
    """Kinds that a word or two make of almost anything: a topic tells more surely what is asked."""
    return frozenset(_data()["loose"]["kinds"].split())


@lru_cache(maxsize=512)
def _words(text: str) -> tuple[str, ...]:
    """The words as they are compared, in plain English and without those passed over."""
    said = " ".join(token.text for token in reducer().tokens(text))
    return tuple(word for word in compared(said) if word not in _skipped())


def _strange(text: str) -> int:
    """How many words are none that the grammar knows."""
    return sum(not is_plain_word(word) and word not in _own_words() for word in _words(text))


@lru_cache(maxsize=512)
def _found(text: str) -> dict[str, frozenset[int]]:
    """The lists of which something is said, and the places of the words that say the most of it."""
    words = _words(text)
    found: dict[str, frozenset[int]] = {}
    if len(words) > MOST_WORDS or any(word in grammar().elsewhere - _own_words() for word in words):
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
def _own_words() -> frozenset[str]:
    """Words that are of the shot here, though elsewhere they may be of another subject."""
    said = (word for ways in _index().values() for _, way in ways for word in words_of(way.node))
    return frozenset(said).union(gist_data()["of_the_ball"]["say"])


@cache
def asked_topics() -> tuple[AskedTopic, ...]:
    """Every kind of question or wish that the words of `topics.toml` make."""
    return tuple(_topic(**each) for each in _data()["asked"])


def _topic(by: list[str], unless: Sequence[str] = (), **rest: Any) -> AskedTopic:
    return AskedTopic(by=tuple(by), unless=tuple(unless), **rest)


@cache
def _index() -> WaysByWord[str]:
    told = ((name, each) for name, written in _data()["words"].items() for each in written)
    return by_first_word("topics", told)


def _data() -> dict[str, Any]:
    return read_grammar("topics")
