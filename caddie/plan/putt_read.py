"""Reading a putt: for every pace the one line that takes the ball over the middle of the hole.

Line and pace belong together: a firm putt breaks less. So the read is a curve: starting speeds, the line each
needs, and how fast the ball then arrives.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from caddie.ball.ground import Ground
from caddie.ball.track import Slopes
from caddie.ball.turf import ABSORBS, deceleration
from caddie.plan.putt_roll import Bools, Floats, Ints, roll_putts

MOST_PAST_M = 2.6
"""The firmest pace thought of would roll so far past on the level: the hole takes nothing faster."""
WIDEST_RAD = math.radians(75)
_PACES = 26
_LINES = 25
_FINE = 48
_REFINED = 7
_CLOSE_M = 2e-4
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


def read_putt(ground: Ground, pin_m: float, quick: bool = False) -> Read:
    """Solve every pace's line on ``ground`` to a hole at ``(pin_m, 0)``; ``quick`` is coarser."""
    resist = float(deceleration(ground.stimp_ft))
    least = max(_least_squared(ground, pin_m), _LEAST_SPEED_M_S**2)
    share = np.linspace(0.0, 1.0, _PACES // 2 if quick else _PACES) ** 2
    squared = least * 1.0001 + 1e-4 + 2 * resist * (MOST_PAST_M + 0.35 * pin_m) * share
    speed = np.sqrt(squared)
    window = _window(ground, pin_m, least)
    lines = window * np.linspace(-1.0, 1.0, _LINES // 2 if quick else _LINES)
    grid = roll_putts(ground, speed[:, None], lines[None, :], (pin_m, 0.0))
    good = grid.reached[:, :-1] & grid.reached[:, 1:]
    meets = good & (grid.offset_m[:, :-1] <= 0) & (grid.offset_m[:, 1:] > 0)
    if not meets.any():
        return _nearest(grid.offset_m, grid.reached, speed, lines, resist, pin_m)
    rows = np.flatnonzero(meets.any(axis=1))
    middle = np.abs(lines[:-1] + lines[1:])
    first = np.array([np.flatnonzero(meets[row])[np.argmin(middle[meets[row]])] for row in rows])
    off_low, off_high = grid.offset_m[rows, first], grid.offset_m[rows, first + 1]
    line = lines[first] - off_low * (lines[first + 1] - lines[first]) / (off_high - off_low)
    found = _refined(ground, pin_m, squared, rows, line, _FINE // 2 if quick else _FINE)
    if not found[0].size:
        # Straight up a slope that cannot hold a ball every line is a knife's edge: keep the rough ones.
        found = speed[rows], line, grid.speed_m_s[rows, first]
    past = np.maximum.accumulate(found[2] ** 2 / (2 * resist))
    return Read(found[0], found[1], past, resist, pin_m, meets_hole=True)


def _refined(
    ground: Ground, pin_m: float, squared: Floats, rows: Ints, line: Floats, fine: int
) -> tuple[Floats, Floats, Floats]:
    """Speeds, lines and arrival speeds on a finer scale, each line by secants from the rough one."""
    softest = squared[max(int(rows[0]) - 1, 0)]
    speed = np.sqrt(softest + (squared[rows[-1]] - softest) * np.linspace(0.0, 1.0, fine) ** 2)
    now = np.interp(speed**2, squared[rows], line)
    before = now * 1.02 + 1e-3
    off_before = roll_putts(ground, speed, before, (pin_m, 0.0)).offset_m
    for _ in range(_REFINED):
        tried = roll_putts(ground, speed, now, (pin_m, 0.0))
        rate = (tried.offset_m - off_before) / np.where(now == before, 1.0, now - before)
        rate = np.where(np.abs(rate) > 0.05 * pin_m, rate, pin_m)
        if np.abs(tried.offset_m[tried.reached]).max(initial=0.0) < _CLOSE_M:
            break
        before, off_before = now, tried.offset_m
        now = np.clip(now - np.clip(tried.offset_m / rate, -0.1, 0.1), -WIDEST_RAD, WIDEST_RAD)
    kept = np.flatnonzero(tried.reached & (np.abs(tried.offset_m) < 0.01))
    return speed[kept], now[kept], tried.speed_m_s[kept]


def _nearest(
    offset_m: Floats, reached: Bools, speed: Floats, lines: Floats, resist: float, pin_m: float
) -> Read:
    row, column = np.unravel_index(
        int(np.argmin(np.where(reached, np.abs(offset_m), np.inf))), offset_m.shape
    )
    return Read(speed[[row]], lines[[column]], np.array([0.0]), resist, pin_m, meets_hole=False)


def _least_squared(ground: Ground, pin_m: float) -> float:
    """The squared speed that just carries a ball straight to the hole, over every crest on the way."""
    inside = ground.start_m[(ground.start_m > 0) & (ground.start_m < pin_m)]
    marks = np.concatenate([[0.0], inside, [pin_m]])
    strip = ground.strip_at(0.5 * (marks[1:] + marks[:-1]))
    slopes = Slopes.of(ground)
    loss = slopes.resist_m_s2[strip * ABSORBS.size + ground.surface[strip]] + slopes.along_m_s2[strip]
    return float(2 * np.cumsum(loss * np.diff(marks)).max())


def _window(ground: Ground, pin_m: float, least: float) -> float:
    """How far either side of the hole [rad] a line is looked for: well beyond what the pull calls for."""
    across = float(np.abs(Slopes.of(ground).across_m_s2[ground.strip_at(np.linspace(0, pin_m, 9))]).max())
    # A ball that takes t to arrive is pulled aside by across t^2 / 2, and a dying one takes twice L / v0.
    time_s = 2 * pin_m / math.sqrt(least)
    return min(math.atan(1.2 * across * time_s**2 / 2 / pin_m) + math.radians(2), WIDEST_RAD)
