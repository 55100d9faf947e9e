"""Shapes of ground worked into the strips along the line: ridges, tiers, swales, banks, false fronts, run-offs."""

from dataclasses import replace

import numpy as np

from caddie.ball.ground import STEEPEST_SLOPE, Strip, Surface
from caddie.plan.assume import FALSE_FRONT_M, depth_of
from caddie.situation import Fall, Hazard, HazardKind, Lie, PinPosition, Side, Situation

SHAPE_M = 2.5
"""Length of the face of a ridge or swale."""
HEIGHT_M = {
    HazardKind.RIDGE: 0.25,
    HazardKind.TIER: 0.45,
    HazardKind.SWALE: 0.35,
    HazardKind.UPSLOPE: 0.6,
    HazardKind.FALSE_FRONT: 0.5,
    HazardKind.RUN_OFF: 0.75,
}
"""Usual heights when none is said (common practice, no source)."""
STEEPEST_FACE = 0.3
"""A ridge or bank said to be high has a longer face, not a steeper one."""
TIER_FACE = 0.2
"""The face of a tier is mown and putted over (common practice, no source)."""
BEFORE_HOLE_M = 1.0
"""No hole is cut on the far face of a ridge: it ends so far before one (common practice, no source)."""
BANK_M, RUN_OFF_M = 4.0, 5.0
TIER_PLACE = 0.55
"""A tier lies so far over the green on the way to the flag, when nothing says where."""
HOLE_FROM_FACE_M = 1.0
"""A hole is cut at least so far from the foot of a face (common practice, no source)."""
LAST_BREAK = 0.6
"""Share of the way of a putt that the last of two breaks holds for."""
BEHIND_FLAG_M = 3.0
"""So far behind a flag the bank begins that was told to stand there, and the next tier behind a flag at the front."""

PAST_FALSE_FRONT_M = 1.5
"""No hole is cut on a false front: one said to be right on top of it lies so far past it (common practice)."""


def top_m(hazard: Hazard, situation: Situation, back_m: float = 0.0) -> float:
    """Where a shape ends as the ball comes to it [m]: its top, or its foot when it goes down; a crest, a trough."""
    pin_m, front_m = situation.pin_m, situation.front_m
    assert pin_m is not None and front_m is not None
    if hazard.carry_m:
        return hazard.carry_m
    room_m = pin_m - front_m
    if hazard.kind is HazardKind.RIDGE and situation.lie is Lie.GREEN:
        return pin_m / 2
    if hazard.kind is HazardKind.RIDGE:
        return front_m + max(0.15 * room_m, min(SHAPE_M, room_m / 2))
    if hazard.kind is HazardKind.TIER:
        if _flag_at_front(situation) and not comes_down(hazard, situation):
            return pin_m + BEHIND_FLAG_M + face_m(hazard)
        return front_m + TIER_PLACE * room_m
    if hazard.kind is HazardKind.UPSLOPE and hazard.side is Side.LONG:
        return pin_m + BEHIND_FLAG_M + face_m(hazard)
    if hazard.kind is HazardKind.SWALE:
        before_green = hazard.side is Side.SHORT and situation.lie is not Lie.GREEN
        return max(front_m - face_m(hazard), front_m / 2) if before_green else front_m + 0.4 * room_m
    if hazard.kind is HazardKind.FALSE_FRONT:
        return front_m + min(FALSE_FRONT_M, max(room_m - PAST_FALSE_FRONT_M, room_m / 2))
    return back_m + RUN_OFF_M if hazard.kind is HazardKind.RUN_OFF else front_m


def height_m(hazard: Hazard) -> float:
    """Its height as said, or the usual one [m]."""
    return hazard.height_m or HEIGHT_M.get(hazard.kind, 0.0)


def face_m(hazard: Hazard) -> float:
    """How long its face is along the line [m]."""
    least_m, steepest = SHAPE_M, STEEPEST_FACE
    if hazard.kind is HazardKind.TIER:
        steepest = TIER_FACE
    elif hazard.kind is HazardKind.UPSLOPE:
        least_m = BANK_M
    elif hazard.kind is HazardKind.FALSE_FRONT:
        least_m = FALSE_FRONT_M
    elif hazard.kind is HazardKind.RUN_OFF:
        least_m = RUN_OFF_M
    return max(least_m, height_m(hazard) / steepest)


def comes_down(hazard: Hazard, situation: Situation) -> bool:
    """Whether the ball comes down it: as said, or from the green to a flag on the lower tier at the front."""
    if hazard.down is not None or hazard.kind is not HazardKind.TIER:
        return bool(hazard.down)
    beyond = hazard.side is Side.LONG or (hazard.side is None and _flag_at_front(situation))
    return situation.lie is Lie.GREEN and beyond


def _flag_at_front(situation: Situation) -> bool:
    position = situation.pin_position
    return position is not None and depth_of(position) is PinPosition.FRONT


def lies_before_flag(hazard: Hazard, situation: Situation) -> bool:
    """Whether the ball has to come over it on the way to the flag."""
    assert situation.pin_m is not None
    return hazard.kind in HEIGHT_M and top_m(hazard, situation, situation.pin_m) <= situation.pin_m


