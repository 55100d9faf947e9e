"""Sentences as players say them, drawn from the grammar to teach a recogniser."""

import random
import re
from collections.abc import Collection, Sequence
from functools import lru_cache

from caddie.errors import CaddieError
from caddie.words.grammar import Entry, Grammar, NumberRange, grammar
from caddie.words.numbers import spoken_forms
from caddie.words.templates import Node, expansions, likely, say, words_of

_ROLE_SLOT = {
    "pin": "pin",
    "front": "front",
    "carry": "carry",
    "room": "room",
    "behind": "room",
    "to_back": "pin",
    "height": "height",
    "ignore": "pin",
}
_FOR_SLOT = {"number": "stimp", "distance": "pin"}
_TWICE = re.compile(
    r"\b(?:in|on|from|off|into|a)(?: the| a)? ((?:the )?)((?:in|on|from|off|out of|at|into|with)\b)"
)
"""A slot that brings its own little word: "in the in the rough"."""
_FEET = re.compile(r"(\w+) feet (putt|putter|chip|lag)\b")
_SPOKEN = re.compile(r"[a-z]+(?:'[a-z]+)?")


def sample(n: int, seed: int = 0, kinds: Collection[str] = ()) -> list[str]:
    """``n`` sentences in spoken form: lower case, numbers in words, no punctuation.

    Args:
        n: how many.
        seed: the same seed gives the same sentences.
        kinds: kinds of shapes to draw from, such as "result"; all when empty.

    Raises:
        CaddieError: for kinds the grammar has no shape of.
    """
    chance = random.Random(seed)
    words = grammar()
    sampler = _Sampler(words, chance)
    wanted = [shape for shape in words.shapes if not kinds or shape.kind in kinds]
    if not wanted:
        raise CaddieError(f"the grammar has no sentence shape of the kind {' or '.join(sorted(kinds))}")
    shapes = chance.choices(wanted, weights=[shape.weight for shape in wanted], k=max(n, 0))
    return [sampler.sentence(shape.template) for shape in shapes]


@lru_cache(maxsize=1)
def spoken_words() -> frozenset[str]:
    """Every word that a sampled sentence can hold."""
    words = grammar()
    nodes: list[Node] = [shape.template for shape in words.shapes]
    nodes += [node for said in words.parts.values() for node in said]
    nodes += [node for noun in words.nouns if noun.names_to is None for node in noun.say]
    nodes += [node for entry in words.entries if entry.weight > 0 for node in entry.say]
    found = {word for node in nodes for text in words_of(node) for word in text.split()}
    for numbers in words.numbers.values():
        found.update(
            word for value in numbers.values for form in spoken_forms(value) for word in form.split()
        )
        found.update(word for unit in numbers.units for word in (*unit.split(), *_one(unit).split()))
    possessive = {
        f"{word}'s"
        for noun in words.nouns
        for node in noun.say
        for word in words_of(node)
        if noun.name in ("flag", "green") or noun.trouble
    }
    return frozenset(word for word in found | possessive if _SPOKEN.fullmatch(word))


class _Sampler:
    def __init__(self, words: Grammar, chance: random.Random) -> None:
        self._words = words
        self._chance = chance
        self._entries: dict[str, list[Entry]] = {}
        for entry in words.entries:
            for key in entry.facts:
                if entry.weight > 0:
                    self._entries.setdefault(key, []).append(entry)

    def sentence(self, template: Node) -> str:
        said = say(template, self._chance, self._fill)
        words = _TWICE.sub(r"\2", " ".join(said.replace(" 's", "'s").split()))
        return _FEET.sub(r"\1 foot \2", words)

    def _fill(self, name: str, role: str | None = None) -> str:
        words, chance = self._words, self._chance
        if name == "range":
            return self._range()
        wanted = role if role and name in ("distance", "number") else _FOR_SLOT.get(name, name)
        if wanted in words.numbers:
            return self._number(words.numbers[wanted])
        if name in words.parts:
            return say(likely(words.parts[name], chance), chance, self._fill)
        nouns = words.troubles() if name == "trouble" else words.noun(name)
        if nouns:
            noun = likely(nouns, chance)
            if noun.names_to is not None:
                role = role or "hole"
                return say(likely(noun.say, chance), chance, lambda slot: self._fill(slot, role))
            inner = "loft" if noun.value == "{n}" else "iron" if noun.name == "club" else None
            return say(likely(noun.say, chance), chance, lambda slot: self._fill(slot, inner))
        entries = self._entries.get(name)
        if not entries:
            raise CaddieError(f"grammar slot {{{name}}} is neither a noun, a part, a number nor a fact")
        entry = chance.choices(entries, weights=[entry.weight for entry in entries])[0]
        role = _role(entry)
        return say(likely(entry.say, chance), chance, lambda slot: self._fill(slot, role))

    def _range(self) -> str:
        low = self._chance.choice(self._words.numbers["pin"].values[:-10])
        step = self._chance.choice((5, 5, 5, 10, 2))
        joint = self._chance.choice((" to ", " or ", " "))
        return joint.join(self._chance.choice(spoken_forms(value)) for value in (low, low + step))

    def _number(self, numbers: NumberRange) -> str:
        value = self._chance.choice(numbers.values)
        number = self._chance.choice(spoken_forms(value))
        unit = self._chance.choices(list(numbers.units), weights=list(numbers.units.values()))[0]
        return f"{number} {_one(unit) if value == 1 else unit}".strip()


def _role(entry: Entry) -> str | None:
    if "elevation" in entry.facts:
        return "height"
    if entry.slot == "results":
        return "result"
    if entry.facts.get("intent") == "next_hole":
        return "hole"
    return _ROLE_SLOT.get(str(entry.facts.get("distance")))


def _one(unit: str) -> str:
    return {"feet": "foot", "inches": "inch", "miles an hour": "mile an hour"}.get(
        unit, unit.removesuffix("s")
    )


def ways_of_saying() -> int:
    """How many phrases the grammar understands, templates written out."""
    return sum(1 for said in _every_template(grammar()) for _ in expansions(said))


def _every_template(words: Grammar) -> Sequence[Node]:
    return [node for noun in words.nouns for node in noun.say] + [n for e in words.entries for n in e.say]
