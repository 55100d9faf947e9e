"""Rolling over strips in closed form: from one border, side limit or patch edge to the next.

On a plane a rolling ball loses the surface's resistance a along its way and is pulled by (5/7) g times the
slope. With D the loss along the first direction (resistance and slope together) and L the pull square to
it, the speed is v^2 = v0^2 - 2 D s and, for a sideways speed small against v, the break after the speed has
fallen to q v0 is

    y = (L / D) / (p - 1) v0^2 / D [(1 - q^2) / 2 - (1 - q^(p+1)) / (p + 1)],  p = a / D,

which is L v0^2 / (2 D (D + a)) at rest and a_c v0^2 / (4 a^2) on a level line (own derivation: d(v_y)/dv =
p v_y / v - L / D). A piece ends early once it has turned by a quarter of a radian, so that the small-angle
form holds. :func:`caddie.ball.roll.roll2d` integrates the same motion without it.
"""

from dataclasses import dataclass

import numpy as np

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, captured
from caddie.ball.sphere import BoolArray, FloatArray, IntArray
from caddie.ball.turf import ABSORBS, ROLL_GRAVITY_M_S2, rolling_m_s2

NEVER_M = 200.0
"""A ball that would roll farther than this in one piece is reported as never stopping."""

_PIECES = 48
_TURN_RAD = 0.25
_NUDGE_M = 1e-6
_STILL_M_S = 0.02
_LEAST_LOSS_M_S2 = 1e-4
_CREEP_M_S = 0.3


@dataclass(frozen=True)
class Rest:
    """Where balls come to rest; every field has the shape of the landing.

    ``run_m`` is measured from the first bounce along the landing's heading, negative for a ball that came
    back.
    """

    x_m: FloatArray
    y_m: FloatArray
    surface: IntArray
    first_bounce_x_m: FloatArray
    first_bounce_y_m: FloatArray
    run_m: FloatArray
    holed: BoolArray
    never_stopped: BoolArray

    def shaped(self, shape: tuple[int, ...]) -> "Rest":
        """The same balls in another ``shape``."""
        return Rest(*(getattr(self, name).reshape(shape) for name in Rest.__dataclass_fields__))

    @staticmethod
    def blank(count: int) -> "Rest":
        """Room for ``count`` balls."""
        x, y, first_x, first_y, run = np.empty((5, count))
        holed, never = np.zeros((2, count), dtype=bool)
        return Rest(x, y, np.empty(count, dtype=np.int64), first_x, first_y, run, holed, never)


@dataclass(frozen=True)
class Slopes:
    """Pull and resistance tables of a ground, ready for rolling."""

    along_m_s2: FloatArray
    across_m_s2: FloatArray
    funnel_m_s2: FloatArray
    resist_m_s2: FloatArray
    """(k, surfaces) flattened."""

    @staticmethod
    def of(ground: Ground) -> "Slopes":
        """Level components: pull and resistance act along the surface, resistance by the load on it."""
        steep = np.abs(ground.cross_slope) + np.abs(ground.funnel)
        cosine = 1.0 / np.sqrt(1.0 + ground.slope**2 + steep**2)
        pull = ROLL_GRAVITY_M_S2 * cosine**2
        resist = cosine[:, np.newaxis] ** 2 * rolling_m_s2(ground)
        return Slopes(ground.slope * pull, ground.cross_slope * pull, ground.funnel * pull, resist.ravel())


