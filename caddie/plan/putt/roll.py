"""Many putts over the strips of a green at once, from plane to plane (:mod:`caddie.plan.putt.plane`).

:func:`caddie.ball.roll.roll2d` integrates the same motion step by step; this is some thirty times faster.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, captured
from caddie.ball.track import Slopes
from caddie.plan.putt.plane import Bools, Floats, Ints, Way, way_of

__all__ = ["Bools", "Floats", "Ints", "Rolled", "roll_back", "roll_putts"]

FARTHEST_M = 60.0
"""A ball that leaves the ball's surroundings by this much is given up."""

_PIECES = 12
_ROUNDS = 6
_NUDGE_M = 1e-7
_LOOKED_AT = (1.0, 0.998, 0.993, 0.985, 0.97, 0.945, 0.91, 0.85, 0.75)


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
    heading_rad: Floats
    """Direction in which the ball passes the hole, left positive."""


def roll_putts(
    ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: tuple[float, float], capture: str = "holmes"
) -> Rolled:
    """Roll balls from the origin to rest or into ``hole``; speeds and azimuths (left positive) broadcast.

    The strips of ``ground`` count; its patches do not stop a ball, and where a side limit ends the green the
    ball is taken to stop in the grass there.

    Raises:
        CaddieError: an unknown capture model.
    """
    return _roll(ground, speed_m_s, azimuth_rad, (0.0, 0.0), hole, capture)


def roll_back(
    ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: tuple[float, float]
) -> tuple[Rolled, Floats]:
    """Where balls that arrive over the hole's middle came from: they roll backward in time from it.

    ``azimuth_rad`` is the direction in which they run backward. ``reached`` and ``offset_m`` tell how each
    way passes the origin, ``speed_m_s`` how fast; also returns the azimuth (forward) at which it does.
    """
    rolled = _roll(ground, speed_m_s, azimuth_rad, hole, (0.0, 0.0), None)
    return rolled, rolled.heading_rad + np.pi


def _roll(
    ground: Ground,
    speed_m_s: Floats,
    azimuth_rad: Floats,
    start: tuple[float, float],
    hole: tuple[float, float],
    capture: str | None,
) -> Rolled:
    """Roll to the hole, or backward to the point ``hole`` when there is no capture model."""
    speed, azimuth = np.broadcast_arrays(np.asarray(speed_m_s, float), np.asarray(azimuth_rad, float))
    shape, count = speed.shape, speed.size
    vx, vy = (speed * np.cos(azimuth)).ravel(), (speed * np.sin(azimuth)).ravel()
    x, y = np.full(count, start[0]), np.full(count, start[1])
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
        way = way_of(ground, slopes, strip, x, y, vx, vy, backward=capture is None)
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


def _leaves(way: Way, ground: Ground, strip: Ints, vx: Floats, vy: Floats) -> tuple[Floats, Ints]:
    """Where each ball leaves its strip, as a share of its way, and how."""
    end = np.ones(way.x.size)
    kind = np.full(way.x.size, _STAYS, dtype=np.int64)
    begin_m = np.maximum(ground.begin_m[strip], -FARTHEST_M)
    end_m = np.minimum(ground.end_m[strip], FARTHEST_M)
    left_m = np.minimum(ground.left_m[strip], FARTHEST_M)
    right_m = np.minimum(ground.right_m[strip], FARTHEST_M)
    for axis, low, high, moving, turns in (
        (0, begin_m, end_m, vx, way.turns(1.0, 0.0)),
        (1, -right_m, left_m, vy, way.turns(0.0, 1.0)),
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
            tau: Floats, part: Way = part, line: Floats = line, out: Floats = outward, axis: int = axis
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
    way: Way, end: Floats, hole: tuple[float, float], capture: str | None, rest: Rolled, active: Ints
) -> Bools:
    """Note how balls pass the hole on this piece of their way; returns which fall in."""
    fell = np.zeros(end.size, bool)

    def past(part: Way) -> Callable[[Floats], Floats]:
        def along(tau: Floats) -> Floats:
            x, y, vx, vy = part.state(tau)
            return np.asarray(((x - hole[0]) * vx + (y - hole[1]) * vy) / np.maximum(np.hypot(vx, vy), 1e-15))

        return along

    along = past(way)
    nears = (along(np.zeros_like(end)) < 0) & ~rest.reached[active]
    last = _first_past(way, past, np.minimum(end, 1 - 1e-6), nears, hole)
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
        rest.heading_rad[active[passes]] = np.arctan2(vy, vx)
        if capture is not None:
            fell[passes] = captured(speed, offset, capture)
    if capture is None:
        return fell
    x, y = way.at(end)
    fell |= (end >= 1) & way.holds & (np.hypot(x - hole[0], y - hole[1]) < HOLE_RADIUS_M)
    rest.holed[active[fell]] = True
    return fell


def _first_past(
    way: Way,
    past: Callable[[Way], Callable[[Floats], Floats]],
    end: Floats,
    nears: Bools,
    hole: tuple[float, float],
) -> Floats:
    """A share of the way by which each ball that passes has passed: a dying one may come back again.

    It is looked for before the ball turns round along the line to the hole.
    """
    last = end.copy()
    to_x, to_y = hole[0] - way.x, hole[1] - way.y
    size = np.maximum(np.hypot(to_x, to_y), 1e-12)
    turns = way.turns(to_x / size, to_y / size)
    doubtful = np.flatnonzero(nears & (turns < end))
    if doubtful.size:
        along = past(way.take(doubtful))
        for share in _LOOKED_AT:
            tau = turns[doubtful] * share
            last[doubtful] = np.where(along(tau) >= 0, tau, last[doubtful])
    return last


def _note_short(rest: Rolled, where: Ints, way: Way, end: Floats, hole: tuple[float, float]) -> None:
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
