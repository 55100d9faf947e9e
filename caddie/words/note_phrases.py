"""Phrases of ``notes.toml`` of the grammar found in plain words, with what their slots hold.

The slots are of three kinds: numbers as the grammar reads them (``{ordinal}`` ``{count}`` ``{length}``), the player's
own names (``{hole}`` ``{course}`` ``{taught}``), and words taken as they are (``{name}`` ``{rest}``).
"""

import re
import tomllib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, TypeVar

from caddie.places import shipped
from caddie.units import Unit, spoken_number
from caddie.words.grammar import grammar
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.quantities import gather
from caddie.words.reduction import reducer
from caddie.words.spelling import Token
from caddie.words.templates import Node, firsts, parse, reached

Value = TypeVar("Value")

MOST_HOLES, LAST_HOLE = 36, 18
"""Courses of 27 and 36 holes number them through; a round ends with the eighteenth."""
MOST_NAME_WORDS = 5
"""Words of a name."""
_IRREGULAR = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth",
    "twelve": "twelfth", "twenty": "twentieth", "thirty": "thirtieth",
}  # fmt: skip
_WRITTEN = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Names:
    """The player's own names, as they are compared."""

    holes: Mapping[str, int] = field(default_factory=dict)
    courses: Collection[str] = ()
    words: Collection[str] = ()


NO_NAMES = Names()


@dataclass(frozen=True)
class PhraseLine:
    """A line of the grammar."""

    facts: Mapping[str, Any]
    nodes: tuple[tuple[Node, frozenset[str]], ...]
    """Each way to say it, with the words and slots it may begin with."""

    def beginning(self, said: "Said", at: int) -> Iterator[Node]:
        """The ways to say it that may begin at a word."""
        for node, begins_with in self.nodes:
            if not begins_with.isdisjoint(said.kinds[at]):
                yield node


@dataclass(frozen=True)
class SlotsFilled:
    """What slots were filled with, in a template that begins at ``start``."""

    start: int = 0
    hole: int | None = None
    here: bool = False
    course: str | None = None
    taught: str | None = None
    name: str | None = None
    length_m: float | None = None
    rest_at: int | None = None


@dataclass(frozen=True)
class Said:
    """An utterance in plain words, with the names and units to read it by."""

    tokens: tuple[Token, ...]
    names: Names
    unit: Unit
    pace_m: float
    kinds: tuple[frozenset[str], ...] = ()
    """What each word may begin: itself, and the slots it may fill."""

    def with_tokens(self, tokens: Sequence[Token]) -> "Said":
        """The same names and units with other words."""
        kinds = tuple(self._kinds(token.text) for token in tokens)
        return replace(self, tokens=tuple(tokens), kinds=kinds)

    def _kinds(self, word: str) -> frozenset[str]:
        slots = {
            "{ordinal}": word in _first_words(tuple(_ordinals())),
            "{count}": word in _first_words(tuple(_counts())),
            "{hole}": any(name.split()[0] == word for name in self.names.holes if name),
            "{course}": any(name.split()[0] == word for name in self.names.courses if name),
            "{taught}": any(name.split()[0] == word for name in self.names.words if name),
            "{length}": word in NUMBER_WORDS or word[:1].isdigit() or word in ("a", "an", "few"),
        }
        return frozenset({word, "{name}", "{rest}", *(slot for slot, may in slots.items() if may)})

    def text(self, start: int, end: int) -> str:
        """The words of a stretch, pauses as commas."""
        parts = [
            f"{',' if token.after_break and at else ''} {token.text}"
            for at, token in enumerate(self.tokens[start:end])
        ]
        return "".join(parts).strip()


FilledTo = tuple[int, SlotsFilled]
"""A place reached in what is said, and what the slots hold by then."""


def laid_out(text: str, names: Names, unit: Unit, pace_m: float) -> Said:
    """An utterance in plain words, "4th" as "fourth"."""
    spelled = _WRITTEN.sub(lambda found: _ordinals_by_number().get(int(found[1]), found[0]), text)
    return Said((), names, unit, pace_m).with_tokens(reducer().tokens(spelled))


def ends(node: Node, said: Said, at: int, found: SlotsFilled) -> Iterator[FilledTo]:
    """Where a template may end that begins at ``at``, and what its slots hold then."""

    def word(text: str, filled: FilledTo) -> Iterator[FilledTo]:
        place, so_far = filled
        if place < len(said.tokens) and said.tokens[place].text == text and _goes_on(said, place, so_far):
            yield place + 1, so_far

    return reached(node, (at, found), word, lambda name, filled: _slot(name, said, *filled))


def stands_apart(said: Said, end: int) -> bool:
    """Whether a phrase that ends here is on its own: a pause, a number or a word that goes on follows, or nothing."""
    if end == len(said.tokens) or said.tokens[end].after_break:
        return True
    number = "{length}" in said.kinds[end] and said.tokens[end - 1].text not in NUMBER_WORDS
    return number or said.tokens[end].text in note_data()["going_on"].split()


