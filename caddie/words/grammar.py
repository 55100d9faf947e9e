"""The grammar files: the words of the trade as data, loaded once."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.words.kept import kept
from caddie.words.templates import Node, Templates, expansions, parse, words_of

Fact = str | float | bool
BEFORE_NUMBER = "#"
"""The value of a noun that counts only right before a number: elsewhere its words are known no better for it."""

NUMBER_SLOTS = frozenset(
    {
        "distance",
        "number",
        "speed",
        "slope",
        "putt",
        "chip",
        "pitch",
        "room",
        "result",
        "loft",
        "iron",
        "clock",
        "strokes",
        "borrow",
    }
)
"""Slots that a number fills; the names differ so that sampled sentences hold likely numbers."""


@dataclass(frozen=True, slots=True)
class Noun:
    """A name of a thing, put in place of every way to say it."""

    name: str
    value: str | None
    trouble: bool
    say: Templates
    typed: Templates
    """Ways to write it that nobody says, such as "pw"."""
    names_to: float | None = None
    """Of a name that takes its number, such as "hole 7": the largest that is one. The number measures nothing."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Facts and the ways to say them."""

    slot: str
    facts: Mapping[str, Fact]
    say: Templates
    whole: bool
    """Counts only when it is all that was said."""
    weight: float
    """How often sampled; 0 keeps it out of the sampled sentences."""

    @property
    def numbers(self) -> frozenset[str]:
        """The number slots in it: what its number may be counted in."""
        return self.say.slots & NUMBER_SLOTS


@dataclass(frozen=True, slots=True)
class Frame:
    """A roundabout way of telling something, and the plain one."""

    say: Templates
    plain: tuple[str, ...]
    """What is put in its place: words, and slots for what stands in it."""
    without: frozenset[str]
    """What is left out of it, so that the rest stays; all of it goes when nothing is named."""
    across: bool
    """Counts also where a pause stands in it."""
    begins: bool
    """Counts only at the beginning of a clause."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A sentence shape: slots strung together."""

    kind: str
    written: str
    weight: float
    """How often sampled."""

    @property
    def template(self) -> Node:
        """The shape as it is said."""
        return parse(self.written)


@dataclass(frozen=True, slots=True)
class NumberRange:
    """Likely numbers of one kind, for sampled sentences, and the share of each unit."""

    values: tuple[int, ...]
    units: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Grammar:
    """All of one language."""

    articles: frozenset[str]
    """Passed over everywhere."""
    skip: frozenset[str]
    """Passed over too, but nothing is left of a template that has little else."""
    plain: frozenset[str]
    """Plain English words, known without a fact of their own."""
    along: frozenset[str]
    """Words that may stand beside an answer such as "yes"."""
    elsewhere: frozenset[str]
    """Words of other subjects."""
    real: frozenset[str]
    """Words that are no slip of the finger."""
    units: Mapping[tuple[str, ...], str]
    spellings: Mapping[tuple[str, ...], tuple[str, ...]]
    """Ways of saying plain words, of dialect and haste, and the plain words; put right before all else."""
    joins: Mapping[tuple[str, ...], tuple[str, ...]]
    """Spellings and what is put in their place."""
    joints: Mapping[str, str]
    """What stands between two numbers that tell one length, and what it makes of them."""
    fillers: Mapping[str, bool]
    """Templates passed over, and whether they make their number approximate."""
    frames: tuple[Frame, ...]
    strengths: Mapping[str, frozenset[str]]
    """Adjectives of which there may be more or less, and what tells how much."""
    nouns: tuple[Noun, ...]
    entries: tuple[Entry, ...]
    replies: tuple[Entry, ...]
    """Answers to a question just asked; only :mod:`caddie.words.expected` looks for them."""
    shapes: tuple[Shape, ...]
    parts: Mapping[str, Templates]
    """Named pieces of sentence shapes."""
    numbers: Mapping[str, NumberRange]
    to_come: Mapping[str, float]
    """What speaks for a shot still to be played, and how much."""
    over: Mapping[str, float]
    """What speaks for a shot that is over, and how much."""
    others: Mapping[str, frozenset[str]]
    """Words that tell of somebody else, by the part they play; the questions in it are phrases."""

    def troubles(self) -> list[Noun]:
        """Every noun that is trouble."""
        return [noun for noun in self.nouns if noun.trouble]

    def noun(self, name: str) -> list[Noun]:
        """Every noun of this name."""
        return [noun for noun in self.nouns if noun.name == name]

    def fact_words(self) -> frozenset[str]:
        """The literal words of nouns and of entries that give facts, as written."""
        measured = (noun for noun in self.nouns if noun.names_to is None and noun.value != BEFORE_NUMBER)
        nodes = [node for noun in measured for node in (*noun.say, *noun.typed)]
        nodes += [node for entry in self.entries if "intent" not in entry.facts for node in entry.say]
        return frozenset(word for node in nodes for word in words_of(node))

    def talk_words(self) -> frozenset[str]:
        """The literal words of everything else: intents, sentence shapes, fillers."""
        nodes = [node for entry in self.entries if "intent" in entry.facts for node in entry.say]
        names = (noun for noun in self.nouns if noun.names_to is not None)
        nodes += [node for noun in names for node in (*noun.say, *noun.typed)]
        nodes += [shape.template for shape in self.shapes]
        nodes += [node for said in self.parts.values() for node in said]
        nodes += [parse(template) for template in self.fillers]
        nodes += [node for frame in self.frames for node in frame.say]
        return frozenset(word for node in nodes for word in words_of(node))


