"""Things said in a conversation that are no facts of a shot, read from ``talk.toml`` and ``asked.toml``
of ``grammars/en``.

A saying is matched word by word against its templates; what may stand around it ("and", "mate", "please")
changes nothing.
"""

import re
import tomllib
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Any

from caddie.places import shipped
from caddie.words.templates import Node, firsts, needs, parse, reached, words_of

_SHORT_IS = re.compile(r"(?<=\d)['’]s\b|(?<=[a-z])['’]s(?= in\b)")
"""An "is" that is no possessive: behind a number, and in "the short one's in"."""
_NOT_SAID = re.compile(r"[^a-z0-9 ]+")
_SENTENCES = re.compile(r"(?<=[.;!?])\s+")
_CLAUSES = re.compile(r"[,.;:!?]+|\band\b|\bbut\b")
_WORD = re.compile(r"(?<![{a-z0-9_])[a-z0-9]+(?![}a-z0-9_])")
_MOST_AROUND = 6
"""Most words of one thing that stands around a saying."""


@dataclass(frozen=True)
class Heard:
    """Words as they are compared, with where a saying may begin and end in them."""

    words: tuple[str, ...]
    starts: tuple[int, ...]
    ends: frozenset[int]


@dataclass(frozen=True)
class IndexedSaying:
    """One template of a saying."""

    name: str
    node: Node

    @cached_property
    def needs(self) -> tuple[frozenset[str], ...]:
        """Sets of words of each of which one must be there for it to be said, the smallest first.

        Worked out for what begins like something that was said: few templates ever do.
        """
        return tuple(sorted(needed_words(self.node), key=len))


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
    words = frozenset(heard.words)
    for start in heard.starts:
        for way in _index().get(heard.words[start], ()):
            if any(needed.isdisjoint(words) for needed in way.needs):
                continue
            last = max(
                (end for end in _ends(way.node, heard.words, start) if end in heard.ends), default=start
            )
            if last > start:
                found[way.name] = max(found.get(way.name, 0), last - start)
    said, unless = f" {' '.join(heard.words)} ", talk_data()["unless_said"]
    kept = (name for name in found if not any(f" {words} " in said for words in unless.get(name, ())))
    return tuple(sorted(kept, key=lambda name: -found[name]))


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


def ends(text: str, saying: str) -> bool:
    """Whether ``text`` ends with one of the ways to say ``saying``, behind something else.

    >>> ends("alright, the lob wedge then", "taken_end")
    True
    """
    words = _heard(text).words
    return any(
        len(words) in _ends(node, words, start) for start in range(1, len(words)) for node in _nodes()[saying]
    )


def says_in_part(text: str, saying: str) -> bool:
    """Whether one clause of ``text`` is a way to say ``saying``.

    >>> says_in_part("eight feet past, and I quit on it", "quit")
    True
    """
    return says(text, saying) or any(says(clause, saying) for clause in clauses(text))


@lru_cache(maxsize=4096)
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


def denied_beside(text: str) -> bool:
    """Whether a "no" leads what was meant, and a "not" what was not.

    >>> denied_beside("no the nine not the wedge"), denied_beside("not the wedge")
    (True, False)
    """
    words = compared(text)
    return words[:1] == ("no",) and "not" in words[1:]


def clauses(text: str) -> list[str]:
    """The parts of an utterance between stops, ``and`` and ``but``."""
    return [part.strip() for part in _CLAUSES.split(text.lower()) if part.strip()]


def sentences_of(text: str) -> list[str]:
    """The parts of an utterance that end in a stop, each with it.

    >>> sentences_of("No. It's 60? Yes")
    ['No.', "It's 60?", 'Yes']
    """
    return [part for each in _SENTENCES.split(text) if (part := each.strip())]


def plain(text: str) -> str:
    """Lower case, one space between words, nothing but letters and digits."""
    joined = _SHORT_IS.sub(" is", text.lower()).replace("'", "").replace("’", "")
    return " ".join(_NOT_SAID.sub(" ", joined).split())


@lru_cache(maxsize=4096)
def compared(text: str) -> tuple[str, ...]:
    """Words as they are compared: two ways of writing the same are one.

    >>> compared("What's that?"), compared("thirty-five")
    (('what', 'is', 'that'), ('thirty', 'five'))
    """
    same = talk_data()["same"]
    return tuple(word for each in plain(text).split() for word in same.get(each, each).split())


def frames(field: str) -> tuple[str, ...]:
    """Sentences that a bare answer about ``field`` completes."""
    return tuple(talk_data()["frames"].get(field, ()))


