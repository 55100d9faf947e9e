"""What stands in the way and of which something is not told that decides the club: a lip's height, or how far off a
high one stands; the same of a tree, and of one of which no place was told whether it is in the way at all."""

from caddie.plan.called import is_several
from caddie.plan.lip import is_lip_unplaced, is_lip_unsaid
from caddie.situation import IN_SAND, Hazard, HazardKind, Lie, Side, Situation
from caddie.words import Understanding
from caddie.words.talk_files import talk_data

LIP, LIP_AWAY = "lip_m", "lip_away_m"
TREES, TREES_AWAY, TREES_PLACE = "trees", "trees_away", "trees_place"
"""Fields of the questions about trees: how high, how far ahead, and where."""
_HEIGHT_ASKED = {
    LIP: "How high is the lip: knee, hip or head?",
    LIP_AWAY: "How far ahead is the lip?",
    TREES: "How {tall} the {name}?",
    TREES_AWAY: "How far ahead {are} the {name}?",
    TREES_PLACE: "Where {are} the {name}: in your way, behind, left or right?",
}
"""What is asked of it, by the field that the answer would fill."""


def height_question(field: str, situation: Situation) -> str:
    """What is asked for the field, of what stands in the way by the name it was given."""
    of_it = _has_no_place if field == TREES_PLACE else _bars_the_way
    called = next((each.called for each in situation.hazards if of_it(each)), None)
    name = called or ("trees" if field == TREES_PLACE else "tree")
    are = "are" if is_several(name) else "is"
    tall = f"{'high' if called else 'tall'} {are}"
    return _HEIGHT_ASKED[field].format(tall=tall, are=are, name=name)


def height_unsaid(heard: Understanding, situation: Situation) -> str | None:
    """The field to be asked for: a lip's height where one is named or the flag is far, then its place; a tree's so."""
    named = (bool(situation.under_lip) and situation.lie is Lie.BUNKER) or not set(
        talk_data()["lip"]["say"]
    ).isdisjoint(heard.left_over)
    if is_lip_unsaid(situation) or (named and situation.lie in IN_SAND and situation.lip_m is None):
        return LIP
    if is_lip_unplaced(situation):
        return LIP_AWAY
    if situation.lie in (*IN_SAND, Lie.GREEN):
        return None
    if any(map(_has_no_place, heard.situation.hazards)):
        return TREES_PLACE
    if not any(map(_bars_the_way, heard.situation.hazards)):
        return None
    barring = [each for each in situation.hazards if _bars_the_way(each)]
    if any(each.height_m is None for each in barring):
        return TREES
    return TREES_AWAY if any(each.carry_m is None for each in barring) else None


def _bars_the_way(hazard: Hazard) -> bool:
    """Whether a tree stands in the way, past which no way was told."""
    return hazard.side is Side.SHORT and _is_closed(hazard)


def _has_no_place(hazard: Hazard) -> bool:
    """Whether a tree stands somewhere, and where was not told."""
    return hazard.side is None and not hazard.beside and hazard.carry_m is None and _is_closed(hazard)


def _is_closed(hazard: Hazard) -> bool:
    ways = (hazard.clear_m, hazard.gap_m, hazard.round, hazard.not_over)
    return hazard.kind is HazardKind.TREES and all(way is None for way in ways)
