"""Many putts over strips of a green at once, each plane in exact closed form.

On a plane a rolling ball loses a along its way and is pulled downhill with g' = (5/7) g sin(slope). With phi
the angle between its way and the fall line, dv/dt = g' cos phi - a and v dphi/dt = -g' sin phi, so that
v = C tan(phi/2)^(a/g') / sin phi (the hodograph under friction and a steady pull; standard mechanics).
With e = g'/a, c = cos^2(phi0/2), s = sin^2(phi0/2) and q falling from 1 to 0 that gives (own derivation)

    v = v0 q^(1-e) (c + s q^(2e)),
    X = v0^2 / 2 [c^2 (1 - q^(2-2e)) / (a - g') - s^2 (1 - q^(2+2e)) / (a + g')]    down the fall line,
    Y = 2 v0^2 sqrt(c s) [c (1 - q^(2-e)) / (2a - g') + s (1 - q^(2+e)) / (2a + g')]    across it,

and the ball rests at q = 0 unless e >= 1, when the slope is steeper than it can hold. A level green is e = 0.
:func:`caddie.ball.roll.roll2d` integrates the same motion step by step; this is some thirty times faster.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, captured
from caddie.ball.track import Slopes
from caddie.ball.turf import ABSORBS

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

FARTHEST_M = 60.0
"""A ball that leaves the ball's surroundings by this much is given up."""

_PIECES = 12
_ROUNDS = 6
_NUDGE_M = 1e-7
_LEVEL = 1e-9
_LAST = 1 - 1e-12
_LEAST_POWER = 0.02
_LOOKED_AT = (0.999, 0.995, 0.985, 0.97, 0.945, 0.91, 0.86, 0.8, 0.7)


@dataclass(frozen=True)
class Rolled:
    """What became of putts, every field of the shape rolled.

    ``offset_m`` is how far left of the hole the ball passes (right is negative) and ``speed_m_s`` how fast.
    A ball that stops before it is level with the hole has ``reached`` false; its offset is beside its way.
    """

    x_m: Floats
    y_m: Floats
    holed: Bools
    never_stopped: Bools
    reached: Bools
    offset_m: Floats
    speed_m_s: Floats


