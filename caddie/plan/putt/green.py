"""The green under a putt, from what was said of it; clues that disagree are settled here, and said to be."""

import math
from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.ball.ground import Ground
from caddie.ball.turf import deceleration, steepest_hold
from caddie.plan.assume import GRAIN, SLOWEST_FT, WET_STIMP
from caddie.plan.putt.wind import blown, unsteadiness
from caddie.plan.scene import lay_out
from caddie.plan.shapes import HEIGHT_M
from caddie.situation import Fall, HazardKind, Side, Situation
from caddie.units import FOOT_M

NEAREST_PUTT_M = 0.5 * FOOT_M
LONGEST_PUTT_M = 150 * FOOT_M
STEP_M = 0.2
"""A step so high changes how a putt is paced (common practice, no source)."""
DOWN_A_STEP = 0.8
"""Share of a misread step that counts where the ball comes down it, or gets its climb back: it is struck to die over
the edge, which is seen (common practice, no source)."""
LEVEL_RISE = 0.004
"""A rise from ball to hole smaller than this share of the length says nothing about uphill or downhill."""

_AXIS = {Fall.TOWARD: "along", Fall.AWAY: "along", Fall.LEFT_TO_RIGHT: "across", Fall.RIGHT_TO_LEFT: "across"}
_WORDS = {
    Fall.TOWARD: "uphill",
    Fall.AWAY: "downhill",
    Fall.LEFT_TO_RIGHT: "left to right",
    Fall.RIGHT_TO_LEFT: "right to left",
}


@dataclass(frozen=True)
class PuttGreen:
    """The ground from the ball (origin) to the hole at ``(pin_m, 0)`` and beyond.

    ``along`` and ``across`` are the slope at the hole: rise toward +x and toward the player's left.
    """

    ground: Ground
    pin_m: float
    along: float
    across: float
    grain: float = 1.0
    """What the grain makes of the green's speed; flat putts are counted without it."""
    unsteady: float = 1.0
    """How many times as large the errors of the stroke are."""

    @property
    def stimp_ft(self) -> float:
        """Green speed [ft]."""
        return self.ground.stimp_ft

    @property
    def resist_m_s2(self) -> float:
        """What a ball loses a second on the level [m/s^2]."""
        return float(deceleration(self.ground.stimp_ft))

    @property
    def judged_m(self) -> float:
        """Height on the way that must be judged by eye [m]: a climb whole, what falls or is given back in part."""
        climb_m, fall_m = self.steps_ahead_m(np.zeros(1))
        given_back_m = np.minimum(climb_m, fall_m)
        return float((climb_m - given_back_m + DOWN_A_STEP * fall_m).sum())

    @property
    def gains(self) -> bool:
        """Whether a step on the way comes down, so that no flat putt both starts and arrives like this one."""
        climb_m, fall_m = self.steps_ahead_m(np.zeros(1))
        return bool((fall_m > climb_m + STEP_M).any())

    def steps_ahead_m(self, x_m: Floats) -> tuple[Floats, Floats]:
        """Height that is climbed and height that is fallen from there to the hole, beside its own slope [m]."""
        edges = np.append(np.clip(self.ground.start_m, 0.0, self.pin_m), self.pin_m)
        steps = (self.ground.slope - self.along) * np.diff(edges)
        ways = (np.concatenate([[0.0], np.cumsum(np.maximum(way, 0.0))]) for way in (steps, -steps))
        climb_m, fall_m = (way[-1] - np.interp(x_m, edges, way) for way in ways)
        return np.asarray(climb_m), np.asarray(fall_m)

    @property
    def holds(self) -> bool:
        """Whether a ball can stop beside the hole."""
        return self.steepness < float(steepest_hold(self.ground.stimp_ft))

    @property
    def steepness(self) -> float:
        """Slope down the fall line at the hole."""
        return math.hypot(self.along, self.across)


def green_of(situation: Situation, bag: Bag) -> PuttGreen:
    """The green of a completed situation, leaning as the wind pushes; a wet one is slower than it was said to be."""
    assert situation.pin_m is not None and situation.green.stimp_ft is not None
    settled = settle_clues(situation)
    if settled.wet:
        settled = with_green(settled, stimp_ft=max(situation.green.stimp_ft * WET_STIMP, SLOWEST_FT))
    ground = blown(lay_out(settled, bag).ground, situation)
    along, across = ground.slope_at(situation.pin_m)
    grain = GRAIN[settled.green.grain] if settled.green.grain else 1.0
    return PuttGreen(ground, situation.pin_m, float(along), float(across), grain, unsteadiness(situation))


