"""Wishes that leave trouble out: past the flag, the sand out of play, nothing that can go wrong; no lay-up unasked."""

from caddie.bag import Risk
from caddie.plan.beyond import past_the_flag
from caddie.plan.careful import CLEARER, clear_of_trouble, over_it
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import times_in_ten
from caddie.reply.putt import near_said, putt_unit
from caddie.reply.why import strokes_said
from caddie.talk import lines
from caddie.talk.asked import in_play, odds, same_shot
from caddie.talk.safe_shots import LESS_TROUBLE, beside, none_more, safer, with_risk
from caddie.talk.state import Desk, Known, Said
from caddie.units import FOOT_M
from caddie.words import Intent, Understanding

LESS_MISHIT = 0.03
WORTH_LESS_MISHIT = 0.3
"""Strokes that a shot may cost that is mishit so much less, to who wants nothing to go wrong (common practice, no
source)."""


def past_flag(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Go long, past the pin": that shot, its trouble beside that of the one advised, and the putt it leaves."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None:
        return None
    past = past_the_flag(plan, desk.bag, CLEARER * plan.chosen.in_trouble)
    if past is None:
        return none_more(known, [lines.NONE_PAST, *odds(plan, desk.bag)])
    return _beside(desk, known, plan, past)


def out_of_play(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Take the sand out of play": the shot that leaves it out for the fewest strokes, and what that costs."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None:
        return None
    most = CLEARER * plan.chosen.in_trouble
    tried = [
        past_the_flag(plan, desk.bag, most),
        over_it(plan.situation, desk.bag, plan.seed, most=most),
        *(each for each in clear_of_trouble(plan, desk.bag) if not each.lay_up),
        *(each for each in plan.options if not (each.lay_up or each.sideways)),
    ]
    clearer = [each for each in tried if each is not None and each.in_trouble <= most]
    found = min(clearer, key=lambda each: (each.strokes, each.in_trouble), default=None)
    if found is None:
        # None leaves it out; the one that finds it least comes nearest to the wish.
        less = [each for each in tried if each is not None and _less_trouble(each, plan)]
        found = min(less, key=lambda each: (each.in_trouble, each.strokes), default=None)
    if found is None:
        return none_more(known, [lines.SAFEST, *odds(plan, desk.bag)[-1:]])
    return _beside(desk, known, plan, found)


def _less_trouble(option: Option, plan: Plan) -> bool:
    return option.in_trouble <= plan.chosen.in_trouble - LESS_TROUBLE


def nothing_wrong(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Something I can't make a mess of": the shot mishit least where that is worth its price, else a safer one."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None:
        return None
    ours = plan.chosen
    careful = with_risk(desk, known, plan, Risk.CAREFUL)
    sure = [
        each
        for each in (*plan.options, *careful.options)
        if not (each.lay_up or each.sideways)
        and _mishit(each) <= _mishit(ours) - LESS_MISHIT
        and each.in_trouble <= ours.in_trouble + AS_GOOD
        and each.strokes - ours.strokes <= WORTH_LESS_MISHIT
    ]
    found = min(sure, key=lambda each: (each.bad_tail, each.strokes), default=None)
    if found is None:
        return safer(desk, known, Understanding(heard=clause, intent=Intent.WHAT_IF))
    now, before = times_in_ten(_mishit(found)), times_in_ten(_mishit(ours))
    verdict = f"mishit {now}, not {before}" if now != before else f"mishit {now}"
    return beside(desk, known, plan, found, f"{verdict}; {_cost(found, ours)}")


def not_laid_up(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Lay up? Nah": the lay-up is gone, and what is played instead."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None:
        return None
    going = plan.chosen if not plan.chosen.lay_up else _at_it(desk, known, plan)
    without = known.changed(other=None, supposed=None, verdict="")
    if going is None:
        return none_more(without, [lines.NO_OTHER])
    if same_shot(going, plan.chosen):
        return none_more(without, [lines.NO_LAY_UP, *odds(plan, desk.bag)[:1]])
    return beside(desk, without, plan, going)


def _at_it(desk: Desk, known: Known, plan: Plan) -> Option | None:
    """The best shot that is no lay-up."""
    every = (*plan.options, *advise(known.situation, desk.bag, seed=plan.seed).options)
    return min((each for each in every if not each.lay_up), key=lambda each: each.rank_score, default=None)


def _beside(desk: Desk, known: Known, plan: Plan, found: Option) -> Said:
    now, before = times_in_ten(found.in_trouble), times_in_ten(plan.chosen.in_trouble)
    trouble = f"trouble {now}, not {before}" if now != before else f"trouble {now} either way"
    leave = near_said(max(found.leave_m, FOOT_M), putt_unit(desk.bag))
    verdict = f"{trouble}, half within {leave}; {_cost(found, plan.chosen)}"
    return beside(desk, known.changed(other=None), plan, found, verdict)


def _mishit(option: Option) -> float:
    return option.heavy + option.thin


def _cost(other: Option, ours: Option) -> str:
    gap = other.strokes - ours.strokes
    if abs(gap) < AS_GOOD:
        return "as good by numbers"
    return f"{'costs' if gap > 0 else 'saves'} {strokes_said(gap)}"
