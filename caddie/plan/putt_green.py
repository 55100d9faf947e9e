"""The green under a putt, from what was said of it."""

import math
from dataclasses import dataclass

from caddie.bag import Bag
from caddie.ball.ground import Ground
from caddie.plan.scene import lay_out
from caddie.situation import Fall, Situation
from caddie.units import FOOT_M

NEAREST_PUTT_M = 0.5 * FOOT_M
FARTHEST_PUTT_M = 150 * FOOT_M
WET_STIMP = 0.9
"""Wet grass rolls a tenth shorter (common practice, no source)."""
SLOWEST_FT = 3.0


@dataclass(frozen=True)
class PuttGreen:
    """The ground from the ball (origin) to the hole at ``(pin_m, 0)`` and beyond.

    ``along`` and ``across`` are the slope at the hole: rise toward +x and toward the player's left.
    """

    ground: Ground
    pin_m: float
    along: float
    across: float

    @property
    def stimp_ft(self) -> float:
        """Green speed [ft]."""
        return self.ground.stimp_ft

    @property
    def steepness(self) -> float:
        """Slope down the fall line at the hole."""
        return math.hypot(self.along, self.across)


def green_of(situation: Situation, bag: Bag) -> PuttGreen:
    """The green of a completed situation, a wet one slower than it was said to be dry."""
    assert situation.pin_m is not None and situation.green.stimp_ft is not None
    if situation.wet:
        slower = max(situation.green.stimp_ft * WET_STIMP, SLOWEST_FT)
        green = situation.green.model_copy(update={"stimp_ft": slower})
        situation = situation.model_copy(update={"green": green})
    ground = lay_out(situation, bag).ground
    along, across = ground.slope_at(situation.pin_m)
    return PuttGreen(ground, situation.pin_m, float(along), float(across))


def with_green(situation: Situation, **changes: object) -> Situation:
    """The situation with fields of its green changed."""
    return situation.model_copy(update={"green": situation.green.model_copy(update=changes)})


def falls(situation: Situation) -> dict[str, tuple[Fall, float]]:
    """The falls said, by axis: ``along`` (toward, away) and ``across``, each with its slope."""
    found: dict[str, tuple[Fall, float]] = {}
    green = situation.green
    for fall, slope in ((green.side_fall, green.side_slope), (green.fall, green.fall_slope)):
        if fall is not None:
            axis = "along" if fall in (Fall.TOWARD, Fall.AWAY) else "across"
            found[axis] = (fall, slope or 0.0)
    return found
