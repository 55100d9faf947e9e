"""Questions of a shot or putt in play that stand beside other things in a turn, found clause by clause.

What they are known by is data: ``in_kind.toml``. A clause that asks one tells no fact: a length or a line that it
names is what is asked about.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from caddie.units import FOOT_M, Unit, to_metres
from caddie.words.borrow import amount_named
from caddie.words.echoes import figures_in
from caddie.words.gist import MOST_WORDS, WaysByWord, by_first_word, is_plain_word, own_words
from caddie.words.grammar import grammar
from caddie.words.sayings import compared
from caddie.words.talk_files import gist_data, read_grammar
from caddie.words.templates import words_of

_PARTS = re.compile(r"(?<=[.;!?…])\s+|(?<=,)\s+|\s+(?=(?:and|but|so)\s)", re.IGNORECASE)
_STOPS = (".", ";", "!", "?", "…")
ASKED_IN_CLAUSES = 3
"""What is asked goes over no more clauses: "firm and straight, or soft with a bit of borrow"."""
NAMES_A_LINE = 3
"""Words that only name a line: "four whole cups"."""


@dataclass(frozen=True)
class AskedInKind:
    """What is asked, and what else the turn says before and behind it."""

    kind: str
    before: str
    clause: str
    behind: str


@dataclass(frozen=True)
class _Way:
    kind: str
    by: tuple[str, ...]
    at: str = ""
    unless: tuple[str, ...] = ()
    across: bool = False
    """Whether it may go over the end of a sentence: "square face? I was told to open it. Why not here?"."""


def asked_in_kind(text: str, at: str, means: Callable[[str, str], bool]) -> AskedInKind | None:
    """The first thing that the turn asks so, in as few clauses as hold it; None where it asks none.

    Parameters:
        at: "shot" or "putt", what is in play.
        means: whether a clause can mean a kind, by what is known.
    """
    parts = [part for part in _PARTS.split(text.strip()) if part]
    for size in range(1, ASKED_IN_CLAUSES + 1):
        for start in range(len(parts) - size + 1):
            clause = " ".join(parts[start : start + size])
            stops = any(part.endswith(_STOPS) for part in parts[start : start + size - 1])
            ways = (way for way in _ways() if _is_so(way, clause, at) and (way.across or not stops))
            asked = (way.kind for way in ways if means(way.kind, clause))
            if (kind := next(asked, None)) is None:
                continue
            end = start + size
            while end < len(parts) and _goes_on(parts[end], kind, at):
                end += 1
            while start and _leads(parts[start - 1], kind):
                start -= 1
            clause, behind = " ".join(parts[start:end]), " ".join(parts[end:])
            return AskedInKind(kind, " ".join(parts[:start]).rstrip(" ,"), clause.rstrip(","), behind)
    return None


def words_of_kind(text: str) -> frozenset[str]:
    """The names of the lists of which something is said."""
    return frozenset(_found(text))


def near_named_m(text: str, pace_m: float) -> float | None:
    """The length beside the hole that is asked about, by figure or by name [m]."""
    units = {unit.value: unit for unit in Unit}
    told = [each for each in figures_in(_counted(text)) if each.unit in units]
    if told:
        return to_metres(told[-1].value, units[told[-1].unit or ""], pace_m)
    said = set(compared(text))
    named = (
        each
        for each in read_grammar("in_kind")["lengths"].values()
        if not said.isdisjoint(each["say"].split())
    )
    return max((each["feet"] * FOOT_M for each in named), default=None)


def _counted(text: str) -> str:
    """The text with "a foot" as a figure, and a footer as its length."""
    return re.sub(r"\b(?:a|an)\s+(?=(?:foot|yard|metre|pace)\b)", "one ", text.lower()).replace(
        "footer", "foot"
    )


def _is_so(way: _Way, clause: str, at: str) -> bool:
    found = _found(clause)
    return (
        way.at in ("", at)
        and all(name in found for name in way.by)
        and not any(name in found for name in way.unless)
    )


def _goes_on(part: str, kind: str, at: str) -> bool:
    """Whether a clause behind says more of the same: "are you sure? My mate would say two"."""
    more = read_grammar("in_kind")["more"].get(kind, ())
    return not _found(part).keys().isdisjoint(more) or any(
        way.kind == kind and _is_so(way, part, at) for way in _ways()
    )


def _leads(part: str, kind: str) -> bool:
    """Whether a clause before only leads up to it, or names what it asks about: "four cups, that's an awful lot"."""
    data = read_grammar("in_kind")
    if (
        amount_named(part) is not None
        and len(part.split()) <= NAMES_A_LINE
        and kind in data["of_a_line"]["say"]
    ):
        return True
    return not _found(part).keys().isdisjoint(data["before"].get(kind, ()))


@lru_cache(maxsize=512)
def _found(text: str) -> dict[str, frozenset[int]]:
    """The lists of which something is said, and the places of the words that say the most of it."""
    words, found = compared(text), dict[str, frozenset[int]]()
    if len(words) > MOST_WORDS or not _elsewhere().isdisjoint(words):
        return found
    for start in range(len(words)):
        for name, way in _index().get(words[start], ()):
            own = max(own_words(way, words, start), key=len, default=frozenset())
            if len(own) > len(found.get(name, ())):
                found[name] = own
    own = frozenset().union(*found.values())
    return (
        found
        if sum(not is_plain_word(words[at]) for at in range(len(words)) if at not in own) <= len(found)
        else {}
    )


@cache
def _elsewhere() -> frozenset[str]:
    """Words of another subject, without those that are of the shot here."""
    said = (word for ways in _index().values() for _, way in ways for word in words_of(way.node))
    return frozenset(grammar().elsewhere).difference(said, gist_data()["of_the_ball"]["say"])


@cache
def _ways() -> tuple[_Way, ...]:
    return tuple(_way(**each) for each in read_grammar("in_kind")["asked"])


def _way(by: list[str], unless: Sequence[str] = (), **rest: Any) -> _Way:
    return _Way(by=tuple(by), unless=tuple(unless), **rest)


@cache
def _index() -> WaysByWord[str]:
    told = ((name, each) for name, ways in read_grammar("in_kind")["words"].items() for each in ways)
    return by_first_word("in_kind", told)
