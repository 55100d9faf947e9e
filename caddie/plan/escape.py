"""The way back to short grass: sideways where trees, a lip, tall grass or a bush bar it, or the wrong way round."""

import math
from typing import NamedTuple

import numpy as np

from caddie.bag import Bag, Club, ClubKind, Family
from caddie.ball.launch import Flight
from caddie.plan.hampered import is_tall
from caddie.plan.lip import again_before_a_lip, is_high_face
from caddie.plan.option import Option
from caddie.plan.scene import Scene
from caddie.plan.strikes import strike_rates
from caddie.plan.strokes import HoleOutTable, hole_out_table
from caddie.plan.trust import UNSAID_TRUST
from caddie.situation import (
    IN_SAND,
    Against,
    Hampered,
    HazardKind,
    Lie,
    Side,
    Situation,
    Stance,
    Steepness,
)
from caddie.units import YARD_M

ASIDE_RAD = math.radians(75.0)
"""How far beside the flag it is aimed: not back, not at what stands in the way."""
STAYS_IN = 0.35
"""Share of the heavy strikes with a splash that stay in the sand when no face has to be cleared."""
ROLLS_OUT_DEG, LIFTS_OUT_DEG = 33.0, 56.0
"""Loft that runs out from under trees best, and that gets a ball up out of long grass or a bush (common practice, no
source)."""
SHARE, TURNED_SHARE, DUG_SHARE = 0.25, 0.12, 0.5
"""Swings of a way out, of a ball played the wrong way round, and of one that is dug out of its own hole in sand."""


class WayOut(NamedTuple):
    """One way out: how far it goes, how often it does not, and with what loft."""

    away_m: float
    fails: float
    loft_deg: float
    where: str
    """What a ball that fails lies in."""


OUT_OF_SAND = WayOut(8 * YARD_M, STAYS_IN, 90.0, "sand")
OUT_OF_TREES = WayOut(15 * YARD_M, 0.06, ROLLS_OUT_DEG, "trees")
OUT_OF_TALL_GRASS = WayOut(12 * YARD_M, 0.12, LIFTS_OUT_DEG, "trees")
OUT_OF_A_BUSH = WayOut(8 * YARD_M, 0.25, LIFTS_OUT_DEG, "trees")
POKED_CLEAR = WayOut(6 * YARD_M, 0.1, ROLLS_OUT_DEG, "trees")
TURNED_OVER = WayOut(8 * YARD_M, 0.3, LIFTS_OUT_DEG, "trees")
"""How far aside the ball is played, and how often it stays where it was (common practice, no source)."""


def out_alone(situation: Situation) -> bool:
    """Whether nothing but a way out can be played: a bush, no backswing, or only the wrong way round."""
    return situation.hampered in (Hampered.GROWTH, Hampered.TURNED, Hampered.NO_BACKSWING)


def wants_a_way_out(situation: Situation) -> bool:
    """Whether the way to the flag is barred enough to think of going sideways: from water one drops instead."""
    if situation.against is Against.WATER:
        return False
    if situation.lie is Lie.PLUGGED or (situation.lie is Lie.BUNKER and bool(situation.under_lip)):
        return True
    if out_alone(situation) or is_tall(situation):
        return True
    if situation.lie is Lie.BUNKER:
        return is_high_face(situation) or is_steep_down(situation)
    return any(
        hazard.kind is HazardKind.TREES and hazard.side in (Side.SHORT, None) for hazard in situation.hazards
    )


def is_steep_down(situation: Situation) -> bool:
    """Whether the ball is to be played down a steep slope, off which it comes out low."""
    return Stance.DOWNHILL in situation.stance and situation.steepness is Steepness.SEVERE


