"""The things that a question chooses between: "what do I chip with, the 56, or bump an eight iron?" names two."""

from functools import cache
from typing import NamedTuple

from caddie.words.sayings import plain
from caddie.words.talk_files import talk_data

_STOPS = ".!?;:"
_ALONE = 3
"""A part before the last one, of no more words, is one of the things: "52, 56 or 60?"."""


class _Words(NamedTuple):
    joints: frozenset[str]
    ties: frozenset[str]
    articles: frozenset[str]
    openers: frozenset[str]
    joins: frozenset[str]
    tied: tuple[str, ...]
    nicknames: dict[str, str]


def alternatives(text: str) -> list[str]:
    """What the words choose between, in order, as plain words; nothing where they choose between nothing.

    >>> alternatives("Uphill. What do I chip with, the 56 or bump an eight iron?")
    ['the 56', 'bump an eight iron']
    >>> alternatives("I'm between a bump and run with the eight iron and a lob")
    ['a bump and run with the eight iron', 'a lob']
    """
    for sentence in _split(_in_one_piece(text.lower()), _STOPS):
        parts = _parts(sentence, _words().joints)
        if len(parts) > 1:
            before = [plain(each) for each in parts[0].split(",") if plain(each)]
            near = [each for each in before[:-1] if len(each.split()) <= _ALONE] if len(before) > 1 else []
            after = [plain(part.split(",")[0]) or plain(part) for part in parts[1:]]
            return [_with_full_names(each) for each in (*near, *before[-1:], *after) if each]
    return _between(text)


def _between(text: str) -> list[str]:
    """What stands "between" in the sentence that has the word: its parts, by comma and "and"."""
    words = _words()
    for sentence in _split(_in_one_piece(text.lower()), _STOPS):
        _, *behind = _parts(sentence, words.openers)
        pieces = [
            part for each in behind[-1:] for piece in each.split(",") for part in _parts(piece, words.joins)
        ]
        if len(pieces) > 1:
            return [_with_full_names(plain(each)) for each in pieces if plain(each)]
    return []


def _in_one_piece(text: str) -> str:
    """The words with the names of shots that hold a joining word tied together: "bump-and-run"."""
    for name in _words().tied:
        text = text.replace(name, name.replace(" ", "-"))
    return text


def listed(text: str) -> list[str]:
    """Every part of the words between commas, "and", "or" and the like, as plain words."""
    words = _words()
    pieces = [
        part
        for each in _in_one_piece(text.lower()).split(",")
        for part in _parts(each, words.joints | words.ties)
    ]
    return [_with_full_names(plain(each)) for each in pieces]


def _split(text: str, stops: str) -> list[str]:
    for stop in stops:
        text = text.replace(stop, "\n")
    return [each for each in text.split("\n") if each.strip()]


def _parts(text: str, joints: frozenset[str]) -> list[str]:
    parts: list[list[str]] = [[]]
    for word in text.split():
        if plain(word) in joints:
            parts.append([])
        else:
            parts[-1].append(word)
    return [" ".join(part) for part in parts]


def _with_full_names(words: str) -> str:
    """A part that is no more than another name of a club as the club: "sandy" or "the wedge"."""
    named = _words().nicknames
    article, _, rest = words.partition(" ")
    return named.get(words) or (named.get(rest) if article in _words().articles else None) or words


@cache
def _words() -> _Words:
    data = talk_data()["alternatives"]
    joints, ties, articles, openers, joins = (
        frozenset(data[name].split()) for name in ("joints", "ties", "articles", "openers", "joins")
    )
    return _Words(joints, ties, articles, openers, joins, tuple(data["tied"]), data["nicknames"])