def worked_in(strips: list[Strip], hazard: Hazard, situation: Situation, back_m: float) -> list[Strip]:
    """The strips with a ridge, tier, swale, upslope, false front or run-off worked in."""
    if hazard.kind not in HEIGHT_M:
        return strips
    top, face, height = top_m(hazard, situation, back_m), face_m(hazard), height_m(hazard)
    if hazard.kind is HazardKind.RIDGE:
        assert situation.pin_m is not None
        rest_m = situation.pin_m - top
        face = min(face, max(top, 1.0), max(rest_m - BEFORE_HOLE_M, 1.0) if rest_m > 0 else face)
        height = min(height, STEEPEST_FACE * face)
        strips = _raised(strips, top - face, top, height / face)
        return _raised(strips, top, _far_foot_m(top, face, situation), -height / face)
    if hazard.kind is HazardKind.SWALE:
        strips = _raised(strips, top - face, top, -height / face)
        return _raised(strips, top, top + face, height / face)
    if hazard.kind is HazardKind.RUN_OFF:
        if hazard.side in (Side.LONG, None):
            return _raised(strips, back_m, back_m + face, -height / face)
        return strips
    start = max(top - face, 0.1)
    rise = -height if comes_down(hazard, situation) else height
    # A ball close to the top of one whose height nobody said lies on it: no wall stands before it.
    length = max(top - start, 0.1) if hazard.height_m else face
    return _raised(strips, start, top, rise / length)


def _far_foot_m(top: float, face: float, situation: Situation) -> float:
    """Where the far side of a ridge ends [m]: no hole is cut on it.

    One close behind the crest has a shorter one before it, or none but the fall that was told of.
    """
    assert situation.pin_m is not None
    before_m = situation.pin_m - HOLE_FROM_FACE_M
    if not top < before_m < top + face:
        return top + face
    told = situation.lie is Lie.GREEN and Fall.AWAY in (situation.green.fall, situation.green.side_fall)
    return top if told else before_m


def breaking_where_told(strips: list[Strip], situation: Situation) -> list[Strip]:
    """The strips of a putt with its side slope where it was told of.

    Over a tier a break is told as it is seen at the hole, on the hole's own level, and over a ridge so is up or down.
    Of two breaks the last holds for more than half of the way, and the first goes the other way by as much: breaks are
    read from the hole, where the ball is slowest (common practice, no source).
    """
    assert situation.pin_m is not None
    if situation.lie is not Lie.GREEN:
        return strips
    if situation.green.double_break and situation.green.borrow is None:
        turn_m = (1.0 - LAST_BREAK) * situation.pin_m
        cut = _raised(strips, turn_m, turn_m + 0.01, 0.0)
        return [
            replace(strip, cross_slope=-strip.cross_slope) if strip.start_m < turn_m - 1e-9 else strip
            for strip in cut
        ]
    for ridge in situation.hazards:
        if ridge.kind is HazardKind.RIDGE and lies_before_flag(ridge, situation):
            foot_m = top_m(ridge, situation) - face_m(ridge)
            strips = [
                replace(strip, slope=0.0) if strip.start_m < foot_m - 1e-9 else strip for strip in strips
            ]
    tiers = [each for each in situation.hazards if each.kind is HazardKind.TIER]
    if not tiers or not lies_before_flag(tiers[-1], situation):
        return strips
    foot_m = top_m(tiers[-1], situation)
    strips = [replace(strip, cross_slope=0.0) if strip.start_m < foot_m - 1e-9 else strip for strip in strips]
    return _levelled_before(strips, tiers[-1], situation) if turns_over(tiers[-1], situation) else strips


def turns_over(tier: Hazard, situation: Situation) -> bool:
    """Whether a putt over a tier goes on the other way behind it: up it and then down to the hole."""
    if tier.kind is not HazardKind.TIER or situation.lie is not Lie.GREEN:
        return False
    other = Fall.TOWARD if comes_down(tier, situation) else Fall.AWAY
    return other in (situation.green.fall, situation.green.side_fall)


def _levelled_before(strips: list[Strip], tier: Hazard, situation: Situation) -> list[Strip]:
    """The strips with what the green rises or falls, without the tier itself, on the hole's own level alone."""
    fall_m = next(strip.slope for strip in reversed(strips) if strip.surface is Surface.GREEN)
    top = top_m(tier, situation)
    return _raised(strips, 0.0, top, -fall_m)


def _raised(strips: list[Strip], start_m: float, end_m: float, slope: float) -> list[Strip]:
    """Add ``slope`` between two distances, splitting the strips there."""
    start_m = max(start_m, 0.05)
    if end_m <= start_m:
        return strips
    cut: list[Strip] = []
    for i, strip in enumerate(strips):
        stop_m = strips[i + 1].start_m if i + 1 < len(strips) else float("inf")
        inside = [x for x in (start_m, end_m) if strip.start_m < x < stop_m]
        cut += [strip, *(replace(strip, start_m=x) for x in inside)]
    return [
        replace(strip, slope=float(np.clip(strip.slope + slope, -STEEPEST_SLOPE, STEEPEST_SLOPE)))
        if start_m - 1e-9 <= strip.start_m < end_m - 1e-9
        else strip
        for strip in cut
    ]
