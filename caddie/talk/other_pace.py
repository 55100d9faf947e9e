"""The same putt at another pace: how much more it breaks when it dies at the hole, and what that costs."""

from caddie.bag import Bag
from caddie.plan.option import Plan, PuttLine
from caddie.plan.putt.choose import putt_at
from caddie.plan.putt.read import PASTS_M
from caddie.reply.phrases import small, times_in_ten
from caddie.reply.putt import aim_apart_said, putt_unit, start_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk.asked import in_play
from caddie.talk.lines import STAYS_DOWN
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding

DIES_M, FIRM_M = float(PASTS_M[0]), float(PASTS_M[-2])
SAME_LINE_M = 0.03
"""Lines that differ by less are one to the eye (common practice, no source)."""


def dying(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "If I die it at the hole, how much more break?": the line at that pace beside the one told."""
    return _at(desk, known, DIES_M, "to die at the hole")


def firm(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "If I hit it firm, does it break less?": the line at that pace beside the one told."""
    return _at(desk, known, FIRM_M, "firm, at the back of the hole")


def _at(desk: Desk, known: Known, past_flat_m: float, named: str) -> Said:
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is None:
        return Said(known, STAYS_DOWN)
    parts = _beside(plan, past_flat_m, named, desk.bag)
    spoken = shortest([parts, parts[:-1], parts[:1]])
    return Said(known.changed(spoken=spoken, question=None), spoken, brief=sentences(parts[:1]))


def _beside(plan: Plan, past_flat_m: float, named: str, bag: Bag) -> list[str]:
    """The line at that pace and the one told, how often each stays short, and how often it drops."""
    now, then = plan.chosen, putt_at(plan, past_flat_m, bag)
    assert now.line is not None and then.line is not None
    line = small(start_said(then, putt_unit(bag)))
    apart_m = abs(then.aim_left_m) - abs(now.aim_left_m)
    if abs(apart_m) < SAME_LINE_M:
        moves = f"much the same line: {line}"
    else:
        moves = f"{aim_apart_said(apart_m, putt_unit(bag))} {'more' if apart_m > 0 else 'less'} break"
        moves += f": {line}" if now.line.told is None else " than you read"
    short = short_beside(then.line, now.line) or f"short {times_in_ten(then.line.short)} either way"
    makes = [times_in_ten(each.make or 0.0) for each in (then, now)]
    drops = f"it drops {makes[0]}, not {makes[1]}" if makes[0] != makes[1] else ""
    return [f"{named}, {moves}", short, drops]


def short_beside(then: PuttLine, now: PuttLine) -> str:
    """How often a putt stays short at another pace, where that differs as it is told."""
    shorts = [times_in_ten(each.short) for each in (then, now)]
    return f"short {shorts[0]}, not {shorts[1]}" if shorts[0] != shorts[1] else ""
