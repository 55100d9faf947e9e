"""What is told to be remembered, or asked of what is remembered: relations of ``notes.toml`` of the grammar.

They are looked for in the plain words; what they leave is read as any other utterance.

>>> told = read_note("Remember: the fourth green falls left to right, twenty-eight deep")
>>> told.wish, told.hole, round(told.depth_m, 1), told.rest
('remember', 4, 25.6, 'green falls left to right')
>>> told = read_note("on the 4th, seventy to the flag, back")
>>> told.wish, told.hole, told.rest
(None, 4, 'seventy to the flag , back')
"""

import re
import tomllib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, TypeVar

from caddie.places import shipped
from caddie.situation import Frozen
from caddie.units import YARD_M, Unit, spoken_number
from caddie.words.grammar import grammar
from caddie.words.quantities import gather
from caddie.words.reduction import reducer
from caddie.words.spelling import LONGEST_TEXT, Token
from caddie.words.templates import Choice, Node, Slot, Word, parse
from caddie.words.templates import Sequence as Parts

Value = TypeVar("Value")

MOST_HOLES = 36
LONGEST_NAME = 5
"""Words of a name."""
_IRREGULAR = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth",
    "twelve": "twelfth", "twenty": "twentieth", "thirty": "thirtieth",
}  # fmt: skip
_WRITTEN = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th)\b", re.IGNORECASE)


class NoteSaid(Frozen):
    """One utterance as far as it is about what is remembered; the rest is for the reader of shots."""

    wish: str | None = None
    """What is to be done with what is remembered, as ``notes.toml`` calls it; None when a hole is only named."""
    hole: int | None = None
    course: str | None = None
    """A course known by that name."""
    here: bool = False
    """Said of "this hole"."""
    name: str | None = None
    """A name given to something, as said."""
    taught: str | None = None
    """A word of the player's own."""
    depth_m: float | None = None
    height_m: float | None = None
    rest: str = ""
    """What is left, in plain words."""


@dataclass(frozen=True)
class Names:
    """The player's own names, as they are compared."""

    holes: Mapping[str, int] = field(default_factory=dict)
    courses: Collection[str] = ()
    words: Collection[str] = ()


NO_NAMES = Names()


@dataclass(frozen=True)
class _Told:
    """A line of the grammar."""

    facts: Mapping[str, Any]
    nodes: tuple[Node, ...]


@dataclass(frozen=True)
class _Found:
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
class _Words:
    """An utterance in plain words, with the names and units to read it by."""

    tokens: tuple[Token, ...]
    names: Names
    unit: Unit
    pace_m: float

    def text(self, start: int, end: int) -> str:
        """The words of a stretch, pauses as commas."""
        parts = [
            f"{', ' if token.after_break and at else ''}{token.text}"
            for at, token in enumerate(self.tokens[start:end])
        ]
        return " ".join(parts)


def read_note(
    text: str, *, names: Names = NO_NAMES, unit: Unit = Unit.YARDS, pace_m: float = YARD_M
) -> NoteSaid:
    """Read what is told of things to remember; with no wish and no hole it was about none.

    Parameters:
        text: what was said or typed.
        names: the player's own names of holes, courses and shots.
        unit: what a length without a unit is counted in.
        pace_m: length of the player's pace [m].
    """
    if len(text) > LONGEST_TEXT:
        return NoteSaid(rest=text)
    said = _words_of(text, names, unit, pace_m)
    whole = _whole(said)
    if whole is not None:
        return whole
    wish, said = _led(said)
    told: dict[str, Any] = {"wish": wish}
    for line in _lines("part"):
        if line.facts.get("with") in (None, wish):
            said, more = _taken_out(said, line)
            told |= {key: value for key, value in more.items() if told.get(key) is None}
    return NoteSaid(**told, rest=said.text(0, len(said.tokens)))


def which_of(text: str) -> str | None:
    """What a contradiction is answered with: ``now``, ``before`` or ``both``; None when neither is plain."""
    words = {token.text for token in reducer().tokens(text)}
    found = [name for name, said in _data()["which"].items() if words & set(said.split())]
    return found[0] if len(found) == 1 else None


def plain_words(text: str) -> str:
    """A name as it is compared with what is said: plain words without an article before them."""
    tokens = [token.text for token in reducer().tokens(text)]
    while tokens and tokens[0] in grammar().articles:
        tokens = tokens[1:]
    return " ".join(tokens)


def _words_of(text: str, names: Names, unit: Unit, pace_m: float) -> _Words:
    spelled = _WRITTEN.sub(lambda found: _ordinals_by_number().get(int(found[1]), found[0]), text)
    return _Words(tuple(reducer().tokens(spelled)), names, unit, pace_m)


