"""The situation laid out for the ball: strips along the line, patches of trouble, the hole and the air."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.ball.air import Air, air, aloft
from caddie.ball.ground import STEEPEST_SLOPE, Ground, Patch, Strip, Surface
from caddie.ball.turf import ABSORBS
from caddie.errors import CaddieError
from caddie.plan.assume import blades_of, depth_of, is_shaggy, rolling_ft
from caddie.plan.assume_trouble import usual_tree_m
from caddie.plan.called import name_of
from caddie.plan.green_size import EXTENT_SHARE, depth_of_green_m, half_widths
from caddie.plan.lip import FACE_SLOPE, LIP_LEAN, LIP_M, before_a_lip, face_of
from caddie.plan.patches import FRINGE_M, carry_needed_m, patches_of
from caddie.plan.shapes import breaking_where_told, worked_in
from caddie.situation import (
    Against,
    Fall,
    Firmness,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    WindFrom,
    WindKnownBy,
)
from caddie.units import YARD_M

PENALTIES = (Surface.WATER, Surface.OUT_OF_BOUNDS)
"""Ground that is worth stopping short of."""
NEAREST_TROUBLE_M = 12 * YARD_M
"""Nearer trouble leaves no room for a lay-up (common practice, no source)."""
UNSPOKEN_FACE_SLOPE = 0.35
"""A face that nobody spoke of lies back so far that no ball flies into it (common practice, no source)."""
BANK = 0.25
"""Usual slope of the bank up to a raised green."""
STEEPEST_BANK = 0.5
SOFT_BANK_M = 0.6
"""A bank so high that is wet or long takes nobody knows how much from a putt (common practice, no source)."""
MOST_OF_THE_RISE = 0.06
"""A green is no steeper than this because the flag stands above or below the ball (common practice, no source)."""
CROWN_M = 2.5
"""Half the width of a tree that is passed on one side (common practice, no source)."""
UNDER_BY_M = 0.4
"""A branch is passed by so much, or a ball launched a little high meets it (common practice, no source)."""
STORM_M_S = 30.0
"""A felt wind is taken for no more than this at the height of forecasts."""
FIRMNESS = {Firmness.SOFT: 0.2, Firmness.MEDIUM: 0.5, Firmness.FIRM: 0.85, Firmness.FROZEN: 1.8}
"""On the scale of :class:`caddie.ball.ground.Strip`; frozen turf is nearly a plate (common practice, no source)."""

_UNDER = {
    Lie.FAIRWAY: Surface.FAIRWAY,
    Lie.FRINGE: Surface.FRINGE,
    Lie.FIRST_CUT: Surface.FAIRWAY,
    Lie.LIGHT_ROUGH: Surface.LIGHT_ROUGH,
    Lie.HEAVY_ROUGH: Surface.HEAVY_ROUGH,
    Lie.BARE: Surface.BARE,
    Lie.DIVOT: Surface.FAIRWAY,
    Lie.BUNKER: Surface.SAND,
    Lie.PLUGGED: Surface.SAND,
    Lie.PINE_STRAW: Surface.PINE_STRAW,
    Lie.GREEN: Surface.GREEN,
}
_BEYOND = {
    Surface.SAND: (0.0, Surface.LIGHT_ROUGH),
    Surface.WATER: (2.5, Surface.LIGHT_ROUGH),
    Surface.BARE: (4.0, Surface.FAIRWAY),
    Surface.PINE_STRAW: (4.0, Surface.LIGHT_ROUGH),
    Surface.HEAVY_ROUGH: (25.0, Surface.FAIRWAY),
}
"""How far water at its edge, a bare spot, pine straw or a belt of thick rough reaches in front of the ball, and
what lies between it and the green (common practice, no source)."""
_WIND = {
    WindFrom.AHEAD: (-1.0, 0.0),
    WindFrom.BEHIND: (1.0, 0.0),
    WindFrom.LEFT: (0.0, -1.0),
    WindFrom.RIGHT: (0.0, 1.0),
    WindFrom.AHEAD_LEFT: (-0.7071, -0.7071),
    WindFrom.AHEAD_RIGHT: (-0.7071, 0.7071),
    WindFrom.BEHIND_LEFT: (0.7071, -0.7071),
    WindFrom.BEHIND_RIGHT: (0.7071, 0.7071),
}
"""Where the air goes: along toward the flag, across toward the player's left."""


