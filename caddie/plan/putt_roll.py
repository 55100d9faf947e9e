"""Many putts over strips of a green at once, each plane in exact closed form.

On a plane a rolling ball loses a along its way and is pulled downhill with g' = (5/7) g sin(slope). With phi the
angle between its way and the fall line, dv/dt = g' cos phi - a and v dphi/dt = -g' sin phi, so that
v = C tan(phi/2)^(a/g') / sin phi (the hodograph of a sliding body; standard mechanics). With e = g'/a,
c = cos^2(phi0/2), s = sin^2(phi0/2) and a parameter q that falls from 1 to 0 this gives (own derivation)

    v = v0 q^(1-e) (c + s q^(2e)),
    X = v0^2 / 2 [c^2 (1 - q^(2-2e)) / (a - g') - s^2 (1 - q^(2+2e)) / (a + g')]            down the fall line,
    Y = 2 v0^2 sqrt(c s) [c (1 - q^(2-e)) / (2a - g') + s (1 - q^(2+e)) / (2a + g')]         across it,

and the ball rests at q = 0 unless e >= 1, when the slope is steeper than it can hold. A level green is e = 0.
:func:`caddie.ball.roll.roll2d` integrates the same motion step by step; this is some hundred times faster.
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
_BISECTIONS = 16
_NUDGE_M = 1e-7
_LEVEL = 1e-9
_LAST = 1 - 1e-12
_LEAST_POWER = 0.02
_LOOKED_AT = (0.999, 0.995, 0.985, 0.97, 0.945, 0.91, 0.86, 0.8, 0.7)


@dataclass(frozen=True)
class Rolled:
    """What became of putts, every field of the shape rolled.

    ``offset_m`` is how far left of the hole the ball passes (right is negative) and ``speed_m_s`` how fast; a ball
    that stops before it is level with the hole has ``reached`` false, and ``short_m`` is then what was left to roll
    toward the hole.
    """

    x_m: Floats
    y_m: Floats
    holed: Bools
    never_stopped: Bools
    reached: Bools
    offset_m: Floats
    speed_m_s: Floats
    short_m: Floats


@dataclass(frozen=True)
class _Way:
    """Balls (n,) on their planes: start, speed, axes down and across the fall line, and the numbers above."""

    x: Floats
    y: Floats
    squared: Floats
    down_x: Floats
    down_y: Floats
    across_x: Floats
    across_y: Floats
    resist: Floats
    pull: Floats
    cosine2: Floats
    sine2: Floats
    holds: Bools

    def take(self, at: Ints) -> "_Way":
        return _Way(*(getattr(self, name)[at] for name in self.__dataclass_fields__))

    def power(self, tau: Floats) -> Floats:
        """-ln q for the share ``tau`` (0 to 1) of the way, about the share of the speed that is lost."""
        steep = self.pull / self.resist
        slowing = np.maximum(1 - steep, _LEAST_POWER)
        running = np.minimum(2000.0, 60.0 / np.maximum(2 * steep - 2, 0.03))
        return np.where(self.holds, -np.log1p(-np.minimum(tau, _LAST)) / slowing, running * tau**3)

    def share(self, power: Floats) -> Floats:
        """The inverse of :meth:`power`."""
        steep = self.pull / self.resist
        slowing = np.maximum(1 - steep, _LEAST_POWER)
        running = np.minimum(2000.0, 60.0 / np.maximum(2 * steep - 2, 0.03))
        return np.where(self.holds, -np.expm1(-power * slowing), np.cbrt(np.minimum(power / running, 1.0)))

    def at(self, tau: Floats) -> tuple[Floats, Floats]:
        """Place (x, y) after the share ``tau`` of the way."""
        lost = self.power(tau)
        a, g = self.resist, self.pull
        e = g / a
        level = np.where(np.abs(a - g) < 1e-9, 1e-9, a - g)
        half = np.where(np.abs(2 * a - g) < 1e-9, 1e-9, 2 * a - g)
        down = 0.5 * (
            self.cosine2**2 * -np.expm1(-lost * (2 - 2 * e)) / level
            - self.sine2**2 * -np.expm1(-lost * (2 + 2 * e)) / (a + g)
        )
        across = (
            2
            * np.sqrt(self.cosine2 * self.sine2)
            * (
                self.cosine2 * -np.expm1(-lost * (2 - e)) / half
                + self.sine2 * -np.expm1(-lost * (2 + e)) / (2 * a + g)
            )
        )
        down, across = self.squared * down, self.squared * across
        return (
            self.x + down * self.down_x + across * self.across_x,
            self.y + down * self.down_y + across * self.across_y,
        )

    def velocity(self, tau: Floats) -> tuple[Floats, Floats]:
        """Velocity (x, y) after the share ``tau`` of the way."""
        lost = self.power(tau)
        e = self.pull / self.resist
        turned = np.exp(-2 * lost * e)
        scale = np.sqrt(self.squared) * np.exp(-lost * (1 - e))
        down = scale * (self.cosine2 - self.sine2 * turned)
        across = scale * 2 * np.sqrt(self.cosine2 * self.sine2 * turned)
        return (
            down * self.down_x + across * self.across_x,
            down * self.down_y + across * self.across_y,
        )

    def turns(self, down: Floats, across: Floats) -> Floats:
        """The share of the way at which the velocity along an axis turns round, 1 when it never does.

        ``down`` and ``across`` are that axis's parts of the fall line's two directions.
        """
        flip = np.where(down >= 0, 1.0, -1.0)
        half_angle = 0.5 * np.arctan2(np.abs(down), -across * flip)
        start = np.sqrt(self.sine2 / np.maximum(self.cosine2, 1e-300))
        with np.errstate(divide="ignore", invalid="ignore"):
            power = -np.log(np.tan(half_angle) / start) * self.resist / self.pull
        found = np.isfinite(power) & (power > 0) & (self.pull > _LEVEL)
        return np.where(found, self.share(np.where(found, power, 0.0)), 1.0)


def roll_putts(
    ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: tuple[float, float], capture: str = "holmes"
) -> Rolled:
    """Roll balls from the origin to rest or into ``hole``; speeds and azimuths (left positive) broadcast.

    The strips of ``ground`` count; its patches do not stop a ball, and where a side limit ends the green the ball
    is taken to stop in the grass there.

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
        np.zeros(count),
    )
    active = np.arange(count)
    for piece in range(_PIECES):
        strip = ground.strip_at(x)
        way = _way(ground, slopes, strip, x, y, vx, vy)
        end, kind = _leaves(way, ground, strip, vx, vy)
        fell = _pass_hole(way, end, hole, capture, rest, active)
        new_x, new_y = way.at(end)
        new_vx, new_vy = way.velocity(end)
        rest.x_m[active] = np.where(fell, hole[0], new_x)
        rest.y_m[active] = np.where(fell, hole[1], new_y)
        rest.never_stopped[active] = ((kind == _GONE) | (kind == _STAYS) & ~way.holds) & ~fell
        goes = np.flatnonzero((kind == _CROSSES) & ~fell)
        stopped = np.flatnonzero((kind == _STAYS) & ~fell & ~rest.reached[active])
        _count_short(rest, active[stopped], way.take(stopped), end[stopped], hole)
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
    resist = slopes.resist_m_s2[strip * ABSORBS.size + ground.surface[strip]]
    pull_x, pull_y = -slopes.along_m_s2[strip], -slopes.across_m_s2[strip]
    pull = np.hypot(pull_x, pull_y)
    squared = vx * vx + vy * vy
    speed = np.maximum(np.sqrt(squared), 1e-12)
    # On the level the fall line is taken along the way, so that the ball rolls straight.
    level = pull < _LEVEL
    safe = np.where(level, 1.0, pull)
    down_x, down_y = np.where(level, vx / speed, pull_x / safe), np.where(level, vy / speed, pull_y / safe)
    pull = np.where(level, 0.0, pull)
    cosine = np.clip((vx * down_x + vy * down_y) / speed, -1.0, 1.0)
    side = np.where(vy * down_x - vx * down_y >= 0, 1.0, -1.0)
    sine2 = 0.5 * (1 - cosine)
    cosine2 = np.maximum(0.5 * (1 + cosine), 1e-18)
    return _Way(
        x,
        y,
        squared,
        down_x,
        down_y,
        -side * down_y,
        side * down_x,
        resist,
        pull,
        cosine2,
        sine2,
        pull < resist,
    )


