"""The putter from off the green: rolled through fringe or short grass with the player's own putting."""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Bag, Club, ClubKind
from caddie.ball.flight import Landing
from caddie.ball.ground import Ground, flat
from caddie.ball.roll import Rest, settle
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.plan.dispersion import Draws
from caddie.plan.finish import BANK_MISREAD, Finishes
from caddie.plan.hampered import COLLAR_STUBS, COLLAR_WIDENS
from caddie.plan.putt.green import DOWN_A_STEP, STEP_M
from caddie.plan.putt.skill import skill_for
from caddie.plan.scene import Scene, holding_patches, is_up_a_soft_bank
from caddie.plan.shapes import comes_down
from caddie.situation import IN_SAND, Against, Grain, HazardKind, InLine, Lie, Obstruction, Steepness

PUTTER_LIES = (Lie.FRINGE, Lie.FAIRWAY, Lie.BARE)
ROUGH = (Lie.FIRST_CUT, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH)
FARTHEST_OFF_GREEN_M = 30.0
MOST_GRASS_M = 9.0
"""So much other grass before the green is too much for a putter (common practice, no source)."""
FARTHEST_ASKED_M, MOST_GRASS_ASKED_M = 45.0, 30.0
"""The same for a player who asks for it: it rolls there, however much goes astray."""
MUDDY_GRASS_M = 0.6
"""A ball with mud on it is putted over no more grass than that: only on the green may it be wiped (Rule 14.1c)."""
THROUGH_GRASS = 1.3
THROUGH_GRASS_PER_M = 0.12
"""Spread of the length rolled, against a putt: more for every metre of longer grass on the way
(common practice, no source)."""
GRABBED = 3.0
"""Grass that grows against a putted ball widens the length and stubs the stroke so much more for every metre of it
(common practice, no source)."""
FIRST_CUT_WIDENS, FIRST_CUT_STUBS = 2.5, 0.2
"""A putt out of a first cut: nobody knows what the grass takes, and the stroke catches it so often (common practice,
no source)."""
PAST_HOLE_M = np.array([0.0, 0.3, 0.6, 1.0])
"""How far past the hole the stroke is meant to roll: a ball left short never drops (common practice)."""
PAST_STEP_M = np.array([1.8, 3.0, 4.5])
"""How far past as well where a step lies on the way."""
STUBBED, STUBBED_PER_M = 0.01, 0.006
"""Strokes that catch the grass, and so many more for every metre of it (common practice, no source)."""
STUBBED_ENERGY = (0.25, 0.7)
"""Share of the meant energy that they give."""
AIM_ROUNDS = 3
LEAST_ENERGY = 0.02
"""Share of the meant energy that the poorest stroke still gives."""
SPEEDS_M_S = np.linspace(0.5, 11.0, 64)


def putter_of(bag: Bag) -> Club | None:
    """The putter, when the bag holds one."""
    return next((club for club in bag.clubs if club.kind is ClubKind.PUTTER), None)


def can_putt(scene: Scene, bag: Bag, *, asked: bool = False) -> bool:
    """Whether a putter is worth a thought from here: short grass all the way and not too far, farther when asked."""
    return putter_of(bag) is not None and not no_putter_because(scene, asked=asked)


def no_putter_because(scene: Scene, *, asked: bool) -> str:
    """What keeps the putter from being played, in a few words; empty where nothing does.

    Parameters:
        asked: whether the player asks for it: then from farther, and from a first cut that is not wide.
    """
    there = scene.situation
    lies = (*PUTTER_LIES, Lie.FIRST_CUT) if asked else PUTTER_LIES
    wide = MOST_GRASS_ASKED_M if asked and there.lie is not Lie.FIRST_CUT else MOST_GRASS_M
    if there.lie in IN_SAND:
        return "the sand stops it"
    if there.lie not in lies and there.against is not Against.COLLAR:
        return "the grass grabs the ball" if there.lie in ROUGH else "the ball would jump and not roll"
    if there.obstruction is Obstruction.PATH or there.in_line is InLine.SPRINKLER:
        return "what lies on its way throws it off"
    if holding_patches(scene):
        return "it would roll into the trouble before the green"
    if not asked and there.mud_on_ball and scene.front_m > MUDDY_GRASS_M:
        return "a muddy ball does not roll true"
    if not asked and is_up_a_soft_bank(there):
        return "a bank so wet or so long holds it"
    if there.steepness is Steepness.SEVERE:
        return "the bank is too steep to judge"
    if scene.front_m > wide:
        return "there is too much grass to roll through"
    return (
        "it is too far to roll" if scene.pin_m > (FARTHEST_ASKED_M if asked else FARTHEST_OFF_GREEN_M) else ""
    )


