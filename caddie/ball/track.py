"""Rolling over strips in closed form: from one border, side limit or patch edge to the next.

On each piece the ball is on one plane and one surface, where its way is known exactly
(:mod:`caddie.ball.plane`). Which line ends a piece is told by the chord from its start to where it would end
on that plane; where the way meets the line is then solved for. :func:`caddie.ball.putt.roll2d` integrates the
same motion step by step.
"""

from dataclasses import dataclass

import numpy as np

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, captured
from caddie.ball.plane import Way, holds, way_of
from caddie.ball.sphere import BoolArray, FloatArray, IntArray
from caddie.ball.turf import ABSORBS, ROLL_GRAVITY_M_S2, rolling_m_s2

NEVER_M = 200.0
"""A ball that would roll farther than this in one piece is reported as never stopping."""

_PIECES = 48
_NUDGE_M = 1e-6
_STILL_M_S = 0.02
_CREEP_M_S = 0.3
_TURN_RATE = 1e-9
_HOLE_BAND_M = 0.1


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
class _Piece:
    """One stretch of every ball on one plane and surface."""

    way: Way
    strip: IntArray
    surface: IntArray
    stuck: BoolArray
    holds: BoolArray
    dx: FloatArray
    dy: FloatArray

    def ends(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        """How far (x, y) each ball would go on this plane, and what it has then lost: infinite at rest.

        Where it cannot rest, a piece is as long as turns it by a factor e toward the fall line.
        """
        x, y = self.way.rest()
        lost = np.full(x.shape, np.inf)
        free = np.flatnonzero(~self.holds)
        if free.size:
            part = self.way.take(free)
            lost[free] = 1.0 / part.steep
            x[free], y[free] = part.moved(lost[free])
        return x, y, lost


def _piece(
    ground: Ground, slopes: Slopes, x: FloatArray, y: FloatArray, vx: FloatArray, vy: FloatArray
) -> _Piece:
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
        slides = still & (steep >= resist)
        stuck = stuck | (still & ~slides)
        down = _STILL_M_S / np.maximum(steep, 1e-12)
        vx, vy = np.where(slides, down * pull_x, vx), np.where(slides, down * pull_y, vy)
    way = way_of(x, y, vx, vy, resist, pull_x, pull_y)
    dx, dy = vx / way.speed, vy / way.speed
    return _Piece(way, strip, surface, stuck, holds(way), dx, dy)


def _cut_at_turns(
    ground: Ground, piece: _Piece, end_x: FloatArray, end_y: FloatArray, lost: FloatArray
) -> None:
    """End pieces where a ball turns round along the line of play, if it may reach a border before or after."""
    way = piece.way
    flips = np.flatnonzero(piece.dx * way.down_x < -_TURN_RATE)
    if not flips.size:
        return
    part = way.take(flips)
    dx, down_x = piece.dx[flips], part.down_x
    up = dx > 0
    strip = piece.strip[flips]
    # Downhill pulls it back all the way to where it turns.
    pull = np.maximum(part.steep * part.resist * np.abs(down_x), 1e-12)
    bound = (part.speed * dx) ** 2 / (2.0 * pull)
    ahead = np.where(up, ground.end_m[strip] - part.x, part.x - ground.begin_m[strip])
    behind = np.where(up, ground.begin_m[strip], ground.end_m[strip])
    after = part.x + end_x[flips]
    doubtful = np.flatnonzero((bound >= ahead) | (up == (after < behind)))
    if not doubtful.size:
        return
    part, at = part.take(doubtful), flips[doubtful]
    turn = part.turns(part.down_x, -part.down_y)
    sooner = np.isfinite(turn) & (turn > 0.0) & (turn < lost[at])
    part, at, turn = part.take(np.flatnonzero(sooner)), at[sooner], turn[sooner]
    end_x[at], end_y[at] = part.moved(turn)
    lost[at] = turn


def _share(distance: FloatArray, total: FloatArray) -> FloatArray:
    """Share of the chord at which it is so far along an axis; inf when it never is, or at once."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share = distance / total
    return np.where(share > 0.0, share, np.inf)


def _first_line(
    ground: Ground, piece: _Piece, end_x: FloatArray, end_y: FloatArray
) -> tuple[FloatArray, BoolArray, FloatArray]:
    """The first line that each chord meets: the share of the chord, whether it lies across x, how far it is."""
    way = piece.way
    border = np.where(end_x > 0, ground.end_m[piece.strip], ground.begin_m[piece.strip])
    distance = border - way.x
    first = _share(distance, end_x)
    on_x = np.ones(first.shape, dtype=bool)

    def nearer(share: FloatArray, across_x: BoolArray | bool, how_far: FloatArray) -> None:
        nonlocal first, on_x, distance
        sooner = share < first
        on_x = np.where(sooner, across_x, on_x)
        distance = np.where(sooner, how_far, distance)
        first = np.where(sooner, share, first)

    sides = [ground.left_m[piece.strip], -ground.right_m[piece.strip]] if ground.bounded else []
    sides += [np.zeros(1)] if ground.funnels else []
    for line in sides:
        nearer(_share(line - way.y, end_y), False, line - way.y)
    for patch in ground.patches:
        enter_x, leave_x = _slab(way.x, end_x, patch.x0_m, patch.x1_m)
        enter_y, leave_y = _slab(way.y, end_y, patch.y0_m, patch.y1_m)
        enter, leave = np.maximum(enter_x, enter_y), np.minimum(leave_x, leave_y)
        meets = (enter < leave) & (leave > 0.0)
        if not meets.any():
            continue
        outside = enter > 0.0
        edge = np.where(meets, np.where(outside, enter, leave), np.inf)
        across_x = np.where(outside, enter_x >= enter_y, leave_x <= leave_y)
        how_far = np.where(meets, edge, 0.0) * np.where(across_x, end_x, end_y)
        nearer(edge, across_x, how_far)
    return first, on_x, distance


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
        piece = _piece(ground, slopes, x, y, vx, vy)
        way = piece.way
        end_x, end_y, lost = piece.ends()
        _cut_at_turns(ground, piece, end_x, end_y, lost)
        share, on_x, distance = _first_line(ground, piece, end_x, end_y)
        meets = (share < 1.0) & ~piece.stuck
        endless_way = ~piece.stuck & (np.hypot(end_x, end_y) * np.minimum(share, 1.0) > NEVER_M)
        stopped = piece.stuck | (~meets & np.isinf(lost)) | endless_way
        end_x, end_y = np.where(piece.stuck, 0.0, end_x), np.where(piece.stuck, 0.0, end_y)
        going = np.flatnonzero(~stopped)
        part = way.take(going)
        gone = lost[going]
        crosses = meets[going]
        if crosses.any():
            _to_lines(part, crosses, on_x[going], distance[going], gone, going, end_x, end_y)
        new_x, new_y = x + end_x, y + end_y
        if hole is not None:
            dropped = _drops(piece, end_x, end_y, stopped, hole, capture)
            new_x[dropped], new_y[dropped] = hole
            holed[active[dropped]] = True
            stopped[dropped] = True
        over = np.flatnonzero(stopped)
        where = active[over]
        position[0, where], position[1, where] = new_x[over], new_y[over]
        surface[where], endless[where] = piece.surface[over], endless_way[over]
        if not going.size:
            return surface, holed, endless
        vx, vy = part.velocity(gone)
        if hole is not None:
            stays = np.flatnonzero(~stopped[going])
            going, vx, vy = going[stays], vx[stays], vy[stays]
            if not going.size:
                return surface, holed, endless
        active = active[going]
        x, y = new_x[going], new_y[going]
    position[0, active], position[1, active] = x, y
    surface[active] = ground.surface_at(x, y)
    endless[active] = np.hypot(vx, vy) > _CREEP_M_S
    return surface, holed, endless


def _to_lines(
    part: Way,
    crosses: BoolArray,
    on_x: BoolArray,
    distance: FloatArray,
    lost: FloatArray,
    where: IntArray,
    end_x: FloatArray,
    end_y: FloatArray,
) -> None:
    """Bring the balls that meet a line just beyond it: ``lost`` (part's) and the ends at ``where`` are set."""
    at = np.flatnonzero(crosses)
    if at.size < crosses.size:
        part, on_x, distance, where = part.take(at), on_x[at], distance[at], where[at]
    sign = np.sign(distance)
    axis_x, axis_y = np.where(on_x, sign, 0.0), np.where(on_x, 0.0, sign)
    lost[at], moved_x, moved_y = part.reach(axis_x, axis_y, np.abs(distance))
    # Whatever the last bit of the solution is.
    past = distance + _NUDGE_M * sign
    end_x[where], end_y[where] = np.where(on_x, past, moved_x), np.where(on_x, moved_y, past)


def _drops(
    piece: _Piece,
    end_x: FloatArray,
    end_y: FloatArray,
    stopped: BoolArray,
    hole: tuple[float, float],
    capture: str,
) -> BoolArray:
    """Whether each ball falls into the hole on this stretch."""
    way = piece.way
    from_x, from_y = hole[0] - way.x, hole[1] - way.y
    along = from_x * piece.dx + from_y * piece.dy
    off = from_y * piece.dx - from_x * piece.dy
    dropped = stopped & (np.hypot(end_x - from_x, end_y - from_y) < HOLE_RADIUS_M)
    # The way bends to one side of its first direction only, between that line and its end.
    bend = end_y * piece.dx - end_x * piece.dy
    near = (off > np.minimum(bend, 0.0) - _HOLE_BAND_M) & (off < np.maximum(bend, 0.0) + _HOLE_BAND_M)
    passes = (along > 0) & (along <= end_x * piece.dx + end_y * piece.dy)
    at = np.flatnonzero(near & passes & ~piece.stuck)
    if at.size:
        part = way.take(at)
        lost, moved_x, moved_y = part.reach(piece.dx[at], piece.dy[at], along[at])
        vx, vy = part.velocity(lost)
        speed = np.maximum(np.hypot(vx, vy), 1e-12)
        aside = ((from_y[at] - moved_y) * vx - (from_x[at] - moved_x) * vy) / speed
        dropped[at] |= captured(speed, aside, capture)
    return np.asarray(dropped)
