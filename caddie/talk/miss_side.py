"""The side where a miss costs least: by the trouble told, the flag's place and the fall, held against where balls end.

A side that the balls of the shot say costs more than the other is never named: the other one is, unless a ball there
is lost.
"""

from caddie.bag import Bag
from caddie.plan.misses import Missed, MissedBalls, balls_of
from caddie.plan.option import Plan
from caddie.situation import Fall, HazardKind, Side, Situation

TELLS = 0.05
"""A difference in strokes, or a share of the balls, that is worth a word."""
NO_BAD_SIDE = "no bad side that I know of"
NO_GOOD_SIDE = "no good side to miss"
_UPHILL = "that leaves the uphill putt"
_UP_THE_STEP = "short of the tier leaves the putt up the step"
_OPPOSITE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.SHORT: Side.LONG, Side.LONG: Side.SHORT}


def safe_side(plan: Plan, bag: Bag, balls: MissedBalls | None = None) -> str:
    """Where a miss costs least: "miss it short and left"; ``balls`` those of the shot, where they are at hand."""
    ruled, reason = _by_rule(plan.situation)
    if not ruled:
        return NO_BAD_SIDE
    balls = balls or balls_of(plan, bag)
    lost = {each.side for each in plan.situation.hazards if each.kind in _LOST_IN}
    sides = [side for side in (_cheaper(each, balls) for each in ruled) if side in ruled or side not in lost]
    if not sides:
        return NO_GOOD_SIDE
    told = f"miss it {' and '.join(side.value for side in sides)}"
    return f"{told}: {reason}" if reason and sides == ruled else told


_LOST_IN = (HazardKind.WATER, HazardKind.OUT_OF_BOUNDS)
"""Nobody is told to miss toward it, however seldom a ball gets there."""


def _cheaper(side: Side, balls: MissedBalls | None) -> Side:
    """The side, or the opposite one where the balls say that it costs less."""
    other = _OPPOSITE[side]
    gap = None if balls is None else balls.costs_beside(Missed(side.value), Missed(other.value))
    return other if gap is not None and gap >= TELLS else side


def _by_rule(situation: Situation) -> tuple[list[Side], str]:
    """The good sides by what is known of trouble, the flag and the fall, and the reason where it takes one."""
    bad = {hazard.side for hazard in situation.hazards if hazard.side}
    if situation.open_sides:
        return list(situation.open_sides), ""
    position = situation.pin_position.value if situation.pin_position else ""
    if "back" in position and any(hazard.kind is HazardKind.TIER for hazard in situation.hazards):
        return [Side.LONG], _UP_THE_STEP
    short_sided = {"front": Side.SHORT, "back": Side.LONG, "left": Side.LEFT, "right": Side.RIGHT}
    bad_by_flag = {side for word, side in short_sided.items() if word in position}
    for known_bad in (bad, bad_by_flag):
        good = [_OPPOSITE[side] for side in Side if side in known_bad and _OPPOSITE[side] not in known_bad]
        if good:
            return good, ""
    if situation.green.fall is Fall.TOWARD:
        return [Side.SHORT], _UPHILL
    return ([Side.LONG], _UPHILL) if situation.green.fall is Fall.AWAY else ([], "")
