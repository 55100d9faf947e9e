"""Balls rolled out over a ground, leg by leg (:mod:`caddie.ball.leg`): to rest, into a hole, past it, or back.

The one rolling solver: chips and pitches roll out of their last bounce here, putts roll from the putter, and
the read of a putt follows balls back in time from the hole to the putter.
"""

from dataclasses import dataclass, replace

import numpy as np

from caddie.arrays import Bools, Floats, Ints
from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, Hole, captured
from caddie.ball.leg import NUDGE_M, Balls, Leg, Slopes, leg_of
from caddie.ball.plane import Way

_LEGS = 48
_CREEP_M_S = 0.3
_HOLE_BAND_M = 0.1
_LOOKED_AT = (1.0, 0.998, 0.993, 0.985, 0.97, 0.945, 0.91, 0.85, 0.75)
"""Shares of the speed that a ball loses until it turns round."""
_HARDLY_LATER = 1.0 + 1e-6
"""A leg may end where the ball turns round along the line of play: it then still turns round on that leg."""
_AT_REST, _AS_IT_RESTS = 1e-6, 1e-4
"""Shares of its speed that a ball has left when nothing more happens, and when its last direction is told."""


@dataclass(frozen=True)
class Rolled:
    """What became of balls, every field of the shape rolled."""

    x_m: Floats
    y_m: Floats
    surface: Ints
    holed: Bools
    never_stopped: Bools

    @staticmethod
    def blank(count: int) -> "Rolled":
        """Room for ``count`` balls."""
        x, y = np.zeros((2, count))
        holed, never = np.zeros((2, count), dtype=bool)
        return Rolled(x, y, np.zeros(count, dtype=np.int64), holed, never)

    def note(self, number: Ints, leg: Leg) -> None:
        """Write down the balls that go no farther than this leg, by their numbers."""
        over = np.flatnonzero(leg.stops)
        where = number[over]
        self.x_m[where], self.y_m[where] = leg.end_x[over], leg.end_y[over]
        self.surface[where], self.never_stopped[where] = leg.surface[over], leg.endless[over]

    def shaped(self, shape: tuple[int, ...]) -> "Rolled":
        """The same balls in another ``shape``."""
        return Rolled(*(getattr(self, name).reshape(shape) for name in Rolled.__dataclass_fields__))


@dataclass(frozen=True)
class Passing:
    """How balls pass a point, every field of the shape rolled.

    A ball that stops before it is level with the point has ``level`` false; its offset is beside its way.
    """

    level: Bools
    """Whether the point was ever square to its way. On a slope a dying ball turns down it, so that one which stops well
    short may be level in its last millimetre: ``farthest_x_m`` says how far it got."""
    offset_m: Floats
    """How far left of the point, seen along its way there; right is negative."""
    speed_m_s: Floats
    heading_rad: Floats
    """Its direction there, left positive."""
    farthest_x_m: Floats
    """The farthest it ever got along the line of play."""

    @staticmethod
    def blank(count: int) -> "Passing":
        """Room for ``count`` balls."""
        return Passing(np.zeros(count, dtype=bool), *np.zeros((4, count)))

    def note(self, number: Ints, crossing: "_Crossing") -> None:
        """Write down the balls that are level with the point on a leg, by the numbers of the leg's balls."""
        where = number[crossing.at]
        self.level[where], self.offset_m[where] = True, crossing.offset_m
        self.speed_m_s[where], self.heading_rad[where] = crossing.speed_m_s, crossing.heading_rad

    def within(self, near_m: float) -> "Passing":
        """The same, ``level`` only for those that pass this close."""
        return replace(self, level=self.level & (np.abs(self.offset_m) < near_m))

    def or_else(self, other: "Passing") -> "Passing":
        """These where they were level with the point, the ``other`` balls where not."""
        return Passing(
            self.level | other.level,
            np.where(self.level, self.offset_m, other.offset_m),
            np.where(self.level, self.speed_m_s, other.speed_m_s),
            np.where(self.level, self.heading_rad, other.heading_rad),
            np.where(self.level, self.farthest_x_m, other.farthest_x_m),
        )

    def shaped(self, shape: tuple[int, ...]) -> "Passing":
        """The same balls in another ``shape``."""
        return Passing(*(getattr(self, name).reshape(shape) for name in Passing.__dataclass_fields__))