@dataclass
class _Way:
    """One stretch of every ball on one plane and surface: where it starts, its losses and how far it goes."""

    x: FloatArray
    y: FloatArray
    dx: FloatArray
    dy: FloatArray
    squared: FloatArray
    loss: FloatArray
    side: FloatArray
    resist: FloatArray
    strip: IntArray
    surface: IntArray
    stuck: BoolArray
    holds: BoolArray

    def after(self, length: FloatArray, at: IntArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Break to the left, speed and turn (rad) of balls ``at`` after ``length``."""
        squared, loss, side, resist = self.squared[at], self.loss[at], self.side[at], self.resist[at]
        ratio = np.sqrt(np.maximum(1.0 - 2.0 * loss * length / squared, 1e-12))
        power = resist / loss
        power = np.where(np.abs(power - 1.0) < 1e-4, 1.0001, power)
        power = np.where(np.abs(power + 1.0) < 1e-4, -1.0001, power)
        tail = ratio**power
        pull = side / (loss * (power - 1.0))
        aside = pull * squared / loss * (0.5 * (1.0 - ratio * ratio) - (1.0 - ratio * tail) / (power + 1.0))
        turn = np.arctan(pull * (1.0 - tail / ratio))
        speed = np.sqrt(np.maximum(squared - 2.0 * loss * length + 2.0 * side * aside, 0.0))
        return aside, speed, turn


def _way(
    ground: Ground, slopes: Slopes, x: FloatArray, y: FloatArray, vx: FloatArray, vy: FloatArray
) -> _Way:
    strip = ground.strip_at(x)
    surface = ground.surface_on(strip, x, y)
    resist = slopes.resist_m_s2[strip * ABSORBS.size + surface]
    pull_x, pull_y = slopes.along_m_s2[strip], slopes.across_m_s2[strip]
    if ground.funnels:
        pull_y = pull_y + slopes.funnel_m_s2[strip] * np.sign(y)
    squared = vx * vx + vy * vy
    stuck = ABSORBS[surface]
    still = squared < _STILL_M_S**2
    steep = np.sqrt(pull_x * pull_x + pull_y * pull_y)
    holds = steep <= resist
    if still.any():
        slides = still & ~holds
        stuck = stuck | (still & ~slides)
        down = -_STILL_M_S / np.maximum(steep, 1e-12)
        vx, vy = np.where(slides, down * pull_x, vx), np.where(slides, down * pull_y, vy)
        squared = np.where(still, _STILL_M_S**2, squared)
    speed = np.sqrt(squared)
    dx, dy = vx / speed, vy / speed
    loss = resist + pull_x * dx + pull_y * dy
    loss = np.where(np.abs(loss) < _LEAST_LOSS_M_S2, _LEAST_LOSS_M_S2, loss)
    side = pull_x * dy - pull_y * dx
    return _Way(x, y, dx, dy, squared, loss, side, resist, strip, surface, stuck, holds)


def _turning(way: _Way, length: FloatArray) -> FloatArray:
    """``length`` cut where the ball has turned by a quarter of a radian."""
    at = np.flatnonzero(np.abs(way.side) > 0.35 * np.abs(way.loss))
    if at.size:
        loss = np.abs(way.loss[at])
        share = np.exp(-2 * _TURN_RAD * loss / np.abs(way.side[at]))
        share = np.where(way.loss[at] > 0, 1.0 - share, 1.0 / share - 1.0)
        length[at] = np.minimum(length[at], np.maximum(way.squared[at] / (2 * loss) * share, 1e-3))
    return length


def _to_line(place: FloatArray, direction: FloatArray, line: FloatArray | float) -> FloatArray:
    """Distance along ``direction`` to a line across it, inf when it lies behind."""
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = (line - place) / direction
    return np.where(distance > 0, distance, np.inf)


def _to_side(ground: Ground, way: _Way, chord_x: FloatArray, chord_y: FloatArray) -> FloatArray:
    """Distance to the nearest side limit, centre line of a funnel or patch edge; inf when there is none."""
    nearest = np.full(way.x.shape, np.inf)
    if ground.bounded:
        for line in (ground.left_m[way.strip], -ground.right_m[way.strip]):
            nearest = np.minimum(nearest, _to_line(way.y, chord_y, line))
    if ground.funnels:
        nearest = np.minimum(nearest, _to_line(way.y, chord_y, 0.0))
    for patch in ground.patches:
        enter_x, leave_x = _slab(way.x, chord_x, patch.x0_m, patch.x1_m)
        enter_y, leave_y = _slab(way.y, chord_y, patch.y0_m, patch.y1_m)
        enter, leave = np.maximum(enter_x, enter_y), np.minimum(leave_x, leave_y)
        edge = np.where(enter > 0, enter, leave)
        nearest = np.minimum(nearest, np.where((enter < leave) & (edge > 0), edge, np.inf))
    return nearest


def _slab(place: FloatArray, direction: FloatArray, low: float, high: float) -> tuple[FloatArray, FloatArray]:
    steady = np.where(np.abs(direction) < 1e-12, 1e-12, direction)
    first, second = (low - place) / steady, (high - place) / steady
    return np.minimum(first, second), np.maximum(first, second)


def roll_out(
    ground: Ground,
    slopes: Slopes,
    position: FloatArray,
    velocity: FloatArray,
    hole: tuple[float, float] | None = None,
    capture: str = "holmes",
) -> tuple[IntArray, BoolArray, BoolArray]:
    """Roll balls at ``position`` (2, n) in place to rest: (surface, holed, never stopped)."""
    count = position.shape[1]
    surface = np.zeros(count, dtype=np.int64)
    holed, endless = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    active = np.arange(count)
    (x, y), (vx, vy) = position, velocity
    for _ in range(_PIECES):
        way = _way(ground, slopes, x, y, vx, vy)
        slows = way.loss > 0
        whole = np.where(slows, way.squared / (2 * way.loss), 2 * NEVER_M)
        aside = np.where(slows, way.side * whole / (way.loss + way.resist), 0.0)
        length = _turning(way, whole.copy())
        forward = way.dx > 0
        border = np.where(forward, ground.end_m[way.strip], ground.begin_m[way.strip])
        to_border = _to_line(x, way.dx, border)
        length = np.minimum(length, to_border)
        if ground.bounded or ground.funnels or ground.patches:
            lean = aside / whole
            length = np.minimum(length, _to_side(ground, way, way.dx - lean * way.dy, way.dy + lean * way.dx))
        stopped = ((length >= whole) & way.holds) | way.stuck
        length = np.where(way.stuck, 0.0, np.minimum(length, NEVER_M))
        lost = ~stopped & (length >= NEVER_M)
        going = np.flatnonzero(~(stopped | lost))
        if going.size:
            bend, speed, turn = way.after(length[going], going)
            aside[going] = bend
        aside = np.where(way.stuck | lost, 0.0, aside)
        new_x, new_y = x + length * way.dx - aside * way.dy, y + length * way.dy + aside * way.dx
        if hole is not None:
            dropped = _drops(way, length, new_x, new_y, stopped, hole, capture)
            new_x[dropped], new_y[dropped] = hole
            holed[active[dropped]] = True
            stopped[dropped] = True
        over = np.flatnonzero(stopped | lost)
        where = active[over]
        position[0, where], position[1, where] = new_x[over], new_y[over]
        surface[where], endless[where] = way.surface[over], lost[over]
        if going.size and hole is not None:
            stays = ~stopped[going]
            going, speed, turn = going[stays], speed[stays], turn[stays]
        if not going.size:
            return surface, holed, endless
        active = active[going]
        x, y = new_x[going], new_y[going]
        dx, dy = way.dx[going], way.dy[going]
        cosine, sine = np.cos(turn), np.sin(turn)
        dx, dy = dx * cosine - dy * sine, dy * cosine + dx * sine
        crossed = length[going] == to_border[going]
        x = np.where(crossed, border[going] + np.where(forward[going], 0.0, -_NUDGE_M), x + _NUDGE_M * dx)
        y = y + _NUDGE_M * dy
        vx, vy = speed * dx, speed * dy
    position[0, active], position[1, active] = x, y
    surface[active] = ground.surface_at(x, y)
    endless[active] = np.hypot(vx, vy) > _CREEP_M_S
    return surface, holed, endless


def _drops(
    way: _Way,
    length: FloatArray,
    end_x: FloatArray,
    end_y: FloatArray,
    stopped: BoolArray,
    hole: tuple[float, float],
    capture: str,
) -> BoolArray:
    """Whether each ball falls into the hole on this stretch."""
    from_x, from_y = hole[0] - way.x, hole[1] - way.y
    along = from_x * way.dx + from_y * way.dy
    off = from_y * way.dx - from_x * way.dy
    dropped = stopped & (np.hypot(end_x - hole[0], end_y - hole[1]) < HOLE_RADIUS_M)
    at = np.flatnonzero((along > 0) & (along <= length) & ~way.stuck)
    if at.size:
        aside, speed, _ = way.after(along[at], at)
        dropped[at] |= captured(speed, off[at] - aside, capture)
    return np.asarray(dropped)
