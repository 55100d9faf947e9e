"""Reading a putt: for every pace the one line that takes the ball over the middle of the hole.

Line and pace belong together: a firm putt breaks less. So the read is a curve: starting speeds, the line each
needs, and how fast the ball then arrives.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M
from caddie.ball.turf import ROLL_GRAVITY_M_S2, deceleration
from caddie.plan.putt.roll import Floats, roll_back, roll_putts

PASTS_M = np.array([0.06, 0.12, 0.2, 0.3, 0.42, 0.58, 0.8, 1.05, 1.4])
"""Arrivals read, dying to firm: how far past the hole the ball would roll on the level."""
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


def pace_m(speed_m_s: float, past_flat_m: float, stimp_ft: float) -> float:
    """Length of the flat putt that leaves the putter and arrives with the same speeds [m].

    Where the ball gains speed downhill no flat putt does both; it is then a third of what the start rolls.
    """
    rolls_m = speed_m_s**2 / (2 * float(deceleration(stimp_ft)))
    return max(rolls_m - past_flat_m, rolls_m / 3, 0.05)


def read_putt(ground: Ground, pin_m: float, pasts_m: Floats = PASTS_M) -> Read:
    """Solve the line and pace of each arrival on ``ground`` at a hole at ``(pin_m, 0)``.

    A ball is followed backward from the hole with each arrival speed; the direction it came in from is right
    when that way leads through the ball. Arrivals that no start leads to are left out, and where that leaves
    none, as below a slope on which a ball gains speed, faster ones are read.
    """
    resist = float(deceleration(ground.stimp_ft))
    found = _solve(ground, pin_m, pasts_m, resist)
    if not found.speed_m_s.size:
        fall = float(np.hypot(ground.slope, ground.cross_slope).max()) * ROLL_GRAVITY_M_S2 / resist
        faster = pasts_m.max() + pin_m * fall * np.linspace(0.01, 1.5, 40)
        found = _solve(ground, pin_m, faster, resist)
    if not found.speed_m_s.size:
        return _straight(ground, pin_m, resist)
    return found


def _solve(ground: Ground, pin_m: float, pasts_m: Floats, resist: float) -> Read:
    hole, arrival = (pin_m, 0.0), np.sqrt(2 * resist * pasts_m)
    ways = math.pi + SIDEWAYS_RAD * np.linspace(-1.0, 1.0, _WAYS)
    grid, _ = roll_back(ground, arrival[:, None], ways[None, :], hole)
    both = grid.reached[:, :-1] & grid.reached[:, 1:]
    offset = grid.offset_m
    passes = both & (offset[:, :-1] <= 0) & (offset[:, 1:] > 0)
    rows = np.flatnonzero(passes.any(axis=1))
    middle = np.abs(ways[:-1] + ways[1:] - 2 * math.pi)
    first = np.array([np.argmin(np.where(passes[row], middle, np.inf)) for row in rows], dtype=np.int64)
    low, high = ways[first], ways[first + 1]
    off_low, off_high = offset[rows, first], offset[rows, first + 1]
    speed, azimuth, close = np.zeros(rows.size), np.zeros(rows.size), np.zeros(rows.size, bool)
    for round_ in range(_REFINED if rows.size else 0):
        span = np.where(off_high > off_low, off_high - off_low, 1.0)
        # False position, and the middle every third time, so that no end stays for good.
        share = 0.5 if round_ % 3 == 2 else np.clip(-off_low / span, 0.02, 0.98)
        way = low + share * (high - low)
        tried, start = roll_back(ground, arrival[rows], way, hole)
        better = ~close
        speed, azimuth = np.where(better, tried.speed_m_s, speed), np.where(better, start, azimuth)
        close |= tried.reached & (np.abs(tried.offset_m) < _CLOSE_M)
        # An offset that still jumps between close ways is the edge of a crest, not a way over the hole.
        jumps = (round_ >= _PATIENCE) & (off_high - off_low > _JUMP * pin_m)
        if (close | jumps).all():
            break
        left = tried.offset_m > 0
        high, off_high = np.where(left, way, high), np.where(left, tried.offset_m, off_high)
        low, off_low = np.where(left, low, way), np.where(left, off_low, tried.offset_m)
    line = (azimuth + math.pi) % (2 * math.pi) - math.pi
    playable = close & (speed >= _LEAST_SPEED_M_S) & (np.abs(line) < WIDEST_RAD)
    # A way that barely tops a crest is a knife's edge: rolled forward again it misses.
    forward = roll_putts(ground, speed, line, hole)
    playable &= forward.reached & (np.abs(forward.offset_m) < 0.5 * HOLE_RADIUS_M)
    kept = np.flatnonzero(playable)
    return Read(speed[kept], line[kept] + 0.0, pasts_m[rows][kept], resist, pin_m, meets_hole=True)


def _straight(ground: Ground, pin_m: float, resist: float) -> Read:
    """Straight at the hole, softly: where no start leads over its middle."""
    speed = np.array([_LEAST_SPEED_M_S, 1.0, 2.0, 3.0])
    rolled = roll_putts(ground, speed, np.zeros_like(speed), (pin_m, 0.0))
    at = int(np.argmax(rolled.reached)) if rolled.reached.any() else speed.size - 1
    return Read(speed[[at]], np.zeros(1), np.zeros(1), resist, pin_m, meets_hole=False)
