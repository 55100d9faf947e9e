"""Heavy and thin strikes: how often, by player, lie, loft, kind of shot and swing.

A heavy strike meets the ground first and keeps part of its speed; a thin one meets the ball with the leading
edge and flies low.
"""

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Family, Miss, Player, StrikeCount
from caddie.bag.amateurs import amateurs
from caddie.bag.curve import expected_mishits
from caddie.bag.sand import SAND_WEDGE_DEG
from caddie.plan.grass import digs, hold_of, is_down_in_grass
from caddie.plan.hampered import is_iron_hard, mishit_factor, strike_lie
from caddie.situation import IN_SAND, Against, Lie, Sand, Sitting, Situation, Stance, Steepness

STRIKE_PRIOR_SHOTS = 60.0
"""Shots on the course that the expected heavy and thin rates count for."""
MOST_MISHIT = 0.45
MOST_CAUGHT, MOST_THIN_IN_GRASS = 0.65, 0.25
"""The same of heavy and thin strikes from thick rough and out of water, where many a club is stopped (common practice,
no source)."""
WATER_HEAVY = 1.6
"""Water stops a club so much oftener than the sand round a plugged ball (common practice, no source)."""
THIN_TO_HEAVY = 0.15
"""Thin strikes for each heavy one that the course adds, mild ones counted (common practice, no source)."""
WHOLE_M = 45.0
"""To a flag this far off, or with a swing that would carry so far, the course adds its whole share (common
practice, no source)."""
GRASS_TURNS = 0.04
"""Thick rough catches a club so much oftener for every degree less loft than a sand wedge's (common practice, no
source)."""
THICK_M = 25.0
"""Thick grass is as hard to get through to a near flag as to one this far off (common practice, no source)."""
_HEAVY_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 0.9,
    Lie.FIRST_CUT: 1.1,
    Lie.LIGHT_ROUGH: 1.2,
    Lie.HEAVY_ROUGH: 1.9,
    Lie.BARE: 1.5,
    Lie.DIVOT: 1.8,
    Lie.BUNKER: 1.7,
    Lie.PLUGGED: 4.0,
    Lie.PINE_STRAW: 1.6,
    Lie.GREEN: 0.5,
}
_THIN_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 0.9,
    Lie.FIRST_CUT: 0.9,
    Lie.LIGHT_ROUGH: 0.8,
    Lie.HEAVY_ROUGH: 1.0,
    Lie.BARE: 2.2,
    Lie.DIVOT: 2.0,
    Lie.BUNKER: 1.8,
    Lie.PLUGGED: 1.2,
    Lie.PINE_STRAW: 1.5,
    Lie.GREEN: 0.5,
}
LOB_SWING = 0.8
LOB_EASY_SHARE = 0.4
"""A long swing under an open face goes wrong more often: so much more for every share beyond nearly half
(common practice, no source)."""
LOB_LESS_LOFT, LOB_WEDGE_DEG = 0.025, 60.0
"""So much more often for every degree of loft less than a lob wedge's (common practice, no source)."""
SOFT_HEAVY, FIRM_THIN = 1.3, 1.5
"""Heavy strikes from soft sand, and thin ones from packed or wet sand, against those from clean dry sand."""
SOLE_DEG, FIRM_SOLE_DEG, SOLE_TELLS = 12.0, 8.0, 0.05
"""The bounce of a sand wedge, which soft sand wants, that which packed sand wants at most, and how much likelier the
strike is for every degree beside it (common practice, no source)."""
CLEAN_FROM_SAND, CLEAN_FAR = 2.0, 1.2
"""A ball picked clean from sand is hit heavy or thin so much more often than one splashed out: beside the green, and
from a fairway bunker, where it lies better and is swung at in full (common practice, no source)."""
CLEAN_OFF_HARD = 2.2
"""The same beside the green on packed or thin sand, beyond what a bare lie makes it (common practice, no source)."""
SAND_BEHIND = 1.25
"""A club that must be picked up steeply, or it meets sand or bank behind the ball, strikes the ball so much oftener
heavy or thin (common practice, no source)."""
DIVOT_LOFT = 0.05
"""From a divot, off hard sand and off frozen ground, a club slides under the ball so much oftener for every degree more
loft than a gap wedge's: its leading edge must go down to the ball (common practice, no source)."""
GAP_WEDGE_DEG = 52.0
ACROSS_LOB = 1.8
"""With the ball above or below the feet an open face is so much harder to bring to it, and off a downslope its leading
edge meets the ball's middle (common practice, no source)."""
FAIRWAY_BUNKER_M = 35.0
"""A bunker farther from the flag is no greenside one (common practice, no source)."""
_BY_FAMILY = {
    Family.PUTT: 0.0,
    Family.CHIP: 0.7,
    Family.BUMP_AND_RUN: 0.6,
    Family.PITCH: 1.0,
    Family.LOB: 1.4,
    Family.SPLASH: 1.0,
}
"""Chances of a heavy or thin strike relative to a pitch from the fairway (common practice, no source)."""
SMALL_SHARE, PITCH_SHARE = 0.2, 0.4
"""A chip or a bump-and-run is the safer strike while its swing is small; at the second share it is as risky as a
pitch (common practice, no source)."""
DOWN_IN_SAND = 1.4
"""Off a downslope in sand the club meets the sand early or the ball thin so much oftener (common practice, no
source)."""
DOWN_THIN: dict[Steepness | None, float] = {Steepness.SLIGHT: 1.12, None: 1.25, Steepness.SEVERE: 1.6}
"""How much oftener a downhill lie is struck thin, by how steep it was said to be (common practice, no source)."""
SANDY_DIVOT = 1.25
"""How much oftener a ball on the sand in a divot is mishit than one in a bare divot (common practice, no source)."""
UNSTEADY = 1.8
"""On a severe slope every strike goes wrong so much oftener (common practice, no source)."""
SLOW_SHARE, GRASS_STOPS = 0.3, 0.5
"""Thick rough stops a swing shorter than this, so much more often the shorter it is (common practice, no source)."""


