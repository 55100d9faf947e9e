"""Balls rolling over strips, one leg each: from where it is to the next border, side limit or patch edge.

On a leg the ball is on one plane and one surface, where its way is known exactly (:mod:`caddie.ball.plane`).
Which line ends the leg is told by the chord from its start to where it would end on that plane; where the way
meets the line is then solved for. What a chord is known to get wrong: past a corner of a patch it may take
another line first than the way itself does.
"""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Bools, Floats, Ints
from caddie.ball.ground import Ground, Patch
from caddie.ball.plane import Way, holds, way_of
from caddie.ball.turf import ABSORBS, ROLL_GRAVITY_M_S2, rolling_m_s2

NEVER_M = 200.0
"""A ball that would roll farther than this on one leg is reported as never stopping."""

NUDGE_M = 1e-6
_STILL_M_S = 0.02
_TURN_RATE = 1e-9


@dataclass(frozen=True)
class Slopes:
    """Pull and resistance tables of a ground, ready for rolling."""

    along_m_s2: Floats
    across_m_s2: Floats
    funnel_m_s2: Floats
    resist_m_s2: Floats
    """(k, surfaces) flattened."""

    @staticmethod
    def of(ground: Ground) -> "Slopes":
        """Level components: pull and resistance act along the surface, resistance by the load on it."""
        steep = np.abs(ground.cross_slope) + np.abs(ground.funnel)
        cosine = 1.0 / np.sqrt(1.0 + ground.slope**2 + steep**2)
        pull = ROLL_GRAVITY_M_S2 * cosine**2
        resist = cosine[:, np.newaxis] ** 2 * rolling_m_s2(ground)
        return Slopes(ground.slope * pull, ground.cross_slope * pull, ground.funnel * pull, resist.ravel())


@dataclass(frozen=True)
class Balls:
    """Balls that still roll, each (n,): which of those that started, where, and their level velocity."""

    number: Ints
    x: Floats
    y: Floats
    vx: Floats
    vy: Floats

    @staticmethod
    def of(position: Floats, velocity: Floats) -> "Balls":
        """Balls at ``position`` with ``velocity``, (2, n) both."""
        return Balls(np.arange(position.shape[1]), *position, *velocity)


@dataclass
class Leg:
    """One leg of every ball (n,); the way it goes is set when the line that ends it is found.

    A ball that rests, is absorbed or will never stop goes no farther: ``stops``.
    """

    way: Way
    strip: Ints
    surface: Ints
    stuck: Bools
    dx: Floats
    dy: Floats
    """Direction at its start."""
    moved_x: Floats
    moved_y: Floats
    """How far it goes."""
    lost: Floats
    """Of its way (:mod:`caddie.ball.plane`) at its end: infinite at rest."""
    stops: Bools
    endless: Bools

    @property
    def end_x(self) -> Floats:
        """Where each ball is at the end."""
        return self.way.x + self.moved_x

    @property
    def end_y(self) -> Floats:
        """Where each ball is at the end."""
        return self.way.y + self.moved_y

    def farthest_x(self) -> Floats:
        """The farthest that each ball gets along the line of play: one that is pulled back turns on its way."""
        farthest = np.maximum(self.way.x, self.end_x)
        back = np.flatnonzero((self.dx > 0.0) & (self.way.down_x < 0.0) & ~self.stuck)
        part = self.way.take(back)
        turn = part.turns(part.down_x, -part.down_y)
        turns = np.flatnonzero(np.isfinite(turn) & (turn > 0.0) & (turn < self.lost[back]))
        at, moved_x = back[turns], part.take(turns).moved(turn[turns])[0]
        farthest[at] = np.maximum(farthest[at], self.way.x[at] + moved_x)
        return farthest

    def last(self, who: Ints, left: float) -> Floats:
        """``lost`` of the balls ``who`` at the end of the leg, or when only that share of the speed is left."""
        return np.minimum(self.lost[who], self.way.take(who).almost_rest(left))

    def onward(self, balls: Balls) -> Balls:
        """The balls that go on, at the start of their next leg."""
        goes = np.flatnonzero(~self.stops)
        vx, vy = self.way.take(goes).velocity(self.lost[goes])
        return Balls(balls.number[goes], self.end_x[goes], self.end_y[goes], vx, vy)


