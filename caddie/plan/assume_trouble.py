"""The trouble that was told with every gap filled: where it stands, and how high the trees in the way are."""

from typing import Any

from caddie.situation import IN_SAND, Hazard, HazardKind, Lie, PinPosition, Side, Situation

TREE_M, OVERHANGING_M, BRANCH_M = 6.0, 12.0, 5.0
"""Height of trees to fly and of one whose branches are played under, and how far off a branch is in the way, when
nothing says so (common practice, no source)."""
LOW_M = {
    "wall": 1.5, "fence": 1.3, "hedge": 2.0, "hedges": 2.0, "bush": 1.8, "bushes": 1.8, "shrub": 1.5, "shrubs": 1.5,
    "gorse": 1.8, "whins": 1.8, "bramble": 1.5, "brambles": 1.5, "thicket": 3.0, "scrub": 1.5, "bracken": 1.3,
    "ferns": 1.2, "heather": 0.6,
}  # fmt: skip
"""What stands lower than a tree, by the name it is given (common practice, no source)."""
GONE_ROUND_M = 20.0
"""Height of a tree of which a way round was told and no height, or that it cannot be gone over: nobody goes round what
can be flown (common practice, no source)."""
_STEPS = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE)
_BEHIND = (
    HazardKind.BUNKER,
    HazardKind.WATER,
    HazardKind.OUT_OF_BOUNDS,
    HazardKind.TREES,
    HazardKind.UNNAMED,
)


_WITH_SIDES = (*_BEHIND, HazardKind.ROUGH)


def trouble_filled(
    situation: Situation,
    lie: Lie,
    pin_m: float,
    front_m: float,
    position: PinPosition,
    taken: dict[str, Any],
) -> tuple[Hazard, ...]:
    """The trouble as it is planned for; what was taken for a gap is added to ``taken``."""
    return _grown(_placed(_stepped(situation), lie, pin_m, position, taken), front_m, taken)


def _stepped(situation: Situation) -> tuple[Hazard, ...]:
    """The trouble with the step on the way of a putt put in its place: what was told of the green is past it."""
    shapes = [each for each in situation.hazards if each.kind in _STEPS and not each.carry_m]
    room_m, pin_m = situation.room_m, situation.pin_m
    if situation.lie is not Lie.GREEN or not shapes or not room_m or not pin_m or room_m >= pin_m:
        return situation.hazards
    return tuple(
        each.model_copy(update={"carry_m": pin_m - room_m}) if each is shapes[-1] else each
        for each in situation.hazards
    )


def _placed(
    hazards: tuple[Hazard, ...], lie: Lie, pin_m: float, position: PinPosition, taken: dict[str, Any]
) -> tuple[Hazard, ...]:
    """The trouble without the bunker that the ball lies in, which is named with neither side nor carry.

    What is said to be farther than the flag and on no side lies behind it, what stands at a corner of the green
    is before or behind a flag that is cut on its side alone, and what is on one side may be on either.
    """
    in_sand = lie in IN_SAND
    placed = []
    for hazard in hazards:
        at_corner = hazard.corner in (Side.LEFT, Side.RIGHT) and hazard.kind in _WITH_SIDES
        if at_corner and not position.value.endswith(str(hazard.corner)):
            continue
        if hazard.beside:
            taken["trouble_side"] = "left or right"
            placed += [hazard.model_copy(update={"side": side}) for side in (Side.LEFT, Side.RIGHT)]
            continue
        if in_sand and hazard.kind is HazardKind.BUNKER and hazard.side is None and not hazard.carry_m:
            continue
        beyond = hazard.kind in _BEHIND and hazard.side is None and (hazard.carry_m or 0.0) > pin_m
        placed.append(hazard.model_copy(update={"side": Side.LONG}) if beyond else hazard)
    return tuple(placed)


def usual_tree_m(hazard: Hazard) -> float:
    """Height of a tree, or of what else is in the way by its name, of which nothing was said."""
    if hazard.round is not None or hazard.not_over:
        return GONE_ROUND_M
    return OVERHANGING_M if hazard.clear_m else LOW_M.get(hazard.called or "", TREE_M)


def _grown(hazards: tuple[Hazard, ...], front_m: float, taken: dict[str, Any]) -> tuple[Hazard, ...]:
    """The trouble with the height and the place of trees in the way filled."""
    grown = []
    for hazard in hazards:
        if hazard.kind is HazardKind.TREES and hazard.side in (Side.SHORT, None):
            away_m, height_m = hazard.carry_m, hazard.height_m
            if away_m is None:
                half_m = front_m / 2
                away_m = taken["tree_m"] = min(BRANCH_M, half_m) if hazard.clear_m else half_m
            if height_m is None or hazard.not_over:
                height_m = max(height_m or 0.0, usual_tree_m(hazard))
                if not (hazard.clear_m or hazard.not_over):
                    taken["tree_height_m"] = height_m
            hazard = hazard.model_copy(update={"carry_m": away_m, "height_m": height_m})
        grown.append(hazard)
    return tuple(grown)
