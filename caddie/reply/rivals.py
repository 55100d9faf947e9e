"""How another shot stands to the one advised, and why, in a few words."""

from caddie.bag import Bag, Family
from caddie.plan.called import name_of
from caddie.plan.option import Option
from caddie.plan.shapes import comes_down, lies_before_flag, top_m
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import STOPS_M, club_said, said, times_in_ten
from caddie.reply.why import strokes_said
from caddie.situation import HazardKind, Situation

LONGER_SWING = 0.1
"""A swing longer by more of a full one is felt as longer."""
RUNS_MORE_M, LEAVES_MORE_M = 1.5, 0.5
TELLS_APART = 0.02
"""A difference in a chance that is worth a word."""
_CLIMBED = (HazardKind.UPSLOPE, HazardKind.FALSE_FRONT, HazardKind.TIER, HazardKind.RIDGE)
_BANK = {HazardKind.UPSLOPE: "bank"}
_OF_A_STROKE = {"trouble": 1.0, "mishit": 0.7, "through": 0.7, "short": 0.6}
"""What a ball more of a hundred that does so weighs beside one in trouble (common practice, no source)."""


def costs(other: Option, chosen: Option, situation: Situation, bag: Bag, most: int = 2) -> str:
    """How another shot stands to the one advised, and ``most`` reasons why, in a few words."""
    gap = other.strokes - chosen.strokes
    named = f"the {club_said(other, bag)}"
    found = differences(other, chosen, situation, bag)[:most]
    why = f": it {', and '.join(found)}" if found else ""
    if abs(gap) < AS_GOOD:
        return f"{named} is as good by numbers{why}; play the one you trust"
    if gap < 0:
        return f"{named} is {strokes_said(gap)} better on paper{why}"
    return f"{named} costs {strokes_said(gap)} more{why}"


def differences(other: Option, chosen: Option, situation: Situation, bag: Bag) -> list[str]:
    """What another shot does that the one advised does not, the weightiest first: "has to climb the bank"."""
    trouble, before = times_in_ten(other.in_trouble), times_in_ten(chosen.in_trouble)
    more = {
        "trouble": other.in_trouble - chosen.in_trouble,
        "mishit": _mishits(other) - _mishits(chosen),
        "through": other.through_green - chosen.through_green,
        "short": other.short_of_green - chosen.short_of_green,
    }
    told = {
        "trouble": _more_trouble(trouble, before),
        "mishit": "is mishit more",
        "through": "runs through the green more" if other.run_m > chosen.run_m else "goes long more",
        "short": "stays short more",
    }
    by_weight = sorted(more, key=lambda name: -_OF_A_STROKE[name] * more[name])
    found = [told[name] for name in by_weight if more[name] >= TELLS_APART]
    bank = _bank_climbed(other, chosen, situation) if chosen.strokes <= other.strokes else ""
    return [each for each in (bank, *found, *_of_the_ball(other, chosen, bag)) if each]


def _more_trouble(often: str, before: str) -> str:
    """Two chances of trouble side by side, the smaller where there is one to speak of."""
    beside = "" if before == times_in_ten(0.0) else f", not {before}"
    return f"finds trouble {often}{beside}" if often != before else ""


def _of_the_ball(other: Option, chosen: Option, bag: Bag) -> list[str]:
    """How the ball goes otherwise, which alone costs nothing."""
    runs, ran = (said(each.run_m, bag, max(other.run_m, chosen.run_m)) for each in (other, chosen))
    longer_run = other.run_m - chosen.run_m
    swung = Family.PUTT not in (other.family, chosen.family)
    found = {
        "leaves the ball farther away": not swung and other.leave_m - chosen.leave_m >= LEAVES_MORE_M,
        "takes a longer swing": swung and other.share - chosen.share >= LONGER_SWING,
        f"runs {runs}, not {ran.rpartition(' ')[0]}": longer_run >= RUNS_MORE_M and chosen.run_m >= STOPS_M,
        "runs less, so its carry must be exact": -longer_run >= RUNS_MORE_M,
    }
    return [each for each, holds in found.items() if holds]


def _bank_climbed(other: Option, chosen: Option, situation: Situation) -> str:
    """That it comes down before the top of something that the one advised flies, and so must run up it."""
    for hazard in situation.hazards:
        climbs = hazard.kind in _CLIMBED and lies_before_flag(hazard, situation)
        if not climbs or comes_down(hazard, situation) or situation.front_m is None:
            continue
        if other.carry_m < top_m(hazard, situation) <= chosen.carry_m:
            return f"has to climb the {_BANK.get(hazard.kind, name_of(hazard))}"
    return ""


def _mishits(option: Option) -> float:
    return option.heavy + option.thin
