"""Other ways to hit the putt in play: firm and straight, dying, on another line; and a read that is doubted.

Told by the same balls on the same green: which line that pace asks for, on which side it misses, what it leaves.
Nothing that is asked so becomes a fact.
"""

import math

from caddie.bag import Bag
from caddie.plan.option import Option, Plan
from caddie.plan.putt.borrow import break_left_m, side_slope_field, with_side_slope
from caddie.plan.putt.choose import putt_at
from caddie.plan.putt.clue import HOW_MUCH, SLIGHT_SLOPE
from caddie.plan.putt.green import falls
from caddie.plan.putt.meant import Meant, as_meant
from caddie.plan.putt.read import PASTS_M
from caddie.reply.phrases import small, times_in_ten
from caddie.reply.putt import aim_apart_said, aim_place, near_said, putt_unit, start_said
from caddie.reply.spoken import shortest
from caddie.situation import CUP_M
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.other_pace import DIES_M, FIRM_M
from caddie.talk.question import PUTT
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Question, Said
from caddie.words.borrow import amount_named
from caddie.words.echoes import figures_in
from caddie.words.in_kind import words_of_kind

NO_BREAK_M = 0.015
"""A putt aimed off the middle by less is a straight one."""
AS_GOOD_PUTTS = 0.02
"""Putts that differ by less are one to the player."""
_STRAIGHT, _LESS, _MORE = "straight", "less_break", "more_break"
_MISSES, _ABOVE, _BELOW = "asks_misses", "high_side", "low_side"
_LINE = "the_line"
MOST_COUNTED = 8
"""A bare number of cups is no greater."""
HALF_OF_IT, HALF_AS_MUCH_AGAIN = 0.5, 1.5
"""What "less" and "more" break is taken for, as a share of the line (common practice, no source)."""


