"""The small template language of the grammar files.

``deep rough``            words
``(deep|thick) rough``    one of
``[really] deep rough``   may be left out; ``[really|very]`` one of, or left out
``{distance} to the {flag}``  a slot, filled by whatever the grammar calls by that name
"""

import random
import re
from collections.abc import Callable, Hashable, Iterable, Iterator
from collections.abc import Sequence as Sequence_
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import product
from typing import TypeVar, overload

from caddie.errors import CaddieError

T = TypeVar("T")
Reached = TypeVar("Reached", bound=Hashable)

_PARTS = re.compile(r"\s*([()\[\]|]|\{[a-z_]+\}|[^\s()\[\]|{}]+)")

_SLOT = re.compile(r"\{([a-z_]+)\}")

GAP = ".."
"""The word of a template that stands for a few words of any kind."""


@dataclass(frozen=True, slots=True)
class Word:
    """A literal word."""

    text: str


@dataclass(frozen=True, slots=True)
class Slot:
    """A place to be filled."""

    name: str


@dataclass(frozen=True, slots=True)
class Sequence:
    """Parts one after another."""

    parts: tuple["Node", ...]


@dataclass(frozen=True)
class Choice:
    """One of several; an empty sequence among them makes it optional."""

    options: tuple["Node", ...]

    @cached_property
    def by_first_word(self) -> tuple[dict[str, list["Node"]], list["Node"]]:
        """The options that begin with a literal word, by that word, and all others."""
        by_word: dict[str, list[Node]] = {}
        others: list[Node] = []
        for option in self.options:
            first = option.parts[0] if isinstance(option, Sequence) and option.parts else option
            if isinstance(first, Word) and first.text != GAP:
                by_word.setdefault(first.text, []).append(option)
            else:
                others.append(option)
        return by_word, others


Node = Word | Slot | Sequence | Choice


@cache
def parse(template: str) -> Node:
    """Parse a template.

    Raises:
        CaddieError: for an unbalanced or stray sign.

    >>> parse("[the] pin")
    Sequence(parts=(Choice(options=(Sequence(parts=()), Word(text='the'))), Word(text='pin')))
    """
    parts = _PARTS.findall(template)
    if "".join(parts) != re.sub(r"\s+", "", template):
        raise CaddieError(f"grammar template {template!r}: stray brace; write a slot as {{name}}")
    node, used = _choice(parts, 0, template)
    if used != len(parts):
        raise CaddieError(f"grammar template {template!r}: unbalanced {parts[used]!r}")
    return node


def _choice(parts: list[str], at: int, template: str) -> tuple[Node, int]:
    options: list[Node] = []
    while True:
        node, at = _sequence(parts, at, template)
        options.append(node)
        if at >= len(parts) or parts[at] != "|":
            break
        at += 1
    return (options[0] if len(options) == 1 else Choice(tuple(options))), at


def _sequence(parts: list[str], at: int, template: str) -> tuple[Node, int]:
    nodes: list[Node] = []
    while at < len(parts) and parts[at] not in "|)]":
        part = parts[at]
        if part in "([":
            inner, at = _choice(parts, at + 1, template)
            closing = ")" if part == "(" else "]"
            if at >= len(parts) or parts[at] != closing:
                raise CaddieError(f"grammar template {template!r}: {part!r} is not closed")
            if part == "[":
                options = inner.options if isinstance(inner, Choice) else (inner,)
                inner = Choice((Sequence(()), *options))
            nodes.append(inner)
        elif part.startswith("{"):
            nodes.append(Slot(part[1:-1]))
        else:
            nodes.append(Word(part))
        at += 1
    return (nodes[0] if len(nodes) == 1 else Sequence(tuple(nodes))), at


class Templates(Sequence_[Node]):
    """Templates as written, parsed when first looked at: reading what is said needs few of them."""

    def __init__(self, written: Iterable[str]) -> None:
        self.written = tuple(written)

    def __len__(self) -> int:
        return len(self.written)

    @overload
    def __getitem__(self, at: int) -> Node: ...

    @overload
    def __getitem__(self, at: slice) -> "Templates": ...

    def __getitem__(self, at: int | slice) -> "Node | Templates":
        return Templates(self.written[at]) if isinstance(at, slice) else parse(self.written[at])

    @cached_property
    def slots(self) -> frozenset[str]:
        """Every slot in any of them."""
        return frozenset(slot for written in self.written for slot in _SLOT.findall(written))


def expansions(node: Node) -> Iterator[tuple[str, ...]]:
    """Every way of saying a template, slots as ``{name}``.

    >>> [" ".join(words) for words in expansions(parse("(deep|thick) [wet] rough"))]
    ['deep rough', 'deep wet rough', 'thick rough', 'thick wet rough']
    """
    match node:
        case Word(text):
            yield (text,)
        case Slot(name):
            yield (f"{{{name}}}",)
        case Choice(options):
            for option in options:
                yield from expansions(option)
        case Sequence(parts):
            for combination in product(*(tuple(expansions(part)) for part in parts)):
                yield tuple(word for words in combination for word in words)


