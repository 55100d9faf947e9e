"""How this player's shots scatter: distance, direction, and the heavy and thin strikes among them.

The player's own measured spread counts by its number of balls; the rest comes from a prior that grows,
as a share of the distance, the shorter the shot. The shape is heavy-tailed, because normal
distributions do not fit mishits (S. Ko, PhD thesis, Columbia, 2012).
"""

from dataclasses import dataclass
from random import Random
from statistics import NormalDist

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Miss, Player
from caddie.bag.amateurs import amateurs
from caddie.bag.curve import SAND_SPREAD, skill_factor
from caddie.plan.hampered import spread_factor
from caddie.situation import Against, Lie, Sand, Sitting, Situation, Steepness

TAIL_DF = 5
"""Degrees of freedom of the Student t that the strikes follow."""
PHI = 1.1127756842787055
"""The root of phi^6 = phi + 1."""
BITE_HANDICAP = 14.0
PATTERN_PRIOR_SHOTS = 10.0
"""Balls that the prior spread counts for."""
COURSE_PRIOR_SHOTS = 20.0
"""Shots on the course that what the course adds by handicap counts for."""

STANCE_SPREAD: dict[Steepness | None, float] = {Steepness.SLIGHT: 0.06, None: 0.12, Steepness.SEVERE: 0.45}
"""What each slope of the stance adds to the pattern, by how steep it was said to be (common practice, no source)."""
MUD_SPREAD = 0.025
"""How far a ball with mud on it goes astray sideways, as a share of its carry: nobody knows how much it turns (common
practice, no source)."""
THIN_SAND_SPREAD = 1.4
"""Off hardly any sand the ball is clipped as off a bare lie, and less surely (common practice, no source)."""
WATER_SPREAD = 1.5
"""How far a ball goes that is splashed out of water nobody knows: beside a plugged one's (common practice, no
source)."""
FLYER_SPREAD = 1.25
"""Nobody knows how far a flyer flies (common practice, no source)."""

SPREAD_BY_LIE = {
    Lie.FAIRWAY: 1.0,
    Lie.FRINGE: 1.0,
    Lie.FIRST_CUT: 1.2,
    Lie.LIGHT_ROUGH: 1.5,
    Lie.HEAVY_ROUGH: 2.0,
    Lie.BARE: 1.15,
    Lie.DIVOT: 1.4,
    Lie.BUNKER: SAND_SPREAD,
    Lie.PLUGGED: 2.6,
    Lie.PINE_STRAW: 1.35,
    Lie.GREEN: 1.0,
}
"""Light rough and sand against a clean lie: 12.8 % and 15.8 % of the distance against 7.8 %
(Cochran & Stobbs 1968, quoted in a secondary text); the others are graded between (common practice)."""

GRASS_BITE_M_S = {Lie.FIRST_CUT: 0.35, Lie.LIGHT_ROUGH: 0.9, Lie.HEAVY_ROUGH: 1.6, Lie.PINE_STRAW: 0.5}
"""Spread of the speed that grass takes out of a swing, the same for a slow one as for a fast one: so a small
soft stroke from rough is the least certain, and a longer swing with an open face gets through it
(common practice, no source)."""


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
    """Draw ``n`` balls, spread evenly over every kind of chance so that few of them go far.

    Points of the additive recurrence with the powers of 1/phi, phi^6 = phi + 1 (M. Roberts, "The unreasonable
    effectiveness of quasirandom sequences", 2018), turned by a random start. ``distance`` and ``direction``
    follow a Student t scaled to unit variance.
    """
    chance = Random(seed)
    start = np.array([chance.random() for _ in range(5)])
    point = (start + np.arange(1, n + 1)[:, None] * PHI ** -np.arange(1.0, 6.0)) % 1.0
    return Draws(
        distance=student_quantile(point[:, 0]),
        direction=student_quantile(point[:, 1]),
        strike=point[:, 2],
        quality=point[:, 3],
        kick=normal_quantile(point[:, 4]),
    )


def student_chance(deviate: Floats) -> Floats:
    """Chance of a strike below ``deviate`` standard deviations (any shape).

    The closed form of Student's t with 5 degrees of freedom, scaled to unit variance.
    """
    t = np.asarray(deviate) * np.sqrt(TAIL_DF / (TAIL_DF - 2.0))
    shrink = 1.0 / (1.0 + t * t / TAIL_DF)
    tail = t / np.sqrt(TAIL_DF) * shrink * (1.0 + 2.0 / 3.0 * shrink)
    return np.asarray(0.5 + (np.arctan(t / np.sqrt(TAIL_DF)) + tail) / np.pi)