def pace_choice(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Firm and straight, or soft with a bit of borrow?": which, and what each comes to."""
    plan, bag = in_play(known), desk.bag
    if plan is None or plan.chosen.line is None:
        return None
    firm, soft = _firm(plan, clause, bag), plan.chosen
    better, other = sorted((firm, soft), key=lambda each: each.strokes)
    hard = lines.FIRM_STRAIGHT if _STRAIGHT in words_of_kind(clause) else lines.FIRM
    name = {id(firm): hard, id(soft): lines.SOFT if abs(soft.aim_left_m) > NO_BREAK_M else lines.SOFTER}
    first = lines.EITHER_PACE if _alike(firm, soft) else name[id(better)]
    line = small(start_said(better, putt_unit(bag)))
    often = [times_in_ten(each.make or 0.0) for each in (better, other)]
    beside = f", {name[id(other)]} {often[1]}" if often[0] != often[1] else " either way"
    drops = f"{_drops(better)}{beside}"
    parts = [f"{first}: {line}", drops, _firm_runs(firm, plan, bag)]
    return _said(known, [parts, parts[:2]])


def hole_or_lag(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Should I try to hole it, or just lag it?": one of the two, and why."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is None:
        return None
    putt = plan.chosen
    tries = (putt.make or 0.0) >= TRIED_FROM
    three = f"three putts {times_in_ten(putt.three_putt or 0.0)}"
    first = lines.HOLE_IT if tries else lines.LAG_IT
    return _said(known, [[first, f"{_drops(putt)}, {three}"], [first]])


TRIED_FROM = 0.25
"""A putt that drops less often is one to leave close (common practice, no source)."""


def firm(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Can I just hit it firm at the hole?": yes or no, where it then goes and what it leaves."""
    plan, bag = in_play(known), desk.bag
    if plan is None or plan.chosen.line is None:
        return None
    hard = _firm(plan, clause, bag)
    meant = as_meant(plan, hard, bag)
    worse = hard.strokes - plan.chosen.strokes
    odds = _odds(hard, plan.chosen)
    if not meant.drops:
        line = small(start_said(putt_at(plan, FIRM_M, bag), putt_unit(bag)))
        parts = [
            lines.FIRM_MISSES.format(side=_side(meant.low)),
            f"firm, {line}",
            odds,
            _firm_runs(hard, plan, bag),
        ]
        return _said(known, [parts, parts[:3], parts[:2]])
    line, ours = (small(start_said(each, putt_unit(bag))) for each in (hard, plan.chosen))
    verdict = lines.PACE_YES if worse < AS_GOOD_PUTTS else lines.PACE_WORSE
    first = f"{verdict}: {line}" if line != ours else f"{verdict}: {odds}"
    parts = [first, odds if line != ours else "", _firm_runs(hard, plan, bag)]
    return _said(known, [parts, parts[:2]])


def soft(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Should I just die it in?": yes or no, the line of that pace, and how often it stays short."""
    plan, bag = in_play(known), desk.bag
    if plan is None or plan.chosen.line is None:
        return None
    dying = putt_at(plan, DIES_M, bag)
    assert dying.line is not None
    yes = lines.PACE_YES if dying.strokes - plan.chosen.strokes < AS_GOOD_PUTTS else lines.PACE_WORSE
    short = f"it stays short {times_in_ten(dying.line.short)}"
    parts = [f"{yes}: {small(start_said(dying, putt_unit(bag)))}", _odds(dying, plan.chosen), short]
    return _said(known, [parts, parts[:2]])


def other_line(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "What happens if I take two cups?": where that goes at this pace, and the pace that would hold it."""
    plan, bag = in_play(known), desk.bag
    aim_m = _aim_asked(plan, clause) if plan is not None else None
    if plan is None or plan.chosen.line is None or aim_m is None:
        return None
    aimed = putt_at(plan, plan.chosen.line.past_flat_m, bag, math.copysign(aim_m, plan.chosen.aim_left_m))
    meant = as_meant(plan, aimed, bag)
    where = lines.STILL_DROPS
    if not meant.drops:
        apart = aim_apart_said(meant.by_m, putt_unit(bag))
        where = lines.STAYS_SHORT if meant.short else lines.MISSES.format(side=_side(meant.low), by=apart)
    where = f"{_yes_or_no(clause, meant)}{where}"
    less = aim_m < abs(plan.chosen.aim_left_m)
    parts = [
        where,
        _odds(aimed, plan.chosen),
        _pace_for(plan, aim_m, bag) if less and not meant.drops else "",
    ]
    return _said(known, [parts, [parts[0], parts[2]]])


def doubted(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Four cups, that's an awful lot. My mate would say two": the slope it is for, and what a gentler one gives."""
    plan, bag = in_play(known), desk.bag
    if plan is None or plan.chosen.line is None or plan.chosen.line.told is not None:
        return None
    across = falls(plan.situation).get("across")
    if across is None or across[1] <= SLIGHT_SLOPE:
        return None
    ours, unit = plan.chosen.aim_left_m, putt_unit(bag)
    gentle = break_left_m(with_side_slope(plan.situation, SLIGHT_SLOPE), bag, plan.chosen.line.past_flat_m)
    taken = side_slope_field(plan.situation) in plan.assumed
    why = (lines.LINE_FOR_TAKEN if taken else lines.LINE_FOR_TOLD).format(line=aim_place(ours, unit))
    less = lines.LINE_IF_GENTLE.format(line=aim_place(gentle, unit))
    spoken = shortest([[why, less, HOW_MUCH if taken else ""], [less, HOW_MUCH if taken else ""]])
    question = Question(PUTT, HOW_MUCH) if taken else None
    return Said(known.changed(spoken=spoken, question=question), spoken, intent=ASKED_OF_THE_SHOT)


def names_a_line(plan: Plan | None, clause: str) -> bool:
    """Whether another line is named, by an amount or by less or more of it."""
    return plan is not None and _aim_asked(plan, clause) is not None


def names_its_figure(clause: str) -> bool:
    """Whether a line is what is doubted: an amount of it is named, or a bare small number, or the break by its name."""
    figures = figures_in(clause)
    if amount_named(clause) is not None or _LINE in words_of_kind(clause):
        return True
    return any(each.unit is None and each.value <= MOST_COUNTED for each in figures)


def _aim_asked(plan: Plan, clause: str) -> float | None:
    """How far out of the hole's middle the line that is asked about is aimed [m]."""
    named, found = amount_named(clause), words_of_kind(clause)
    ours_m = abs(plan.chosen.aim_left_m)
    if named is not None:
        return named.aim_m
    if _STRAIGHT in found:
        return 0.0
    if _LESS in found:
        return HALF_OF_IT * ours_m
    return HALF_AS_MUCH_AGAIN * ours_m if _MORE in found else None


def _firm(plan: Plan, clause: str, bag: Bag) -> Option:
    """The firm putt that is asked about: straight at the hole where that is said, else on its own line."""
    return putt_at(plan, FIRM_M, bag, 0.0 if _STRAIGHT in words_of_kind(clause) else None)


def _pace_for(plan: Plan, aim_m: float, bag: Bag) -> str:
    """The softest pace at which that line is right, or that none holds it."""
    for past_flat_m in PASTS_M:
        if abs(break_left_m(plan.situation, bag, float(past_flat_m))) <= aim_m + CUP_M / 4:
            return lines.HOLDS_WHEN.format(past=near_said(float(past_flat_m), putt_unit(bag)))
    return lines.NO_PACE_HOLDS


def _odds(other: Option, ours: Option) -> str:
    theirs, mine = (times_in_ten(each.make or 0.0) for each in (other, ours))
    return f"{_drops(other)}, not {mine}" if theirs != mine else f"{_drops(ours)} either way"


def _drops(option: Option) -> str:
    often = times_in_ten(option.make or 0.0)
    return f"it {often} drops" if " in " not in often else f"it drops {often}"


def _firm_runs(hard: Option, plan: Plan, bag: Bag) -> str:
    assert hard.line is not None and plan.chosen.line is not None
    return lines.FIRM_LEAVES.format(past=near_said(hard.line.past_m, putt_unit(bag)))


def _yes_or_no(clause: str, meant: Meant) -> str:
    """The answer where it is asked whether it misses, and on which side."""
    found = words_of_kind(clause)
    if _MISSES not in found:
        return ""
    right = not meant.drops and (_ABOVE if meant.low else _BELOW) not in found
    return lines.YES_IT_IS if right else lines.NO_IT_IS


def _side(low: bool) -> str:
    return "low" if low else "high"


def _alike(one: Option, other: Option) -> bool:
    return abs(one.strokes - other.strokes) < AS_GOOD_PUTTS


def _said(known: Known, versions: list[list[str]]) -> Said:
    spoken = shortest(versions)
    return Said(known.changed(spoken=spoken, question=None), spoken, intent=ASKED_OF_THE_SHOT)
