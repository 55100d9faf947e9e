"""Things said in a conversation that are no facts of a shot, read from ``talk.toml`` and ``asked.toml``
of ``grammars/en``.

A saying is matched word by word against its templates; what may stand around it ("and", "mate", "please")
changes nothing.
"""

import random
import re
import tomllib
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from caddie.places import shipped
from caddie.units import Unit
from caddie.words.templates import Choice, Node, Sequence, Slot, Word, parse, say

_NOT_SAID = re.compile(r"[^a-z0-9 ]+")
_CLAUSES = re.compile(r"[,.;:!?]+|\band\b|\bbut\b")
_WORD = re.compile(r"(?<![{a-z0-9_])[a-z0-9]+(?![}a-z0-9_])")
_MOST_AROUND = 6
"""Most words of one thing that stands around a saying."""
_COUNTED = re.compile(r"(?<=\d)\s*(m|yds?|ft)\b")
WAYS_TAUGHT = 10
"""Ways of saying one template that a recogniser is taught."""


@dataclass(frozen=True)
class Heard:
    """Words as they are compared, with where a saying may begin and end in them."""

    words: tuple[str, ...]
    starts: tuple[int, ...]
    ends: frozenset[int]


def says(text: str, saying: str) -> bool:
    """Whether the whole of ``text`` is one of the ways to say ``saying``, whatever stands around it.

    >>> says("Let's take stock, please.", "taking_stock"), says("take stock of the water", "taking_stock")
    (True, False)
    """
    return saying in sayings_of(text)


def saying_of(text: str, among: Collection[str]) -> str | None:
    """The one of ``among`` that the whole of ``text`` says, or None; a longer match goes first.

    >>> saying_of("and how big a swing is that now?", ("carry", "swing"))
    'swing'
    """
    return next((name for name in sayings_of(text) if name in among), None)


@lru_cache(maxsize=4096)
def sayings_of(text: str) -> tuple[str, ...]:
    """Every saying that the whole of ``text`` is, those that explain more of its words first."""
    heard = _heard(text)
    found: dict[str, int] = {}
    for start in heard.starts:
        for name, node in _index().get(heard.words[start], ()) if start < len(heard.words) else ():
            length = max((end for end in _ends(node, heard.words, start) if end in heard.ends), default=start)
            if length > start:
                found[name] = max(found.get(name, 0), length - start)
    return tuple(sorted(found, key=lambda name: -found[name]))


def begins(text: str, saying: str) -> bool:
    """Whether ``text`` begins with one of the ways to say ``saying`` and goes on.

    >>> begins("Let's go with the gap wedge", "adopt_lead")
    True
    """
    heard = _heard(text)
    return any(
        start < end < len(heard.words)
        for start in heard.starts
        for node in _nodes()[saying]
        for end in _ends(node, heard.words, start)
    )


def says_in_part(text: str, saying: str) -> bool:
    """Whether one clause of ``text`` is a way to say ``saying``.

    >>> says_in_part("eight feet past, and I quit on it", "quit")
    True
    """
    return says(text, saying) or any(says(clause, saying) for clause in clauses(text))


def bare(text: str) -> str:
    """What is left of ``text`` without what may stand around a saying; all of it when nothing is.

    >>> bare("Oh dear, it finished in the bunker, mate")
    'it finished in the bunker'
    """
    tokens = text.split()
    heard = [compared(token) for token in tokens]
    lead, tail = _around()
    start, end = 0, len(tokens)
    while (used := _edge(lead, heard, start, end, 1)) and start + used < end:
        start += used
    while (used := _edge(tail, heard, start, end, -1)) and start < end - used:
        end -= used
    return " ".join(tokens[start:end]).strip(" ,;")


def clauses(text: str) -> list[str]:
    """The parts of an utterance between stops, ``and`` and ``but``."""
    return [part.strip() for part in _CLAUSES.split(text.lower()) if part.strip()]


def plain(text: str) -> str:
    """Lower case, one space between words, nothing but letters and digits."""
    joined = text.lower().replace("'", "").replace("’", "")
    return " ".join(_NOT_SAID.sub(" ", joined).split())


def compared(text: str) -> tuple[str, ...]:
    """Words as they are compared: two ways of writing the same are one.

    >>> compared("What's that?"), compared("thirty-five")
    (('what', 'is', 'that'), ('thirty', 'five'))
    """
    same = _data()["same"]
    return tuple(word for each in plain(text).split() for word in same.get(each, each).split())


def spoken() -> list[str]:
    """Ways of saying every saying, for a recogniser to expect."""
    chance = random.Random(0)
    return sorted(
        {
            " ".join(say(node, chance, lambda name: _one_way(name, chance)).split())
            for nodes in _nodes().values()
            for node in nodes
            for _ in range(WAYS_TAUGHT)
        }
        - {""}
    )


def frames(field: str) -> tuple[str, ...]:
    """Sentences that a bare answer about ``field`` completes."""
    return tuple(_data()["frames"].get(field, ()))


def walk() -> dict[str, str]:
    """The stops of the walk to the ball and their questions, in order."""
    return {entry["stop"]: entry["ask"] for entry in _data()["walk"]}


def meaning_of(text: str) -> str | None:
    """What the word of the game that ``text`` asks about means; the longest one named."""
    words = f" {' '.join(compared(text))} "
    named = [
        (len(said), term["means"])
        for term in _asked()["term"]
        for said in term["said"]
        if f" {said} " in words
    ]
    return max(named)[1] if named else None


