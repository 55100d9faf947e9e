"""The grammar files: the words of the trade as data, loaded once."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Sequence as Many
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from typing import Any

from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.quantities import Piece, gather
from caddie.words.spelling import Token, tokens
from caddie.words.templates import Choice, Node, Sequence, Slot, Word, expansions, parse, slots_of, words_of

Fact = str | float | bool

NUMBER_SLOTS = frozenset(
    {"distance", "number", "speed", "slope", "putt", "chip", "pitch", "room", "result", "loft"}
)
"""Slots that a number fills; the names differ so that sampled sentences hold likely numbers."""


@dataclass(frozen=True, slots=True)
class Noun:
    """A name of a thing, put in place of every way to say it."""

    name: str
    value: str | None
    trouble: bool
    say: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """Facts and the ways to say them."""

    slot: str
    facts: Mapping[str, Fact]
    say: tuple[Node, ...]
    whole: bool
    """Counts only when it is all that was said."""
    weight: float
    """How often sampled; 0 keeps it out of the sampled sentences."""
    numbers: frozenset[str]
    """The number slots in it: what its number may be counted in."""


@dataclass(frozen=True)
class Shape:
    """A sentence shape: slots strung together."""

    kind: str
    template: Node
    weight: float
    """How often sampled, shared by the shapes beside it."""


@dataclass(frozen=True)
class NumberRange:
    """Likely numbers of one kind, for sampled sentences."""

    values: tuple[int, ...]
    units: Mapping[str, float]

    def choices(self) -> tuple[int, ...]:
        """Every number that may be drawn."""
        return self.values


@dataclass(frozen=True)
class Grammar:
    """All of one language."""

    articles: frozenset[str]
    """Passed over everywhere."""
    skip: frozenset[str]
    """Passed over too, but nothing is left of a template that has little else."""
    plain: frozenset[str]
    along: frozenset[str]
    elsewhere: frozenset[str]
    real: frozenset[str]
    units: Mapping[tuple[str, ...], str]
    joins: "Phrases"
    fillers: "Phrases"
    nouns: tuple[Noun, ...]
    entries: tuple[Entry, ...]
    shapes: tuple[Shape, ...]
    parts: Mapping[str, tuple[Node, ...]]
    numbers: Mapping[str, NumberRange]
    unit_words: Mapping[str, tuple[str, ...]]
    joined_words: frozenset[str] = frozenset()
    noun_phrases: "Phrases" = field(default_factory=lambda: Phrases({}))

    def troubles(self) -> list[Noun]:
        """Every noun that is trouble."""
        return [noun for noun in self.nouns if noun.trouble]

    def noun(self, name: str) -> list[Noun]:
        """Every noun of this name."""
        return [noun for noun in self.nouns if noun.name == name]


class Phrases:
    """Phrases of plain words, found longest first."""

    def __init__(self, phrases: Mapping[tuple[str, ...], Any]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], Any]]] = {}
        for phrase, value in sorted(phrases.items(), key=lambda item: -len(item[0])):
            if phrase:
                self._by_first.setdefault(phrase[0], []).append((phrase, value))

    def at(self, words: Many[str], at: int) -> tuple[tuple[str, ...], Any] | None:
        """The longest phrase that begins at ``words[at]`` and its value."""
        for phrase, value in self._by_first.get(words[at], ()):
            if tuple(words[at : at + len(phrase)]) == phrase:
                return phrase, value
        return None


@lru_cache(maxsize=1)
def grammar() -> Grammar:
    """The shipped English grammar.

    Raises:
        CaddieError: naming the file, if one cannot be read.
    """
    folder = shipped("grammars/en")
    base: dict[str, Any] = {}
    nouns: list[Noun] = []
    entries: list[Entry] = []
    shapes: list[Shape] = []
    parts: dict[str, tuple[Node, ...]] = {}
    numbers: dict[str, NumberRange] = {}
    for path in sorted(folder.glob("*.toml")):
        try:
            data = tomllib.loads(path.read_text(encoding="utf-8"))
            nouns += [_noun(item) for item in data.pop("noun", ())]
            entries += [_entry(item, path.stem) for item in data.pop("entry", ())]
            parts |= {item["part"]: _parsed(item["say"]) for item in data.pop("part", ())}
            numbers |= {name: _number_range(item) for name, item in data.pop("numbers", {}).items()}
            shapes += [shape for item in data.pop("shapes", ()) for shape in _shapes(item)]
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, KeyError, TypeError) as error:
            raise CaddieError(f"{path}: {error}; see README.md beside it") from None
        base |= data
    first = _assembled(base, nouns, entries)
    return replace(first, shapes=tuple(shapes), parts=parts, numbers=numbers)


def _assembled(base: dict[str, Any], nouns: list[Noun], entries: list[Entry]) -> Grammar:
    units = {
        tuple(phrase.split()): unit
        for unit, said in base.get("units", {}).items()
        for template in said
        for phrase in _plain_expansions(template)
    }
    joins = Phrases(
        {tuple(said.split()): tuple(name.split()) for said, name in base.get("joins", {}).items()}
    )
    first = Grammar(
        articles=frozenset(base.get("articles", ())),
        skip=frozenset(base.get("skip", ())) | frozenset(base.get("articles", ())),
        plain=frozenset(word for text in base.get("plain", ()) for word in text.split()),
        along=frozenset(word for text in base.get("along", ()) for word in text.split()),
        elsewhere=frozenset(word for text in base.get("elsewhere", ()) for word in text.split()),
        real=frozenset(word for text in base.get("real", ()) for word in text.split()),
        units=units,
        joins=joins,
        fillers=Phrases({}),
        nouns=tuple(nouns),
        entries=tuple(entries),
        shapes=(),
        parts={},
        numbers={},
        joined_words=frozenset(
            word for said, name in base.get("joins", {}).items() for word in (*said.split(), *name.split())
        ),
        unit_words={unit: tuple(said) for unit, said in base.get("units", {}).items()},
    )
    filler_words = {
        word for template in base.get("fillers", ()) for word in words_of(parse(template.removeprefix("~")))
    }
    fillers = {
        tuple(pattern): template.startswith("~")
        for template in base.get("fillers", ())
        for pattern in patterns(parse(template.removeprefix("~")), first, whole=True)
        if pattern != ["#"]
    }
    phrases = {
        tuple(pattern): Piece(noun.name.upper(), value=noun.value)
        for noun in nouns
        for node in noun.say
        for pattern in patterns(node, first)
    }
    return replace(
        first,
        fillers=Phrases(fillers),
        noun_phrases=Phrases(phrases),
        joined_words=first.joined_words | filler_words,
    )


def _plain_expansions(template: str) -> Iterator[str]:
    return (" ".join(words) for words in expansions(parse(template)))


def _noun(item: dict[str, Any]) -> Noun:
    return Noun(item["noun"], item.get("value"), bool(item.get("trouble")), _parsed(item["say"]))


def _entry(item: dict[str, Any], stem: str) -> Entry:
    said = _parsed(item["say"])
    facts = {key: value for key, value in item.items() if key not in ("say", "slot", "whole", "weight")}
    return Entry(
        slot=item.get("slot", stem),
        facts=facts,
        say=said,
        whole=bool(item.get("whole")),
        weight=float(item.get("weight", 1.0)),
        numbers=frozenset(slot for node in said for slot in slots_of(node)) & NUMBER_SLOTS,
    )


def _number_range(item: dict[str, Any]) -> NumberRange:
    values = item.get("values") or range(int(item["low"]), int(item["high"]) + 1)
    return NumberRange(tuple(values), dict(item["units"]))


def _shapes(item: dict[str, Any]) -> Iterable[Shape]:
    weight = float(item.get("weight", 1.0))
    return [Shape(item["kind"], parse(template), weight / len(item["say"])) for template in item["say"]]


def _parsed(templates: Iterable[str]) -> tuple[Node, ...]:
    return tuple(parse(template) for template in templates)


def patterns(node: Node, words: Grammar, *, whole: bool = False) -> Iterator[list[str]]:
    """Every way to say a template, as the texts of pieces that an utterance is reduced to.

    What shrinks to a word or two by words passed over is left out, unless it has to be a ``whole`` utterance.
    """
    for expansion in dict.fromkeys(expansions(_without(node, words.articles))):
        said, lost = _named_words(expansion, words)
        if len(said) <= 2 and lost and not whole:
            continue
        yield [
            ("#" if part[1:-1] in NUMBER_SLOTS else part[1:-1].upper()) if part.startswith("{") else part
            for part in said
        ]


def _without(node: Node, skip: frozenset[str]) -> Node:
    """A template in plain spelling without the words that are passed over."""
    match node:
        case Word(text):
            kept = [Word(part) for part in _spelled(text) if part not in skip]
            return kept[0] if len(kept) == 1 else Sequence(tuple(kept))
        case Slot():
            return node
        case Choice(options):
            return Choice(tuple(dict.fromkeys(_without(option, skip) for option in options)))
        case Sequence(parts):
            return Sequence(tuple(_without(part, skip) for part in parts))


@cache
def _spelled(word: str) -> tuple[str, ...]:
    return tuple(token.text for token in tokens(word))


def _named_words(expansion: tuple[str, ...], words: Grammar) -> tuple[list[str], bool]:
    """The reduction of :func:`reduce` on words that hold slots, and whether words were passed over."""
    said = _swapped(list(expansion), words.joins)
    if any(word in NUMBER_WORDS for word in said):
        said = [piece.text for piece in gather([Token(word) for word in said], words.units)]
    plain = [word for word in said if word not in words.skip]
    lost = len(plain) < len(said)
    plain = [word for word in _swapped(plain, words.joins) if word not in words.skip]
    return _swapped(plain, words.noun_phrases), lost


def _swapped(said: list[str], phrases: "Phrases") -> list[str]:
    kept: list[str] = []
    at = 0
    while at < len(said):
        found = phrases.at(said, at)
        if found is None:
            kept.append(said[at])
            at += 1
        else:
            phrase, value = found
            kept += [value.text] if isinstance(value, Piece) else value
            at += len(phrase)
    return kept


def reduce(text: str, words: Grammar) -> list[Piece]:
    """Text to pieces: joined spellings, quantities, nothing that carries no fact, nouns by name."""
    return named(gather(joined(tokens(text), words), words.units), words)


def joined(said: Many[Token], words: Grammar) -> list[Token]:
    """Tokens with split spellings such as "fair way" put together."""
    texts = [token.text for token in said]
    kept: list[Token] = []
    at = 0
    while at < len(texts):
        found = words.joins.at(texts, at)
        if found is None:
            kept.append(said[at])
            at += 1
        else:
            phrase, replacement = found
            for index, text in enumerate(replacement):
                kept.append(Token(text, said[at].after_break and index == 0))
            at += len(phrase)
    return kept


def named(pieces: Many[Piece], words: Grammar) -> list[Piece]:
    """Pieces without words that carry nothing, nouns put by their name."""
    kept: list[Piece] = []
    pause = False
    for piece in pieces:
        pause = pause or piece.after_break
        if piece.quantity is not None or piece.text not in words.skip:
            kept.append(Piece(piece.text, pause, piece.quantity, piece.value))
            pause = False
    kept = _replaced(_rejoined(kept, words), words.fillers, drop=True)
    return _replaced(kept, words.noun_phrases, drop=False)


def _rejoined(pieces: list[Piece], words: Grammar) -> list[Piece]:
    """Spellings that stand together only once the words between are passed over: "up the hill"."""
    texts = [piece.text for piece in pieces]
    kept: list[Piece] = []
    at = 0
    while at < len(texts):
        found = words.joins.at(texts, at)
        if found is None or any(piece.after_break for piece in pieces[at + 1 : at + len(found[0])]):
            kept.append(pieces[at])
            at += 1
        else:
            phrase, replacement = found
            plain = [text for text in replacement if text not in words.skip]
            kept += [Piece(text, pieces[at].after_break and i == 0) for i, text in enumerate(plain)]
            at += len(phrase)
    return kept


def _replaced(pieces: list[Piece], phrases: Phrases, *, drop: bool) -> list[Piece]:
    texts = [piece.text for piece in pieces]
    kept: list[Piece] = []
    at = 0
    pause = False
    while at < len(texts):
        found = phrases.at(texts, at)
        if found is not None and any(piece.after_break for piece in pieces[at + 1 : at + len(found[0])]):
            found = None
        pause = pause or pieces[at].after_break
        if found is None:
            kept.append(_paused(pieces[at], pause))
            at += 1
            pause = False
            continue
        phrase, value = found
        if drop:
            for piece in pieces[at : at + len(phrase)]:
                if piece.quantity is not None:
                    kept.append(_paused(_roughly(piece, bool(value)), pause))
                    pause = False
        else:
            numbers = [p.quantity for p in pieces[at : at + len(phrase)] if p.quantity is not None]
            kept.append(Piece(value.text, pause, numbers[0] if numbers else None, value.value))
            pause = False
        at += len(phrase)
    return kept


def _paused(piece: Piece, pause: bool) -> Piece:
    return Piece(piece.text, pause, piece.quantity, piece.value)


def _roughly(piece: Piece, approximate: bool) -> Piece:
    if not approximate or piece.quantity is None:
        return piece
    return replace(piece, quantity=replace(piece.quantity, approximate=True))
