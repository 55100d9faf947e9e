"""Things said in a conversation that are no facts of a shot, read from ``talk.toml`` and ``asked.toml``
of ``grammars/en``."""

import re
import tomllib
from functools import cache
from typing import Any

from caddie.places import shipped
from caddie.words.templates import expansions, parse

_NOT_SAID = re.compile(r"[^a-z0-9 ]+")
_CLAUSES = re.compile(r"[,.;:!?]+|\band\b|\bbut\b")


def says(text: str, saying: str) -> bool:
    """Whether the whole of ``text`` is one of the ways to say ``saying``.

    >>> says("Let's take stock.", "taking_stock"), says("take stock of the water", "taking_stock")
    (True, False)
    """
    return plain(text) in _sayings()[saying]


def begins(text: str, saying: str) -> bool:
    """Whether ``text`` begins with one of the ways to say ``saying``.

    >>> begins("Let's go with the gap wedge", "adopt_lead")
    True
    """
    return plain(text).startswith(tuple(f"{said} " for said in _sayings()[saying]))


def says_in_part(text: str, saying: str) -> bool:
    """Whether one clause of ``text`` is a way to say ``saying``.

    >>> says_in_part("eight feet past, and I quit on it", "quit")
    True
    """
    return says(text, saying) or any(plain(clause) in _sayings()[saying] for clause in clauses(text))


def clauses(text: str) -> list[str]:
    """The parts of an utterance between stops, ``and`` and ``but``."""
    return [part.strip() for part in _CLAUSES.split(text.lower()) if part.strip()]


def plain(text: str) -> str:
    """Lower case, one space between words, nothing but letters and digits."""
    joined = text.lower().replace("'", "").replace("’", "")
    return " ".join(_NOT_SAID.sub(" ", joined).split())


def spoken() -> list[str]:
    """Every way of saying every saying, for a recogniser to expect."""
    return sorted({said for ways in _sayings().values() for said in ways})


def frames(field: str) -> tuple[str, ...]:
    """Sentences that a bare answer about ``field`` completes."""
    return tuple(_data()["frames"].get(field, ()))


def walk() -> dict[str, str]:
    """The stops of the walk to the ball and their questions, in order."""
    return {entry["stop"]: entry["ask"] for entry in _data()["walk"]}


@cache
def _data() -> dict[str, Any]:
    return _read("talk")


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(shipped(f"grammars/en/{name}.toml").read_text(encoding="utf-8"))


@cache
def _sayings() -> dict[str, frozenset[str]]:
    ways: dict[str, set[str]] = {}
    for data in (_data(), _read("asked")):
        for name, said in data["sayings"].items():
            expanded = (" ".join(words) for template in said for words in expansions(parse(template)))
            ways.setdefault(name, set()).update(expanded)
    return {name: frozenset(said) for name, said in ways.items()}