@dataclass(frozen=True)
class OffGreenPutts:
    """Putts from off the green with several paces (p,), and what became of each (p, n)."""

    meant_m: Floats
    """Length meant."""
    rolls_m: Floats
    """Length of the flat putt on the green that leaves the putter as fast."""
    aim_left_m: Floats
    finishes: Finishes


def putts_onto_green(scene: Scene, bag: Bag, draws: Draws) -> OffGreenPutts:
    """Roll the putter with several paces."""
    skill = skill_for(bag.player.handicap)
    # Past the hole, not into it: a hole would hold every speed that drops at its own distance.
    reach = _roll(scene, SPEEDS_M_S, np.zeros_like(SPEEDS_M_S), covered=True).x_m
    reach = np.maximum.accumulate(reach)
    # Down a step it is better to roll past than to stop on top.
    pasts = (
        np.append(PAST_HOLE_M, PAST_STEP_M) if scene.relief_ahead_m(np.zeros(1))[0] > STEP_M else PAST_HOLE_M
    )
    meant = scene.pin_m + pasts
    into_grain = scene.situation.green.grain is Grain.AGAINST
    grass_m = scene.front_m * (GRABBED if into_grain else 1.0)
    first_cut = scene.situation.lie is Lie.FIRST_CUT
    collared = scene.situation.against is Against.COLLAR
    wider = (THROUGH_GRASS + THROUGH_GRASS_PER_M * grass_m) * (COLLAR_WIDENS if collared else 1.0)
    wider *= FIRST_CUT_WIDENS if first_cut else 1.0
    # The stroke's energy goes astray by as much as the length of a putt does on one and the same green; where
    # grass or a bank takes most of it on the way, what is left on the green goes astray by more.
    pace = np.interp(meant, reach, SPEEDS_M_S)
    counted_ft = scene.situation.green.stimp_ft or scene.ground.stimp_ft
    level = _settled(flat(stimp_ft=counted_ft), None, SPEEDS_M_S, np.zeros_like(SPEEDS_M_S)).x_m
    rolls_m = np.interp(pace, SPEEDS_M_S, np.maximum.accumulate(level))
    resist = float(deceleration(scene.ground.stimp_ft))
    down = any(
        hazard.kind is HazardKind.RIDGE or comes_down(hazard, scene.situation)
        for hazard in scene.situation.hazards
    )
    misread = (
        (DOWN_A_STEP if down else 1.0)
        * BANK_MISREAD
        * float(scene.relief_ahead_m(np.zeros(1))[0])
        * ROLL_GRAVITY_M_S2
        / resist
        / rolls_m
    )
    sd = np.hypot(wider * skill.distance_sd, misread)[:, None]
    energy = np.maximum(1.0 + sd * draws.distance, LEAST_ENERGY)
    stubbed = draws.strike < STUBBED + STUBBED_PER_M * grass_m + (COLLAR_STUBS if collared else 0.0)
    stubbed |= draws.strike < (FIRST_CUT_STUBS if first_cut else 0.0)
    least, most = STUBBED_ENERGY
    energy = np.where(stubbed, least + (most - least) * draws.quality, energy)
    start = _against_the_fall(scene, pace)
    speed = pace[:, None] * np.sqrt(energy)
    rest = _roll(scene, speed, start[:, None] + wider * skill.angle_sd_rad * draws.direction)
    finishes = Finishes(
        x_m=rest.x_m,
        y_m=rest.y_m,
        surface=rest.surface,
        holed=rest.holed,
        land_x_m=np.zeros_like(rest.x_m),
        clean=np.ones(speed.shape, dtype=bool),
        free_x_m=rest.x_m,
    )
    return OffGreenPutts(meant, rolls_m, scene.pin_m * np.tan(start), finishes)


def _against_the_fall(scene: Scene, speed_m_s: Floats) -> Floats:
    """Start directions [rad], left positive, at which putts of these speeds break onto the line to the hole."""
    start = np.zeros_like(speed_m_s)
    for _ in range(AIM_ROUNDS):
        rest = _roll(scene, speed_m_s, start, covered=True)
        start = start - np.arctan2(rest.y_m, np.maximum(rest.x_m, 0.1))
    return start


def _roll(scene: Scene, speed_m_s: Floats, azimuth_rad: Floats, covered: bool = False) -> Rest:
    return _settled(scene.ground, None if covered else (scene.pin_m, 0.0), speed_m_s, azimuth_rad)


def _settled(
    ground: Ground, hole: tuple[float, float] | None, speed_m_s: Floats, azimuth_rad: Floats
) -> Rest:
    zero = np.zeros_like(speed_m_s)
    start = Landing(
        **{
            **dict.fromkeys(Landing.__dataclass_fields__, zero),
            "vx_m_s": speed_m_s * np.cos(azimuth_rad),
            "vy_m_s": speed_m_s * np.sin(azimuth_rad),
        }
    )
    return settle(start, ground, hole=hole)
