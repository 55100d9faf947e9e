"""Why this shot, said aloud in one breath: what it does, and what the runner-up costs."""

from caddie.bag import Bag
from caddie.plan.option import Option, Plan
from caddie.plan.putt.green import fall_words, falls
from caddie.plan.putt.reasons import GENTLE
from caddie.plan.reasons import why_trusted
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, times_in_ten, trouble_that_matters
from caddie.reply.putt import near_said, putt_unit
from caddie.reply.spoken import shortest
from caddie.units import FOOT_M, spoken_length, spoken_number

_TENTHS = ("a touch", "a tenth", "two tenths", "three tenths", "four tenths", "half a stroke")


def why_said(plan: Plan, bag: Bag) -> str:
    """The chance of the green, the usual leave, the trouble and the nearest rival, in thirty words."""
    option = plan.chosen
    if option.pace_m is not None:
        told = putt_why(plan, bag) or list(plan.reasons[:2])
        return shortest([told, told[:2], told[:1]])
    green = f"it finds the green {times_in_ten(option.on_green)}"
    leave = f"half within {near_said(max(option.leave_m, FOOT_M), putt_unit(bag))}"
    hazard = trouble_that_matters(plan.situation)
    trouble = f"trouble {times_in_ten(option.in_trouble)}" if hazard and option.in_trouble >= 0.02 else ""
    rival = next((other for other in plan.options if other.club != option.club), None)
    against = _against(option, rival, bag) if rival else ""
    trusted = ""
    if option.trusted:
        trusted = why_trusted(option, plan.options[0], bag, f"the {club_said(option, bag)}")
    first = f"{green}, {leave}"
    return shortest(
        [
            [first, trouble, trusted, against],
            [first, trouble, trusted],
            [first, trouble, against],
            [first, trouble],
            [first],
        ]
    )


def putt_why(plan: Plan, bag: Bag) -> list[str]:
    """What the slope does to the pace and to the line of a putt, and where most misses go."""
    option, situation = plan.chosen, plan.situation
    if option.line is None or option.pace_m is None or situation.pin_m is None or not option.line.holds:
        return []
    unit, across, told = putt_unit(bag), falls(situation).get("across"), []
    if abs(option.pace_m / situation.pin_m - 1) > GENTLE:
        way = "uphill" if option.pace_m > situation.pin_m else "downhill"
        length, flat = (spoken_length(each, unit) for each in (situation.pin_m, option.pace_m))
        told.append(f"{way} {length} roll like {flat} on the flat")
    if across and abs(option.aim_left_m) > SEEN_M:
        moved = near_said(option.aim_left_m, unit)
        told.append(f"it breaks {fall_words(across[0])}, about {moved} at this pace")
        told.append(f"misses end on the low side {times_in_ten(option.line.low)}")
    short = times_in_ten(option.line.short)
    told.append(f"this pace costs fewest putts: short {short}")
    return told


SEEN_M = 0.1
"""A break of less is not seen from above the ball (common practice, no source)."""


def strokes_said(gap: float) -> str:
    """A difference in strokes to the tenth.

    >>> strokes_said(0.12), strokes_said(0.5), strokes_said(1.34), strokes_said(0.04)
    ('a tenth of a stroke', 'half a stroke', 'a stroke and three tenths', 'a touch')
    """
    tenths = round(abs(gap) * 10)
    whole, rest = divmod(tenths, 10)
    if whole == 0:
        if rest <= 5:
            return _TENTHS[rest] + (" of a stroke" if 1 <= rest <= 4 else "")
        return f"{spoken_number(rest)} tenths of a stroke"
    strokes = "a stroke" if whole == 1 else f"{spoken_number(whole)} strokes"
    if rest == 0:
        return strokes
    more = "a tenth" if rest == 1 else "a half" if rest == 5 else f"{spoken_number(rest)} tenths"
    return f"{strokes} and {more}"


def costs_said(gap: float) -> str:
    """How many strokes more or less a shot takes: never "harder", which sounds like a swing.

    >>> costs_said(0.12), costs_said(-0.5)
    ('it costs a tenth of a stroke more', 'it saves half a stroke')
    """
    return f"it costs {strokes_said(gap)} more" if gap > 0 else f"it saves {strokes_said(gap)}"


def _against(option: Option, rival: Option, bag: Bag) -> str:
    gap = rival.strokes - option.strokes
    club = f"the {club_said(rival, bag)}"
    if abs(gap) < AS_GOOD:
        return f"{club} is as good by numbers"
    if gap < 0:
        return f"{club} is better by {strokes_said(gap)} on paper"
    where = ""
    if rival.in_trouble > option.in_trouble + 0.02:
        where = ", finding trouble more"
    elif rival.through_green > option.through_green + 0.03:
        where = ", going through the green more"
    elif rival.short_of_green > option.short_of_green + 0.03:
        where = ", staying short more"
    return f"{club} costs {strokes_said(gap)} more{where}"