@dataclass(frozen=True)
class Barrier:
    """Trees or a bunker's lip across the way: a ball that meets it drops there."""

    x_m: float
    height_m: float
    clear_m: float = 0.0
    """Height under the lowest branch that a ball can pass through."""
    drop_x_m: float = 0.0
    """Where a ball that meets it comes to lie."""
    surface: Surface = Surface.TREES
    round: Side | None = None
    """The side on which there is a way past it."""
    gap_m: float | None = None
    """Width of the gap in it on the line."""
    called: str = ""

    def is_passed_by(self, height_m: Floats, azimuth_rad: Floats) -> NDArray[np.bool_]:
        """Whether balls so high there, sent so far left, get over, under, round or through it (all one shape)."""
        left_m = self.x_m * np.tan(azimuth_rad)
        over = height_m >= self.height_m
        between = np.ones_like(over) if self.gap_m is None else np.abs(left_m) <= self.gap_m / 2
        under = (height_m < self.clear_m) if self.clear_m else np.full_like(over, self.gap_m is not None)
        beside = np.zeros_like(over)
        if self.round is not None:
            beside = (left_m if self.round is Side.LEFT else -left_m) >= CROWN_M
        return np.asarray(over | (under & between) | beside)


@dataclass(frozen=True)
class Scene:
    """A complete situation as the physics sees it; the ball at the origin, the flag at ``(pin_m, 0)``."""

    situation: Situation
    ground: Ground
    air: Air
    measured_air: Air
    pin_m: float
    front_m: float
    back_m: float
    landing_height_m: float
    barrier: Barrier | None
    """What the ball must fly over or under."""

    def step_m(self, x_m: Floats, y_m: Floats) -> Floats:
        """How far balls on the green lie above or below the hole's own slope [m]: a tier or a ridge is between."""
        hole = np.array([self.pin_m])
        along, across = self.ground.slope_at(hole)
        level = self.ground.height_m(hole, np.zeros(1)) + along * (x_m - self.pin_m) + across * y_m
        return np.asarray(np.abs(self.ground.height_m(x_m, y_m) - level))

    def relief_ahead_m(self, x_m: Floats) -> Floats:
        """Height that is climbed and fallen from there to the hole, beside the hole's own slope [m]."""
        edges = np.append(np.clip(self.ground.start_m, 0.0, self.pin_m), self.pin_m)
        along, _ = self.ground.slope_at(np.array([self.pin_m]))
        walked = np.concatenate([[0.0], np.cumsum(np.abs(self.ground.slope - along) * np.diff(edges))])
        return np.asarray(walked[-1] - np.interp(x_m, edges, walked))

    @property
    def stepped(self) -> bool:
        """Whether the green is more than one plane."""
        green = self.ground.surface == int(Surface.GREEN)
        return bool(np.ptp(self.ground.slope[green]) > 0.0)


def lay_out(situation: Situation, bag: Bag) -> Scene:
    """Build the scene of a completed situation (:func:`caddie.plan.assume.complete`)."""
    assert situation.pin_m is not None and situation.front_m is not None
    pin_m, front_m = situation.pin_m, situation.front_m
    back_m = pin_m + room_behind(situation)
    today = bag.today or bag.measured_in
    along, across = wind_of(situation)
    return Scene(
        situation=situation,
        ground=Ground.of_strips(
            _strips(situation, front_m, back_m),
            patches=patches_of(situation, front_m, back_m),
            stimp_ft=rolling_ft(situation.green),
            blades=blades_of(situation),
        ),
        air=air(today.temperature_c, today.altitude_m, wind_along_m_s=along, wind_across_m_s=across),
        measured_air=air(bag.measured_in.temperature_c, bag.measured_in.altitude_m),
        pin_m=pin_m,
        front_m=front_m,
        back_m=back_m,
        landing_height_m=green_height(situation),
        barrier=_barrier(situation),
    )


