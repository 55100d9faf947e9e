"""What is said in a drill: answers that a recogniser listens for, and situations and results as a caddie says them."""

from caddie.bag.models import Bag
from caddie.plan.called import name_of
from caddie.situation import Finish, Result, Situation
from caddie.units import Unit, spoken_length
from caddie.words import sentences

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
"""What a recogniser listens for as the end; more ways are understood."""
_SENTENCES = 8000
_ALONE_SHARE = 10
_COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight")


def told_sentences() -> list[str]:
    """What a recogniser has to listen for in a drill: results, numbers of strokes and the word that ends it."""
    alone = [*ENDS, "holed it", "in", "it's in", "on the green", "up and down"]
    counts = [frame.format(count) for frame in ("{}", "{}", "down in {}", "{} strokes") for count in _COUNTS]
    return [*sentences(_SENTENCES, kinds=("result",)), *_ALONE_SHARE * [*alone, *counts]]


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
        f"{name_of(hazard)} {hazard.side.value if hazard.side else 'in the way'}"
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