def leg_of(ground: Ground, slopes: Slopes, balls: Balls, backward: bool = False) -> Leg:
    """The leg that each ball is on; ``backward`` follows the balls back in time."""
    leg = _begun(ground, slopes, balls, backward)
    _cut_at_turns(ground, leg)
    line = _first_line(ground, leg)
    meets = (line.share < 1.0) & ~leg.stuck
    leg.endless = ~leg.stuck & (np.hypot(leg.moved_x, leg.moved_y) * np.minimum(line.share, 1.0) > NEVER_M)
    leg.stops = leg.stuck | (~meets & np.isinf(leg.lost)) | leg.endless
    leg.moved_x[leg.stuck], leg.moved_y[leg.stuck] = 0.0, 0.0
    _end_at_lines(leg, line, np.flatnonzero(meets & ~leg.stops))
    return leg


def _begun(ground: Ground, slopes: Slopes, balls: Balls, backward: bool) -> Leg:
    """Legs without a line: to where the ball rests on its plane, or for a stretch where it does not."""
    x, y, vx, vy = balls.x, balls.y, balls.vx, balls.vy
    strip = ground.strip_at(x)
    surface = ground.surface_on(strip, x, y)
    resist = slopes.resist_m_s2[strip * ABSORBS.size + surface]
    pull_x, pull_y = -slopes.along_m_s2[strip], -slopes.across_m_s2[strip]
    if ground.funnels:
        pull_y = pull_y - slopes.funnel_m_s2[strip] * np.sign(y)
    stuck = ABSORBS[surface]
    still = vx * vx + vy * vy < _STILL_M_S**2
    if still.any():
        steep = np.sqrt(pull_x * pull_x + pull_y * pull_y)
        slides = still & (steep >= resist) & (not backward)
        stuck = stuck | (still & ~slides)
        down = _STILL_M_S / np.maximum(steep, 1e-12)
        vx, vy = np.where(slides, down * pull_x, vx), np.where(slides, down * pull_y, vy)
    way = way_of(x, y, vx, vy, resist, pull_x, pull_y, backward)
    moved_x, moved_y = way.rest()
    lost = np.full(x.shape, np.inf)
    free = np.flatnonzero(~holds(way))
    if free.size:
        part = way.take(free)
        lost[free] = part.stretch()
        moved_x[free], moved_y[free] = part.moved(lost[free])
    return Leg(
        way=way,
        strip=strip,
        surface=surface,
        stuck=stuck,
        dx=vx / way.speed,
        dy=vy / way.speed,
        moved_x=moved_x,
        moved_y=moved_y,
        lost=lost,
        stops=stuck,
        endless=np.zeros(x.shape, dtype=bool),
    )


def _cut_at_turns(ground: Ground, leg: Leg) -> None:
    """End legs where a ball turns round along the line of play, if it reaches a border before or after."""
    flips = np.flatnonzero(leg.dx * leg.way.down_x < -_TURN_RATE)
    if not flips.size:
        return
    part, up, strip = leg.way.take(flips), leg.dx[flips] > 0, leg.strip[flips]
    ahead = np.where(up, ground.end_m[strip] - part.x, part.x - ground.begin_m[strip])
    behind = np.where(up, ground.begin_m[strip], ground.end_m[strip])
    returns = up == (part.x + leg.moved_x[flips] < behind)
    doubtful = np.flatnonzero((_farthest_m(part, leg.dx[flips]) >= ahead) | returns)
    if not doubtful.size:
        return
    part, at = part.take(doubtful), flips[doubtful]
    turn = part.turns(part.down_x, -part.down_y)
    turn = np.where(np.isfinite(turn) & (turn > 0.0) & (turn < leg.lost[at]), turn, 0.0)
    moved_x, moved_y = part.moved(turn)
    cut = np.flatnonzero((turn > 0.0) & ((np.abs(moved_x) >= ahead[doubtful]) | returns[doubtful]))
    at = at[cut]
    leg.moved_x[at], leg.moved_y[at], leg.lost[at] = moved_x[cut], moved_y[cut], turn[cut]


