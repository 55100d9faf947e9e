"""What is said of notes, as a recogniser is taught it: sentences drawn from ``notes.toml`` of the grammar."""

import random
from collections.abc import Iterator, Sequence

from caddie.units import spoken_number
from caddie.words.note_phrases import LAST_HOLE, Names, PhraseLine, lines, note_data, ordinal
from caddie.words.sample import sample
from caddie.words.templates import Node, Slot, parse, say

WAYS = 6
"""Ways of saying one phrase that a recogniser is taught."""
OWN_WORDS_TIMES = 16
"""How often each sentence with a word of the player's own is taught, as no other sentence of the grammar has it."""
_DEPTHS = range(15, 41)
_OWN = ("hole", "course", "taught")


def sampled_notes(names: Names, seed: int = 0) -> list[str]:
    """Sentences about notes in spoken form; the player's own names and words are in them.

    Args:
        names: the player's own names of holes and courses, and words.
        seed: the same seed and names give the same sentences.
    """
    chance = random.Random(seed)
    rests = sample(60, seed)
    own = {"hole": tuple(names.holes), "course": tuple(names.courses), "taught": tuple(names.words)}
    found = {
        _in_place(line, say(node, chance, lambda slot: _filled(slot, chance, rests, own)), chance)
        for place in ("lead", "whole", "part")
        for line in lines(place)
        for node, _ in line.nodes
        if _can_be_said(node, own)
        for _ in range(WAYS)
    }
    framed = [frame.format(word=word) for word in names.words for frame in note_data()["frames"]]
    return sorted([*found, *framed * OWN_WORDS_TIMES])


def _in_place(line: PhraseLine, said: str, chance: random.Random) -> str:
    """A phrase behind the wish that it is said with, and before a word that has to follow it."""
    follows = str(line.facts.get("before", "")).split()
    return " ".join(
        [str(line.facts.get("with", "")), *said.split(), *([chance.choice(follows)] if follows else [])]
    ).strip()


def _can_be_said(node: Node, own: dict[str, tuple[str, ...]]) -> bool:
    """Whether every slot can be filled: names to come can be anything, and nobody can be taught those."""
    slots = set(_slots(node))
    return "name" not in slots and all(own[slot] for slot in slots & set(_OWN))


def _filled(slot: str, chance: random.Random, rests: Sequence[str], own: dict[str, tuple[str, ...]]) -> str:
    match slot:
        case "ordinal":
            return ordinal(chance.randint(1, LAST_HOLE))
        case "count":
            return spoken_number(chance.randint(1, LAST_HOLE)).replace("-", " ")
        case "length":
            return f"{spoken_number(chance.choice(_DEPTHS)).replace('-', ' ')}{chance.choice(('', ' yards'))}"
        case "rest":
            return chance.choice(rests)
        case "place" | "any_place":
            written = parse(
                f"({'|'.join(each for each in note_data()['places'][slot] if '{hole}' not in each)})"
            )
            return say(written, chance, lambda inner: _filled(inner, chance, rests, own))
        case _:
            return chance.choice(own[slot])


def _slots(node: Node) -> Iterator[str]:
    match node:
        case Slot(name):
            yield name
        case _:
            for part in getattr(node, "parts", getattr(node, "options", ())):
                yield from _slots(part)