def likely(options: Sequence_[T], chance: random.Random) -> T:
    """One of several, the first the likeliest (weights 1, 1/2, 1/3, ...: Zipf's law of words)."""
    return chance.choices(options, weights=[1 / rank for rank in range(1, len(options) + 1)])[0]


def say(node: Node, chance: random.Random, fill: Callable[[str], str]) -> str:
    """One random way of saying a template, its slots filled by ``fill(name)``.

    Of several options the first is the likeliest; what may be left out is left out two times in three.
    """
    match node:
        case Word(text):
            return text
        case Slot(name):
            return fill(name)
        case Choice(options):
            if options[0] == Sequence(()):
                return "" if chance.random() < 2 / 3 else say(likely(options[1:], chance), chance, fill)
            return say(likely(options, chance), chance, fill)
        case Sequence(parts):
            spoken = (say(part, chance, fill) for part in parts)
            return " ".join(words for words in spoken if words)


def reached(
    node: Node,
    start: Reached,
    word: Callable[[str, Reached], Iterable[Reached]],
    slot: Callable[[str, Reached], Iterable[Reached]],
) -> Iterator[Reached]:
    """Every state that what is said can be in behind a template, when it is in ``start`` before it.

    Args:
        node: the template.
        start: at least the place reached so far.
        word: the states behind a literal word, none where it is not said there.
        slot: the same for a slot by its name.
    """
    match node:
        case Word(text):
            yield from word(text, start)
        case Slot(name):
            yield from slot(name, start)
        case Choice(options):
            for option in options:
                # Most options begin with a word that is not said: to see that here is several times as quick.
                first = option.parts[0] if isinstance(option, Sequence) and option.parts else option
                if isinstance(first, Word):
                    here = tuple(word(first.text, start))
                    if not here:
                        continue
                    if first is option:
                        yield from here
                        continue
                yield from reached(option, start, word, slot)
        case Sequence(parts):
            states = [start]
            for part in parts:
                if isinstance(part, Word):
                    found = [end for at in states for end in word(part.text, at)]
                else:
                    found = [end for at in states for end in reached(part, at, word, slot)]
                if not found:
                    return
                states = list(dict.fromkeys(found)) if len(found) > 1 else found
            yield from states


def firsts(node: Node, of_slot: Callable[[str], tuple[frozenset[str], bool]]) -> tuple[frozenset[str], bool]:
    """The words a template may begin with, and whether it may be empty; ``of_slot`` tells both of a slot.

    >>> sorted(firsts(parse("[very] (deep|thick) rough"), lambda name: (frozenset(), False))[0])
    ['deep', 'thick', 'very']
    """
    return _edge(node, of_slot, lambda parts: parts)


def lasts(node: Node, of_slot: Callable[[str], tuple[frozenset[str], bool]]) -> tuple[frozenset[str], bool]:
    """The words a template may end with, and whether it may be empty; ``of_slot`` tells both of a slot.

    >>> sorted(lasts(parse("[very] (deep|thick) [rough]"), lambda name: (frozenset(), False))[0])
    ['deep', 'rough', 'thick']
    """
    return _edge(node, of_slot, reversed)


def _edge(
    node: Node,
    of_slot: Callable[[str], tuple[frozenset[str], bool]],
    in_order: Callable[[tuple[Node, ...]], Iterable[Node]],
) -> tuple[frozenset[str], bool]:
    match node:
        case Word(text):
            return frozenset({text}), False
        case Slot(name):
            return of_slot(name)
        case Choice(options):
            each = [_edge(option, of_slot, in_order) for option in options]
            return frozenset().union(*(words for words, _ in each)), any(empty for _, empty in each)
        case Sequence(parts):
            found: frozenset[str] = frozenset()
            for part in in_order(parts):
                words, empty = _edge(part, of_slot, in_order)
                found |= words
                if not empty:
                    return found, False
            return found, True


def needs(node: Node, of_slot: Callable[[str], tuple[frozenset[str], bool]]) -> tuple[frozenset[str], ...]:
    """Sets of words of each of which at least one is said wherever a template is said, in its order.

    >>> [sorted(words) for words in needs(parse("[very] (deep|thick) rough"), lambda name: (frozenset(), False))]
    [['deep', 'thick'], ['rough']]
    """
    parts = node.parts if isinstance(node, Sequence) else (node,)
    each = (firsts(part, of_slot) for part in parts)
    return tuple(words for words, empty in each if not empty)


def words_of(node: Node) -> Iterator[str]:
    """Every literal word in a template."""
    match node:
        case Word(text):
            yield text
        case Slot():
            return
        case Choice(parts) | Sequence(parts):
            for part in parts:
                yield from words_of(part)
