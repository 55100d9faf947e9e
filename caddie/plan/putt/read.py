"""Reading a putt: for every pace the one line that takes the ball over the middle of the hole.

Line and pace belong together: a firm putt breaks less. So the read is a curve: starting speeds, the line each
needs, and how fast the ball then arrives.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats, Ints
from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, Hole
from caddie.ball.track import Passing, roll_back, roll_putts
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.plan.putt.green import PuttGreen

PASTS_M = np.array([0.06, 0.12, 0.2, 0.3, 0.42, 0.58, 0.8, 1.05, 1.4])
"""Arrivals read, dying to firm: how far past the hole the ball would roll on the level."""
PAST_SHAPE_M = np.array([1.8, 2.4, 3.2])
"""And so far where a step lies on the way: it is better to roll past than to stop before it."""
SIDEWAYS_RAD = math.radians(90)
"""A dying ball may come in from the side, but not back down from beyond."""
WIDEST_RAD = math.radians(80)
_WAYS = 61
_REFINED = 14
_CLOSE_M = 1e-4
_PATIENCE, _JUMP = 5, 0.1
_LEAST_SPEED_M_S = 0.35


@dataclass(frozen=True)
class Read:
    """Lines and paces over the middle of the hole, slowest first, every field (k,).

    ``past_flat_m`` is the arrival speed as a length: how far past the ball would roll on the level.
    """

    speed_m_s: Floats
    azimuth_rad: Floats
    past_flat_m: Floats
    resist_m_s2: float
    pin_m: float
    meets_hole: bool
    """False when no line within reach goes over the hole, and the nearest one stands instead."""

    def at(self, past_flat_m: ArrayLike) -> tuple[Floats, Floats]:
        """Starting speed and line [rad] for arrivals; beyond the slowest or the fastest it is that."""
        past = np.asarray(past_flat_m, dtype=np.float64)
        squared = np.interp(past, self.past_flat_m, self.speed_m_s**2)
        return np.sqrt(squared), np.asarray(np.interp(past, self.past_flat_m, self.azimuth_rad))


def pace_m(speed_m_s: float, past_flat_m: float, green: PuttGreen) -> float:
    """Length of the flat putt that leaves the putter and arrives with the same speeds [m].

    Where the ball gains speed downhill no flat putt does both; it is then a third of what the start rolls. Down a
    step it is all that the start rolls: the ball must get to the edge, and is not stopped there.
    """
    rolls_m, past_m = (
        energy / (2 * green.grain * green.resist_m_s2)
        for energy in (speed_m_s**2, 2 * green.resist_m_s2 * past_flat_m)
    )
    return rolls_m if green.gains else max(rolls_m - past_m, rolls_m / 3, 0.05)


def read_putt(ground: Ground, pin_m: float, pasts_m: Floats = PASTS_M) -> Read:
    """Solve the line and pace of each arrival on ``ground`` at a hole at ``(pin_m, 0)``.

    A ball is followed backward from the hole with each arrival speed; the direction it came in from is right
    when that way leads through the ball. Arrivals that no start leads to are left out, and where that leaves
    none, as below a slope on which a ball gains speed, faster ones are read.
    """
    resist = float(deceleration(ground.stimp_ft))
    hole = Hole(pin_m)
    found = _solve(ground, hole, pasts_m, resist)
    if not found.speed_m_s.size:
        fall = float(np.hypot(ground.slope, ground.cross_slope).max()) * ROLL_GRAVITY_M_S2 / resist
        faster = pasts_m.max() + pin_m * fall * np.linspace(0.01, 1.5, 40)
        found = _solve(ground, hole, faster, resist)
    if not found.speed_m_s.size:
        return _straight(ground, hole, resist)
    return found


@dataclass(frozen=True)
class _Bracket:
    """Two ways (k,) out of the hole for each arrival, the origin to the left of the one's ball and to the right
    of the other's; directions in which they run backward [rad], and offsets from the origin [m].
    """

    arrival: Ints
    """Which of the arrivals asked for."""
    right_rad: Floats
    left_rad: Floats
    right_m: Floats
    left_m: Floats

    def between(self, round_: int) -> Floats:
        """A way between: false position, and the middle every third time, so that no end stays for good."""
        span = np.where(self.left_m > self.right_m, self.left_m - self.right_m, 1.0)
        share = 0.5 if round_ % 3 == 2 else np.clip(-self.right_m / span, 0.02, 0.98)
        return np.asarray(self.right_rad + share * (self.left_rad - self.right_rad))

    def narrowed(self, way_rad: Floats, offset_m: Floats) -> "_Bracket":
        """The part of the bracket that holds the way over the origin, after a way between was tried."""
        left = offset_m > 0
        return _Bracket(
            self.arrival,
            np.where(left, self.right_rad, way_rad),
            np.where(left, way_rad, self.left_rad),
            np.where(left, self.right_m, offset_m),
            np.where(left, offset_m, self.left_m),
        )


def _solve(ground: Ground, hole: Hole, pasts_m: Floats, resist: float) -> Read:
    arrival = np.sqrt(2 * resist * pasts_m)
    bracket = _bracket(ground, hole, arrival)
    found = _over_origin(ground, hole, arrival[bracket.arrival], bracket)
    # The ball ran backward: it starts the other way, told within half a turn of the line to the hole.
    line = (found.heading_rad + math.pi + math.pi) % (2 * math.pi) - math.pi
    playable = found.level & (found.speed_m_s >= _LEAST_SPEED_M_S) & (np.abs(line) < WIDEST_RAD)
    # A way that barely tops a crest is a knife's edge: rolled forward again it misses.
    forward = roll_putts(ground, found.speed_m_s, line, hole).passing
    playable &= forward.level & (np.abs(forward.offset_m) < 0.5 * HOLE_RADIUS_M)
    kept = np.flatnonzero(playable)
    pasts_m = pasts_m[bracket.arrival][kept]
    return Read(found.speed_m_s[kept], line[kept] + 0.0, pasts_m, resist, hole.x_m, meets_hole=True)


def _bracket(ground: Ground, hole: Hole, arrival_m_s: Floats) -> _Bracket:
    """Neighbours, of ways tried at even angles, between which each ball passes over the origin.

    Where it does so more than once, the pair nearest the straight line; arrivals that no start leads to are
    left out.
    """
    ways = math.pi + SIDEWAYS_RAD * np.linspace(-1.0, 1.0, _WAYS)
    tried = roll_back(ground, arrival_m_s[:, None], ways[None, :], hole)
    right, left = tried.offset_m[:, :-1], tried.offset_m[:, 1:]
    passes = tried.level[:, :-1] & tried.level[:, 1:] & (right <= 0) & (left > 0)
    arrival = np.flatnonzero(passes.any(axis=1))
    sideways = np.abs(ways[:-1] + ways[1:] - 2 * math.pi)
    first = np.argmin(np.where(passes[arrival], sideways, np.inf), axis=1)
    return _Bracket(arrival, ways[first], ways[first + 1], right[arrival, first], left[arrival, first])


def _over_origin(ground: Ground, hole: Hole, arrival_m_s: Floats, bracket: _Bracket) -> Passing:
    """How the ball that passes over the origin does so, for each bracket; where none is found, not ``level``."""
    found = Passing.blank(arrival_m_s.size)
    for round_ in range(_REFINED if arrival_m_s.size else 0):
        way = bracket.between(round_)
        tried = roll_back(ground, arrival_m_s, way, hole)
        found = found.or_else(tried.within(_CLOSE_M))
        # An offset that still jumps between close ways is the edge of a crest, not a way over the hole.
        jumps = (round_ >= _PATIENCE) & (bracket.left_m - bracket.right_m > _JUMP * hole.x_m)
        if (found.level | jumps).all():
            break
        bracket = bracket.narrowed(way, tried.offset_m)
    return found


def _straight(ground: Ground, hole: Hole, resist: float) -> Read:
    """Straight at the hole, softly: where no start leads over its middle."""
    speed = np.array([_LEAST_SPEED_M_S, 1.0, 2.0, 3.0])
    reached = roll_putts(ground, speed, np.zeros_like(speed), hole).passing.farthest_x_m >= hole.x_m
    at = int(np.argmax(reached)) if reached.any() else speed.size - 1
    return Read(speed[[at]], np.zeros(1), np.zeros(1), resist, hole.x_m, meets_hole=False)
