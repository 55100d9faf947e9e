"""Trouble beside, before and behind the green as pieces of ground, and how far a ball must fly to clear it."""

from caddie.ball.ground import Patch, Surface
from caddie.plan.assume_trouble import BRANCH_M
from caddie.plan.called import name_of
from caddie.plan.green_size import half_widths
from caddie.situation import Hazard, HazardKind, Side, Situation

FRINGE_M = 1.5
_PATCH = {
    HazardKind.BUNKER: (Surface.SAND, 6.0),
    HazardKind.WATER: (Surface.WATER, 15.0),
    HazardKind.TREES: (Surface.TREES, 10.0),
    HazardKind.OUT_OF_BOUNDS: (Surface.OUT_OF_BOUNDS, 40.0),
    HazardKind.ROUGH: (Surface.HEAVY_ROUGH, 6.0),
    HazardKind.UNNAMED: (Surface.TREES, 10.0),
}
"""Surface and size along the line."""
ROUND_M, ROUND_WATER_M = 12.0, 60.0
"""How far trouble across the line reaches to either side: water in front of a green is not gone round (common
practice, no source)."""
BEHIND_M = 25.0
"""The same of trouble behind it."""
CORNER_M, OFF_MIDDLE_M = 6.0, 1.0
"""How far trouble at a corner of the green reaches round it, and how far from the green's middle it stays (common
practice, no source)."""


def carry_needed_m(hazard: Hazard, situation: Situation) -> float:
    """Flight [m] that clears trouble between ball and green: as said, else trees half way, the rest up to it."""
    assert situation.front_m is not None
    if hazard.carry_m:
        return hazard.carry_m
    if hazard.kind is HazardKind.TREES:
        return min(BRANCH_M, situation.front_m / 2) if hazard.clear_m else situation.front_m / 2
    return max(situation.front_m - FRINGE_M, 0.7 * situation.front_m)


def _across(corner: Side | None, left_m: float, right_m: float, reach_m: float) -> tuple[float, float]:
    """How far trouble before or behind the green reaches to the right and to the left of the flag's line [m].

    What stands at a corner keeps to its own half of the green.
    """
    middle_m = (left_m - right_m) / 2
    if corner is Side.LEFT:
        return middle_m + OFF_MIDDLE_M, left_m + reach_m
    if corner is Side.RIGHT:
        return -right_m - reach_m, middle_m - OFF_MIDDLE_M
    return -reach_m, reach_m


def _before(end_m: float, size_m: float) -> tuple[float, float]:
    """From where to where trouble lies that ends before the green, or on the way to it."""
    return max(end_m - size_m, 0.3 * end_m), end_m


def _beside(side: Side | None, situation: Situation, size_m: float) -> tuple[float, float]:
    """How far to the right and to the left of the flag's line trouble beside the green reaches."""
    left_m, right_m = half_widths(situation)
    return (
        (left_m + 1.0, left_m + 1.0 + size_m)
        if side is Side.LEFT
        else (-right_m - 1.0 - size_m, -right_m - 1.0)
    )


def _at_corner(hazard: Hazard, situation: Situation, back_m: float) -> list[Patch]:
    """What stands at a corner of the green: before or behind its half of it, and round the corner beside it."""
    surface, size_m = _PATCH[hazard.kind]
    front_m = situation.front_m or 0.0
    across = _across(hazard.side, *half_widths(situation), size_m)
    if hazard.corner is Side.LONG:
        start_m = back_m + FRINGE_M
        along = (start_m, start_m + size_m), (back_m - CORNER_M, start_m + size_m)
    else:
        start_m, end_m = _before(max(front_m - FRINGE_M, 0.7 * front_m), size_m)
        along = (start_m, end_m), (start_m, front_m + CORNER_M)
    beside = _beside(hazard.side, situation, size_m)
    name = name_of(hazard)
    return [Patch(*along[0], *across, surface, name), Patch(*along[1], *beside, surface, name)]


def patches_of(situation: Situation, front_m: float, back_m: float) -> tuple[Patch, ...]:
    """The trouble that a ball can lie in, from ``front_m`` and ``back_m`` of the green."""
    left_m, right_m = half_widths(situation)
    patches = []
    for hazard in situation.hazards:
        if hazard.kind not in _PATCH or hazard.clear_m or hazard.round or hazard.gap_m:
            continue
        surface, size_m = _PATCH[hazard.kind]
        if hazard.side in (Side.SHORT, None):
            end_m = carry_needed_m(hazard, situation)
            if end_m <= 0.0:
                # A ball on the green's edge has nothing before it.
                continue
            beside_m = ROUND_WATER_M if surface is Surface.WATER else ROUND_M
            across = _across(hazard.corner, left_m, right_m, beside_m)
            patches.append(Patch(*_before(end_m, size_m), *across, surface, name_of(hazard)))
        elif hazard.side is Side.LONG:
            start_m = max(back_m + FRINGE_M, hazard.carry_m or 0.0)
            if hazard.past_flag_m and situation.pin_m:
                start_m = situation.pin_m + hazard.past_flag_m
            across = _across(hazard.corner, left_m, right_m, BEHIND_M)
            patches.append(Patch(start_m, start_m + size_m, *across, surface, name_of(hazard)))
        elif hazard.corner is not None:
            patches += _at_corner(hazard, situation, back_m)
        else:
            beside = _beside(hazard.side, situation, size_m)
            patches.append(Patch(front_m - 3.0, back_m, *beside, surface, name_of(hazard)))
    return tuple(patches)
