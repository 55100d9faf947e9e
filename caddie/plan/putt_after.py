"""What is left after a missed putt: the next one is uphill from below the hole and slippery from above it."""

import numpy as np

from caddie.ball.ground import Surface
from caddie.ball.turf import steepest_hold
from caddie.plan.putt_green import PuttGreen
from caddie.plan.putt_roll import Floats, Rolled
from caddie.plan.putting import expected_putts, make_chance, skill_for
from caddie.plan.strokes import hole_out_table
from caddie.situation import Lie

STEEPEST_SHARE = 0.7
"""Of the slope that a ball can hold: the next putt is valued on no steeper one."""


def putts_left(green: PuttGreen, rolled: Rolled, handicap: float) -> tuple[Floats, Floats]:
    """Putts to hole out from where each ball lies, and the chance of holing the next, the shape of ``rolled``.

    The next putt's slope is that between ball and hole at the hole's own tilt; its break is not counted again.
    Balls that left the green are chipped or putted from the grass.
    """
    back_x, back_y = green.pin_m - rolled.x_m, -rolled.y_m
    distance = np.hypot(back_x, back_y)
    rise = (green.along * back_x + green.across * back_y) / np.maximum(distance, 1e-9)
    steep = _steep(green)
    skill = skill_for(handicap)
    putts, made = expected_putts(distance, skill), make_chance(distance, skill)
    if steep > 0:
        share = np.clip(rise / steep, -1.0, 1.0)
        stimp = _rounded(green.stimp_ft, 0.5)
        # A parabola through downhill, level and uphill.
        for values, value in ((putts, expected_putts), (made, make_chance)):
            up, down = (value(distance, skill, side * steep, stimp) for side in (1, -1))
            values += share * (up - down) / 2 + share**2 * ((up + down) / 2 - values)
    strip = green.ground.strip_at(rolled.x_m)
    off = green.ground.surface_on(strip, rolled.x_m, rolled.y_m) != int(Surface.GREEN)
    off |= rolled.never_stopped
    if off.any():
        putts[off] = hole_out_table(handicap).strokes(distance[off], Lie.LIGHT_ROUGH)
        made[off] = 0.05
    return putts, np.clip(made, 0.0, 1.0)


def _steep(green: PuttGreen) -> float:
    """The hole's tilt to half a per cent, so that tables are shared, and no steeper than a ball holds well."""
    return min(_rounded(green.steepness, 0.005), STEEPEST_SHARE * float(steepest_hold(green.stimp_ft)))


def _rounded(value: float, step: float) -> float:
    return round(value / step) * step