@lru_cache(maxsize=1)
def grammar() -> Grammar:
    """The shipped English grammar.

    Raises:
        CaddieError: naming the file, if one cannot be read.
    """
    data = kept("grammar", _read)
    try:
        return _assembled(data)
    except (KeyError, TypeError, ValueError) as error:
        raise CaddieError(f"grammars/en: {type(error).__name__} {error}; see README.md there") from None


def _read() -> dict[str, Any]:
    data: dict[str, Any] = {"noun": [], "entry": [], "reply": [], "shapes": [], "part": [], "roundabout": []}
    for path in sorted(shipped("grammars/en").glob("*.toml")):
        try:
            read = tomllib.loads(path.read_text(encoding="utf-8"))
            read["entry"] = [{"slot": path.stem} | item for item in read.get("entry", ())]
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            raise CaddieError(f"{path}: {error}; see README.md beside it") from None
        for key in ("noun", "entry", "reply", "shapes", "part", "roundabout"):
            data[key] += read.pop(key, [])
        data |= read
    return data


def _assembled(data: Mapping[str, Any]) -> Grammar:
    articles = frozenset(data.get("articles", ()))
    fillers = data.get("fillers", ())
    return Grammar(
        articles=articles,
        skip=articles | frozenset(data.get("skip", ())),
        plain=_words(data, "plain"),
        along=_words(data, "along"),
        elsewhere=_words(data, "elsewhere"),
        real=_words(data, "real"),
        units=dict(_units(data.get("units", {}))),
        spellings=dict(_spellings(data)),
        joins={tuple(said.split()): tuple(name.split()) for said, name in data.get("joins", {}).items()},
        joints=dict(data.get("joints", {})),
        fillers={template.removeprefix("~"): template.startswith("~") for template in fillers},
        frames=tuple(_frame(item) for item in data["roundabout"]),
        strengths={name: _words(data["strengths"], name) for name in data["strengths"]},
        nouns=tuple(_noun(item) for item in data["noun"]),
        entries=tuple(_entry(item) for item in data["entry"]),
        replies=tuple(_entry({"slot": "replies"} | item) for item in data["reply"]),
        shapes=tuple(shape for item in data["shapes"] for shape in _shapes(item)),
        parts={item["part"]: Templates(item["say"]) for item in data["part"]},
        numbers={name: _number_range(item) for name, item in data.get("numbers", {}).items()},
        to_come={name: float(weight) for name, weight in data["to_come"].items()},
        over={name: float(weight) for name, weight in data["told_over"].items()},
        others={
            name: frozenset(said) if name == "asks" else _words(data["others"], name)
            for name, said in data["others"].items()
        },
    )


def _words(data: Mapping[str, Any], key: str) -> frozenset[str]:
    return frozenset(word for text in data.get(key, ()) for word in text.split())


def _spellings(data: Mapping[str, Any]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for whole in data.get("dropped_g", ()):
        yield (whole.removesuffix("g"),), (whole,)
    for name, ways in data.get("spellings", {}).items():
        for said in ways:
            yield tuple(said.split()), tuple(name.split())


def _units(said: Mapping[str, Iterable[str]]) -> Iterator[tuple[tuple[str, ...], str]]:
    for unit, templates in said.items():
        for template in templates:
            for words in expansions(parse(template)):
                yield words, unit


def _noun(item: Mapping[str, Any]) -> Noun:
    return Noun(
        name=item["noun"],
        value=item.get("value"),
        trouble=bool(item.get("trouble")),
        say=Templates(item["say"]),
        typed=Templates(item.get("typed", ())),
        names_to=item.get("names_to"),
    )


def _frame(item: Mapping[str, Any]) -> Frame:
    return Frame(
        say=Templates(item["say"]),
        plain=tuple(item.get("plain", "").split()),
        without=frozenset(item.get("without", "").split()),
        across=bool(item.get("across")),
        begins=bool(item.get("begins")),
    )


def _entry(item: Mapping[str, Any]) -> Entry:
    return Entry(
        slot=item["slot"],
        facts={key: value for key, value in item.items() if key not in ("say", "slot", "whole", "weight")},
        say=Templates(item["say"]),
        whole=bool(item.get("whole")),
        weight=float(item.get("weight", 1.0)),
    )


def _number_range(item: Mapping[str, Any]) -> NumberRange:
    values = item.get("values") or range(int(item["low"]), int(item["high"]) + 1)
    return NumberRange(tuple(values), dict(item["units"]))


def _shapes(item: Mapping[str, Any]) -> list[Shape]:
    weight = float(item.get("weight", 1.0)) / len(item["say"])
    return [Shape(item["kind"], written, weight) for written in item["say"]]
