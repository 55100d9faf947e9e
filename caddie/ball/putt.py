"""A ball rolled along the ground in two dimensions, integrated step by step.

The surface takes its rolling resistance against the motion, a slope pulls with (5/7) g times its rise (a
uniform sphere rolling without slipping). Classical fourth-order Runge-Kutta.
"""

import numpy as np
from numpy.typing import ArrayLike

from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, capture_model, captured
from caddie.ball.sphere import BoolArray, FloatArray, IntArray
from caddie.ball.track import Rest, Slopes
from caddie.ball.turf import ABSORBS, SKID, skid_to_roll
from caddie.errors import CaddieError

STEP_S = 0.02
LONGEST_S = 60.0
_CREEP_M_S = 0.05


def _surroundings(
    ground: Ground, slopes: Slopes, x: FloatArray, y: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, IntArray]:
    """Pull (along, across), resistance and surface at points (n,)."""
    strip = ground.strip_at(x)
    surface = ground.surface_on(strip, x, y)
    pull_y = slopes.across_m_s2[strip] + slopes.funnel_m_s2[strip] * np.sign(y)
    return slopes.along_m_s2[strip], pull_y, slopes.resist_m_s2[strip * ABSORBS.size + surface], surface


def _rate(ground: Ground, slopes: Slopes, state: FloatArray) -> FloatArray:
    pull_x, pull_y, resist, _ = _surroundings(ground, slopes, state[0], state[1])
    drag = resist / np.maximum(np.hypot(state[2], state[3]), 1e-9)
    return np.array([state[2], state[3], -pull_x - drag * state[2], -pull_y - drag * state[3]])


def _step(ground: Ground, slopes: Slopes, state: FloatArray, step_s: float) -> FloatArray:
    k1 = _rate(ground, slopes, state)
    k2 = _rate(ground, slopes, state + 0.5 * step_s * k1)
    k3 = _rate(ground, slopes, state + 0.5 * step_s * k2)
    k4 = _rate(ground, slopes, state + step_s * k3)
    return np.asarray(state + step_s / 6.0 * (k1 + 2.0 * (k2 + k3) + k4))


def _drop(before: FloatArray, after: FloatArray, hole: tuple[float, float], capture: str) -> BoolArray:
    """Whether each ball falls in between two states (4, n)."""
    way_x, way_y = after[0] - before[0], after[1] - before[1]
    square = np.maximum(way_x * way_x + way_y * way_y, 1e-18)
    share = np.clip(((hole[0] - before[0]) * way_x + (hole[1] - before[1]) * way_y) / square, 0.0, 1.0)
    off = np.hypot(before[0] + share * way_x - hole[0], before[1] + share * way_y - hole[1])
    first, last = np.hypot(before[2], before[3]), np.hypot(after[2], after[3])
    passes = (share < 1.0) | (last < _CREEP_M_S)
    return np.asarray(passes & captured(first + share * (last - first), off, capture))


def _begin(
    speed_m_s: ArrayLike,
    azimuth_rad: ArrayLike,
    ground: Ground,
    x0_m: ArrayLike,
    y0_m: ArrayLike,
    skids: bool,
) -> tuple[FloatArray, tuple[int, ...]]:
    given = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (speed_m_s, azimuth_rad, x0_m, y0_m))
    )
    speed, azimuth, x, y = (array.ravel() for array in given)
    if not np.all((speed >= 0.0) & (speed <= 30.0)):
        raise CaddieError("roll: speed_m_s must be 0 to 30")
    dx, dy = np.cos(azimuth), np.sin(azimuth)
    if skids:
        friction = SKID[ground.surface_at(x, y)]
        speed, slid = skid_to_roll(speed, friction)
        x, y = x + slid * dx, y + slid * dy
    return np.array([x, y, speed * dx, speed * dy]), given[0].shape


def roll2d(
    speed_m_s: ArrayLike,
    azimuth_rad: ArrayLike,
    ground: Ground,
    x0_m: ArrayLike = 0.0,
    y0_m: ArrayLike = 0.0,
    hole: tuple[float, float] | None = None,
    capture: str = "holmes",
    skids: bool = False,
) -> Rest:
    """Roll balls from (x0, y0) to rest or into ``hole``; arguments broadcast to any shape.

    Args:
        speed_m_s: starting speed, 0 to 30.
        azimuth_rad: starting direction, positive to the left of +x.
        ground: the lie of the land.
        x0_m, y0_m: where each ball starts.
        hole: (x, y) of the hole, or ``None`` when it is covered.
        capture: a name of :data:`caddie.ball.hole.CAPTURE`.
        skids: the ball leaves the putter without spin and slides first; else it rolls from the start.

    A ball still moving after 60 s is reported in ``never_stopped``.

    Raises:
        CaddieError: a speed outside the range, an unknown capture model.
    """
    state, shape = _begin(speed_m_s, azimuth_rad, ground, x0_m, y0_m, skids)
    return _roll(state, shape, ground, hole, capture, None)