def strike_rates(
    player: Player,
    situation: Situation,
    family: Family,
    loft_deg: float,
    share: Floats,
    seen: StrikeCount | None,
    swing_m: Floats | float = 0.0,
    bounce_deg: float | None = None,
) -> tuple[Floats, Floats]:
    """Chances of a heavy and of a thin strike for swing shares (any shape).

    ``swing_m`` is how far such a swing carries with the plain flight: a long one under an open face goes wrong as
    often to a near flag as to a far one.

    Those expected of the handicap on the course (:mod:`caddie.bag.amateurs`) by lie, loft, family and swing
    share; the player's own count makes them all likelier or rarer. A usual miss of that kind makes it half as likely
    again.
    """
    lie, iron = strike_lie(situation), is_iron_hard(situation)
    hard = situation.sand in (Sand.FIRM, Sand.THIN) or iron
    hold = hold_of(situation)
    loft, opened = _by_loft(family, lie, loft_deg, hard, hold)
    slope = DOWN_THIN[situation.steepness] if Stance.DOWNHILL in situation.stance else 1.0
    footing = UNSTEADY if situation.stance and situation.steepness is Steepness.SEVERE else 1.0
    # How deep a ball lies in thick grass is part of how the grass holds.
    down = 1.25 if situation.sitting is Sitting.DOWN and not hold else 1.0
    if lie is Lie.DIVOT and situation.sand is not None:
        down *= SANDY_DIVOT
    clipped = lie is Lie.BUNKER and hard and family is not Family.SPLASH
    if clipped:
        # Off hard sand a ball is struck as off bare ground, or worse.
        lie, situation = Lie.BARE, situation.model_copy(update={"lie": Lie.BARE})
    added = opened * _course_adds(player.handicap, situation, swing_m)
    at_range = max(loft, 0.5) * expected_mishits(player.handicap)
    slides = family is Family.LOB and is_down_in_grass(situation)
    of_family = _through_grass(family, share, hold, slides=slides) if hold else _of_family(family, share)
    common = of_family * down * footing * mishit_factor(situation)
    heavy = common * digs(situation) * (at_range * _HEAVY_BY_LIE[lie] + added)
    thin = common * (at_range * _THIN_BY_LIE[lie] + THIN_TO_HEAVY * added) * slope
    if family is Family.LOB:
        longer = _longer_under_an_open_face(situation, share)
        # Through thick grass speed gets the club: the long swing is only thinned the oftener.
        heavy, thin = (heavy if slides else longer * heavy), longer * thin
    oftener_heavy, oftener_thin = _from_the_ground(situation, lie, family, clipped, bounce_deg)
    heavy, thin = oftener_heavy * heavy, oftener_thin * thin
    if {Miss.HEAVY, Miss.QUIT} & set(player.usual_misses):
        heavy *= 1.5
    if {Miss.THIN, Miss.QUIT} & set(player.usual_misses):
        thin *= 1.5
    if seen and seen.shots:
        usual = Lie.BUNKER if family is Family.SPLASH else Lie.FAIRWAY
        mine = _BY_FAMILY[family]
        at_range = mine * expected_mishits(player.handicap)
        usually_added = mine * float(_course_adds(player.handicap, Situation(lie=usual)))
        heavy = heavy * _own(seen, seen.heavy, at_range * _HEAVY_BY_LIE[usual], usually_added)
        thin = thin * _own(seen, seen.thin, at_range * _THIN_BY_LIE[usual], THIN_TO_HEAVY * usually_added)
    most_heavy, most_thin = most_mishit(situation)
    return np.minimum(heavy, most_heavy), np.minimum(thin, most_thin)


