"""The grammar files of the conversation, as written."""

import tomllib
from functools import cache
from typing import Any

from caddie.places import shipped


def talk_data() -> dict[str, Any]:
    """What ``talk.toml`` holds, as written."""
    return read_grammar("talk")


def gist_data() -> dict[str, Any]:
    """What ``gist.toml`` holds, as written."""
    return read_grammar("gist")


def questions_data() -> dict[str, Any]:
    """What ``questions.toml`` holds, as written."""
    return read_grammar("questions")


def turn_data() -> dict[str, list[str]]:
    """Which sayings may stand beside something else in one turn."""
    found: dict[str, list[str]] = gist_data()["turn"]
    return found


def glossary_data() -> list[dict[str, Any]]:
    """The words of the game and what each means, as written in ``glossary.toml``."""
    terms: list[dict[str, Any]] = read_grammar("glossary")["term"]
    return terms


def lore_data() -> dict[str, Any]:
    """What ``lore.toml`` holds, as written."""
    return read_grammar("lore")


def rules_data() -> dict[str, Any]:
    """What ``rules.toml`` holds, as written."""
    return read_grammar("rules")


def adjectives_data() -> dict[str, str]:
    """What ``adjectives.toml`` holds, as written."""
    return read_grammar("adjectives")


def echoes_data() -> dict[str, Any]:
    """What ``echoes.toml`` holds, as written."""
    return read_grammar("echoes")


def asked_data() -> dict[str, Any]:
    """What ``asked.toml`` holds, as written."""
    return read_grammar("asked")


@cache
def read_grammar(name: str) -> dict[str, Any]:
    """What the grammar file ``name`` holds, as written."""
    return tomllib.loads(shipped(f"grammars/en/{name}.toml").read_text(encoding="utf-8"))
