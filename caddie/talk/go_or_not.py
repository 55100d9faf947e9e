"""Going for it or holding back, laid up or out sideways: which of the two, its shot, and what the other costs."""

from caddie.bag import Bag
from caddie.plan.careful import laid_up_before_it
from caddie.plan.choose import aside_of
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import flag_said, landing_short, shot_said, stays_in_said, times_in_ten
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.asked import in_play, odds
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding


def go_for_it(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Do I take it on?": the shot advised against the other way, or what there is to lose where there is none."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    other = _other_way(plan, desk.bag)
    if other is not None:
        return one_of_two(desk, known, plan, other)
    told = odds(plan, desk.bag)
    spoken = shortest(
        [[lines.GO_FOR_IT, shot_said(plan.chosen, desk.bag), *told[:1]], [lines.GO_FOR_IT, *told[:1]]]
    )
    return Said(known.changed(spoken=spoken, question=None), spoken)


def one_of_two(desk: Desk, known: Known, plan: Plan, other: Option) -> Said:
    """The way advised, by its name and with its shot; the other, with what it costs, can be adopted next."""
    bag, best = desk.bag, plan.chosen
    cost = _cost(other, best, bag)
    way, shot = _way(best, bag), shot_said(best, bag)
    lands = "" if _holds_back(best) else landing_short(best, plan.situation, bag)
    fails = _fails(best, plan.situation)
    spoken = shortest(
        [
            [way, shot, lands, fails, cost],
            [way, shot, fails, cost],
            [way, shot, cost],
            [way, cost],
        ]
    )
    written = f"{spoken}\n{best.strokes:.2f} strokes against {other.strokes:.2f}"
    after = known.changed(
        spoken=spoken,
        short=sentences([shot]),
        question=None,
        other=other,
        supposed=None,
        verdict=sentences([way, cost]),
    )
    return Said(after, spoken, written=written, brief=sentences([way, shot, cost]), settles=True)


def going(plan: Plan) -> Option | None:
    """The best shot of a plan that is played for the flag."""
    to_flag = (option for option in plan.options if not _holds_back(option))
    return min(to_flag, key=lambda option: option.rank_score, default=None)


def _other_way(plan: Plan, bag: Bag) -> Option | None:
    """The other way than the one advised: going where it holds back, else sideways or laid up; None without one."""
    if _holds_back(plan.chosen):
        return going(plan)
    return aside_of(plan, bag) or laid_up_before_it(plan, bag)


def _holds_back(option: Option) -> bool:
    return option.lay_up or option.sideways


def _way(option: Option, bag: Bag) -> str:
    """What the player is told to do, and what that leaves."""
    if not _holds_back(option):
        return lines.GO_FOR_IT
    return f"{lines.LAY_UP if option.lay_up else lines.SIDEWAYS_IT_IS}, to leave {flag_said(option.leave_m, bag)}"


def _cost(other: Option, best: Option, bag: Bag) -> str:
    """What the way not taken costs, and where it saves something on paper what speaks against it."""
    if other.sideways:
        way = f"{lines.SIDEWAYS_IT_IS}, to leave {flag_said(other.leave_m, bag)},"
    else:
        way = f"laying up to {flag_said(other.leave_m, bag)}" if other.lay_up else "going for it"
    gap = other.strokes - best.strokes
    if gap >= AS_GOOD:
        return f"{way} costs {strokes_said(gap)} more"
    often, mine = times_in_ten(other.in_trouble), times_in_ten(best.in_trouble)
    risk = "" if often == mine else f", trouble {often} instead of {mine}"
    if gap > -AS_GOOD:
        return f"{way} costs the same{risk}"
    return f"{way} saves {strokes_said(-gap)} on paper{risk}"


def _fails(option: Option, there: Situation) -> str:
    """How often the way taken ends in trouble."""
    return stays_in_said(option, there) or (
        f"trouble {times_in_ten(option.in_trouble)}" if option.in_trouble >= 0.01 else ""
    )