def sideways(scene: Scene, bag: Bag, *, asked: bool = False) -> Option | None:
    """The shot out with its estimated strokes, where one wants a way out, or asks for it, and a club plays it."""
    situation = scene.situation
    clubs = [club for club in bag.clubs if club.carries and club.kind is not ClubKind.PUTTER]
    if not clubs or not (asked or wants_a_way_out(situation)):
        return None
    out, in_sand = _way_of(situation), situation.lie in IN_SAND
    turned = situation.hampered is Hampered.TURNED
    share = TURNED_SHARE if turned else DUG_SHARE if situation.lie is Lie.PLUGGED else SHARE
    club = min(clubs, key=lambda each: abs(each.loft_deg - out.loft_deg))
    fails, heavy = out.fails, 0.0
    if in_sand:
        heavy = _digs_in(bag, situation, club)
        fails = STAYS_IN * heavy
    # The wrong way round the ball is nudged on toward the hole, else beside the way to it.
    left_m = abs(scene.pin_m - out.away_m) if turned else math.hypot(scene.pin_m, out.away_m)
    table = hole_out_table(bag.player.handicap)
    after = float(table.strokes(max(left_m, 1.0), _grass_after(situation)))
    again = _again(scene, table)
    strokes = 1.0 + (1.0 - fails) * after + fails * again
    worst = 1.0 + min(fails / 0.1, 1.0) * again + max(1.0 - fails / 0.1, 0.0) * after
    return Option(
        club=club.id,
        loft_deg=club.loft_deg,
        swing="under hip" if turned else min(bag.swings, key=lambda swing: abs(swing.share - share)).name,
        share=share,
        family=Family.SPLASH if in_sand else Family.CHIP,
        flight=Flight.LOW if situation.lie is Lie.PLUGGED else Flight.STOCK,
        sideways=True,
        turned=turned,
        carry_m=round(0.7 * out.away_m, 3),
        run_m=round(0.3 * out.away_m, 3),
        land_short_of_pin_m=round(scene.pin_m, 3),
        aim_left_m=0.0 if turned else round(scene.pin_m * math.tan(ASIDE_RAD), 3),
        strokes=round(strokes, 4),
        strokes_se=0.0,
        bad_tail=round(worst, 4),
        on_green=0.0,
        in_trouble=round(fails, 4),
        trouble={out.where: round(fails, 4)},
        short_of_green=1.0,
        through_green=0.0,
        leave_m=round(left_m, 3),
        heavy=round(heavy, 4),
        thin=0.0,
        trust=UNSAID_TRUST,
        rank_score=round(strokes, 4),
    )


def _way_of(situation: Situation) -> WayOut:
    if situation.lie in IN_SAND:
        return OUT_OF_SAND
    if situation.hampered is Hampered.TURNED:
        return TURNED_OVER
    if situation.hampered is Hampered.GROWTH:
        return OUT_OF_A_BUSH
    if situation.hampered is Hampered.NO_BACKSWING:
        return POKED_CLEAR
    return OUT_OF_TALL_GRASS if is_tall(situation) else OUT_OF_TREES


def _grass_after(situation: Situation) -> Lie:
    rough = situation.lie in IN_SAND or out_alone(situation) or is_tall(situation)
    return Lie.LIGHT_ROUGH if rough else Lie.FAIRWAY


def _digs_in(bag: Bag, situation: Situation, club: Club) -> float:
    rate, _ = strike_rates(
        bag.player, situation, Family.SPLASH, club.loft_deg, np.array([SHARE]), None, 0.0, club.bounce_deg
    )
    return float(rate[0])


def _again(scene: Scene, table: HoleOutTable) -> float:
    """Strokes from where it was, of a ball that did not come out."""
    in_sand = scene.situation.lie in IN_SAND
    again = float(table.strokes(scene.pin_m, Lie.BUNKER)) if in_sand else float(table.recovery(scene.pin_m))
    return again + again_before_a_lip(scene.situation)


def dropped_strokes(situation: Situation, bag: Bag) -> float:
    """Strokes to hole out with the ball dropped under penalty beside where it lies, in sand or rough, an estimate."""
    assert situation.pin_m is not None
    lie = Lie.BUNKER if situation.lie in IN_SAND else Lie.LIGHT_ROUGH
    return 1.0 + float(hole_out_table(bag.player.handicap).strokes(situation.pin_m, lie))