def _longer_under_an_open_face(situation: Situation, share: Floats) -> Floats:
    """How much oftener a lob goes wrong the longer its swing, the more off a slope."""
    longer = 1.0 + LOB_SWING * np.maximum(share - LOB_EASY_SHARE, 0.0)
    sloping = {Stance.BALL_ABOVE, Stance.BALL_BELOW, Stance.DOWNHILL} & {*situation.stance}
    return np.asarray(ACROSS_LOB * longer if sloping else longer)


def most_mishit(situation: Situation) -> tuple[float, float]:
    """The most often that a ball is struck heavy and thin from this lie."""
    caught = situation.lie is Lie.HEAVY_ROUGH or situation.against is Against.WATER
    return (MOST_CAUGHT, MOST_THIN_IN_GRASS) if caught else (MOST_MISHIT, MOST_MISHIT)


def _from_the_ground(
    situation: Situation, lie: Lie, family: Family, clipped: bool, bounce_deg: float | None
) -> tuple[float, float]:
    """How much likelier sand makes a heavy and a thin strike: splashed, picked clean, on its slope, or behind."""
    heavy = thin = SAND_BEHIND if situation.sand_behind else 1.0
    if clipped or (lie is Lie.BUNKER and family is not Family.SPLASH):
        near = CLEAN_OFF_HARD if clipped else CLEAN_FROM_SAND
        clean = CLEAN_FAR if (situation.pin_m or 0.0) > FAIRWAY_BUNKER_M else near
        heavy, thin = clean * heavy, clean * thin
    if lie in IN_SAND:
        if Stance.DOWNHILL in situation.stance:
            heavy, thin = DOWN_IN_SAND * heavy, DOWN_IN_SAND * thin
        if situation.against is Against.WATER:
            heavy *= WATER_HEAVY
        dug, skipped = _sand_rates(situation, SOLE_DEG if bounce_deg is None else bounce_deg)
        heavy, thin = dug * heavy, skipped * thin
    return heavy, thin


def _sand_rates(situation: Situation, bounce_deg: float) -> tuple[float, float]:
    """How much likelier the sand makes a heavy and a thin strike with this sole.

    Packed sand throws a sole with bounce up into the ball, soft sand lets one without it dig.
    """
    if situation.sand is Sand.SOFT:
        return SOFT_HEAVY * (1.0 + SOLE_TELLS * max(SOLE_DEG - bounce_deg, 0.0)), 0.9
    if situation.sand in (Sand.FIRM, Sand.THIN) or situation.wet:
        return 0.9, FIRM_THIN * (1.0 + SOLE_TELLS * max(bounce_deg - FIRM_SOLE_DEG, 0.0))
    return 1.0, 1.0