def technique(name: str) -> str:
    """How a kind of shot is set up and swung."""
    return str(_asked()["technique"][name])


def hedges() -> frozenset[str]:
    """Words inside an utterance that say nothing."""
    return frozenset(_data()["around"]["hedges"])


def practice_for(fault: str) -> str:
    """What to practise against a fault."""
    return str(_asked()["practice"][fault])


def unit_said(text: str) -> Unit | None:
    """The unit that the last number of ``text`` is counted in, when one is said.

    >>> unit_said("fifty-five metres, flag at the back"), unit_said("55m"), unit_said("sixty")
    (<Unit.METRES: 'metres'>, <Unit.METRES: 'metres'>, None)
    """
    found = None
    for word in _COUNTED.sub(r" \1 ", f" {text.lower()} ").replace("-", " ").split():
        for name, said in _data()["counted_in"].items():
            if word.strip(".,;:!?") in said.split():
                found = Unit(name)
    return found


def is_beyond(text: str) -> bool:
    """Whether golf beyond the short game is talked about."""
    return _has_any(text, _data()["beyond"]["say"])


def is_golf(text: str) -> bool:
    """Whether a word of the game is in ``text``."""
    return not set(compared(text)).isdisjoint(_data()["golf"]["say"].split())


def _has_any(text: str, said: Iterable[str]) -> bool:
    words = f" {' '.join(compared(text))} "
    return any(f" {each} " in words for each in said)


def _edge(
    said: frozenset[tuple[str, ...]], heard: list[tuple[str, ...]], start: int, end: int, side: int
) -> int:
    """How many tokens at one edge of ``heard[start:end]`` are one of ``said``, the most first."""
    for count in range(min(_MOST_AROUND, end - start), 0, -1):
        edge = heard[start : start + count] if side > 0 else heard[end - count : end]
        if tuple(word for words in edge for word in words) in said:
            return count
    return 0


@lru_cache(maxsize=4096)
def _heard(text: str) -> Heard:
    words = compared(text)
    lead, tail = _around()
    starts, ends = {0}, {len(words)}
    for at in range(len(words)):
        if at in starts:
            starts |= {at + n for n in range(1, _MOST_AROUND + 1) if words[at : at + n] in lead}
    for at in range(len(words), 0, -1):
        if at in ends:
            ends |= {at - n for n in range(1, min(_MOST_AROUND, at) + 1) if words[at - n : at] in tail}
    return Heard(words, tuple(sorted(at for at in starts if at < len(words))), frozenset(ends))


def _ends(node: Node, words: tuple[str, ...], start: int) -> Iterator[int]:
    """Where the templates may end that begin at ``start``."""
    match node:
        case Word(text):
            if start < len(words) and words[start] == text:
                yield start + 1
        case Slot(name):
            yield from _ends(_part(name), words, start)
        case Choice(options):
            for option in options:
                yield from _ends(option, words, start)
        case Sequence(parts):
            reached = {start}
            for part in parts:
                reached = {end for at in reached for end in _ends(part, words, at)}
            yield from reached


def _firsts(node: Node) -> tuple[frozenset[str], bool]:
    """The words a template may begin with, and whether it may be empty."""
    match node:
        case Word(text):
            return frozenset({text}), False
        case Slot(name):
            return _firsts(_part(name))
        case Choice(options):
            each = [_firsts(option) for option in options]
            return frozenset().union(*(words for words, _ in each)), any(empty for _, empty in each)
        case Sequence(parts):
            found: frozenset[str] = frozenset()
            for part in parts:
                words, empty = _firsts(part)
                found |= words
                if not empty:
                    return found, False
            return found, True


def _one_way(name: str, chance: random.Random) -> str:
    return say(_part(name), chance, lambda inner: _one_way(inner, chance))


def _template(written: str) -> Node:
    """A template in words as they are compared."""
    same = _data()["same"]
    return parse(_WORD.sub(lambda found: same.get(found[0], found[0]), written))


@cache
def _part(name: str) -> Node:
    if name == "term":
        said = {each for term in _asked()["term"] for each in term["said"]}
        return parse(f"({'|'.join(sorted(said))})")
    return _template(_data()["parts"][name])


@cache
def _around() -> tuple[frozenset[tuple[str, ...]], frozenset[tuple[str, ...]]]:
    around = _data()["around"]
    lead, tail = (
        frozenset(compared(each) for group in around[side] for each in group.strip("()").split("|"))
        for side in ("lead", "tail")
    )
    return lead, tail


@cache
def _nodes() -> dict[str, tuple[Node, ...]]:
    found: dict[str, tuple[Node, ...]] = {}
    for data in (_data(), _asked()):
        for name, written in data["sayings"].items():
            found[name] = (*found.get(name, ()), *(_template(each) for each in written))
    return found


@cache
def _index() -> dict[str, list[tuple[str, Node]]]:
    """Every template by the words it may begin with."""
    index: dict[str, list[tuple[str, Node]]] = {}
    for name, nodes in _nodes().items():
        for node in nodes:
            for word in _firsts(node)[0]:
                index.setdefault(word, []).append((name, node))
    return index


@cache
def _data() -> dict[str, Any]:
    return _read("talk")


@cache
def _asked() -> dict[str, Any]:
    return _read("asked")


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(shipped(f"grammars/en/{name}.toml").read_text(encoding="utf-8"))