def without_hedges(text: str) -> str:
    """The text without words inside it that say nothing: "it's like literally forty"."""
    hedges = talk_data()["around"]["hedges"]
    return " ".join(word for word in text.split() if word.strip(",").lower() not in hedges)


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

    def word(text: str, at: int) -> tuple[int, ...]:
        return (at + 1,) if at < len(words) and words[at] == text else ()

    def slot(name: str, at: int) -> Iterator[int]:
        return reached(part_named(name), at, word, slot)

    return reached(node, start, word, slot)


def first_words(node: Node) -> frozenset[str]:
    """The words a template of the sayings may begin with."""
    return firsts(node, _firsts_of_part)[0]


def needed_words(node: Node) -> tuple[frozenset[str], ...]:
    """Sets of words of each of which at least one is said wherever a template of the sayings is."""
    return needs(node, _firsts_of_part)


@cache
def _firsts_of_part(name: str) -> tuple[frozenset[str], bool]:
    return firsts(part_named(name), _firsts_of_part)


def template(written: str) -> Node:
    """A template in words as they are compared."""
    same = talk_data()["same"]
    return parse(_WORD.sub(lambda found: same.get(found[0], found[0]), written))


@cache
def part_named(name: str) -> Node:
    """What a slot of the sayings stands for."""
    if name in ("term", "trade_term"):
        # A common word is asked about as a word only when "mean" is said.
        terms = (each for each in glossary_data() if name == "term" or not each.get("common"))
        said = {each for term in terms for each in term["said"]}
        return parse(f"({'|'.join(sorted(said))})")
    return template(talk_data()["parts"][name])


@cache
def _around() -> tuple[frozenset[tuple[str, ...]], frozenset[tuple[str, ...]]]:
    around = talk_data()["around"]
    lead, tail = (
        frozenset(compared(each) for group in around[side] for each in group.strip("()").split("|"))
        for side in ("lead", "tail")
    )
    return lead, tail


@cache
def _nodes() -> dict[str, tuple[Node, ...]]:
    """The templates of every saying, the marks among them that no recogniser is taught."""
    found = dict(taught())
    for name, written in talk_data()["marks"].items():
        found[name] = (*found.get(name, ()), *(template(each) for each in written))
    return found


@cache
def taught() -> dict[str, tuple[Node, ...]]:
    """The templates of every saying that a recogniser is taught."""
    found: dict[str, tuple[Node, ...]] = {}
    for data in (talk_data(), asked_data()):
        for name, written in data["sayings"].items():
            found[name] = (*found.get(name, ()), *(template(each) for each in written))
    return found


@cache
def _index() -> dict[str, list[IndexedSaying]]:
    """Every template by the words it may begin with."""
    index: dict[str, list[IndexedSaying]] = {}
    for name, nodes in _nodes().items():
        for node in nodes:
            way = IndexedSaying(name, node)
            for word in first_words(node):
                index.setdefault(word, []).append(way)
    return index


@cache
def talk_data() -> dict[str, Any]:
    """What ``talk.toml`` holds, as written."""
    return read_grammar("talk")


@cache
def gist_data() -> dict[str, Any]:
    """What ``gist.toml`` holds, as written."""
    return read_grammar("gist")


@cache
def questions_data() -> dict[str, Any]:
    """What ``questions.toml`` holds, as written."""
    return read_grammar("questions")


def turn_data() -> dict[str, list[str]]:
    """Which sayings may stand beside something else in one turn."""
    found: dict[str, list[str]] = gist_data()["turn"]
    return found


@cache
def saying_words() -> frozenset[str]:
    """Every plain word of the sayings and of what may stand around them."""
    said = {word for nodes in _nodes().values() for node in nodes for word in words_of(node)}
    lead, tail = _around()
    return frozenset(said).union(*lead, *tail)


@cache
def glossary_data() -> list[dict[str, Any]]:
    """The words of the game and what each means, as written in ``glossary.toml``."""
    terms: list[dict[str, Any]] = read_grammar("glossary")["term"]
    return terms


@cache
def lore_data() -> dict[str, Any]:
    """What ``lore.toml`` holds, as written."""
    return read_grammar("lore")


@cache
def rules_data() -> dict[str, Any]:
    """What ``rules.toml`` holds, as written."""
    return read_grammar("rules")


@cache
def adjectives_data() -> dict[str, str]:
    """What ``adjectives.toml`` holds, as written."""
    return read_grammar("adjectives")


@cache
def echoes_data() -> dict[str, Any]:
    """What ``echoes.toml`` holds, as written."""
    return read_grammar("echoes")


@cache
def asked_data() -> dict[str, Any]:
    """What ``asked.toml`` holds, as written."""
    return read_grammar("asked")


def read_grammar(name: str) -> dict[str, Any]:
    """What the grammar file ``name`` holds, as written."""
    return tomllib.loads(shipped(f"grammars/en/{name}.toml").read_text(encoding="utf-8"))
