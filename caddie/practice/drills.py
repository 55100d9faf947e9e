"""The putting drills by name: how each is laid out, and what a player says after a putt of it."""

import re
from typing import NamedTuple

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.practice.putting import ZONE_M, PaceLadder, StartGate, Stopped, ThreeFootRing
from caddie.practice.told import ENDS, read_told
from caddie.situation import Side

PuttingDrill = PaceLadder | StartGate | ThreeFootRing

_YES = frozenset("yes|yeah|good|made it|in|it's in|it is in|in it|in the zone|level|on it".split("|"))
_NO = frozenset("no|nope|miss|missed|missed it|out".split("|"))
_THROUGH = re.compile(r"\b(through|clean|cleanly)\b")
_TOUCHED = re.compile(
    r"\b(not|didn't|touched|touch|hit|clipped|caught|knocked|missed|outside|wide|left|right)\b"
)
_MISSED = re.compile(r"\b(missed|lipped|low|high|didn't|not)\b")


_LENGTHS = (
    "a foot",
    "two feet",
    "three feet",
    "four feet",
    "five feet",
    "six feet",
    "eight feet",
    "ten feet",
)


class Layout(NamedTuple):
    """How a drill is laid out, and what to say after a putt."""

    title: str
    text: str
    fresh: PuttingDrill
    say: str
    answers: tuple[str, ...]
    """How a putt is told aloud, for a recogniser to listen for."""


LAYOUTS = {
    "pace": Layout(
        "Pace ladder",
        "Pace ladder: marks at ten to fifty feet. A putt that stops within three feet past its mark climbs to "
        "the next and scores its rung; any other goes one back. Twelve putts.",
        PaceLadder(),
        'say "short", "in", "long", or how far past the mark',
        (
            *("short", "in", "long", "it's short", "it's in", "in the zone", "it's long", "past it"),
            *(f"{length} {way}" for length in _LENGTHS for way in ("short", "past", "long")),
        ),
    ),
    "gate": Layout(
        "Gate",
        "Gate: two tees just wider than the ball, two feet ahead on a straight putt: seven centimetres, a ball "
        "and two thirds. Ten putts through it.",
        StartGate(),
        'say "through" or "touched"',
        (
            *(
                "through",
                "it went through",
                "clean through",
                "yes",
                "touched",
                "it touched",
                "touched the tee",
            ),
            *(
                "hit the tee",
                "it hit the left tee",
                "it hit the right tee",
                "clipped it",
                "missed the gate",
                "no",
            ),
        ),
    ),
    "ring": Layout(
        "Ring",
        "Ring: twelve balls round the hole at three feet, as on a clock, twelve at the high side.",
        ThreeFootRing(),
        'say "in" or "missed"',
        (
            *(
                "in",
                "it's in",
                "holed it",
                "made it",
                "yes",
                "missed",
                "missed it",
                "missed low",
                "missed high",
            ),
            *("missed left", "missed right", "lipped out", "came up short", "no"),
        ),
    ),
}


def layout(name: str) -> Layout:
    """The drill of that name.

    Raises:
        CaddieError: if there is none.
    """
    if name not in LAYOUTS:
        raise CaddieError(f"no drill called {name}: choose {', '.join(LAYOUTS)}")
    return LAYOUTS[name]


def sentences_of(name: str) -> list[str]:
    """What a recogniser has to listen for in the drill of that name.

    Raises:
        CaddieError: if there is none.
    """
    return [*layout(name).answers, *ENDS]


def after(drill: PuttingDrill, line: str, bag: Bag) -> PuttingDrill | None:
    """The drill after the putt that ``line`` tells; None when it tells none."""
    said = " ".join(re.sub(r"[.,!?]", " ", line.lower().replace("’", "'")).split())
    if isinstance(drill, PaceLadder):
        stopped = _stopped(said, bag)
        return None if stopped is None else drill.told(stopped)
    well = _through(said) if isinstance(drill, StartGate) else _holed(said, bag)
    return None if well is None else drill.told(well)


def _stopped(said: str, bag: Bag) -> Stopped | None:
    if said in _YES:
        return Stopped.IN_ZONE
    result = read_told(said, bag).result
    if result is None or not (result.side or result.holed):
        return None
    if result.holed:
        return Stopped.IN_ZONE
    if Side.SHORT in result.side:
        return Stopped.SHORT
    # Past by no more than the zone is deep is in; past by an untold distance is what was asked: long.
    near = result.distance_m is not None and result.distance_m <= ZONE_M
    return Stopped.IN_ZONE if near else Stopped.LONG if Side.LONG in result.side else None


def _through(said: str) -> bool | None:
    if said in _NO or _TOUCHED.search(said):
        return False
    return True if said in _YES or _THROUGH.search(said) else None


def _holed(said: str, bag: Bag) -> bool | None:
    if said in _NO or _MISSED.search(said):
        return False
    if said in _YES:
        return True
    result = read_told(said, bag).result
    if result is None:
        return None
    return result.holed if result.holed or result.side or result.distance_m is not None else None
