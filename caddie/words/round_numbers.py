"""Templates matched on the words that stand round numbers, each number one place whatever it is said in."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any, NamedTuple

from caddie.words.numbers import is_figure, read_number
from caddie.words.talk_files import read_grammar, talk_data
from caddie.words.templates import Node, firsts, parse, reached

NUMBER = "#"
_WORD = re.compile(r"\d+(?:\.\d+)?|[A-Za-z]+(?:['’][A-Za-z]+)?")
_SHORT = re.compile(r"['’]")
_STOPS = frozenset(".!?;:,…")
Marked = tuple[int, frozenset[tuple[str, int]]]
"""A place reached, and which numbers filled which slots on the way."""


@dataclass(frozen=True)
class SaidPlace:
    """A word of a text, or a number of it, with where it stands."""

    text: str
    start: int
    end: int
    value: float | None = None
    begins: bool = False
    """Whether a stop, or nothing, stands before it."""


@dataclass(frozen=True)
class RoundNumbers:
    """A text as places."""

    text: str

    @cached_property
    def places(self) -> tuple[SaidPlace, ...]:
        """Words in lower case and numbers, in order."""
        said = [
            (part, found.start(), found.end())
            for found in _WORD.finditer(self.text)
            for part in _whole(found[0].lower())
        ]
        words = [word for word, _, _ in said]
        found: list[SaidPlace] = []
        at = 0
        while at < len(said):
            number = read_number(words, at) if is_figure(words[at]) else None
            used = number.words if number is not None else 1
            start, end = said[at][1], said[at + used - 1][2]
            before = self.text[said[at - 1][2] : start] if at else "."
            begins = not _STOPS.isdisjoint(before)
            if number is None:
                found.append(SaidPlace(words[at], start, end, begins=begins))
            else:
                found.append(SaidPlace(NUMBER, start, end, number.value, begins))
            at += used
        return tuple(found)

    def numbers(self) -> Iterator[tuple[int, float]]:
        """Where numbers stand, and what they are."""
        return ((at, place.value) for at, place in enumerate(self.places) if place.value is not None)

    def ends(self, at: int) -> bool:
        """Whether a stop, or nothing, stands before place ``at``."""
        return at >= len(self.places) or self.places[at].begins


def _whole(word: str) -> list[str]:
    """A word as it is compared: "don't" as "do not"."""
    if word[0].isdigit():
        return _SHORT.split(word)
    plain = _SHORT.sub("", word)
    return _same()[plain].split() if plain in _same() else _SHORT.split(word)


@cache
def _same() -> dict[str, str]:
    same: dict[str, str] = talk_data()["same"]
    return same


class Written(NamedTuple):
    """A template, with the words that it may begin with."""

    node: Node
    begun_by: frozenset[str]


class Ways(NamedTuple):
    """Templates, and what their slots stand for; a slot of a number is none of them."""

    ways: tuple[Written, ...]
    parts: Mapping[str, Node]

    @classmethod
    def of(cls, written: Iterable[str], parts: Mapping[str, str]) -> "Ways":
        """Templates as they are written."""
        nodes = {name: parse(way) for name, way in parts.items()}

        def of_slot(name: str) -> tuple[frozenset[str], bool]:
            return firsts(nodes[name], of_slot) if name in nodes else (frozenset({NUMBER}), False)

        return cls(tuple(Written(node := parse(each), firsts(node, of_slot)[0]) for each in written), nodes)


def marked(
    said: RoundNumbers,
    ways: Ways,
    may_be: Mapping[str, Callable[[float], bool]],
    starts: Iterable[int] | None = None,
) -> Iterator[tuple[int, Marked]]:
    """Where templates are said: the place each begins at, the one it ends before, and the numbers in its slots.

    Args:
        said: the text.
        ways: the templates.
        may_be: for each slot of a number, whether a value may fill it.
        starts: places to begin at; all when None.
    """
    places = said.places

    def word(text: str, state: Marked) -> Iterable[Marked]:
        at, filled = state
        return ((at + 1, filled),) if at < len(places) and places[at].text == text else ()

    def slot(name: str, state: Marked) -> Iterable[Marked]:
        at, filled = state
        if name in ways.parts:
            return reached(ways.parts[name], state, word, slot)
        value = places[at].value if at < len(places) else None
        return ((at + 1, filled | {(name, at)}),) if value is not None and may_be[name](value) else ()

    for at in range(len(places)) if starts is None else starts:
        begun: Marked = (at, frozenset())
        for way in ways.ways:
            if places[at].text in way.begun_by:
                yield from ((at, end) for end in reached(way.node, begun, word, slot))


def number_data() -> dict[str, Any]:
    """What ``club_numbers.toml`` holds, as written."""
    return read_grammar("club_numbers")
