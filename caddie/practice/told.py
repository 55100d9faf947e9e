"""What a player answers in a drill: the context says that it is a result, so little needs to be said."""

import re
from typing import NamedTuple

from caddie.bag.models import Bag
from caddie.log.shot import Commitment
from caddie.situation import Finish, Result, Situation
from caddie.units import Unit, spoken_length
from caddie.words import Intent, Understanding, sentences, understand
from caddie.words.odd_numbers import odd_number

FRAMES = ("{}", "it ended {}", "it ended {} from the hole", "it went {}")
"""A bare "six feet short" is a situation on its own, and a result once it is said to be one."""
_PLACES = {
    Finish.HOLED: "in",
    Finish.GREEN: "on the green",
    Finish.FRINGE: "on the fringe",
    Finish.FAIRWAY: "on the fairway",
    Finish.ROUGH: "in the rough",
    Finish.BUNKER: "in the bunker",
    Finish.WATER: "in the water",
    Finish.TREES: "in the trees",
    Finish.OUT_OF_BOUNDS: "out of bounds",
}
ENDS = ("stop", "finish", "quit")
"""What a recogniser listens for as the end; :func:`ends` knows more ways."""
_SENTENCES = 8000
_ALONE_SHARE = 10
_COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}


class Told(NamedTuple):
    """An answer as read; ``result`` is None when it tells none."""

    result: Result | None
    commitment: Commitment | None
    intent: Intent
    strokes: int | None = None


def read_told(text: str, bag: Bag) -> Told:
    """What became of the ball, and how the player went through with it."""
    player = bag.player
    commitment: Commitment | None = None
    heard: Understanding | None = None
    for frame in FRAMES:
        now = understand(frame.format(text), unit=player.distances_in, pace_m=player.pace_m)
        heard = heard or now
        commitment = commitment or _commitment(now)
        told = now.result is not None and now.result != Result()
        if told and not now.problem:
            return Told(now.result, commitment, Intent.RESULT)
        if heard.intent is Intent.STOP and commitment is None:
            break
    assert heard is not None
    if commitment is not None:
        return Told(Result(), commitment, Intent.RESULT)
    return Told(None, None, heard.intent)


def ends(text: str) -> bool:
    """Whether the player ends the drill: "stop", "that is enough".

    >>> ends("finish"), ends("three")
    (True, False)
    """
    return understand(text).intent is Intent.STOP


def told_sentences() -> list[str]:
    """What a recogniser has to listen for in a drill: results, numbers of strokes and the word that ends it."""
    alone = [*ENDS, "holed it", "in", "it's in", "on the green", "up and down"]
    counts = [frame.format(count) for frame in ("{}", "{}", "down in {}", "{} strokes") for count in _COUNTS]
    return [*sentences(_SENTENCES, kinds=("result",)), *_ALONE_SHARE * [*alone, *counts]]


def read_strokes(text: str) -> int | None:
    """A number of strokes: "two", "3", "holed it", "up and down"; None when there is none.

    >>> read_strokes("down in three"), read_strokes("up and down"), read_strokes("holed it")
    (3, 2, 1)
    """
    if odd_number(text):
        return None
    said = text.lower()
    down_in = understand(text).down_in
    if down_in is not None:
        return down_in
    found = re.search(r"\b(\d{1,2}|" + "|".join(_COUNTS) + r")\b", said)
    if found:
        count = _COUNTS.get(found[1]) or int(found[1])
        return count if 1 <= count <= 12 else None
    return 1 if re.search(r"\b(holed|in the hole|chipped in|went in)\b", said) else None


def situation_said(situation: Situation, bag: Bag) -> str:
    """A situation as a caddie reads it out: "eighteen yards, light rough, bunker short, flag at the back"."""
    unit = bag.player.distances_in
    parts = []
    if situation.pin_m:
        parts.append(spoken_length(situation.pin_m, unit, bag.player.pace_m))
    if situation.lie:
        parts.append(situation.lie.value.replace("_", " "))
    if situation.sitting:
        parts.append(f"sitting {situation.sitting.value}")
    parts += [stance.value.replace("_", " ") for stance in situation.stance]
    parts += [
        f"{hazard.kind.value.replace('_', ' ')} {hazard.side.value if hazard.side else 'in the way'}"
        for hazard in situation.hazards
    ]
    if situation.pin_position:
        place = situation.pin_position.value.replace("_", " ")
        parts.append(f"flag {'in the' if place.startswith('middle') else 'at the'} {place}")
    return ", ".join(parts)


def leave_said(result: Result, bag: Bag) -> str:
    """Where a ball ended, in a few words."""
    if result.holed:
        return "in"
    if result.distance_m is None:
        return _PLACES[result.finish] if result.finish else "noted"
    unit = Unit.METRES if bag.player.distances_in is Unit.METRES else Unit.FEET
    sides = " ".join(side.value for side in result.side)
    return f"{spoken_length(result.distance_m, unit)} {sides}".strip()


def _commitment(heard: Understanding) -> Commitment | None:
    if heard.intent is Intent.READY and "commit" in heard.heard.lower():
        return Commitment.COMMITTED
    return Commitment(heard.commitment) if heard.commitment else None