@dataclass(frozen=True)
class RolledPutts:
    """What became of putts, and how they passed the hole."""

    end: Rolled
    passing: Passing


@dataclass(frozen=True)
class _Crossing:
    """The balls that are level with a point on a leg: which of the leg's, and how they pass."""

    at: Ints
    offset_m: Floats
    speed_m_s: Floats
    heading_rad: Floats


def roll_out(ground: Ground, slopes: Slopes, balls: Balls, hole: Hole | None = None) -> Rolled:
    """Roll balls (n,) to rest, or into the hole.

    Raises:
        CaddieError: an unknown capture model.
    """
    return _roll(ground, slopes, balls, hole, None)


def roll_putts(ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: Hole) -> RolledPutts:
    """Roll putts from the origin to rest or into ``hole``; speeds and azimuths (left positive) broadcast.

    Raises:
        CaddieError: an unknown capture model.
    """
    speed, azimuth = np.broadcast_arrays(np.asarray(speed_m_s, float), np.asarray(azimuth_rad, float))
    passing = Passing.blank(speed.size)
    rolled = _roll(ground, Slopes.of(ground), _started(0.0, 0.0, speed, azimuth), hole, passing)
    return RolledPutts(rolled.shaped(speed.shape), passing.shaped(speed.shape))


def roll_back(ground: Ground, speed_m_s: Floats, azimuth_rad: Floats, hole: Hole) -> Passing:
    """How balls that arrive over the hole's middle passed the origin, followed back in time from the hole.

    ``azimuth_rad`` is the direction in which they run backward, and so is the ``heading_rad`` told; speeds and
    azimuths broadcast.
    """
    speed, azimuth = np.broadcast_arrays(np.asarray(speed_m_s, float), np.asarray(azimuth_rad, float))
    balls = _started(hole.x_m, hole.y_m, speed, azimuth)
    slopes, passing = Slopes.of(ground), Passing.blank(speed.size)
    for _ in range(_LEGS):
        leg = leg_of(ground, slopes, balls, backward=True)
        crossing = _level_with(leg, np.arange(balls.number.size), 0.0, 0.0)
        passing.note(balls.number, crossing)
        leg.stops[crossing.at] = True
        balls = leg.onward(balls)
        if not balls.number.size:
            break
    return passing.shaped(speed.shape)


def _started(x_m: float, y_m: float, speed_m_s: Floats, azimuth_rad: Floats) -> Balls:
    start = np.repeat([[x_m], [y_m]], speed_m_s.size, axis=1)
    direction = np.array([np.cos(azimuth_rad).ravel(), np.sin(azimuth_rad).ravel()])
    return Balls.of(start, speed_m_s.ravel() * direction)


def _roll(ground: Ground, slopes: Slopes, balls: Balls, hole: Hole | None, passing: Passing | None) -> Rolled:
    """Roll to rest or into the hole; ``passing``, where given, is told how every ball passes the hole."""
    rolled = Rolled.blank(balls.number.size)
    for _ in range(_LEGS):
        leg = leg_of(ground, slopes, balls)
        if hole is not None:
            _at_hole(leg, balls.number, hole, rolled, passing)
        rolled.note(balls.number, leg)
        balls = leg.onward(balls)
        if not balls.number.size:
            return rolled
    rolled.x_m[balls.number], rolled.y_m[balls.number] = balls.x, balls.y
    rolled.surface[balls.number] = ground.surface_at(balls.x, balls.y)
    rolled.never_stopped[balls.number] = np.hypot(balls.vx, balls.vy) > _CREEP_M_S
    return rolled


