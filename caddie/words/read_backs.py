"""The shot said back to be told whether it was understood: which sentence does that, and what it claims of the shot."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache
from typing import Any

from caddie.words.echoes import Figure, figures_in
from caddie.words.gist import is_question
from caddie.words.sayings import compared, sentences_of
from caddie.words.talk_files import echoes_data

_WORD = re.compile(r"[^\s,;:.!?…]+")
FREELY = ""
"""Names the figures that no word tells what they are of."""


@dataclass(frozen=True)
class ReadBack:
    """A sentence that says the shot back, and what was said before and behind it."""

    before: str
    sentence: str
    behind: str


@dataclass(frozen=True)
class Claimed:
    """What a sentence claims of a shot: where the hands stop, figures by what they are of, and what without one."""

    hands: frozenset[str]
    figures: tuple[tuple[str, Figure], ...]
    vaguely: frozenset[str]

    sides: frozenset[str]

    def is_of(self, kinds: Collection[str]) -> bool:
        """Whether more is claimed than a figure that may be any fact's: one of these kinds, or where the hands stop."""
        lands_and_runs = {"land", "run"} <= self.vaguely
        of_these = any(of in kinds or each.unit in OF_A_LINE for of, each in self.figures if of or each.unit)
        return bool(self.hands) or lands_and_runs or of_these

    def is_only(self, figure: Figure) -> bool:
        """Whether nothing is claimed but one figure, of what is not told."""
        return not (self.hands or self.vaguely) and self.figures == ((FREELY, figure),)


OF_A_LINE = ("cups", "balls")
"""What a length beside the hole is counted in, and no other."""


def read_back_in(text: str) -> ReadBack | None:
    """The first sentence of a text that asks whether what it says back is right, or None.

    >>> read_back_in("Fine. So it is the sixty, one metre short, is that right? And why?").sentence
    'So it is the sixty, one metre short, is that right?'
    """
    parts = sentences_of(text)
    for at, part in enumerate(parts):
        if _asks_whether_so(part):
            return ReadBack(" ".join(parts[:at]), part, " ".join(parts[at + 1 :]))
    return None


def _asks_whether_so(sentence: str) -> bool:
    if not sentence.rstrip().endswith("?"):
        return False
    words = list(compared(sentence))
    tag = next(
        (tag for tag in _ways("tags") if len(tag) < len(words) and words[-len(tag) :] == list(tag)), ()
    )
    rest = words[: len(words) - len(tag)]
    led = next(
        (lead for lead in _ways("leads") if len(lead) < len(rest) and rest[: len(lead)] == list(lead)), ()
    )
    while more := next(
        (lead for lead in _ways("leads") if led and rest[len(led) : len(led) + len(lead)] == list(lead)), ()
    ):
        led = (*led, *more)
    if not tag and not led:
        return False
    return not is_question(" ".join(rest[len(led) :]))


def claimed(sentence: str) -> Claimed:
    """What a sentence claims of a shot.

    >>> claimed("hands between hip and chest, land it three metres short").hands == {"hip", "chest"}
    True
    """
    words = set(compared(sentence))
    hands = frozenset(name for name, called in _data()["hands"].items() if not words.isdisjoint(called))
    of, begun, figures = FREELY, 0, list[tuple[str, Figure]]()
    named_of: set[str] = set()
    for found in _WORD.finditer(sentence):
        named = next((kind for kind in _KINDS if {*compared(found[0])} & _called(kind)), None)
        if named is not None:
            figures += [(of, each) for each in figures_in(sentence[begun : found.start()])]
            of, begun = named, found.start()
            named_of.add(named)
    figures += [(of, each) for each in figures_in(sentence[begun:])]
    vaguely = frozenset(named_of - {of for of, _ in figures})
    return Claimed(hands, tuple(figures), vaguely, frozenset(words & _SIDES))


_KINDS = ("land", "run", "carry", "aim", "as_if")
_SIDES = {"left", "right"}


@cache
def _called(kind: str) -> frozenset[str]:
    return frozenset(_data()[kind].split())


@cache
def _ways(name: str) -> tuple[tuple[str, ...], ...]:
    """The longest first."""
    return tuple(sorted((compared(way) for way in _data()[name]), key=len, reverse=True))


def _data() -> dict[str, Any]:
    found: dict[str, Any] = echoes_data()["read_back"]
    return found
