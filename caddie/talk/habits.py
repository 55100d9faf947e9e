"""A miss that the player says they always make, or fear: one thing to do about it that suits the shot in play."""

from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.plan.option import Option, Plan
from caddie.plan.putt.choose import putt_at
from caddie.plan.putt.read import PASTS_M
from caddie.reply.aim import aim_said
from caddie.reply.phrases import SQUARE, face_said, times_in_ten
from caddie.reply.putt import near_said, pace_said, putt_unit, start_said
from caddie.reply.spoken import sentences, shortest
from caddie.situation import IN_SAND
from caddie.talk import lines
from caddie.talk.asked import AT_THE_FLAG, in_play
from caddie.talk.lore import cause_of, remedy_for
from caddie.talk.nerves import nervous
from caddie.talk.other_pace import short_beside
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.talk.went_wrong import GRASS, fault_named, went_wrong
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

FIRM_ENOUGH_M = 0.25
"""A putt meant to stop so far past the hole is none that is left short by its pace."""
_NEVER_THERE = frozenset({"dying", "there"})
_STAYS = frozenset({"leave", "leaving", "left", "stay", "get", "never", "end"})
_WHY = "why"
_SAND = frozenset({"sand", "bunker", "trap", "out", "in"})


def habit(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I usually stub it", "I always leave these short": what to do so that it does not happen now."""
    plan = in_play(known)
    if _WHY in compared(heard.heard) and fault_named(heard.heard):
        return went_wrong(desk, known, heard)
    if plan is None:
        named = fault_named(heard.heard)
        if not named:
            return no_shot(known)
        spoken = sentences([cause_of(named)])
        return Said(known.changed(spoken=spoken), spoken)
    fault, side = _fault(heard.heard, plan), _side_named(heard.heard)
    if side and fault in ("", "pull", "push") and plan.chosen.line is None:
        return _aimed_off(desk, known, plan, side)
    if plan.chosen.line is not None and fault == "short":
        return _firmer(desk, known, plan)
    told = _remedy(fault, plan)
    if not told:
        return nervous(desk, known, heard)
    spoken = sentences([told])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _aimed_off(desk: Desk, known: Known, plan: Plan, side: str) -> Said:
    """The aim of a shot for who sends them to a side, that they allow more for it, and what is taught against it."""
    at = aim_said(plan.chosen, desk.bag) or AT_THE_FLAG
    allow = lines.AIM_OFF.format(side="right" if side == "left" else "left")
    spoken = shortest([[at, allow, _remedy(side, plan)], [at, allow]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _side_named(text: str) -> str:
    words = set(compared(text))
    called = lore_data()["miss_words"]
    return next((side for side in ("left", "right") if not words.isdisjoint(called[side].split())), "")


def _fault(text: str, plan: Plan) -> str:
    """The fault that is meant, as the causes call it; a ball that is left in the sand it lies in has no other name."""
    words = set(compared(text))
    if plan.situation.lie in IN_SAND and words & _STAYS and words & _SAND:
        return "stayed_in"
    return fault_named(text) or ("short" if words & _NEVER_THERE else "")


def _remedy(fault: str, plan: Plan) -> str:
    """What is taught against the fault; nothing where that would gainsay the shot as it was told."""
    option, there = plan.chosen, plan.situation
    if not fault:
        return ""
    if option.line is not None or option.family is Family.PUTT:
        return remedy_for(f"putt_{fault}") if fault in ("short", "long") else ""
    sand = there.lie in IN_SAND
    other_way = there.stance or (sand and face_said(option) == SQUARE)
    picked = sand and option.family is not Family.SPLASH
    if other_way or picked:
        return ""
    return remedy_for(fault, sand=sand, grass=there.lie in GRASS)


def _firmer(desk: Desk, known: Known, plan: Plan) -> Said:
    """A putt for who leaves them short: the pace that stops past the hole, on its own line, and what that does."""
    bag, now = desk.bag, plan.chosen
    assert now.line is not None
    if now.line.past_m >= FIRM_ENOUGH_M:
        past = near_said(now.line.past_m, putt_unit(bag))
        meant = f"roll it at a spot {past} behind the hole: that is this pace"
        spoken = shortest(
            [[meant, f"it stays short {times_in_ten(now.line.short)}", known.cue.say if known.cue else ""]]
        )
        return Said(known.changed(spoken=spoken, question=None), spoken)
    firm = _past_the_hole(plan, bag)
    assert firm.line is not None
    does = short_beside(firm.line, now.line)
    past = near_said(firm.line.past_m, putt_unit(bag))
    pace = pace_said(firm, plan.situation, putt_unit(bag)).partition(", to ")[0]
    parts = [start_said(firm, putt_unit(bag)), f"{pace}, to finish {past} past", does]
    spoken = shortest([parts, parts[:2]])
    chosen = plan.model_copy(update={"chosen": firm})
    after = known.changed(plan=chosen, advised=firm, other=None, spoken=spoken, short=spoken, question=None)
    return replace(Said(after, spoken, step=True, settles=True), brief=sentences(parts[:2]))


def _past_the_hole(plan: Plan, bag: Bag) -> Option:
    """The softest pace whose putts are meant to stop past the hole, not at it."""
    tried = (putt_at(plan, float(past_m), bag) for past_m in PASTS_M)
    return next((each for each in tried if each.line and each.line.past_m >= FIRM_ENOUGH_M), plan.chosen)
