"""The face of the shot in play: open or square, why, and how it is opened."""

from caddie.bag import Bag, Family
from caddie.bag.models import Handed
from caddie.plan.option import Plan
from caddie.reply.phrases import OPEN, face_said, shot_said
from caddie.situation import IN_SAND, Lie, Sand
from caddie.talk import lines
from caddie.talk.lore import meaning_of
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding


def face(plan: Plan, bag: Bag) -> list[str]:
    """Open or square, and what would have it the other way."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [lines.SQUARE_PUTTER]
    how_set = shot_said(option, bag)
    named = how_set if "face" in how_set else f"square face: {how_set}"
    return [named, _other_way(plan)]


def face_why(plan: Plan, bag: Bag) -> list[str]:
    """Why the face is open, and where that sends the ball; or why it is square."""
    if plan.chosen.family is Family.PUTT:
        return [lines.SQUARE_PUTTER]
    if face_said(plan.chosen) != OPEN:
        return [_square_because(plan)]
    side = {Handed.RIGHT: ("right", "left"), Handed.LEFT: ("left", "right")}[bag.player.handed]
    return [lines.FACE_OPENED.format(points=side[0], stand=side[1])]


def how_to_open(desk: Desk, known: Known, heard: Understanding) -> Said:
    """How the face is opened."""
    return Said(known, meaning_of("open face") or lines.NO_MEANING)


def _other_way(plan: Plan) -> str:
    if face_said(plan.chosen) != OPEN:
        return _square_because(plan)
    return lines.OPEN_IN_SAND if plan.situation.lie in IN_SAND else lines.OPEN_ON_GRASS


def _square_because(plan: Plan) -> str:
    situation = plan.situation
    if situation.lie is Lie.PLUGGED:
        return lines.SQUARE_BURIED
    if situation.lie in IN_SAND:
        return lines.SQUARE_FIRM if situation.sand is Sand.FIRM else lines.SQUARE_SAND
    return lines.SQUARE_GRASS
