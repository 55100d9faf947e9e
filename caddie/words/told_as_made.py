"""Whether a stroke is told as made, or only spoken of: what it would do, or what such a stroke does."""

import re
from collections.abc import Collection, Iterator
from functools import cache
from typing import Any

from caddie.words.numbers import is_number
from caddie.words.sayings import compared
from caddie.words.talk_files import read_grammar

_CLAUSE = re.compile(r"(?<=[,.;:!?…])\s+|\s+-\s+")
_CLOSELY = 2
"""Words between a verb and what makes it no past: "will probably hit"."""


def only_spoken_of(text: str) -> bool:
    """Whether more speaks for a stroke that is spoken of than for one that was made; the weights are data.

    >>> only_spoken_of("so it's only the thinned one that drowns"), only_spoken_of("thinned it, it drowned")
    (True, False)
    """
    data = read_evidence()
    spoken_of = sum(data["only_spoken_of"][name] for name in set(_speaks_of(text)))
    made = data["told_as_made"]["past"] if tells_as_made(text) else 0.0
    return bool(spoken_of > made)


def is_wish(text: str) -> bool:
    """Whether what is told is only wished for or meant to be: "I want to be three feet past"."""
    found = set(_speaks_of(text))
    return not found.isdisjoint({"meant", "wished"}) and not tells_as_made(text)


def tells_as_made(text: str) -> bool:
    """Whether a verb tells what was done, outside of what is supposed."""
    return any(_past_at(words, at) for words in _told_in(text) for at in range(len(words)))


def _told_in(text: str) -> Iterator[tuple[str, ...]]:
    """The words of each clause, without what is supposed in it."""
    for clause in _CLAUSE.split(text):
        words = compared(clause)
        begins = _first(words, 0, stroke_words("supposing"))
        ends = _first(words, begins, stroke_words("ends_supposing"))
        yield (*words[:begins], *words[ends:])


def _first(words: tuple[str, ...], start: int, wanted: Collection[str]) -> int:
    return next((at for at in range(start, len(words)) if words[at] in wanted), len(words))


def _speaks_of(text: str) -> Iterator[str]:
    """Names of ``only_spoken_of`` in the grammar."""
    for clause in filter(str.strip, _CLAUSE.split(text)):
        words = compared(clause)
        if _tells_of_such(words):
            yield "such_a_stroke"
        if not stroke_words("supposing").isdisjoint(words):
            yield "supposed"
        if _is_meant(words):
            yield "meant"
        if any(_is_wished(words, at) for at in range(len(words) - 1)):
            yield "wished"
        if clause.rstrip().endswith("?") and any(map(is_number, words)):
            yield "asked"


def _is_meant(words: tuple[str, ...]) -> bool:
    """ "So land it two paces past": what is to be done."""
    at = next((i for i, word in enumerate(words) if word not in stroke_words("before_meant")), len(words))
    return (
        words[at : at + 1] != ()
        and words[at] in stroke_words("meant")
        and (not stroke_words("meant_of").isdisjoint(words[at + 1 : at + 2]))
    )


def _is_wished(words: tuple[str, ...], at: int) -> bool:
    """ "I want to be three feet past"; "just what I wanted" is no wish."""
    wishes = words[at] in stroke_words("wishes") and words[at + 1] in stroke_words("wished_for")
    return wishes and stroke_words("likened_to").isdisjoint(words[max(at - 2, 0) : at])


def tells_of_such_a_stroke(clause: str) -> bool:
    """Whether a clause tells what a stroke of a kind does, and none that was made: "the thinned one drowns"."""
    return _tells_of_such(compared(clause)) and not tells_as_made(clause)


def _tells_of_such(words: tuple[str, ...]) -> bool:
    return any(words[end] in stroke_words("does") for end in _strokes_end(words) if end < len(words))


def _strokes_end(words: tuple[str, ...]) -> Iterator[int]:
    """Where the name of a stroke by what it is like ends: "the thinned one", "a shank"."""
    for at in range(1, len(words)):
        if words[at - 1] not in stroke_words("names_it"):
            continue
        if words[at] in stroke_words("named"):
            yield at + 1
        if words[at] in stroke_words("past") | stroke_words("like") and _is_stroke(words, at + 1):
            yield at + 2


def _past_at(words: tuple[str, ...], at: int) -> bool:
    before = words[max(at - _CLOSELY, 0) : at]
    if words[at] == "left":
        return words[at + 1 : at + 2] != () and words[at + 1] in stroke_words("left_behind")
    if words[at] in stroke_words("also_base"):
        return stroke_words("makes_base").isdisjoint(before)
    if words[at] not in stroke_words("past"):
        return False
    names = before[-1:] != () and before[-1] in stroke_words("names_it")
    return not (names and _is_stroke(words, at + 1))


def _is_stroke(words: tuple[str, ...], at: int) -> bool:
    return at < len(words) and words[at] in stroke_words("strokes")


@cache
def stroke_words(name: str) -> frozenset[str]:
    """Words that tell how a stroke is spoken of, by their name in the grammar."""
    return frozenset(read_evidence()["words_of_a_stroke"][name].split())


def read_evidence() -> dict[str, Any]:
    """What ``evidence.toml`` holds, as written."""
    return read_grammar("evidence")
