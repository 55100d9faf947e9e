"""What becomes of putts: the balls of one meant line and pace, and what is left after each.

The next putt is uphill from below the hole and slippery from above it.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from caddie.arrays import Bools, Floats
from caddie.ball.ground import Surface
from caddie.ball.hole import Hole
from caddie.ball.track import Rolled, RolledPutts, roll_putts
from caddie.ball.turf import ROLL_GRAVITY_M_S2, steepest_hold
from caddie.plan.putt.green import PuttGreen
from caddie.plan.putt.player import Stroke
from caddie.plan.putt.skill import expected_putts, make_chance, skill_for
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import STEP_LONGER
from caddie.situation import Lie

CHIPPED_IN = 0.03
"""Chance that a ball off the green is holed next (common practice, no source)."""
STEP_MISREAD = 0.25
"""Error with which the height of a tier or ridge on the way is judged (common practice, no source)."""
STEEPEST_SHARE = 0.7
"""Of the slope that a ball can hold: the next putt is valued on no steeper one."""

_LOST = (int(Surface.WATER), int(Surface.OUT_OF_BOUNDS))


@dataclass(frozen=True)
class Putts:
    """Simulated putts (..., n): where they went, and the putts to hole out."""

    rolled: RolledPutts
    strokes: Floats


def simulate(
    green: PuttGreen, stroke: Stroke, speed_m_s: Floats, azimuth_rad: Floats, drawn: Floats, handicap: float
) -> Putts:
    """Putts meant with ``speed_m_s`` and ``azimuth_rad`` (...,), struck with standard errors (2, n)."""
    misread_m = STEP_MISREAD * green.judged_m * ROLL_GRAVITY_M_S2 / green.resist_m_s2
    if green.unsteady > 1.0:
        wide = green.unsteady
        stroke = replace(stroke, angle_sd_rad=wide * stroke.angle_sd_rad, pace_sd=wide * stroke.pace_sd)
    speed, azimuth = stroke.scatter(speed_m_s, azimuth_rad, green.pin_m, green.resist_m_s2, drawn, misread_m)
    rolled = roll_putts(green.ground, speed, azimuth, Hole(green.pin_m))
    after = putts_left(green, rolled.end, handicap)
    return Putts(rolled, np.where(rolled.end.holed, 1.0, 1.0 + after))


def putts_left(green: PuttGreen, rolled: Rolled, handicap: float) -> Floats:
    """Strokes to hole out from where each ball lies, shaped as ``rolled``.

    The next putt's slope is that between ball and hole at the hole's own tilt; its break is not counted.
    Balls that left the green are played from the grass, or from beside the water with a penalty stroke.
    """
    distance = np.hypot(green.pin_m - rolled.x_m, rolled.y_m)
    putts = _on_slope(green, rolled, distance, handicap, expected_putts)
    off, lost = _off_green(green, rolled)
    if off.any():
        putts[off] = hole_out_table(handicap).strokes(distance[off], Lie.LIGHT_ROUGH) + lost[off]
    return putts


def next_chance(green: PuttGreen, rolled: Rolled, handicap: float) -> Floats:
    """Chance of holing the next one from where each ball lies, shaped as ``rolled``."""
    distance = np.hypot(green.pin_m - rolled.x_m, rolled.y_m)
    made = _on_slope(green, rolled, distance, handicap, make_chance)
    off, lost = _off_green(green, rolled)
    made[off] = np.where(lost[off], 0.0, CHIPPED_IN)
    return np.clip(made, 0.0, 1.0)


def _on_slope(
    green: PuttGreen, rolled: Rolled, distance: Floats, handicap: float, value: Callable[..., Floats]
) -> Floats:
    """A value of the next putt: a parabola through downhill, level and uphill."""
    skill = skill_for(handicap)
    distance = distance + _as_longer_m(green, rolled)
    level = value(distance, skill)
    steep = _steep(green)
    if steep == 0:
        return level
    back_x, back_y = green.pin_m - rolled.x_m, -rolled.y_m
    rise = (green.along * back_x + green.across * back_y) / np.maximum(distance, 1e-9)
    share = np.clip(rise / steep, -1.0, 1.0)
    stimp = _rounded(green.stimp_ft, 0.5)
    up, down = (value(distance, skill, side * steep, stimp) for side in (1, -1))
    return np.asarray(level + share * (up - down) / 2 + share**2 * ((up + down) / 2 - level))


def _as_longer_m(green: PuttGreen, rolled: Rolled) -> Floats:
    """How much longer a putt is as hard as the next one where it has the step to come again [m]."""
    ahead_m = np.maximum(*green.steps_ahead_m(rolled.x_m))
    return np.asarray(STEP_LONGER * ahead_m * ROLL_GRAVITY_M_S2 / green.resist_m_s2)


def _off_green(green: PuttGreen, rolled: Rolled) -> tuple[Bools, Bools]:
    """Which balls left the green, and which of them are lost to water or out of bounds."""
    surface = green.ground.surface_at(rolled.x_m, rolled.y_m)
    off = (surface != int(Surface.GREEN)) | rolled.never_stopped
    return np.asarray(off & ~rolled.holed), np.isin(surface, _LOST)


def _steep(green: PuttGreen) -> float:
    """The hole's tilt to half a per cent, so that tables are shared, and no more than a ball holds well."""
    return min(_rounded(green.steepness, 0.005), STEEPEST_SHARE * float(steepest_hold(green.stimp_ft)))


def _rounded(value: float, step: float) -> float:
    return round(value / step) * step
