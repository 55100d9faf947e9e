"""Questions about the ground of the shot in play: the sand, and what the green is taken for."""

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.situation import IN_SAND, Lie, Sand
from caddie.talk import lines
from caddie.units import spoken_number

_SAND_TAKEN = {Sand.FIRM: lines.SAND_FIRM, Sand.THIN: lines.SAND_FIRM, Sand.SOFT: lines.SAND_SOFT}


def sand(plan: Plan, bag: Bag) -> list[str]:
    """How much sand to take."""
    if plan.situation.lie is Lie.PLUGGED:
        return [lines.SAND_DEEP]
    if plan.chosen.family is not Family.SPLASH:
        return [lines.NO_SAND_TAKEN if plan.situation.lie in IN_SAND else lines.NO_SAND]
    told = plan.situation.sand
    return [_SAND_TAKEN[told] if told is not None else lines.SAND_ADVICE]


def green_taken(plan: Plan, bag: Bag) -> list[str]:
    """How quick and firm the green is taken for, and that the player may say otherwise."""
    green = plan.situation.green
    told = [lines.GREEN_TAKEN.format(stimp=spoken_number(round(green.stimp_ft)))] if green.stimp_ft else []
    told += [f"{green.firmness.value} firmness"] if green.firmness else []
    return [", ".join(told), lines.SAY_OTHERWISE]
