"""What the wind does to a rolling ball, as the slope that would do the same.

Close to the ground the wind is a share of what it is at 10 m: the logarithmic profile over mown grass, with a roughness
of 2 mm (common practice, no source), gives 0.27 of it at the ball's middle. Its drag on a sphere over the weight of the
ball is the slope (standard mechanics; the ball's own speed is left out).
"""

import math
from dataclasses import replace

from caddie.ball.ground import Ground
from caddie.ball.sphere import GRAVITY_M_S2, MASS_KG, RADIUS_M
from caddie.plan.scene import wind_of
from caddie.situation import Situation

AT_THE_BALL, SPHERE_DRAG, AIR_KG_M3 = 0.27, 0.47, 1.2
STEADY_M_S, UNSTEADY_M_S = 8.0, 16.0
"""A wind up to which the stroke is as ever, and how much more makes its errors twice as large (common practice, no
source)."""


def wind_slope(situation: Situation) -> tuple[float, float]:
    """Rise toward the hole and toward the player's left that push a ball as this wind does."""
    along, across = wind_of(situation)
    speed = math.hypot(along, across)
    pushed = 0.5 * AIR_KG_M3 * SPHERE_DRAG * math.pi * RADIUS_M**2 * (AT_THE_BALL * speed) ** 2 / MASS_KG
    slope = pushed / GRAVITY_M_S2
    return (-slope * along / speed, -slope * across / speed) if speed else (0.0, 0.0)


def blown(ground: Ground, situation: Situation) -> Ground:
    """The ground of a putt leaning as the wind pushes."""
    along, across = wind_slope(situation)
    if not (along or across):
        return ground
    return replace(ground, slope=ground.slope + along, cross_slope=ground.cross_slope + across)


def unsteadiness(situation: Situation) -> float:
    """How many times as large the errors of the stroke are: a gale moves the player as well."""
    over = max(math.hypot(*wind_of(situation)) - STEADY_M_S, 0.0)
    return 1.0 + over / UNSTEADY_M_S