@dataclass(frozen=True)
class _Way:
    """Balls (n,) on their planes: start, speed, axes down and across the fall line, terms of X and Y."""

    x: Floats
    y: Floats
    speed: Floats
    down_x: Floats
    down_y: Floats
    across_x: Floats
    across_y: Floats
    steep: Floats
    """e = g' / a of the formulas above."""
    cosine2: Floats
    sine2: Floats
    terms: Floats
    """(4, n): the lengths that multiply 1 - q^(2-2e), 1 - q^(2+2e), 1 - q^(2-e) and 1 - q^(2+e)."""
    rates: Floats
    """(4, n): those powers of q."""
    holds: Bools
    pace: Floats
    """How the share of the way is spread: over the speed lost, or the power of q where the ball speeds up."""

    def take(self, at: Ints) -> "_Way":
        return _Way(*(getattr(self, name)[..., at] for name in self.__dataclass_fields__))

    def power(self, tau: Floats) -> Floats:
        """-ln q for the share ``tau`` (0 to 1) of the way."""
        if self.holds.all():
            return np.asarray(-np.log1p(-np.minimum(tau, _LAST)) / self.pace)
        return np.where(self.holds, -np.log1p(-np.minimum(tau, _LAST)) / self.pace, self.pace * tau**3)

    def share(self, power: Floats) -> Floats:
        """The inverse of :meth:`power`."""
        return np.where(
            self.holds, -np.expm1(-power * self.pace), np.cbrt(np.minimum(power / self.pace, 1.0))
        )

    def at(self, tau: Floats) -> tuple[Floats, Floats]:
        """Place (x, y) after the share ``tau`` of the way."""
        return self._place(self.power(tau))

    def state(self, tau: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Place and velocity (x, y, vx, vy) after the share ``tau`` of the way."""
        lost = self.power(tau)
        turned = np.exp(-2 * lost * self.steep)
        scale = self.speed * np.exp(-lost * (1 - self.steep))
        down = scale * (self.cosine2 - self.sine2 * turned)
        across = scale * 2 * np.sqrt(self.cosine2 * self.sine2 * turned)
        return (
            *self._place(lost),
            down * self.down_x + across * self.across_x,
            down * self.down_y + across * self.across_y,
        )

    def turns(self, down: Floats, across: Floats) -> Floats:
        """The share of the way at which the velocity along an axis turns round, 1 when it never does.

        ``down`` and ``across`` are that axis's parts of the fall line's two directions.
        """
        flip = np.where(down >= 0, 1.0, -1.0)
        half_angle = 0.5 * np.arctan2(np.abs(down), -across * flip)
        start = np.sqrt(self.sine2 / self.cosine2)
        with np.errstate(divide="ignore", invalid="ignore"):
            power = -np.log(np.tan(half_angle) / start) / self.steep
        found = np.isfinite(power) & (power > 0) & (self.steep > 0)
        return np.where(found, self.share(np.where(found, power, 0.0)), 1.0)

    def _place(self, lost: Floats) -> tuple[Floats, Floats]:
        gone = -np.expm1(-lost * self.rates) * self.terms
        down, across = gone[0] - gone[1], gone[2] + gone[3]
        return (
            self.x + down * self.down_x + across * self.across_x,
            self.y + down * self.down_y + across * self.across_y,
        )


def roll_putts(
    ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: tuple[float, float], capture: str = "holmes"
) -> Rolled:
    """Roll balls from the origin to rest or into ``hole``; speeds and azimuths (left positive) broadcast.

    The strips of ``ground`` count; its patches do not stop a ball, and where a side limit ends the green the
    ball is taken to stop in the grass there.

    Raises:
        CaddieError: an unknown capture model.
    """
    speed, azimuth = np.broadcast_arrays(np.asarray(speed_m_s, float), np.asarray(azimuth_rad, float))
    shape, count = speed.shape, speed.size
    vx, vy = (speed * np.cos(azimuth)).ravel(), (speed * np.sin(azimuth)).ravel()
    x, y = np.zeros(count), np.zeros(count)
    slopes = Slopes.of(ground)
    rest = Rolled(
        np.zeros(count),
        np.zeros(count),
        np.zeros(count, bool),
        np.zeros(count, bool),
        np.zeros(count, bool),
        np.zeros(count),
        np.zeros(count),
    )
    active = np.arange(count)
    for piece in range(_PIECES):
        strip = ground.strip_at(x)
        way = _way(ground, slopes, strip, x, y, vx, vy)
        end, kind = _leaves(way, ground, strip, vx, vy)
        fell = _pass_hole(way, end, hole, capture, rest, active)
        new_x, new_y, new_vx, new_vy = way.state(end)
        rest.x_m[active] = np.where(fell, hole[0], new_x)
        rest.y_m[active] = np.where(fell, hole[1], new_y)
        rest.never_stopped[active] = ((kind == _GONE) | (kind == _STAYS) & ~way.holds) & ~fell
        goes = np.flatnonzero((kind == _CROSSES) & ~fell)
        stopped = np.flatnonzero((kind == _STAYS) & ~fell & ~rest.reached[active])
        _note_short(rest, active[stopped], way.take(stopped), end[stopped], hole)
        if not goes.size or piece == _PIECES - 1:
            rest.never_stopped[active[goes]] = True
            break
        active = active[goes]
        vx, vy = new_vx[goes], new_vy[goes]
        x = new_x[goes] + _NUDGE_M * np.sign(vx)
        y = new_y[goes]
    return Rolled(*(getattr(rest, name).reshape(shape) for name in Rolled.__dataclass_fields__))


_STAYS, _CROSSES, _LEAVES, _GONE = 0, 1, 2, 3


def _way(ground: Ground, slopes: Slopes, strip: Ints, x: Floats, y: Floats, vx: Floats, vy: Floats) -> _Way:
    a = slopes.resist_m_s2[strip * ABSORBS.size + ground.surface[strip]]
    pull_x, pull_y = -slopes.along_m_s2[strip], -slopes.across_m_s2[strip]
    g = np.hypot(pull_x, pull_y)
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    # On the level the fall line is taken along the way, so that the ball rolls straight.
    level = g < _LEVEL
    safe = np.where(level, 1.0, g)
    down_x, down_y = np.where(level, vx / speed, pull_x / safe), np.where(level, vy / speed, pull_y / safe)
    g = np.where(level, 0.0, g)
    cosine = np.clip((vx * down_x + vy * down_y) / speed, -1.0, 1.0)
    side = np.where(vy * down_x - vx * down_y >= 0, 1.0, -1.0)
    c, s = np.maximum(0.5 * (1 + cosine), 1e-18), 0.5 * (1 - cosine)
    e = g / a
    squared, bend = speed * speed, np.sqrt(c * s)
    terms = np.array(
        [
            0.5 * squared * c**2 / _apart(a, g),
            0.5 * squared * s**2 / (a + g),
            2 * squared * bend * c / _apart(2 * a, g),
            2 * squared * bend * s / (2 * a + g),
        ]
    )
    holds = g < a
    slowing = np.maximum(1 - e, _LEAST_POWER)
    running = np.minimum(2000.0, 60.0 / np.maximum(2 * e - 2, 0.03))
    return _Way(
        x=x,
        y=y,
        speed=speed,
        down_x=down_x,
        down_y=down_y,
        across_x=-side * down_y,
        across_y=side * down_x,
        steep=e,
        cosine2=c,
        sine2=s,
        terms=terms,
        rates=np.array([2 - 2 * e, 2 + 2 * e, 2 - e, 2 + e]),
        holds=holds,
        pace=np.where(holds, slowing, running),
    )


def _apart(first: Floats, second: Floats) -> Floats:
    """Their difference, kept off zero."""
    return np.where(np.abs(first - second) < 1e-9, 1e-9, first - second)


def _leaves(way: _Way, ground: Ground, strip: Ints, vx: Floats, vy: Floats) -> tuple[Floats, Ints]:
    """Where each ball leaves its strip, as a share of its way, and how."""
    end = np.ones(way.x.size)
    kind = np.full(way.x.size, _STAYS, dtype=np.int64)
    begin_m = np.maximum(ground.begin_m[strip], -FARTHEST_M)
    end_m = np.minimum(ground.end_m[strip], FARTHEST_M)
    left_m = np.minimum(ground.left_m[strip], FARTHEST_M)
    right_m = np.minimum(ground.right_m[strip], FARTHEST_M)
    for axis, low, high, moving, turns in (
        (0, begin_m, end_m, vx, way.turns(way.down_x, way.across_x)),
        (1, -right_m, left_m, vy, way.turns(way.down_y, way.across_y)),
    ):
        turn_at, rest_at = way.at(turns)[axis], way.at(np.ones_like(turns))[axis]
        ahead, behind = np.where(moving >= 0, high, low), np.where(moving >= 0, low, high)
        sign = np.where(moving >= 0, 1.0, -1.0)
        first = sign * (turn_at - ahead) > 0
        second = ~first & (sign * (behind - rest_at) > 0) & (turns < 1)
        crosses = np.flatnonzero(first | second)
        if not crosses.size:
            continue
        part = way.take(crosses)
        line = np.where(first, ahead, behind)[crosses]
        outward = np.where(first, sign, -sign)[crosses]
        start = np.where(first, 0.0, turns)[crosses]
        stop = np.where(first, turns, 1.0)[crosses]

        def beyond(
            tau: Floats, part: _Way = part, line: Floats = line, out: Floats = outward, axis: int = axis
        ) -> Floats:
            return out * (part.at(tau)[axis] - line)

        at = _root(beyond, start, stop)
        sooner = at < end[crosses]
        end[crosses[sooner]] = at[sooner]
        inside = np.abs(line) < FARTHEST_M - 1e-9
        how = np.where(inside, _CROSSES if axis == 0 else _LEAVES, _GONE)
        kind[crosses[sooner]] = how[sooner]
    return end, kind


def _pass_hole(
    way: _Way, end: Floats, hole: tuple[float, float], capture: str, rest: Rolled, active: Ints
) -> Bools:
    """Note how balls pass the hole on this piece of their way; returns which fall in."""
    fell = np.zeros(end.size, bool)

    def past(part: _Way) -> Callable[[Floats], Floats]:
        def along(tau: Floats) -> Floats:
            x, y, vx, vy = part.state(tau)
            return np.asarray(((x - hole[0]) * vx + (y - hole[1]) * vy) / np.maximum(np.hypot(vx, vy), 1e-15))

        return along

    along = past(way)
    nears = (along(np.zeros_like(end)) < 0) & ~rest.reached[active]
    last = _first_past(way, past, np.minimum(end, 1 - 1e-6), nears)
    passes = np.flatnonzero(nears & (along(last) >= 0))
    if passes.size:
        part = way.take(passes)
        at = _root(past(part), np.zeros(passes.size), last[passes])
        x, y, vx, vy = part.state(at)
        speed = np.maximum(np.hypot(vx, vy), 1e-12)
        offset = ((y - hole[1]) * vx - (x - hole[0]) * vy) / speed
        rest.reached[active[passes]] = True
        rest.offset_m[active[passes]] = offset
        rest.speed_m_s[active[passes]] = speed
        fell[passes] = captured(speed, offset, capture)
    x, y = way.at(end)
    fell |= (end >= 1) & way.holds & (np.hypot(x - hole[0], y - hole[1]) < HOLE_RADIUS_M)
    rest.holed[active[fell]] = True
    return fell


def _first_past(
    way: _Way, past: Callable[[_Way], Callable[[Floats], Floats]], end: Floats, nears: Bools
) -> Floats:
    """A share of the way by which each ball that passes has passed: a dying one may creep back again."""
    last = end.copy()
    doubtful = np.flatnonzero(nears & (way.steep > 0) & (past(way)(end) < 0))
    if doubtful.size:
        part = way.take(doubtful)
        along = past(part)
        for share in _LOOKED_AT:
            tau = end[doubtful] * share
            last[doubtful] = np.where(along(tau) >= 0, tau, last[doubtful])
    return last


def _note_short(rest: Rolled, where: Ints, way: _Way, end: Floats, hole: tuple[float, float]) -> None:
    """How far beside the way the hole lies of balls that stopped before it."""
    x, y = way.at(end)
    _, _, vx, vy = way.state(np.minimum(end, 1 - 1e-4))
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    rest.offset_m[where] = ((y - hole[1]) * vx - (x - hole[0]) * vy) / speed


def _root(function: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Where ``function`` rises through zero between two bounds, by Ridders' method."""
    at_low, at_high = function(low), function(high)
    found = high
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        at_middle = function(middle)
        scale = np.sqrt(np.maximum(at_middle**2 - at_low * at_high, 1e-300))
        found = np.clip(middle - (middle - low) * at_middle / scale, low, high)
        at_found = function(found)
        first, last = np.minimum(middle, found), np.maximum(middle, found)
        at_first = np.where(middle <= found, at_middle, at_found)
        at_last = np.where(middle <= found, at_found, at_middle)
        low = np.where(at_last <= 0, last, np.where(at_first <= 0, first, low))
        at_low = np.where(at_last <= 0, at_last, np.where(at_first <= 0, at_first, at_low))
        high = np.where(at_first > 0, first, np.where(at_last > 0, last, high))
        at_high = np.where(at_first > 0, at_first, np.where(at_last > 0, at_last, at_high))
    return found
