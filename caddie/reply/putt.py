"""A putt put into words: how far outside the hole to start it and how long to roll it."""

from caddie.bag import Bag
from caddie.plan.shot import Option, Plan
from caddie.reply.cue import Cue
from caddie.units import FOOT_M, Unit, spoken_length, spoken_number

HOLE_M = 0.108
"""Diameter of the hole, a cup's width."""


def speak_putt(plan: Plan, bag: Bag, cue: Cue) -> str:
    """Length, line, pace and cue in at most thirty words."""
    option = plan.chosen
    assert plan.situation.pin_m is not None and option.pace_m is not None
    length = spoken_length(plan.situation.pin_m, Unit.FEET)
    return f"{length.capitalize()}. {_line(option).capitalize()}. {_pace(option, plan)}. {cue.say}"


def write_putt(plan: Plan, bag: Bag, cue: Cue) -> str:
    """The full read as plain lines of text."""
    option = plan.chosen
    assert plan.situation.pin_m is not None and option.pace_m is not None
    lines = [
        f"Putt of {plan.situation.pin_m / FOOT_M:.0f} feet",
        f"Line:  {_line(option)}",
        f"Pace:  {_pace(option, plan)}",
        f"Odds:  holed {option.make or 0:.0%}, three putts {option.three_putt or 0:.0%}; "
        f"{option.strokes:.2f} putts",
        *(f"Why:   {reason}" for reason in plan.reasons),
    ]
    if plan.assumed:
        from caddie.reply.written import assumed_line

        lines.append(f"Taken: {assumed_line(plan, bag)}")
    lines.append(f"Cue:   {cue.say}")
    return "\n".join(lines)


def _line(option: Option) -> str:
    """The aim, as a distance from the hole's centre at the hole."""
    side = "left" if option.aim_left_m > 0 else "right"
    offset_m = abs(option.aim_left_m)
    if offset_m < 0.02:
        return "straight at the middle"
    if offset_m < 0.4 * HOLE_M:
        return f"inside {side} edge"
    outside_m = offset_m - HOLE_M / 2
    if outside_m < 0.3 * HOLE_M:
        return f"{side} edge"
    cups = max(round(outside_m / HOLE_M), 1)
    if cups <= 3:
        return f"{spoken_number(cups)} cup{'s' if cups > 1 else ''} outside the {side}"
    return f"{spoken_length(offset_m, Unit.FEET)} {side} of the hole"


def _pace(option: Option, plan: Plan) -> str:
    """The flat putt of the same pace."""
    assert plan.situation.pin_m is not None and option.pace_m is not None
    if abs(option.pace_m - plan.situation.pin_m) < 0.6 * FOOT_M + 0.05 * plan.situation.pin_m:
        return "Normal pace, to finish just past"
    feet = max(round(option.pace_m / FOOT_M), 1)
    return f"Roll it as a {spoken_number(feet)}-footer on the flat"