def _whole(said: _Words) -> NoteSaid | None:
    """The wish that is all of the utterance; of several, the one that leaves the fewest words to a name."""
    count = len(said.tokens)
    found = [
        (line, each)
        for line in _lines("whole")
        for node in line.nodes
        for end, each in _ends(node, said, 0, _Found())
        if end == count > 0
    ]
    if not found:
        return None
    line, best = min(found, key=lambda pair: len((pair[1].name or "").split()))
    return NoteSaid(
        wish=str(line.facts["wish"]),
        hole=best.hole,
        here=best.here,
        course=best.course,
        name=best.name,
        taught=best.taught,
        rest="" if best.rest_at is None else said.text(best.rest_at, count),
    )


def _led(said: _Words) -> tuple[str | None, _Words]:
    """The wish that the utterance begins with, and what follows it."""
    for line in _lines("lead"):
        for node in line.nodes:
            ends = [found.rest_at for _, found in _ends(node, said, 0, _Found()) if found.rest_at is not None]
            if ends:
                return str(line.facts["wish"]), replace(said, tokens=said.tokens[max(ends) :])
    return None, said


def _taken_out(said: _Words, line: _Told) -> tuple[_Words, dict[str, Any]]:
    """The utterance without the first stretch that ``line`` explains, and what that tells."""
    count = len(said.tokens)
    best: tuple[int, int, _Found] | None = None
    for start in range(count):
        for node in line.nodes:
            for end, found in _ends(node, said, start, _Found(start)):
                apart = end == count or said.tokens[end].after_break
                if end == start or (line.facts.get("apart") and not apart):
                    continue
                if best is None or (start == best[0] and end > best[1]):
                    best = (start, end, found)
        if best is not None:
            break
    if best is None:
        return said, {}
    start, end, found = best
    leaves = [Token(str(line.facts["leaves"]), said.tokens[start].after_break)] if "leaves" in line.facts else []
    after = said.tokens[end:]
    if after and not leaves and said.tokens[start].after_break:
        after = (Token(after[0].text, True), *after[1:])
    told = _told(str(line.facts["names"]), found)
    return replace(said, tokens=(*said.tokens[:start], *leaves, *after)), told


def _told(names: str, found: _Found) -> dict[str, Any]:
    match names:
        case "hole":
            return {"hole": found.hole}
        case "course":
            return {"course": found.course}
        case "depth":
            return {"depth_m": found.length_m}
        case "raised":
            return {"height_m": found.length_m}
        case _:
            return {"height_m": None if found.length_m is None else -found.length_m}


def _ends(node: Node, said: _Words, at: int, found: _Found) -> Iterator[tuple[int, _Found]]:
    """Where a template may end that begins at ``at``, and what its slots hold then."""
    match node:
        case Word(text):
            if at < len(said.tokens) and said.tokens[at].text == text and _goes_on(said, at, found):
                yield at + 1, found
        case Choice(options):
            for option in options:
                yield from _ends(option, said, at, found)
        case Slot(name):
            yield from _slot(name, said, at, found)
        case Parts(parts):
            reached = [(at, found)]
            for part in parts:
                reached = [
                    each
                    for place, so_far in reached
                    for each in _ends(part, said, place, so_far)
                ]
            yield from reached


def _goes_on(said: _Words, at: int, found: _Found) -> bool:
    """Whether no pause stands between a template's words before ``at`` and those after; ``{rest}`` minds none."""
    return at == found.start or at >= len(said.tokens) or not said.tokens[at].after_break


def _slot(name: str, said: _Words, at: int, found: _Found) -> Iterator[tuple[int, _Found]]:
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
                for end, inner in _ends(node, said, at, found):
                    yield end, replace(inner, here=inner.hole is None)


def _length(said: _Words, at: int, found: _Found) -> Iterator[tuple[int, _Found]]:
    if at >= len(said.tokens):
        return
    first = gather(said.tokens[at:], grammar().units)[0]
    if first.quantity is not None and first.quantity.is_length and first.said:
        length_m = first.quantity.metres(said.unit, said.pace_m)
        yield at + len(first.said.split()), replace(found, length_m=length_m)


def _name(said: _Words, at: int, found: _Found) -> Iterator[tuple[int, _Found]]:
    for end in range(at + 1, min(at + LONGEST_NAME, len(said.tokens)) + 1):
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


@cache
def _lines(place: str) -> tuple[_Told, ...]:
    return tuple(
        _Told(item, tuple(parse(written) for written in item["say"]))
        for item in _data()["told"]
        if item["place"] == place
    )


@cache
def _places(name: str) -> tuple[Node, ...]:
    return tuple(parse(written) for written in _data()["places"][name])


@cache
def _data() -> dict[str, Any]:
    return tomllib.loads(shipped("grammars/en/notes.toml").read_text(encoding="utf-8"))