def usual_heights(situation: Situation) -> dict[str, float]:
    """What is taken for the height of a ridge, a tier or a swale on the way, by the field that was not said."""
    return {
        f"hazards.{hazard.kind.value}.height_m": HEIGHT_M[hazard.kind]
        for hazard in situation.hazards
        if hazard.kind in HEIGHT_M and not hazard.height_m
    }


def with_green(situation: Situation, **changes: object) -> Situation:
    """The situation with fields of its green changed."""
    return situation.model_copy(update={"green": situation.green.model_copy(update=changes)})


def settle_clues(situation: Situation) -> Situation:
    """One fall for each axis: the fall said first wins; a height difference counts when no fall says it.

    A tier of which neither up nor down was said goes down where the putt does.
    """
    situation = _tier_settled(situation)
    green = situation.green
    if green.fall and green.side_fall and _AXIS[green.fall] == _AXIS[green.side_fall]:
        situation = with_green(situation, side_fall=None, side_slope=None)
    rise = _rise(situation)
    if "along" in falls(situation) or abs(rise) < LEVEL_RISE:
        return situation
    climbs = Fall.TOWARD if rise > 0 else Fall.AWAY
    if situation.green.fall is None:
        return with_green(situation, fall=climbs, fall_slope=min(abs(rise), 0.4))
    return with_green(situation, side_fall=climbs, side_slope=min(abs(rise), 0.4))


def _tier_settled(situation: Situation) -> Situation:
    if not any(hazard.kind is HazardKind.TIER and hazard.side is None for hazard in situation.hazards):
        return situation
    along = falls(situation).get("along")
    side = Side.LONG if along is not None and along[0] is Fall.AWAY else Side.SHORT
    hazards = tuple(
        hazard.model_copy(update={"side": side})
        if hazard.kind is HazardKind.TIER and hazard.side is None
        else hazard
        for hazard in situation.hazards
    )
    return situation.model_copy(update={"hazards": hazards})


def disagreement(situation: Situation) -> str | None:
    """What the clues contradict each other in and which one is trusted, as a sentence, or None.

    >>> from caddie.situation import Green
    >>> disagreement(Situation(green=Green(fall=Fall.TOWARD, side_fall=Fall.AWAY)))
    'You said both uphill and downhill: I trust uphill, which came first.'
    """
    green = situation.green
    if green.fall and green.side_fall and _AXIS[green.fall] == _AXIS[green.side_fall]:
        if green.fall is not green.side_fall:
            first, second = _WORDS[green.fall], _WORDS[green.side_fall]
            return f"You said both {first} and {second}: I trust {first}, which came first."
        steep, other = green.fall_slope, green.side_slope
        if steep is not None and other is not None and abs(steep - other) > 0.25 * max(steep, other):
            return f"You gave two slopes {_WORDS[green.fall]}: I trust the first, {steep:.0%}."
    said = falls(situation).get("along")
    rise = _rise(situation)
    if said and abs(rise) >= LEVEL_RISE and (rise > 0) != (said[0] is Fall.TOWARD):
        height = "above" if rise > 0 else "below"
        words = _WORDS[said[0]]
        return (
            f"You said {words}, yet the hole lies {height} the ball: I trust {words}, the slope at the hole."
        )
    return None


def falls(situation: Situation) -> dict[str, tuple[Fall, float]]:
    """The falls said, by axis: ``along`` (toward, away) and ``across``, each with its slope."""
    found: dict[str, tuple[Fall, float]] = {}
    green = situation.green
    for fall, slope in ((green.side_fall, green.side_slope), (green.fall, green.fall_slope)):
        if fall is not None:
            found[_AXIS[fall]] = (fall, slope or 0.0)
    return found


def fall_words(fall: Fall) -> str:
    """How a fall is said on the green.

    >>> fall_words(Fall.AWAY)
    'downhill'
    """
    return _WORDS[fall]


def _rise(situation: Situation) -> float:
    """Height of the hole over the ball, as a share of the length."""
    if not situation.elevation_m or not situation.pin_m:
        return 0.0
    return situation.elevation_m / situation.pin_m
