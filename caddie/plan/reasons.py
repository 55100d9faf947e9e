"""Why this shot: sentences that quote the plan's own numbers."""

import numpy as np

from caddie.bag import Bag
from caddie.ball.roll import steepest_hold
from caddie.plan.assume import STIMP_FT
from caddie.plan.shot import Option
from caddie.situation import HazardKind, Side, Situation
from caddie.units import FOOT_M, Unit, length_text

LEAST_GAP = 0.005
"""Strokes; a smaller difference is none."""
WORTH_SAYING_M = FOOT_M
"""A smaller offset of the aim is none."""
CLEAN_THE_GROOVES = "Clean the grooves first: sand or grass in them takes spin off, and the ball runs on."
_NAMED = {
    HazardKind.BUNKER: "the bunker",
    HazardKind.WATER: "the water",
    HazardKind.TREES: "the trees",
    HazardKind.OUT_OF_BOUNDS: "out of bounds",
    HazardKind.ROUGH: "the rough",
}


def reasons_for(
    chosen: Option, best: Option, options: tuple[Option, ...], situation: Situation, bag: Bag
) -> tuple[str, ...]:
    """Reasons in order of weight: the green, the trouble, the aim, trust, the runner-up, the grooves."""
    reasons = [
        f"It finishes on the green {share_text(chosen.on_green)}, usually within {feet(chosen.leave_m)}."
    ]
    trouble = trouble_named(situation)
    if trouble:
        reasons.append(f"{trouble.capitalize()} catches it {share_text(chosen.in_trouble)}.")
    if abs(chosen.aim_left_m) >= WORTH_SAYING_M and chosen.aim_saves >= LEAST_GAP:
        reasons.append(_aimed_off(chosen, situation))
    rivals = [option for option in options if option.club != chosen.club]
    if chosen.trusted and chosen.rank_score - best.rank_score >= LEAST_GAP:
        reasons.append(_trusted_over(chosen, best, bag))
        rivals = [option for option in rivals if option is not best]
    if rivals:
        reasons.append(_against(chosen, rivals[0], bag))
    if _cannot_hold(situation):
        reasons.append("A ball does not stop on a green of this slope and speed: below the hole it runs off.")
    if situation.dirty_grooves:
        reasons.append(CLEAN_THE_GROOVES)
    return tuple(reasons)


def _aimed_off(chosen: Option, situation: Situation) -> str:
    side, other = (Side.LEFT, Side.RIGHT) if chosen.aim_left_m > 0 else (Side.RIGHT, Side.LEFT)
    shunned = [
        _NAMED[hazard.kind] for hazard in situation.hazards if hazard.side is other and hazard.kind in _NAMED
    ]
    away = f", away from {shunned[0]}," if shunned else ""
    return (
        f"Aimed {feet(abs(chosen.aim_left_m))} {side.value} of the flag{away} it saves "
        f"{chosen.aim_saves:.2f} strokes against straight at it."
    )


def _cannot_hold(situation: Situation) -> bool:
    """Whether the green is so steep and fast that no ball stops on it."""
    green = situation.green
    slope = np.hypot(green.fall_slope or 0.0, green.side_slope or 0.0)
    return bool(slope > steepest_hold(green.stimp_ft or STIMP_FT))


def _trusted_over(chosen: Option, best: Option, bag: Bag) -> str:
    if chosen.family is best.family:
        why = f"You have measured the {club_name(chosen, bag)} to the {chosen.swing}"
    else:
        why = f"You trust a {family_name(chosen)} more"
    other = f"the {club_name(best, bag)}" if best.club != chosen.club else f"a {family_name(best)}"
    if best.club == chosen.club and best.family is chosen.family:
        other = "a swing between two of yours"
    gap = chosen.rank_score - best.rank_score
    return f"{why}; {other} is better by only {gap:.2f} strokes on paper."


def _against(chosen: Option, rival: Option, bag: Bag) -> str:
    gap = rival.strokes - chosen.strokes
    where = []
    if rival.in_trouble > chosen.in_trouble + 0.02:
        where.append(f"finds trouble {share_text(rival.in_trouble)}")
    if rival.through_green > chosen.through_green + 0.03:
        where.append(f"goes through the green {share_text(rival.through_green)}")
    if rival.short_of_green > chosen.short_of_green + 0.03:
        where.append(f"stays short of it {share_text(rival.short_of_green)}")
    if rival.leave_m > chosen.leave_m + 0.3:
        where.append(f"leaves {feet(rival.leave_m)}")
    because = f": it {' and '.join(where[:2])}" if where else ""
    if gap >= LEAST_GAP:
        return f"The {club_name(rival, bag)} costs {gap:.2f} strokes more{because}."
    return f"The {club_name(rival, bag)} is as good by numbers ({rival.strokes:.2f} strokes){because}."


def trouble_named(situation: Situation) -> str | None:
    """The first piece of real trouble in the situation, with its article."""
    return next((_NAMED[hazard.kind] for hazard in situation.hazards if hazard.kind in _NAMED), None)


def club_name(option: Option, bag: Bag) -> str:
    """The club as it is called: a wedge by its loft, others by name."""
    club = bag.club_called(option.club)
    if club is None:
        return option.club
    return f"{club.id}-degree" if club.id.isdigit() else club.name


def family_name(option: Option) -> str:
    """The kind of shot in words."""
    return option.family.value.replace("_and_", "-and-")


def feet(length_m: float) -> str:
    """A leave in feet."""
    return length_text(max(length_m, FOOT_M), Unit.FEET)


def share_text(share: float) -> str:
    """A chance in words and numbers.

    >>> share_text(0.004), share_text(0.31)
    ('hardly ever', '31 % of the time')
    """
    return "hardly ever" if share < 0.01 else f"{share:.0%}".replace("%", " % of the time")
