"""An oracle for `caddie.ball.track`: a ball rolled along the ground, integrated step by step in two dimensions.

It knows no closed form. The surface takes its rolling resistance against the motion, a slope pulls with
(5/7) g times its rise (a uniform sphere rolling without slipping). Classical fourth-order Runge-Kutta.
"""

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Bools, Floats, Ints
from caddie.ball.ground import Ground
from caddie.ball.hole import HOLE_RADIUS_M, capture_model, captured
from caddie.ball.leg import Slopes
from caddie.ball.track import Rolled
from caddie.ball.turf import ABSORBS

STEP_S = 0.02
LONGEST_S = 60.0
_CREEP_M_S = 0.05


def _surroundings(
    ground: Ground, slopes: Slopes, x: Floats, y: Floats
) -> tuple[Floats, Floats, Floats, Ints]:
    """Pull (along, across), resistance and surface at points (n,)."""
    strip = ground.strip_at(x)
    surface = ground.surface_on(strip, x, y)
    pull_y = slopes.across_m_s2[strip] + slopes.funnel_m_s2[strip] * np.sign(y)
    return slopes.along_m_s2[strip], pull_y, slopes.resist_m_s2[strip * ABSORBS.size + surface], surface


def _rate(ground: Ground, slopes: Slopes, state: Floats) -> Floats:
    pull_x, pull_y, resist, _ = _surroundings(ground, slopes, state[0], state[1])
    drag = resist / np.maximum(np.hypot(state[2], state[3]), 1e-9)
    return np.array([state[2], state[3], -pull_x - drag * state[2], -pull_y - drag * state[3]])


def _step(ground: Ground, slopes: Slopes, state: Floats, step_s: float) -> Floats:
    k1 = _rate(ground, slopes, state)
    k2 = _rate(ground, slopes, state + 0.5 * step_s * k1)
    k3 = _rate(ground, slopes, state + 0.5 * step_s * k2)
    k4 = _rate(ground, slopes, state + step_s * k3)
    return np.asarray(state + step_s / 6.0 * (k1 + 2.0 * (k2 + k3) + k4))


def _drop(before: Floats, after: Floats, hole: tuple[float, float], capture: str) -> Bools:
    """Whether each ball falls in between two states (4, n)."""
    way_x, way_y = after[0] - before[0], after[1] - before[1]
    square = np.maximum(way_x * way_x + way_y * way_y, 1e-18)
    share = np.clip(((hole[0] - before[0]) * way_x + (hole[1] - before[1]) * way_y) / square, 0.0, 1.0)
    off = np.hypot(before[0] + share * way_x - hole[0], before[1] + share * way_y - hole[1])
    first, last = np.hypot(before[2], before[3]), np.hypot(after[2], after[3])
    passes = (share < 1.0) | (last < _CREEP_M_S)
    return np.asarray(passes & captured(first + share * (last - first), off, capture))


def roll2d(
    speed_m_s: ArrayLike,
    azimuth_rad: ArrayLike,
    ground: Ground,
    x0_m: ArrayLike = 0.0,
    y0_m: ArrayLike = 0.0,
    hole: tuple[float, float] | None = None,
    capture: str = "holmes",
) -> Rolled:
    """Roll balls from (x0, y0) to rest or into ``hole``; arguments broadcast to any shape.

    A ball still moving after 60 s is reported in ``never_stopped``.
    """
    capture_model(capture)
    given = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (speed_m_s, azimuth_rad, x0_m, y0_m))
    )
    speed, azimuth, x, y = (array.ravel() for array in given)
    state = np.array([x, y, speed * np.cos(azimuth), speed * np.sin(azimuth)])
    slopes = Slopes.of(ground)
    holed = np.zeros(state.shape[1], dtype=bool)
    active = np.arange(state.shape[1])
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
        active, before = active[keep], now[:, keep]
        if not keep.size:
            break
        after = _step(ground, slopes, before, STEP_S)
        if hole is not None:
            fell = _drop(before, after, hole, capture)
            after[0, fell], after[1, fell] = hole
            after[2:, fell] = 0.0
            holed[active[fell]] = True
        state[:, active] = after
        active = active[~holed[active]]
    never = np.zeros(state.shape[1], dtype=bool)
    never[active] = True
    if hole is not None:
        inside = ~never & (np.hypot(state[0] - hole[0], state[1] - hole[1]) < HOLE_RADIUS_M)
        state[0, inside], state[1, inside] = hole
        holed |= inside
    surface = ground.surface_at(state[0], state[1])
    return Rolled(state[0], state[1], surface, holed, never).shaped(given[0].shape)


def _last_inches(
    now: Floats,
    pull_x: Floats,
    pull_y: Floats,
    resist: Floats,
    surface: Ints,
    ended: Ints,
) -> Floats:
    """Where slow balls stop, in closed form; balls in water or sand stop where they are."""
    x, y, vx, vy = now[:, ended]
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    loss = resist[ended] + (pull_x[ended] * vx + pull_y[ended] * vy) / speed
    left = np.where(ABSORBS[surface[ended]], 0.0, 0.5 * speed / np.maximum(loss, 0.2 * resist[ended]))
    nothing = np.zeros_like(x)
    return np.array([x + left * vx, y + left * vy, nothing, nothing])