def _at_hole(leg: Leg, number: Ints, hole: Hole, rolled: Rolled, passing: Passing | None) -> None:
    """Let balls fall that meet the hole on this leg, or come to rest over it; their leg ends there."""
    to_x, to_y = hole.x_m - leg.way.x, hole.y_m - leg.way.y
    if passing is None:
        crossing = _level_with(leg, _near(leg, to_x, to_y), hole.x_m, hole.y_m)
    else:
        crossing = _level_with(leg, np.flatnonzero(~passing.level[number]), hole.x_m, hole.y_m)
        passing.note(number, crossing)
        passing.farthest_x_m[number] = np.maximum(passing.farthest_x_m[number], leg.farthest_x())
        short = np.flatnonzero(leg.stops & ~passing.level[number])
        passing.offset_m[number[short]] = _beside(leg, short, to_x[short], to_y[short])
    fell = leg.stops & (np.hypot(leg.moved_x - to_x, leg.moved_y - to_y) < HOLE_RADIUS_M)
    fell[crossing.at] |= captured(crossing.speed_m_s, crossing.offset_m, hole.capture)
    at = np.flatnonzero(fell)
    rolled.holed[number[at]] = True
    leg.moved_x[at], leg.moved_y[at] = to_x[at], to_y[at]
    leg.stops[at], leg.endless[at] = True, False


def _near(leg: Leg, to_x: Floats, to_y: Floats) -> Ints:
    """The balls of a leg whose way may lead over a point so far (x, y) from its start."""
    off = to_y * leg.dx - to_x * leg.dy
    # The way bends to one side of its first direction only, between that line and its end.
    bend = leg.moved_y * leg.dx - leg.moved_x * leg.dy
    near = (off > np.minimum(bend, 0.0) - _HOLE_BAND_M) & (off < np.maximum(bend, 0.0) + _HOLE_BAND_M)
    return np.flatnonzero(near)


def _level_with(leg: Leg, who: Ints, x_m: float, y_m: float) -> _Crossing:
    """Which of the balls ``who`` become level with a point on a leg: the point is then square to their way."""
    who = who[
        ((x_m - leg.way.x[who]) * leg.dx[who] + (y_m - leg.way.y[who]) * leg.dy[who] > 0.0) & ~leg.stuck[who]
    ]
    way = leg.way.take(who)
    to_x, to_y = x_m - way.x, y_m - way.y
    last = _past_by(way, leg.last(who, _AT_REST), to_x, to_y)
    passes = np.flatnonzero(np.isfinite(last))
    if passes.size < who.size:
        way, who, last, to_x, to_y = way.take(passes), who[passes], last[passes], to_x[passes], to_y[passes]
    there = way.spot(way.level_with(to_x, to_y, last))
    return _Crossing(who, there.left_of(to_x, to_y), there.speed(), np.arctan2(there.vy, there.vx))


def _past_by(way: Way, last: Floats, to_x: Floats, to_y: Floats) -> Floats:
    """``lost`` by which each ball is past a point so far (x, y) from its start, infinite where it never is.

    One that turns round beyond the point may come back before ``last``: it is looked for before that.
    """
    # A leg ends a nudge beyond its line.
    past = way.spot(last).past(to_x, to_y) >= -NUDGE_M
    found = np.where(past, last, np.inf)
    size = np.maximum(np.hypot(to_x, to_y), 1e-12)
    ahead_x, ahead_y = to_x / size, to_y / size
    turns = way.turns(
        ahead_x * way.down_x + ahead_y * way.down_y, ahead_y * way.down_x - ahead_x * way.down_y
    )
    doubtful = np.flatnonzero(np.isfinite(turns) & (turns > 0.0) & (turns < _HARDLY_LATER * last))
    if doubtful.size:
        part, turn, off_x, off_y = way.take(doubtful), turns[doubtful], to_x[doubtful], to_y[doubtful]
        for share in _LOOKED_AT:
            lost = part.share_of(turn, share)
            earlier = part.spot(lost).past(off_x, off_y) >= 0.0
            found[doubtful] = np.where(earlier, lost, found[doubtful])
    return found


def _beside(leg: Leg, who: Ints, to_x: Floats, to_y: Floats) -> Floats:
    """How far left of a point, so far (x, y) from their start, the balls ``who`` run as they come to rest."""
    there = leg.way.take(who).spot(np.where(leg.stuck[who], 0.0, leg.last(who, _AS_IT_RESTS)))
    return there.left_of(to_x, to_y)
