"""Sayings as a recogniser is taught them: some ways of each, drawn from their templates."""

import random

from caddie.words.sayings import part_named, taught
from caddie.words.templates import say

WAYS_TAUGHT = 6
"""Ways of saying one template that a recogniser is taught."""


def spoken() -> list[str]:
    """Ways of saying every saying, for a recogniser to expect."""
    return sorted({text for said in drawn(WAYS_TAUGHT).values() for text in said})


def drawn(each: int, seed: int = 0) -> dict[str, list[str]]:
    """Ways of saying every saying by its name: ``each`` draws of each of its templates, none twice."""
    chance = random.Random(seed)
    return {
        name: sorted(
            {
                " ".join(say(node, chance, lambda part: _one_way(part, chance)).split())
                for node in nodes
                for _ in range(each)
            }
            - {""}
        )
        for name, nodes in taught().items()
    }


def _one_way(name: str, chance: random.Random) -> str:
    return say(part_named(name), chance, lambda inner: _one_way(inner, chance))
