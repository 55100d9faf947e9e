"""The face of the shot in play: open or square, why, and how it is opened."""

from caddie.bag import Bag, Family
from caddie.bag.models import Handed
from caddie.plan.launches import is_firm
from caddie.plan.option import Plan
from caddie.reply.phrases import OPEN, face_said, shot_said, small
from caddie.reply.spoken import sentences
from caddie.situation import IN_SAND, Lie, Sand
from caddie.talk import lines
from caddie.talk.asked import in_play
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
        return _skids(plan) if is_firm(situation) else lines.SQUARE_SAND
    return lines.SQUARE_GRASS


def why_so_set(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Square face? I was told to open it in a bunker": why it is set so here."""
    plan = in_play(known)
    return None if plan is None else _said(known, face_why(plan, desk.bag))


def is_that_why(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Is it because the sand's wet?": yes where that is the reason, else the reason that is."""
    plan = in_play(known)
    if plan is None:
        return None
    opened = face_said(plan.chosen) == OPEN
    soft = plan.situation.sand is Sand.SOFT
    of_the_sand = soft if opened else is_firm(plan.situation) and plan.situation.lie is not Lie.PLUGGED
    lead = lines.YES_IT_IS if of_the_sand else lines.NO_IT_IS
    why = face_why(plan, desk.bag)[0]
    return _said(known, [f"{lead}{small(why)}"])


def bounces(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Will the club bounce off it if I open it?": yes of sand that is firm, and what becomes of the ball then."""
    plan = in_play(known)
    if plan is None:
        return None
    return _said(known, [lines.BOUNCES if is_firm(plan.situation) else lines.BOUNCE_SLIDES])


def _skids(plan: Plan) -> str:
    wet = bool(plan.situation.wet) and plan.situation.sand is None
    return lines.SQUARE_WET if wet else lines.SQUARE_FIRM


def _said(known: Known, parts: list[str]) -> Said:
    spoken = sentences(parts)
    return Said(known.changed(spoken=spoken, question=None), spoken)
