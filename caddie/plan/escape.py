"""Out sideways: the way back to short grass where trees, a lip or a plugged ball stand before the flag."""

import math

import numpy as np

from caddie.bag import Bag, Club, ClubKind, Family
from caddie.ball.launch import Flight
from caddie.plan.option import Option
from caddie.plan.scene import HIGH_FACE_M, Scene, again_before_a_lip, face_of
from caddie.plan.strikes import strike_rates
from caddie.plan.strokes import hole_out_table
from caddie.plan.trust import UNSAID_TRUST
from caddie.situation import IN_SAND, HazardKind, Lie, Side, Situation
from caddie.units import YARD_M

SAND_ASIDE_M, TREES_ASIDE_M = 8 * YARD_M, 15 * YARD_M
"""How far aside the ball is played, out of sand and out of trees (common practice, no source)."""
ASIDE_RAD = math.radians(75.0)
"""How far beside the flag it is aimed: not back, not at what stands in the way."""
STAYS_IN = 0.35
"""Share of the heavy strikes with a splash that stay in the sand when no face has to be cleared."""
CAUGHT = 0.06
"""How often a ball knocked out of trees meets one (common practice, no source)."""
ROLLS_OUT_DEG = 33.0
"""Loft that runs out from under trees best (common practice, no source)."""
SHARE = 0.25


def wants_a_way_out(situation: Situation) -> bool:
    """Whether the way to the flag is barred enough to think of going sideways."""
    if situation.lie is Lie.PLUGGED or (situation.lie is Lie.BUNKER and bool(situation.under_lip)):
        return True
    if situation.lie is Lie.BUNKER:
        return face_of(situation)[0] >= HIGH_FACE_M
    return any(
        hazard.kind is HazardKind.TREES and hazard.side in (Side.SHORT, None) for hazard in situation.hazards
    )


def sideways(scene: Scene, bag: Bag) -> Option | None:
    """The shot out sideways with its estimated strokes, where one wants a way out and a club plays it."""
    situation = scene.situation
    clubs = [club for club in bag.clubs if club.carries and club.kind is not ClubKind.PUTTER]
    if not clubs or not wants_a_way_out(situation):
        return None
    in_sand = situation.lie in IN_SAND
    club = max(clubs, key=_by_loft) if in_sand else min(clubs, key=_off_running)
    aside_m = SAND_ASIDE_M if in_sand else TREES_ASIDE_M
    fails, heavy = CAUGHT, 0.0
    if in_sand:
        rate, _ = strike_rates(
            bag.player, situation, Family.SPLASH, club.loft_deg, np.array([SHARE]), None, 0.0, club.bounce_deg
        )
        heavy = float(rate[0])
        fails = STAYS_IN * heavy
    left_m = math.hypot(scene.pin_m, aside_m)
    table = hole_out_table(bag.player.handicap)
    out = float(table.strokes(left_m, Lie.LIGHT_ROUGH if in_sand else Lie.FAIRWAY))
    again = float(table.strokes(scene.pin_m, Lie.BUNKER)) if in_sand else float(table.recovery(scene.pin_m))
    again += again_before_a_lip(situation)
    strokes = 1.0 + (1.0 - fails) * out + fails * again
    worst = 1.0 + min(fails / 0.1, 1.0) * again + max(1.0 - fails / 0.1, 0.0) * out
    return Option(
        club=club.id,
        loft_deg=club.loft_deg,
        swing=min(bag.swings, key=lambda swing: abs(swing.share - SHARE)).name,
        share=SHARE,
        family=Family.SPLASH if in_sand else Family.CHIP,
        flight=Flight.LOW if situation.lie is Lie.PLUGGED else Flight.STOCK,
        sideways=True,
        carry_m=round(0.7 * aside_m, 3),
        run_m=round(0.3 * aside_m, 3),
        land_short_of_pin_m=round(scene.pin_m, 3),
        aim_left_m=round(scene.pin_m * math.tan(ASIDE_RAD), 3),
        strokes=round(strokes, 4),
        strokes_se=0.0,
        bad_tail=round(worst, 4),
        on_green=0.0,
        in_trouble=round(fails, 4),
        trouble={"sand" if in_sand else "trees": round(fails, 4)},
        short_of_green=1.0,
        through_green=0.0,
        leave_m=round(left_m, 3),
        heavy=round(heavy, 4),
        thin=0.0,
        trust=UNSAID_TRUST,
        rank_score=round(strokes, 4),
    )


def _by_loft(club: Club) -> float:
    return club.loft_deg


def _off_running(club: Club) -> float:
    return abs(club.loft_deg - ROLLS_OUT_DEG)