def _farthest_m(way: Way, dx: Floats) -> Floats:
    """How far along the line of play balls go before they turn round, at most: downhill pulls them back."""
    if way.sense < 0.0:
        # Back in time the turf drives them on.
        return np.full(dx.shape, np.inf)
    pull = np.maximum(way.steep * way.resist * np.abs(way.down_x), 1e-12)
    return np.asarray((way.speed * dx) ** 2 / (2.0 * pull))


@dataclass
class _Line:
    """The first line that each chord meets (n,)."""

    share: Floats
    """Of the chord, beyond 1 when none is met."""
    across_x: Bools
    """Whether the line lies across x, as borders do, or along it, as side limits do."""
    distance: Floats
    """How far off it is, signed, along x or along y."""

    def nearer(self, share: Floats, across_x: Bools | bool, distance: Floats) -> None:
        """Take another line where its ``share`` is less."""
        sooner = share < self.share
        self.across_x = np.where(sooner, across_x, self.across_x)
        self.distance = np.where(sooner, distance, self.distance)
        self.share = np.where(sooner, share, self.share)


def _first_line(ground: Ground, leg: Leg) -> _Line:
    x, y = leg.way.x, leg.way.y
    distance = np.where(leg.moved_x > 0, ground.end_m[leg.strip], ground.begin_m[leg.strip]) - x
    line = _Line(_share(distance, leg.moved_x), np.ones(x.shape, dtype=bool), distance)
    sides = [ground.left_m[leg.strip], -ground.right_m[leg.strip]] if ground.bounded else []
    sides += [np.zeros(1)] if ground.funnels else []
    for side in sides:
        line.nearer(_share(side - y, leg.moved_y), False, side - y)
    for patch in ground.patches:
        _edge_of(patch, leg, line)
    return line


def _share(distance: Floats, total: Floats) -> Floats:
    """Share of the chord at which it is so far along an axis; inf when it never is, or at once."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        share = distance / total
    return np.where(share > 0.0, share, np.inf)


def _edge_of(patch: Patch, leg: Leg, line: _Line) -> None:
    """Take the edge by which a chord enters ``patch``, or leaves it, where that is nearer than ``line``."""
    along = _slab(leg.way.x, leg.moved_x, patch.x0_m, patch.x1_m)
    across = _slab(leg.way.y, leg.moved_y, patch.y0_m, patch.y1_m)
    enter, leave = np.maximum(along.enter, across.enter), np.minimum(along.leave, across.leave)
    meets = (enter < leave) & (leave > 0.0)
    if not meets.any():
        return
    outside = enter > 0.0
    edge = np.where(meets, np.where(outside, enter, leave), np.inf)
    across_x = np.where(outside, along.enter >= across.enter, along.leave <= across.leave)
    distance = np.where(meets, edge, 0.0) * np.where(across_x, leg.moved_x, leg.moved_y)
    line.nearer(edge, across_x, distance)


@dataclass(frozen=True)
class _Slab:
    """Shares of a chord between which it is between two parallel lines."""

    enter: Floats
    leave: Floats


def _slab(place: Floats, direction: Floats, low: float, high: float) -> _Slab:
    steady = np.where(np.abs(direction) < 1e-12, 1e-12, direction)
    first, second = (low - place) / steady, (high - place) / steady
    return _Slab(np.minimum(first, second), np.maximum(first, second))


def _end_at_lines(leg: Leg, line: _Line, at: Ints) -> None:
    """End the legs ``at`` just beyond the line that they meet, whatever the last bit of the solution is."""
    if not at.size:
        return
    across_x, distance = line.across_x[at], line.distance[at]
    sign = np.sign(distance)
    axis_x, axis_y = np.where(across_x, sign, 0.0), np.where(across_x, 0.0, sign)
    leg.lost[at], moved_x, moved_y = leg.way.take(at).reach(axis_x, axis_y, np.abs(distance))
    past = distance + NUDGE_M * sign
    leg.moved_x[at], leg.moved_y[at] = (
        np.where(across_x, past, moved_x),
        np.where(across_x, moved_y, past),
    )
