"""How grass round the ball, or water, holds a club: grass by its depth, its wet and the way it grows.

Loft and speed get through it. Common practice, no source, for every figure here.
"""

from caddie.plan.hampered import is_tall
from caddie.situation import Against, Grain, Lie, Sitting, Situation

TALL_HOLDS, WET_HOLDS, AGAINST_HOLDS, PERCHED_HOLDS = 1.7, 1.35, 1.4, 0.8
"""How much more than thick rough grass holds that is taller, wet, or grows against the swing; and less under a ball
that sits up in it."""
DOWN_HOLDS = 1.53
"""Thick rough holds a club so much more where the ball is down at its bottom."""
HIDDEN_HOLDS = 1.7
"""Taller grass at the bottom of which the ball is hardly seen holds so much more again."""
WATER_HOLDS = 1.5
"""How much more than sand water holds a club that does not get through it."""
FIRMLY = 1.5
"""Grass that holds so much more than thick rough wants loft and a full swing, or it keeps the ball."""
LOFTED_DEG = 54.0
"""Least loft that is played there, where the bag has so much: a straighter face is caught and turned."""
INTO_THE_GRAIN = {
    Lie.LIGHT_ROUGH: 1.3,
    Lie.FIRST_CUT: 1.25,
    Lie.FAIRWAY: 1.25,
    Lie.BARE: 1.25,
    Lie.FRINGE: 1.2,
}
"""How much oftener a leading edge digs where short grass grows against it."""


def hold_of(situation: Situation) -> float:
    """How much more than plain thick rough the grass holds a club; 1 there, 0 where the ball lies in no long grass."""
    if situation.lie is not Lie.HEAVY_ROUGH:
        return 0.0
    hold = TALL_HOLDS if is_tall(situation) else 1.0
    if is_tall(situation) and situation.sitting is Sitting.DOWN:
        hold *= HIDDEN_HOLDS
    elif situation.sitting in (Sitting.DOWN, Sitting.EMBEDDED):
        hold *= DOWN_HOLDS
    if situation.wet:
        hold *= WET_HOLDS
    if situation.green.grain is Grain.AGAINST:
        hold *= AGAINST_HOLDS
    return hold * (PERCHED_HOLDS if situation.sitting is Sitting.UP else 1.0)


def keeps(situation: Situation) -> float:
    """How much more than thick rough or sand grass or water takes from a club that it catches, at least 1."""
    return WATER_HOLDS if situation.against is Against.WATER else max(hold_of(situation), 1.0)


def holds_firmly(situation: Situation) -> bool:
    """Whether it wants loft and a swing that gets through."""
    return hold_of(situation) >= FIRMLY


def shuts_a_face(situation: Situation) -> bool:
    """Whether grass turns a face laid open: a ball that is merely down in it is still lifted out softly."""
    return hold_of(situation) > DOWN_HOLDS


def is_down_in_grass(situation: Situation) -> bool:
    """Whether the ball is down in thick grass that does not shut a face: one laid open slides under it."""
    down = situation.lie is Lie.HEAVY_ROUGH and situation.sitting is Sitting.DOWN
    return down and not shuts_a_face(situation)


def digs(situation: Situation) -> float:
    """How much oftener a club is stopped short by the grass that it meets before the ball."""
    if situation.lie is Lie.HEAVY_ROUGH:
        return hold_of(situation)
    against = situation.green.grain is Grain.AGAINST
    return INTO_THE_GRAIN.get(situation.lie or Lie.FAIRWAY, 1.0) if against else 1.0