def _barrier(situation: Situation) -> Barrier | None:
    """The lip that a ball in sand lies before, or the trees in the way."""
    if before_a_lip(situation):
        height_m, level_m = face_of(situation)
        return Barrier(
            x_m=level_m + LIP_LEAN * height_m,
            height_m=height_m,
            drop_x_m=0.7 * level_m,
            surface=Surface.SAND,
        )
    for hazard in situation.hazards:
        if hazard.kind is HazardKind.TREES and hazard.side in (Side.SHORT, None):
            x_m = carry_needed_m(hazard, situation)
            clear_m = hazard.clear_m or 0.0
            under_m = max(clear_m - UNDER_BY_M, 0.5 * clear_m)
            height_m = hazard.height_m or usual_tree_m(hazard)
            return Barrier(
                x_m, height_m, under_m, x_m, round=hazard.round, gap_m=hazard.gap_m, called=name_of(hazard)
            )
    return None


def holding_patches(scene: Scene) -> list[Patch]:
    """What lies across the line before the flag and holds a ball that rolls into it."""
    return [
        patch
        for patch in scene.ground.patches
        if ABSORBS[patch.surface] and patch.y0_m < 0.0 < patch.y1_m and patch.x0_m < scene.pin_m
    ]


def trouble_ahead_m(scene: Scene) -> float | None:
    """Where the first water or out of bounds across the line before the flag begins [m], when it is worth a lay-up."""
    starts = [
        patch.x0_m
        for patch in scene.ground.patches
        if patch.surface in PENALTIES and patch.y0_m < 0.0 < patch.y1_m and patch.x0_m < scene.front_m
    ]
    return min(starts) if starts and min(starts) >= NEAREST_TROUBLE_M else None


def room_behind(situation: Situation) -> float:
    """Green beyond the flag [m]."""
    if situation.behind_m is not None:
        return situation.behind_m
    begins_m = min((h.past_flag_m for h in situation.hazards if h.past_flag_m), default=math.inf)
    return min(_usual_room_behind(situation), begins_m)


def _usual_room_behind(situation: Situation) -> float:
    """Green beyond the flag [m] where nobody told of it."""
    assert situation.pin_position is not None and situation.room_m is not None
    depth, share = depth_of(situation.pin_position), EXTENT_SHARE[situation.green.depth]
    if depth is PinPosition.BACK:
        return 4.5
    least_m = share * (8.0 if depth is PinPosition.MIDDLE else 14.0)
    return max(depth_of_green_m(situation.green) - situation.room_m, least_m)


def wind_of(situation: Situation) -> tuple[float, float]:
    """The wind along and across [m/s] at the height of forecasts."""
    wind = situation.wind
    if wind.from_ is None or not wind.speed_m_s:
        return 0.0, 0.0
    along, across = _WIND[wind.from_]
    felt = wind.known_by is WindKnownBy.FELT
    speed_m_s = min(aloft(wind.speed_m_s), STORM_M_S) if felt else wind.speed_m_s
    return along * speed_m_s, across * speed_m_s


def _green_slopes(situation: Situation) -> tuple[float, float]:
    """Rise per metre toward the flag, and rise per metre to the player's left, as if spread over the whole way.

    A ball that slows evenly is turned by a slope on a share of its way, be it the first or the last, by just that
    share of what the slope on the whole way turns it: the time it takes and what it carries on make up for one another.
    """
    green = situation.green
    along = across = 0.0
    for fall, slope in ((green.fall, green.fall_slope), (green.side_fall, green.side_slope)):
        if fall is Fall.TOWARD:
            along += slope or 0.0
        elif fall is Fall.AWAY:
            along -= slope or 0.0
        elif fall is Fall.LEFT_TO_RIGHT:
            across += slope or 0.0
        elif fall is Fall.RIGHT_TO_LEFT:
            across -= slope or 0.0
    return along + _rest_of_the_rise(situation), across * (green.break_part or 1.0)


def _rest_of_the_rise(situation: Situation) -> float:
    """Slope of the green that holds what the bank before it cannot of a height said of the flag."""
    if not situation.elevation_m or not situation.room_m or situation.lie is Lie.GREEN:
        return 0.0
    rest_m = situation.elevation_m - green_height(situation)
    return float(np.clip(rest_m / situation.room_m, -MOST_OF_THE_RISE, MOST_OF_THE_RISE))


