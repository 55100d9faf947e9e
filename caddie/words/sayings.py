"""Things said in a conversation that are no facts of a shot, read from ``talk.toml`` and ``asked.toml``
of ``grammars/en``.

A saying is matched word by word against its templates; what may stand around it ("and", "mate", "please")
changes nothing.
"""

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

from caddie.words.grammar import Noun, grammar
from caddie.words.kept import kept_index
from caddie.words.matching import Said
from caddie.words.talk_files import asked_data, glossary_data, talk_data
from caddie.words.templates import Choice, Node, firsts, needs, parse

_SHORT_IS = re.compile(r"(?<=\d)['’]s\b|(?<=\bone)['’]s\b|(?<=[a-z])['’]s(?= in\b)")
"""An "is" that is no possessive: behind a number, in "the next one's farther", and in "mine's in"."""
_NOT_SAID = re.compile(r"[^a-z0-9 ]+")
_SENTENCES = re.compile(r"(?<=[.;!?])\s+")
_CLAUSES = re.compile(r"[,.;:!?]+|\band\b|\bbut\b")
_WORD = re.compile(r"(?<![{a-z0-9_])[a-z0-9]+(?![}a-z0-9_])")
TROUBLE_NAMED = "trouble_noun"
"""The slot that every noun of trouble fills."""
_MOST_AROUND = 6
"""Most words of one thing that stands around a saying."""
_LONGEST_LEAD = 7
"""Most words of a saying that leads in something else."""


@dataclass(frozen=True)
class Heard:
    """Words as they are compared, with where a saying may begin in them and, as bits, where it may end."""

    words: tuple[str, ...]
    starts: tuple[int, ...]
    ends: int


@dataclass(frozen=True)
class IndexedSaying:
    """One template of a saying."""

    name: str
    written: str

    @cached_property
    def node(self) -> Node:
        """The template, read when something that was said begins like it."""
        return template(self.written)

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
            last = (said_in(heard.words).ends(way.node, start) & heard.ends).bit_length() - 1
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
    said, inside = said_in(heard.words), (1 << len(heard.words)) - 1
    return any(
        said.ends(node, start) & (inside >> start + 1 << start + 1)
        for start in heard.starts
        for node in _nodes(saying)
    )


def ends(text: str, saying: str) -> bool:
    """Whether ``text`` ends with one of the ways to say ``saying``, behind something else.

    >>> ends("alright, the lob wedge then", "taken_end")
    True
    """
    words = _heard(text).words
    said = said_in(words)
    return any(
        said.ends(node, start) >> len(words) for start in range(1, len(words)) for node in _nodes(saying)
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


def behind(text: str, saying: str) -> str | None:
    """What stands behind the longest way to say ``saying`` that begins ``text``; None when none does.

    >>> behind("Another one, thinned it", "one_more_go_lead")
    'thinned it'
    """
    tokens = text.split()
    for end in range(min(len(tokens) - 1, _LONGEST_LEAD), 0, -1):
        if says(" ".join(tokens[:end]), saying):
            return " ".join(tokens[end:])
    return None


def stands_in(text: str, saying: str) -> bool:
    """Whether a way to say ``saying`` stands anywhere in ``text``.

    >>> stands_in("left it short, same bunker again, twelve yards", "same_place_lead")
    True
    """
    words = _heard(text).words
    said = said_in(words)
    return any(said.ends(node, start) for start in range(len(words)) for node in _nodes(saying))


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
    return Heard(words, tuple(sorted(at for at in starts if at < len(words))), sum(1 << at for at in ends))


@lru_cache(maxsize=4096)
def said_in(words: tuple[str, ...]) -> Said:
    """Words as they are compared, to look for templates of the sayings in."""
    return Said(words, part_named)


def first_words(written: str) -> frozenset[str]:
    """The words that a template of the sayings may begin with, as it is written."""
    return firsts(template(written), _firsts_of_part)[0]


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
    if name == TROUBLE_NAMED:
        return _ways_to_name(grammar().troubles())
    written = talk_data()["parts"].get(name)
    return template(written) if written else _ways_to_name(grammar().noun(name))


def _ways_to_name(nouns: Iterable[Noun]) -> Node:
    return Choice(tuple(template(written) for noun in nouns for written in noun.say.written))


@cache
def _around() -> tuple[frozenset[tuple[str, ...]], frozenset[tuple[str, ...]]]:
    around = talk_data()["around"]
    lead, tail = (
        frozenset(compared(each) for group in around[side] for each in group.strip("()").split("|"))
        for side in ("lead", "tail")
    )
    return lead, tail


@cache
def _nodes(saying: str) -> tuple[Node, ...]:
    """The templates of a saying."""
    return tuple(template(each) for each in written_ways()[saying])


@cache
def written_ways() -> dict[str, list[str]]:
    """Every saying as it is written, with the marks among them that no recogniser is taught."""
    found = {name: list(written) for name, written in _taught_ways().items()}
    for name, written in talk_data()["marks"].items():
        found.setdefault(name, []).extend(written)
    return found


def taught() -> dict[str, tuple[Node, ...]]:
    """The templates of every saying that a recogniser is taught."""
    return {name: tuple(template(each) for each in written) for name, written in _taught_ways().items()}


def _taught_ways() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for data in (talk_data(), asked_data()):
        for name, written in data["sayings"].items():
            found.setdefault(name, []).extend(written)
    return found


@cache
def _index() -> dict[str, list[IndexedSaying]]:
    """Every template by the words it may begin with."""
    ways = [IndexedSaying(name, each) for name, written in written_ways().items() for each in written]
    index = kept_index("sayings", [way.written for way in ways], first_words)
    return {word: [ways[number] for number in numbers] for word, numbers in index.items()}


@cache
def saying_words() -> frozenset[str]:
    """Every plain word of the sayings and of what may stand around them."""
    same = talk_data()["same"]
    written = {word for ways in written_ways().values() for each in ways for word in _WORD.findall(each)}
    said = {word for each in written for word in same.get(each, each).split()}
    lead, tail = _around()
    return frozenset(said).union(*lead, *tail)