def roll_path(
    speed_m_s: ArrayLike,
    azimuth_rad: ArrayLike,
    ground: Ground,
    x0_m: ArrayLike = 0.0,
    y0_m: ArrayLike = 0.0,
    hole: tuple[float, float] | None = None,
    capture: str = "holmes",
    skids: bool = False,
) -> tuple[Rest, FloatArray, FloatArray, FloatArray]:
    """As :func:`roll2d`, with the path: rest, times (p,), x (p, ...), y (p, ...), still balls repeated.

    Raises:
        CaddieError: as :func:`roll2d`.
    """
    state, shape = _begin(speed_m_s, azimuth_rad, ground, x0_m, y0_m, skids)
    path = [state[:2].copy()]
    rest = _roll(state, shape, ground, hole, capture, path)
    points = np.array(path)
    times = STEP_S * np.arange(len(path))
    return (
        rest,
        np.asarray(times, dtype=float),
        points[:, 0].reshape(-1, *shape),
        points[:, 1].reshape(-1, *shape),
    )


def _roll(
    state: FloatArray,
    shape: tuple[int, ...],
    ground: Ground,
    hole: tuple[float, float] | None,
    capture: str,
    path: list[FloatArray] | None,
) -> Rest:
    capture_model(capture)
    slopes = Slopes.of(ground)
    count = state.shape[1]
    start = state.copy()
    holed = np.zeros(count, dtype=bool)
    active = np.arange(count)
    for _ in range(int(LONGEST_S / STEP_S)):
        now = state[:, active]
        pull_x, pull_y, resist, surface = _surroundings(ground, slopes, now[0], now[1])
        speed = np.hypot(now[2], now[3])
        slow = speed < np.maximum(_CREEP_M_S, 1.5 * resist * STEP_S)
        stops = (slow & (np.hypot(pull_x, pull_y) < resist)) | ABSORBS[surface]
        ended = np.flatnonzero(stops)
        if ended.size:
            state[:, active[ended]] = _last_inches(now, pull_x, pull_y, resist, surface, ended)
        keep = np.flatnonzero(~stops)
        if not keep.size:
            active = active[:0]
            break
        active, before = active[keep], now[:, keep]
        after = _step(ground, slopes, before, STEP_S)
        if hole is not None:
            fell = _drop(before, after, hole, capture)
            after[0, fell], after[1, fell] = hole
            after[2:, fell] = 0.0
            holed[active[fell]] = True
        state[:, active] = after
        if path is not None:
            path.append(state[:2].copy())
        active = active[~holed[active]]
        if not active.size:
            break
    if path is not None:
        path.append(state[:2].copy())
    never = np.zeros(count, dtype=bool)
    never[active] = True
    if hole is not None:
        inside = ~never & (np.hypot(state[0] - hole[0], state[1] - hole[1]) < HOLE_RADIUS_M)
        state[0, inside], state[1, inside] = hole
        holed |= inside
    ahead = np.maximum(np.hypot(start[2], start[3]), 1e-12)
    run = ((state[0] - start[0]) * start[2] + (state[1] - start[1]) * start[3]) / ahead
    surface = ground.surface_at(state[0], state[1])
    return Rest(state[0], state[1], surface, start[0], start[1], run, holed, never).shaped(shape)


def _last_inches(
    now: FloatArray,
    pull_x: FloatArray,
    pull_y: FloatArray,
    resist: FloatArray,
    surface: IntArray,
    ended: IntArray,
) -> FloatArray:
    """Where slow balls stop, in closed form; balls in water or sand stop where they are."""
    x, y, vx, vy = now[:, ended]
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    loss = resist[ended] + (pull_x[ended] * vx + pull_y[ended] * vy) / speed
    left = np.where(ABSORBS[surface[ended]], 0.0, 0.5 * speed / np.maximum(loss, 0.2 * resist[ended]))
    nothing = np.zeros_like(x)
    return np.array([x + left * vx, y + left * vy, nothing, nothing])