def _leaves(way: _Way, ground: Ground, strip: Ints, vx: Floats, vy: Floats) -> tuple[Floats, Ints]:
    """Where each ball leaves its strip, as a share of its way, and how: it stays, crosses a border or a side."""
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
            (x, y), (vx, vy) = part.at(tau), part.velocity(tau)
            return (x - hole[0]) * vx + (y - hole[1]) * vy

        return along

    along = past(way)
    nears = (along(np.zeros_like(end)) < 0) & ~rest.reached[active]
    last = _first_past(way, past, np.minimum(end, 1 - 1e-6), nears)
    passes = np.flatnonzero(nears & (along(last) >= 0))
    if passes.size:
        part = way.take(passes)
        at = _root(past(part), np.zeros(passes.size), last[passes])
        (x, y), (vx, vy) = part.at(at), part.velocity(at)
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
    """A share of the way by which each ball that passes has passed: a dying one may creep back to the hole's level."""
    last = end.copy()
    doubtful = np.flatnonzero(nears & (way.pull > _LEVEL) & (past(way)(end) < 0))
    if doubtful.size:
        part = way.take(doubtful)
        along = past(part)
        for share in _LOOKED_AT:
            tau = end[doubtful] * share
            last[doubtful] = np.where(along(tau) >= 0, tau, last[doubtful])
    return last


def _count_short(rest: Rolled, where: Ints, way: _Way, end: Floats, hole: tuple[float, float]) -> None:
    """How far off the hole lies, along and beside the way, of balls that stopped before it."""
    x, y = way.at(end)
    vx, vy = way.velocity(np.minimum(end, 1 - 1e-4))
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    rest.offset_m[where] = ((y - hole[1]) * vx - (x - hole[0]) * vy) / speed
    rest.short_m[where] = np.maximum(((hole[0] - x) * vx + (hole[1] - y) * vy) / speed, 0.0)


def _root(function: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Where an increasing ``function`` crosses zero between two bounds, by bisection and two false positions."""
    low, high = low.copy(), high.copy()
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        after = function(middle) > 0
        high = np.where(after, middle, high)
        low = np.where(after, low, middle)
    at_low, at_high = function(low), function(high)
    span = np.where(at_high > at_low, at_high - at_low, 1.0)
    share = np.clip(-at_low / span, 0.0, 1.0)
    return np.where(at_high > at_low, low + share * (high - low), high)
