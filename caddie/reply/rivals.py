"""How another shot stands to the one advised, and why, in a few words."""

from caddie.bag import Bag, Family
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import STOPS_M, club_said, said, times_in_ten
from caddie.reply.why import strokes_said

LONGER_SWING = 0.1
"""A swing longer by more of a full one is felt as longer."""
RUNS_MORE_M, LEAVES_MORE_M = 1.5, 0.5
TELLS_APART = 0.02
"""A difference in a chance that is worth a word."""


def costs(other: Option, chosen: Option, bag: Bag, most: int = 2) -> str:
    """How another shot stands to the one advised, and ``most`` reasons why, in a few words."""
    gap = other.strokes - chosen.strokes
    named = f"the {club_said(other, bag)}"
    found = differences(other, chosen, bag)[:most]
    why = f": it {', and '.join(found)}" if found else ""
    if abs(gap) < AS_GOOD:
        return f"{named} is as good by numbers{why}; play the one you trust"
    if gap < 0:
        return f"{named} is {strokes_said(gap)} better on paper{why}"
    return f"{named} costs {strokes_said(gap)} more{why}"


def differences(other: Option, chosen: Option, bag: Bag) -> list[str]:
    """What another shot does that the one advised does not, the weightiest first: "runs nine paces, not seven"."""
    trouble, before = times_in_ten(other.in_trouble), times_in_ten(chosen.in_trouble)
    runs, ran = (said(each.run_m, bag, max(other.run_m, chosen.run_m)) for each in (other, chosen))
    ran = ran.rpartition(" ")[0]
    longer_run = other.run_m - chosen.run_m
    swung = Family.PUTT not in (other.family, chosen.family)
    found = {
        f"finds trouble {trouble}, not {before}": other.in_trouble - chosen.in_trouble >= TELLS_APART
        and trouble != before,
        "leaves the ball farther away": not swung and other.leave_m - chosen.leave_m >= LEAVES_MORE_M,
        "takes a longer swing": swung and other.share - chosen.share >= LONGER_SWING,
        "is mishit more": _mishits(other) - _mishits(chosen) >= TELLS_APART,
        f"runs {runs}, not {ran}": longer_run >= RUNS_MORE_M and chosen.run_m >= STOPS_M,
        "runs less, so its carry must be exact": -longer_run >= RUNS_MORE_M,
        "goes through the green more": other.through_green - chosen.through_green >= TELLS_APART,
        "stays short more": other.short_of_green - chosen.short_of_green >= TELLS_APART,
    }
    return [told for told, holds in found.items() if holds]


def _mishits(option: Option) -> float:
    return option.heavy + option.thin
