"""Where on a putt's way a ridge, a step or a dip lies: told by what is left from there to the hole."""

from caddie.situation import Hazard, HazardKind, Side
from caddie.units import Unit
from caddie.words.distances import Distances
from caddie.words.heads import kind_at
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

SHAPES = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE)
_NAMED = frozenset(kind.value.upper() for kind in SHAPES)
_BEYOND = ("after", "room", "beyond")
"""What a length from there to the hole may be told as."""


def set_on_the_way(
    scene: Scene, said: Distances, hazards: tuple[Hazard, ...], *, on_green: bool
) -> tuple[Hazard, ...]:
    """The trouble, with how far off the one shape is that a putt or a chip comes over.

    "Forty feet over a ridge, the hole eight feet past the top" has its top at thirty-two. Such a length is no room.
    """
    shapes = [hazard for hazard in hazards if hazard.kind in SHAPES]
    if len(shapes) != 1 or said.pin_m is None:
        return hazards
    facts = [m for m in scene.facts if on_green or _is_inside(scene, m)]
    told_m = [
        rest_m
        for m in facts
        if (rest_m := _from_there(scene, m, said.pin_m, scene.small_unit if on_green else None)) is not None
    ]
    if not told_m or shapes[0].carry_m is not None or not 0 < told_m[-1] < said.pin_m:
        return hazards
    said.room_m = None
    side = shapes[0].side or Side.SHORT
    placed = shapes[0].model_copy(update={"carry_m": said.pin_m - told_m[-1], "side": side})
    return tuple(placed if hazard is shapes[0] else hazard for hazard in hazards)


def _from_there(scene: Scene, mention: Mention, pin_m: float, unit: Unit | None) -> float | None:
    """How far a mention tells the hole to be from a shape [m]."""
    if mention.get("halfway"):
        return pin_m / 2 if _is_behind_a_shape(scene, mention.start) else None
    quantity, at = mention.quantity, mention.quantity_at
    if quantity is None or at is None or not quantity.is_length:
        return None
    before_hole = mention.get("before_green") and scene.pieces[mention.end - 1].text == "FLAG"
    if before_hole:
        of_shape = mention.trouble_at is not None and kind_at(scene, mention.trouble_at) in SHAPES
    else:
        of_shape = mention.get("distance") in _BEYOND and _names_a_shape(scene, mention)
    if not of_shape:
        return None
    scene.used.add(at)
    return scene.length_m(quantity, unit)


def _names_a_shape(scene: Scene, mention: Mention) -> bool:
    return _is_inside(scene, mention) or _is_behind_a_shape(scene, mention.start)


def _is_inside(scene: Scene, mention: Mention) -> bool:
    return any(scene.pieces[at].text in _NAMED for at in range(mention.start, mention.end))


def _is_behind_a_shape(scene: Scene, at: int) -> bool:
    """Whether a ridge, a step or a dip was named before this piece."""
    return any(piece.text in _NAMED for piece in scene.pieces[:at])


def is_of_the_far_part(scene: Scene, mention: Mention) -> bool:
    """ "Over a ridge, then downhill to the hole", "downhill at the end": not the fall of the whole way.

    A ridge has its own far side; behind a step such a fall is the slope of the level that the hole is on.
    """
    if any(piece.text == "TIER" for piece in scene.pieces[: mention.start]):
        return False
    if mention.get("late") == "end":
        return True
    ends = mention.get("late") or scene.pieces[mention.end - 1].text == "FLAG"
    return bool(ends) and _is_behind_a_shape(scene, mention.start)