def _strips(situation: Situation, front_m: float, back_m: float) -> list[Strip]:
    """Approach, fringe, green, and what lies behind, with every shape on the way."""
    assert situation.lie is not None and situation.pin_m is not None
    under = Surface.WATER if situation.against is Against.WATER else _UNDER[situation.lie]
    firmness = FIRMNESS[situation.green.firmness or Firmness.MEDIUM]
    along, across = _green_slopes(situation)
    left_m, right_m = half_widths(situation)
    reach_m, approach = _BEYOND.get(under, (0.0, under))
    fringe_m = max(front_m - FRINGE_M, 0.6 * front_m)

    def green(start_m: float, slope: float = along) -> Strip:
        return Strip(
            start_m,
            Surface.GREEN,
            slope=slope,
            cross_slope=across,
            firmness=firmness,
            left_m=left_m,
            right_m=right_m,
            beside=Surface.LIGHT_ROUGH,
        )

    strips: list[Strip] = []
    if front_m > 0:
        strips.append(Strip(0.0, under, firmness=firmness))
        if under is Surface.SAND:
            height_m, level_m = face_of(situation)
            face_m = min(level_m, fringe_m / 3)
            slope = STEEPEST_SLOPE if height_m > LIP_M else FACE_SLOPE
            lip_m = min(face_m + height_m / slope, 0.8 * fringe_m)
            if not before_a_lip(situation):
                slope = UNSPOKEN_FACE_SLOPE
            if height_m > 0:
                strips.append(Strip(face_m, Surface.SAND, slope=slope, firmness=firmness))
            strips.append(Strip(lip_m, approach, firmness=firmness))
        elif approach is not under and fringe_m > reach_m:
            strips.append(Strip(reach_m, approach, firmness=firmness))
        bank_m, slope = _bank(green_height(situation), front_m, fringe_m, strips[-1].start_m)
        if bank_m < fringe_m:
            strips.append(Strip(bank_m, approach, slope=slope, firmness=firmness))
        strips.append(Strip(fringe_m, Surface.FRINGE, slope=slope, firmness=firmness))
    strips.append(green(front_m))
    strips.append(Strip(back_m, Surface.FRINGE, firmness=firmness))
    strips.append(Strip(back_m + FRINGE_M, Surface.LIGHT_ROUGH, firmness=firmness))
    for hazard in situation.hazards:
        strips = worked_in(strips, hazard, situation, back_m)
    return breaking_where_told(strips, situation)


def green_height(situation: Situation) -> float:
    """Height of the green's front edge above the ball [m], as far as a bank can lift it that close.

    Raises:
        CaddieError: when the flag would stand on a wall.
    """
    rise_m = situation.elevation_m or 0.0
    assert situation.pin_m is not None and situation.front_m is not None
    most_m = STEEPEST_BANK * situation.pin_m
    if abs(rise_m) > most_m:
        raise CaddieError(
            "a flag that near would stand on a wall: it is at most half as high above or below the ball as it is "
            "away, so say the height or the distance again"
        )
    return float(np.clip(rise_m, -STEEPEST_BANK * situation.front_m, STEEPEST_BANK * situation.front_m))


def is_up_a_soft_bank(situation: Situation) -> bool:
    """Whether the way to the green climbs a bank of mud, or of grass that is wet or long."""
    soft = situation.wet or is_shaggy(situation.lie, situation.sitting)
    return bool(soft) and green_height(situation) >= SOFT_BANK_M


def _bank(rise_m: float, front_m: float, fringe_m: float, behind_m: float) -> tuple[float, float]:
    """Where the ground starts to rise (or fall) to the green, and how steeply; a level one at the fringe."""
    if not rise_m:
        return fringe_m, 0.0
    start_m = max(fringe_m - abs(rise_m) / BANK, behind_m + 0.05 * front_m)
    return start_m, float(np.clip(rise_m / (front_m - start_m), -STEEPEST_SLOPE, STEEPEST_SLOPE))
