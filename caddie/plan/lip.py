"""The face before a ball in sand: how high, how far, and what one that is not cleared costs."""

from caddie.plan.strikes import FAIRWAY_BUNKER_M
from caddie.situation import IN_SAND, Against, Lie, Situation

SAND_M, FAIRWAY_SAND_M, UNDER_LIP_M = 2.5, 5.0, 0.5
"""Level sand in front of a ball in a bunker, before the face: beside the green, far from it, and under the lip."""
NEAREST_LIP_M = 0.3
"""A ball has so much room before a face."""
LIP_M, FAIRWAY_LIP_M, HIGH_LIP_M = 0.6, 0.45, 1.5
"""Usual heights of the face: beside the green, far from it, and where the ball lies under it."""
DEEP_M = 1.2
"""The same of a bunker that is called deep: to the belly (common practice, no source)."""
HIGH_FACE_M = 0.9
"""A face so high decides the club, and makes one think of going sideways (common practice, no source)."""
FACE_COSTS_A_METRE = 0.35
"""Strokes that every metre of a face higher than usual adds to the next shot of a ball that did not get out
(common practice, no source)."""
UNDER_IT_COSTS = 0.4
"""And right under a high one as much again: it lies there still, or in the mark of its own fall (common practice, no
source)."""
FACE_SLOPE = 0.5
LIP_LEAN = 0.3
"""A lip stands so far behind the foot of the face, as a share of its height: faces are steep (common practice)."""


def face_of(situation: Situation) -> tuple[float, float]:
    """Height of the face before a ball in sand, and level sand up to it [m]."""
    far = (situation.pin_m or 0.0) > FAIRWAY_BUNKER_M
    usual_m = FAIRWAY_LIP_M if far else LIP_M
    level_m = UNDER_LIP_M if situation.under_lip else FAIRWAY_SAND_M if far else SAND_M
    if situation.lip_away_m is not None:
        level_m = max(situation.lip_away_m, NEAREST_LIP_M)
    elif not situation.under_lip and told_face_m(situation) >= HIGH_FACE_M:
        # A steep face is that of a small bunker, however far the flag.
        level_m = SAND_M
    if situation.lip_m is not None:
        return situation.lip_m, level_m
    usual_m = DEEP_M if situation.deep_bunker else usual_m
    return HIGH_LIP_M if situation.under_lip else usual_m, level_m


def told_face_m(situation: Situation) -> float:
    """Height of the face that was told of [m], by a length or by a bunker being called deep; else nothing."""
    if situation.lip_m is None and situation.deep_bunker and situation.lie in IN_SAND:
        return DEEP_M
    return situation.lip_m or 0.0


def is_lip_unsaid(situation: Situation) -> bool:
    """Whether nothing was told of the face before a ball in a bunker far from the flag, which decides the club."""
    far = (situation.pin_m or 0.0) > FAIRWAY_BUNKER_M
    told = (situation.lip_m, situation.lip_away_m, situation.under_lip) != (None, None, None)
    return situation.lie is Lie.BUNKER and far and not told


def is_lip_unplaced(situation: Situation) -> bool:
    """Whether a high face stands before a ball in such a bunker, and how far off was not told."""
    far = (situation.pin_m or 0.0) > FAIRWAY_BUNKER_M
    placed = situation.lip_away_m is not None or bool(situation.under_lip)
    return situation.lie is Lie.BUNKER and far and not placed and told_face_m(situation) >= HIGH_FACE_M


def is_high_face(situation: Situation) -> bool:
    """Whether the face before a ball in sand, told or usual, decides the club."""
    return face_of(situation)[0] >= HIGH_FACE_M


def before_a_lip(situation: Situation) -> bool:
    """Whether the ball lies in sand before a face that was spoken of."""
    in_bunker = situation.lie in IN_SAND
    return in_bunker and bool(told_face_m(situation) or situation.under_lip or situation.lip_away_m)


def again_before_a_lip(situation: Situation) -> float:
    """Strokes that a ball which stays in the sand costs beyond a plain bunker shot: the face stands before it still."""
    if not before_a_lip(situation):
        return 0.0
    far = (situation.pin_m or 0.0) > FAIRWAY_BUNKER_M
    high_m = face_of(situation)[0]
    under = UNDER_IT_COSTS if is_under_a_wall(situation) else 0.0
    return under + FACE_COSTS_A_METRE * max(high_m - (FAIRWAY_LIP_M if far else LIP_M), 0.0)


def is_under_a_wall(situation: Situation) -> bool:
    """Whether the ball lies right under a face so high that one which hits it comes back."""
    return bool(situation.under_lip) and situation.lie in IN_SAND and is_high_face(situation)


def is_stuck_in_sand(situation: Situation) -> bool:
    """Whether a ball in sand may be better dropped: plugged, or right under a wall."""
    if situation.against is Against.WATER:
        return False
    return situation.lie is Lie.PLUGGED or is_under_a_wall(situation)
