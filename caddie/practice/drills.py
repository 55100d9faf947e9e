"""The putting drills by name: how each is laid out, and what a player says after a putt of it."""

from typing import NamedTuple

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.practice.putting import (
    GATE_PUTTS,
    LADDER_PUTTS,
    RING_PUTTS,
    ZONE_M,
    PaceLadder,
    StartGate,
    Stopped,
    ThreeFootRing,
)
from caddie.practice.told import ENDS
from caddie.situation import Side
from caddie.words import Expecting, Reply, understand

PuttingDrill = PaceLadder | StartGate | ThreeFootRing

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
    putts: int


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
        LADDER_PUTTS,
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
        GATE_PUTTS,
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
        RING_PUTTS,
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


def ends(drill: PuttingDrill, line: str) -> bool:
    """Whether the player ends the drill: "stop", "that is enough"."""
    return understand(line, expecting=_EXPECTED[type(drill)]).command is not None


def after(drill: PuttingDrill, line: str, bag: Bag) -> PuttingDrill | None:
    """The drill after the putt that ``line`` tells; None when it tells none."""
    player = bag.player
    reply = understand(line, expecting=_EXPECTED[type(drill)], unit=player.distances_in, pace_m=player.pace_m)
    if isinstance(drill, PaceLadder):
        stopped = _stopped(reply)
        return None if stopped is None else drill.told(stopped)
    return None if reply.yes is None else drill.told(reply.yes)


def _stopped(reply: Reply) -> Stopped | None:
    if reply.yes:
        return Stopped.IN_ZONE
    result = reply.result
    if result is None:
        return None
    if Side.SHORT in result.side:
        return Stopped.SHORT
    # Past by no more than the zone is deep is in; past by an untold distance is what was asked: long.
    near = result.distance_m is not None and result.distance_m <= ZONE_M
    return Stopped.IN_ZONE if near else Stopped.LONG if Side.LONG in result.side else None


_EXPECTED = {
    PaceLadder: Expecting.STOPPED,
    StartGate: Expecting.THROUGH,
    ThreeFootRing: Expecting.HOLED,
}