def student_quantile(chance: Floats) -> Floats:
    """Inverse of :func:`student_chance`, between the chances of 1 in 10,000 and its complement."""
    return np.asarray(np.interp(chance, *_STUDENT))


def normal_quantile(chance: Floats) -> Floats:
    """Standard normal deviate below which a share ``chance`` of the balls lies."""
    return np.asarray(np.interp(chance, *_NORMAL))


def pooled_spread(measured_m: Floats, prior_m: Floats, shots: Floats) -> Floats:
    """Spread shrunk toward the prior by the number of balls behind the measurement.

    Posterior mean of the variance with a prior worth ``PATTERN_PRIOR_SHOTS`` balls (inverse-gamma conjugate).
    """
    return np.sqrt((shots * measured_m**2 + PATTERN_PRIOR_SHOTS * prior_m**2) / (shots + PATTERN_PRIOR_SHOTS))


def lie_spread(situation: Situation) -> float:
    """How much wider the pattern gets from this lie and stance."""
    factor = SPREAD_BY_LIE[situation.lie or Lie.FAIRWAY]
    if situation.lie is Lie.BUNKER and situation.sand is Sand.THIN:
        factor = THIN_SAND_SPREAD
    if situation.sitting is Sitting.DOWN:
        factor *= 1.3
    elif situation.sitting is Sitting.UP:
        factor *= 0.9
    if situation.flyer:
        factor *= FLYER_SPREAD
    if situation.against is Against.WATER:
        factor *= WATER_SPREAD
    factor *= spread_factor(situation)
    return factor * (1.0 + STANCE_SPREAD[situation.steepness] * len(situation.stance))


def muddied(side_sd_m: Floats, carry_m: Floats, situation: Situation) -> Floats:
    """The spread sideways of a ball that may have mud on it."""
    return np.hypot(side_sd_m, MUD_SPREAD * carry_m) if situation.mud_on_ball else side_sd_m


def course_share(course_shots: Floats) -> Floats:
    """Share of what the course adds that is not yet in a spread taught by so many shots on the course."""
    return COURSE_PRIOR_SHOTS / (COURSE_PRIOR_SHOTS + course_shots)


def on_course(
    length_sd_m: Floats, side_sd_m: Floats, carry_m: Floats, flag_m: float, handicap: float, share: Floats
) -> tuple[Floats, Floats]:
    """Spread of carry and direction [m] with what the course adds: distance misjudged, aim astray.

    The landing spot is chosen by the flag, so a distance misjudged moves it by a share of the flag's distance,
    however far short of it a running shot lands. ``share`` of it (:func:`course_share`): shots on the course teach
    the player's own spread as it is there, and take the place of what is expected of the handicap.
    """
    adds, some = amateurs(), np.sqrt(share)
    return (
        np.hypot(length_sd_m, some * adds.misjudged.at(handicap) * flag_m),
        np.hypot(side_sd_m, some * adds.astray.at(handicap) * carry_m),
    )


def bitten(
    length_sd_m: Floats, carry_m: Floats, swing_speed_m_s: Floats, lie: Lie, handicap: float
) -> Floats:
    """Spread of carry [m] with what the grass takes added: carry goes with the square of the speed.

    The stated bite is that of handicap 14; it grows with the player's pattern.
    """
    bite = GRASS_BITE_M_S.get(lie, 0.0) * skill_factor(handicap) / skill_factor(BITE_HANDICAP)
    return np.hypot(length_sd_m, 2.0 * carry_m * bite / np.maximum(swing_speed_m_s, 1.0))


def aim_bias(player: Player, spread_m: Floats) -> Floats:
    """Mean miss to the left [m] from the usual misses: a third of the spread."""
    lean = (Miss.LEFT in player.usual_misses) - (Miss.RIGHT in player.usual_misses)
    return lean * spread_m / 3.0


def length_bias(player: Player, spread_m: Floats) -> Floats:
    """Mean miss long [m] on the course from the usual misses: a third of the spread."""
    lean = (Miss.LONG in player.usual_misses) - (Miss.SHORT in player.usual_misses)
    return lean * spread_m / 3.0


_CHANCES = np.linspace(0.0, 1.0, 1025)[1:-1]
_NORMAL = (_CHANCES, np.array([NormalDist().inv_cdf(chance) for chance in _CHANCES]))
_DEVIATES = np.linspace(-9.0, 9.0, 3601)
_STUDENT = (student_chance(_DEVIATES), _DEVIATES)
