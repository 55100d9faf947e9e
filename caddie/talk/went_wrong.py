"""What went wrong with a shot that was told: one likely cause and one thing to do next time, fitting the lie."""

from caddie.bag import Bag, Family
from caddie.bag.models import Handed
from caddie.reply.spoken import sentences
from caddie.situation import IN_SAND, Finish, Lie, Result, Side, Situation, Strike
from caddie.talk import lines
from caddie.talk.lore import cause_of
from caddie.talk.state import Desk, Known, Said
from caddie.units import FOOT_M
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

GOOD_M = 6 * FOOT_M
"""A shot from off the green that ends nearer went well (common practice, no source)."""
GRASS = (Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH)
"""Grass that has causes of its own."""
STRUCK = {Strike.HEAVY: "heavy", Strike.THIN: "thin", Strike.TOPPED: "topped", Strike.SHANK: "shank"}
"""What a strike is called among the faults."""


def went_wrong(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The likely cause of what was told, or of the fault that is named, and what to do next time."""
    now, known = known, of_the_ball_hit(known)
    named = fault_named(heard.heard)
    result = known.result
    fault = fault_of(result, known.situation, desk.bag) if result is not None else ""
    if named and not (fault and named in _SIDES):
        fault = f"putt_{named}" if _putted(known) and named in ("short", "long") else named
    if not fault:
        return Said(now, _without_fault(known))
    cause = cause_of(fault, sand=known.situation.lie in IN_SAND, grass=known.situation.lie in GRASS)
    spoken = sentences([_was_it(heard.heard, result, known.situation), cause])
    return Said(now.changed(spoken=spoken), spoken)


def of_the_ball_hit(known: Known) -> Known:
    """What was known of the ball that was hit last, where the next one has been told of since."""
    if known.played or not known.told:
        return known
    last = known.told[0]
    return known.changed(result=last.result, situation=last.situation, plan=None)


def _putted(known: Known) -> bool:
    """Whether the stroke was a putt, be it from off the green."""
    off_it = known.plan is not None and known.plan.chosen.family is Family.PUTT
    return known.situation.lie is Lie.GREEN or off_it


_SIDES = ("short", "long", "left", "right")


def _was_it(text: str, result: Result | None, situation: Situation) -> str:
    """Yes or no, where it is asked whether the shot was too much or too little of something."""
    words = compared(text)
    if result is None or not _ASKS & {*words[:1]}:
        return ""
    asked = next((name for name, said in lore_data()["asked_too"].items() if {*said.split()} & {*words}), "")
    turned = ("enough" in words) + ("sand" in words)
    if not asked or "club" in words:
        return ""
    asked = asked if turned % 2 == 0 else {"long": "short", "short": "long"}[asked]
    stayed = situation.lie in IN_SAND and result.finish is Finish.BUNKER
    was = "short" if Side.SHORT in result.side or stayed else "long" if Side.LONG in result.side else ""
    if was == asked:
        return lines.IT_WAS if words[0] in _ASKS_IF else ""
    return lines.IT_WAS_NOT[was] if was else ""


_ASKS_IF = frozenset({"was", "did", "were", "is", "have"})
_ASKS = frozenset({*_ASKS_IF, "why", "how", "what"})


def went_right(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What was good about the shot just told."""
    return Said(known, lines.KEEP_THAT if known.result is not None else lines.NOTHING_PLAYED)


def _without_fault(known: Known) -> str:
    result = known.result
    if result is None:
        return lines.NOTHING_PLAYED
    near = result.holed or (result.distance_m is not None and result.distance_m <= GOOD_M)
    return lines.NOTHING_WRONG if near else lines.NOT_TOLD_HOW


def fault_named(text: str) -> str:
    """The fault that the words name, as the causes call it; empty when none is."""
    words = compared(text)
    for fault, said in lore_data()["fault_words"].items():
        if not set(said.split()).isdisjoint(words):
            return str(fault)
    return ""


def fault_of(result: Result, situation: Situation, bag: Bag) -> str:
    """The fault that a result tells of: of its strike, else of the sand, else of where it went."""
    if result.strike in STRUCK:
        return STRUCK[result.strike]
    sides = result.side
    if situation.lie is Lie.GREEN:
        side = next(iter(result.side), None)
        return (
            "" if side is None else f"putt_{side.value}" if side in (Side.SHORT, Side.LONG) else "putt_line"
        )
    if situation.lie in IN_SAND and result.finish is Finish.BUNKER:
        return "stayed_in"
    if not sides or result.holed or (result.distance_m is not None and result.distance_m <= GOOD_M):
        return ""
    side = sides[0]
    if side in (Side.LEFT, Side.RIGHT):
        across = {Handed.RIGHT: Side.LEFT, Handed.LEFT: Side.RIGHT}[bag.player.handed]
        return "pull" if side is across else "push"
    return side.value
