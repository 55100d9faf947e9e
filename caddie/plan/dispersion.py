"""How this player's shots scatter: distance, direction, and the heavy and thin strikes among them.

The player's own measured spread counts by its number of balls; the rest comes from a prior that grows,
as a share of the distance, the shorter the shot. The shape is heavy-tailed, because normal
distributions do not fit mishits (S. Ko, PhD thesis, Columbia, 2012).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.bag import Family, Miss, Player, StrikeCount
from caddie.situation import Lie, Sitting, Situation, Stance

Floats = NDArray[np.float64]

TAIL_DF = 5
"""Degrees of freedom of the Student t that the strikes follow."""
PRIOR_SHOTS = 10.0
"""Balls that the prior spread counts for."""
STRIKE_PRIOR_SHOTS = 60.0
"""Shots that the prior heavy and thin rates count for."""

SPREAD_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 1.0,
    Lie.LIGHT_ROUGH: 1.5,
    Lie.HEAVY_ROUGH: 2.0,
    Lie.BARE: 1.15,
    Lie.DIVOT: 1.4,
    Lie.BUNKER: 1.8,
    Lie.PLUGGED: 2.6,
    Lie.PINE_STRAW: 1.35,
    Lie.GREEN: 1.0,
}
"""Light rough and sand against a clean lie: 12.8 % and 15.8 % of the distance against 7.8 %
(Cochran & Stobbs 1968, quoted in a secondary text); the others are graded between (common practice)."""

_HEAVY_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 0.9,
    Lie.LIGHT_ROUGH: 1.2,
    Lie.HEAVY_ROUGH: 1.9,
    Lie.BARE: 1.5,
    Lie.DIVOT: 1.8,
    Lie.BUNKER: 2.2,
    Lie.PLUGGED: 4.0,
    Lie.PINE_STRAW: 1.6,
    Lie.GREEN: 0.5,
}
_THIN_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 0.9,
    Lie.LIGHT_ROUGH: 0.8,
    Lie.HEAVY_ROUGH: 1.0,
    Lie.BARE: 2.2,
    Lie.DIVOT: 2.0,
    Lie.BUNKER: 1.8,
    Lie.PLUGGED: 1.2,
    Lie.PINE_STRAW: 1.5,
    Lie.GREEN: 0.5,
}
GRASS_BITE_M_S = {Lie.LIGHT_ROUGH: 0.9, Lie.HEAVY_ROUGH: 1.6, Lie.PINE_STRAW: 0.5}
"""Spread of the speed that grass takes out of a swing, the same for a slow one as for a fast one: so a small
soft stroke from rough is the least certain, and a longer swing with an open face gets through it
(common practice, no source)."""
GRASS_STALL = 3.0
"""How much likelier a heavy strike gets in that grass as the swing shrinks to nothing."""
STALL_BELOW_SHARE = 0.4
CLEAN_FROM_SAND = 3.5
"""A ball picked clean from sand is hit heavy or thin so much more often than one splashed out."""
_BY_FAMILY = {
    Family.PUTT: 0.0,
    Family.CHIP: 0.7,
    Family.BUMP_AND_RUN: 0.6,
    Family.PITCH: 1.0,
    Family.LOB: 1.4,
    Family.SPLASH: 1.0,
}
"""Chances of a heavy or thin strike relative to a pitch from the fairway (common practice, no source)."""


@dataclass(frozen=True)
class Draws:
    """Random numbers shared by all candidates, one per ball (shape ``(n,)``)."""

    distance: Floats
    direction: Floats
    strike: Floats
    """Uniform on 0..1: which kind of strike it is."""
    quality: Floats
    """Uniform on 0..1: how bad a mishit is."""
    kick: Floats
    """Standard normal: how the ground kicks the ball on landing."""

    def first(self, n: int) -> "Draws":
        """The first ``n`` balls."""
        return Draws(**{name: value[:n] for name, value in vars(self).items()})


def draw(n: int, seed: int) -> Draws:
    """Draw ``n`` balls in antithetic pairs, so that small samples are already centred.

    ``distance`` and ``direction`` follow a Student t scaled to unit variance.
    """
    rng = np.random.default_rng(seed)
    half = (n + 1) // 2
    scale = np.sqrt((TAIL_DF - 2) / TAIL_DF)

    def paired_t() -> Floats:
        z = rng.standard_t(TAIL_DF, half) * scale
        return np.concatenate([z, -z])[:n]

    distance = paired_t()
    direction = rng.permutation(paired_t())
    stratified = (rng.permutation(n) + rng.random(n)) / n
    return Draws(distance, direction, stratified, rng.random(n), rng.standard_normal(n))


def prior_spread(carry_m: Floats, handicap: float) -> tuple[Floats, Floats]:
    """Spread of carry and of direction [m] of a player of this handicap from a clean lie.

    About 6 % of an 85 m carry and 16 % of an 8 m one for a scratch player, growing with the handicap: the
    share grows as the shot shortens, as measured for elite amateurs (19 % of 45 m, 8.4 % of 85 m with the
    misjudged distance in it; Open Sports Sci. J. 14, 86, 2021). The pattern is 1.5 times as long as wide
    (M. Broadie, golfers who shoot 90).
    """
    skill = 1.0 + 0.035 * max(handicap + 5.0, 0.0)
    length = skill * (0.7 + 0.038 * np.asarray(carry_m, dtype=np.float64))
    return length, length / 1.5


def pooled_spread(measured_m: Floats, prior_m: Floats, shots: Floats) -> Floats:
    """Spread shrunk toward the prior by the number of balls behind the measurement.

    Posterior mean of the variance with a prior worth ``PRIOR_SHOTS`` balls (inverse-gamma conjugate).
    """
    return np.sqrt((shots * measured_m**2 + PRIOR_SHOTS * prior_m**2) / (shots + PRIOR_SHOTS))


def lie_spread(situation: Situation) -> float:
    """How much wider the pattern gets from this lie and stance."""
    factor = SPREAD_BY_LIE[situation.lie or Lie.FAIRWAY]
    if situation.sitting is Sitting.DOWN:
        factor *= 1.3
    elif situation.sitting is Sitting.UP:
        factor *= 0.9
    return factor * (1.0 + 0.12 * len(situation.stance))


def bitten(length_sd_m: Floats, carry_m: Floats, swing_speed_m_s: Floats, lie: Lie) -> Floats:
    """Spread of carry [m] with what the grass takes added: carry goes with the square of the speed."""
    bite = GRASS_BITE_M_S.get(lie, 0.0)
    return np.hypot(length_sd_m, 2.0 * carry_m * bite / np.maximum(swing_speed_m_s, 1.0))


def strike_rates(
    player: Player,
    situation: Situation,
    family: Family,
    loft_deg: float,
    share: float,
    seen: StrikeCount | None,
) -> tuple[float, float]:
    """Chances of a heavy and of a thin strike.

    A Beta prior by handicap, lie, loft, family and swing share, worth ``STRIKE_PRIOR_SHOTS`` shots, updated
    by the player's own count. A usual miss of that kind makes it half as likely again.
    """
    lie = situation.lie or Lie.FAIRWAY
    base = 0.012 + 0.0022 * max(player.handicap + 5.0, 0.0)
    loft = 1.0 + 0.02 * (loft_deg - 50.0)
    if family is Family.LOB:
        # The less loft a club has, the more its face must be laid open to lob with it.
        loft = 1.2 + 0.03 * (60.0 - loft_deg)
    slope = 1.25 if Stance.DOWNHILL in situation.stance else 1.0
    down = 1.25 if situation.sitting is Sitting.DOWN else 1.0
    common = base * _BY_FAMILY[family] * max(loft, 0.5) * down
    heavy = common * _HEAVY_BY_LIE[lie]
    thin = common * _THIN_BY_LIE[lie] * slope
    if lie in GRASS_BITE_M_S:
        heavy *= 1.0 + GRASS_STALL * max(1.0 - share / STALL_BELOW_SHARE, 0.0)
    if lie is Lie.BUNKER and family is not Family.SPLASH:
        heavy, thin = CLEAN_FROM_SAND * heavy, CLEAN_FROM_SAND * thin
    if {Miss.HEAVY, Miss.QUIT} & set(player.usual_misses):
        heavy *= 1.5
    if {Miss.THIN, Miss.QUIT} & set(player.usual_misses):
        thin *= 1.5
    if seen and seen.shots:
        weight = STRIKE_PRIOR_SHOTS + seen.shots
        heavy = (heavy * STRIKE_PRIOR_SHOTS + seen.heavy) / weight
        thin = (thin * STRIKE_PRIOR_SHOTS + seen.thin) / weight
    return min(heavy, 0.45), min(thin, 0.45)


def aim_bias(player: Player, spread_m: Floats) -> Floats:
    """Mean miss to the left [m] from the usual misses: a third of the spread."""
    lean = (Miss.LEFT in player.usual_misses) - (Miss.RIGHT in player.usual_misses)
    return lean * spread_m / 3.0


def length_bias(player: Player, spread_m: Floats) -> Floats:
    """Mean miss long [m] on the course from the usual misses: a third of the spread."""
    lean = (Miss.LONG in player.usual_misses) - (Miss.SHORT in player.usual_misses)
    return lean * spread_m / 3.0