def _course_adds(handicap: float, situation: Situation, swing_m: Floats | float = 0.0) -> Floats:
    """Chance of a heavy strike with a pitch that the course adds to what is seen at the range.

    On grass it comes from footing and nerves rather than from the lie, and a small stroke to a flag near by does not
    go wrong so often; sand has a figure of its own.
    """
    lie = situation.lie or Lie.FAIRWAY
    if lie in IN_SAND:
        return np.asarray(amateurs().sand_heavy.at(handicap) * _HEAVY_BY_LIE[lie] / _HEAVY_BY_LIE[Lie.BUNKER])
    near_m = THICK_M if lie is Lie.HEAVY_ROUGH else 0.0
    size_m = np.maximum(max(situation.pin_m or WHOLE_M, near_m), swing_m)
    return np.asarray(amateurs().heavy.at(handicap) * np.minimum(size_m / WHOLE_M, 1.0))


def _own(seen: StrikeCount, struck: int, at_range: float, added: float) -> float:
    """How many times as often this player strikes so as is expected of the handicap.

    A count with a Gamma prior worth ``STRIKE_PRIOR_SHOTS`` shots on the course (Gelman et al., *Bayesian Data
    Analysis*, 3rd ed., sec. 2.6, from memory). Balls hit at the range are held against what is expected there: a
    player whose mat shows few poor strikes is told fewer than others, and still more than on the mat.
    """
    on_course = at_range + added
    before = STRIKE_PRIOR_SHOTS * on_course
    expected = (seen.shots - seen.on_range) * on_course + seen.on_range * at_range
    return (before + struck) / (before + expected)


def _by_loft(family: Family, lie: Lie, loft_deg: float, hard: bool, hold: float) -> tuple[float, float]:
    """The factors of the loft: of a mishit at the range, and of what the course adds to it."""
    if family is Family.LOB:
        # The less loft a club has, the more its face must be laid open to lob with it.
        opened = 1.0 + LOB_LESS_LOFT * max(LOB_WEDGE_DEG - loft_deg, 0.0)
        return 1.2 * opened, opened
    if family is Family.SPLASH:
        # The sole of a sand wedge is made for it; a narrower one digs.
        return 1.0 + 0.02 * abs(loft_deg - SAND_WEDGE_DEG), 1.0
    if lie is Lie.DIVOT or (lie in (Lie.BUNKER, Lie.BARE) and hard):
        under = 1.0 + DIVOT_LOFT * max(loft_deg - GAP_WEDGE_DEG, 0.0)
        return under, under
    if lie is Lie.HEAVY_ROUGH:
        # Loft gets a ball up through long grass; a straighter face is caught and turned by it.
        turned = 1.0 + hold * GRASS_TURNS * max(SAND_WEDGE_DEG - loft_deg, 0.0)
        return turned, turned
    return 1.0 + 0.02 * (loft_deg - 50.0), 1.0


def _through_grass(family: Family, share: Floats, hold: float, *, slides: bool) -> Floats:
    """The factor of the kind of shot from thick rough: a small stroke is no safer there, long grass stops it.

    Nor is an open face that ``slides`` under a ball down in it the harder strike that it is on short grass.
    """
    slow = np.maximum(SLOW_SHARE - share, 0.0) / SLOW_SHARE
    of_family = np.ones_like(share) if slides else np.maximum(_of_family(family, share), 1.0)
    return np.asarray(of_family * (1.0 + hold * GRASS_STOPS * slow))


def _of_family(family: Family, share: Floats) -> Floats:
    """The factor of the kind of shot; that of a running shot goes up to a pitch's as its swing grows to one."""
    factor = np.full_like(share, _BY_FAMILY[family])
    if family not in (Family.CHIP, Family.BUMP_AND_RUN):
        return factor
    growth = np.clip((share - SMALL_SHARE) / (PITCH_SHARE - SMALL_SHARE), 0.0, 1.0)
    return np.asarray(factor + (_BY_FAMILY[Family.PITCH] - factor) * growth)