def _goes_on(said: Said, at: int, found: SlotsFilled) -> bool:
    """Whether no pause stands between a template's words before ``at`` and those after; ``{rest}`` minds none."""
    return at == found.start or at >= len(said.tokens) or not said.tokens[at].after_break


def _slot(name: str, said: Said, at: int, found: SlotsFilled) -> Iterator[tuple[int, SlotsFilled]]:
    tokens = said.tokens
    if name != "rest" and not _goes_on(said, at, found):
        return
    match name:
        case "ordinal":
            for length, number in _at(_ordinals(), tokens, at):
                yield at + length, replace(found, hole=number)
        case "count":
            for length, number in _at(_counts(), tokens, at):
                yield at + length, replace(found, hole=number)
        case "hole":
            for length, number in _at(_split(said.names.holes), tokens, at):
                yield at + length, replace(found, hole=number)
        case "course":
            for length, course in _at(_split({each: each for each in said.names.courses}), tokens, at):
                yield at + length, replace(found, course=course)
        case "taught":
            for length, word in _at(_split({each: each for each in said.names.words}), tokens, at):
                yield at + length, replace(found, taught=word)
        case "length":
            yield from _length(said, at, found)
        case "name":
            yield from _name(said, at, found)
        case "rest":
            if at < len(tokens):
                yield len(tokens), replace(found, rest_at=at)
        case _:
            for node in _places(name):
                for end, inner in ends(node, said, at, found):
                    yield end, replace(inner, here=inner.hole is None)


def _length(said: Said, at: int, found: SlotsFilled) -> Iterator[tuple[int, SlotsFilled]]:
    if at >= len(said.tokens):
        return
    first = gather(said.tokens[at:], grammar().units)[0]
    if first.quantity is not None and first.quantity.is_length and first.said:
        length_m = first.quantity.metres(said.unit, said.pace_m)
        yield at + len(first.said.split()), replace(found, length_m=length_m)


def _name(said: Said, at: int, found: SlotsFilled) -> Iterator[tuple[int, SlotsFilled]]:
    for end in range(at + 1, min(at + MOST_NAME_WORDS, len(said.tokens)) + 1):
        if end > at + 1 and said.tokens[end - 1].after_break:
            return
        yield end, replace(found, name=said.text(at, end))


def _at(
    names: Mapping[tuple[str, ...], Value], tokens: Sequence[Token], at: int
) -> Iterator[tuple[int, Value]]:
    for words, value in names.items():
        if tuple(token.text for token in tokens[at : at + len(words)]) == words:
            yield len(words), value


def _split(names: Mapping[str, Value]) -> dict[tuple[str, ...], Value]:
    return {tuple(name.split()): value for name, value in names.items() if name}


@cache
def _counts() -> dict[tuple[str, ...], int]:
    """Whole numbers in words and in digits."""
    spelled = {tuple(spoken_number(n).replace("-", " ").split()): n for n in range(1, MOST_HOLES + 1)}
    return spelled | {(str(n),): n for n in range(1, MOST_HOLES + 1)}


@cache
def _ordinals() -> dict[tuple[str, ...], int]:
    return {tuple(word.split()): number for number, word in _ordinals_by_number().items()}


@cache
def _ordinals_by_number() -> dict[int, str]:
    found = {}
    for number in range(1, MOST_HOLES + 1):
        *before, last = spoken_number(number).replace("-", " ").split()
        found[number] = " ".join([*before, _IRREGULAR.get(last, f"{last}th")])
    return found


def ordinal(number: int) -> str:
    """A number's ordinal in words.

    >>> ordinal(4), ordinal(12), ordinal(21)
    ('fourth', 'twelfth', 'twenty first')
    """
    return _ordinals_by_number()[number]


@cache
def _first_words(phrases: tuple[tuple[str, ...], ...]) -> frozenset[str]:
    return frozenset(words[0] for words in phrases)


def _firsts_of_slot(name: str) -> tuple[frozenset[str], bool]:
    """The slot itself and, for one that stands for phrases, what these begin with."""
    phrases = _places(name) if name in note_data()["places"] else ()
    inner = [firsts(each, _firsts_of_slot)[0] for each in phrases]
    return frozenset({f"{{{name}}}"}).union(*inner), False


@cache
def lines(place: str) -> tuple[PhraseLine, ...]:
    """The lines of the grammar that stand in one place: whole, lead or part."""
    return tuple(
        PhraseLine(item, tuple((node, firsts(node, _firsts_of_slot)[0]) for node in map(parse, item["say"])))
        for item in note_data()["told"]
        if item["place"] == place
    )


@cache
def _places(name: str) -> tuple[Node, ...]:
    return tuple(parse(written) for written in note_data()["places"][name])


@cache
def note_data() -> dict[str, Any]:
    """The file as it is written."""
    return tomllib.loads(shipped("grammars/en/notes.toml").read_text(encoding="utf-8"))
