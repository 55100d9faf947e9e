"""What a player says was written down wrong: the side or the length that it was, and what it was not."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from caddie.words.echoes import CHANCE, Figure, figures_in
from caddie.words.sayings import compared, sentences_of
from caddie.words.talk_files import talk_data

SIDES = ("left", "right", "short", "past", "long")


@dataclass(frozen=True)
class LogCorrection:
    """A sentence about what was written down, with the rest of the turn."""

    was: tuple[str | Figure, ...]
    was_not: tuple[str | Figure, ...]
    asks_to: bool
    """Whether it plainly says that something is written otherwise."""
    may_ask_to: bool
    """Whether it asks for something to be put right, which may be anything told last."""
    says_again: bool
    """Whether it tells what was said before."""
    apologises: bool
    """Whether it begins with an apology and names a side and no more: "sorry, right of it"."""
    said: str
    rest: str


def log_correction(text: str) -> LogCorrection | None:
    """The first sentence that puts something written down right, or None.

    >>> log_correction("Left, I said, not right, put that straight.").was_not
    ('right',)
    """
    parts = sentences_of(text)
    for at, part in enumerate(parts):
        words = f" {' '.join(compared(part))} "
        marks = [
            kind for kind in ("fix", "vague", "said") if any(f" {way} " in words for way in _data()[kind])
        ]
        asks = part.rstrip().endswith("?")
        if _apologises(part):
            marks.append("apology")
        if not marks or (asks and (marks == ["said"] or compared(part)[0] in _words("asks"))):
            continue
        # "You have it down as short. It was long."
        for end in range(at + 1, min(at + MOST_SENTENCES, len(parts)) + 1):
            said = without_asking_to_fix(" ".join(parts[at:end]))
            was, was_not = _told(said)
            if was:
                rest = " ".join((*parts[:at], *parts[end:]))
                told = ("fix" in marks, "vague" in marks, "said" in marks, "apology" in marks)
                return LogCorrection(was, was_not, *told, said, rest)
    return None


def _apologises(sentence: str) -> bool:
    """ "Sorry, right of it": an apology, and then a side with nothing else beside it."""
    said = " ".join(compared(sentence))
    lead = next((way for way in _data()["apology"] if said.startswith(f"{way} ")), None)
    rest = said.removeprefix(lead or "").split()
    return (
        lead is not None and {*rest} <= {*SIDES, *_words("beside_a_side")} and not {*rest}.isdisjoint(SIDES)
    )


MOST_SENTENCES = 2


def without_asking_to_fix(text: str) -> str:
    """The words without "put that right", in which no side is told.

    >>> without_asking_to_fix("It ended ten short, put that right.")
    'It ended ten short.'
    """
    ways = "|".join(way for way in _data()["vague"] if not set(way.split()).isdisjoint(SIDES))
    return re.sub(rf",? *\b(?:{ways})\b", "", text, flags=re.IGNORECASE)


def says_it_was_said(text: str) -> bool:
    """Whether words tell that just this was told before: "it's nine feet, I said"."""
    words = f" {' '.join(compared(text))} "
    return any(f" {way} " in words for way in _data()["said"])


def _told(sentence: str) -> tuple[tuple[str | Figure, ...], tuple[str | Figure, ...]]:
    """Sides and lengths, those that were and those that were not."""
    was: list[str | Figure] = []
    was_not: list[str | Figure] = []
    denied, begun = False, 0
    for found in [*re.finditer(r"[^\s,;:.!?…]+", sentence), None]:
        word = "".join(compared(found[0])) if found is not None else ""
        if found is not None and word not in _words("was_not") | _words("was"):
            continue
        stretch = sentence[begun : found.start() if found is not None else len(sentence)]
        said = was_not if denied else was
        said += [each for each in compared(stretch) if each in SIDES]
        said += [each for each in figures_in(stretch) if each.unit != CHANCE]
        if found is not None:
            denied, begun = word in _words("was_not"), found.end()
    return tuple(was), tuple(was_not)


@cache
def _words(kind: str) -> frozenset[str]:
    return frozenset(_data()[kind].split())


def _data() -> dict[str, Any]:
    found: dict[str, Any] = talk_data()["written_wrong"]
    return found
