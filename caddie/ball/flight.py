"""The flight of a ball: gravity, drag and lift in wind, from launch to landing.

Forces: F = 1/2 rho A V^2 (-C_D v_hat + C_L w_hat x v_hat) + m g, with V the speed through the air and the
coefficients of :mod:`caddie.ball.aero`. Spin keeps its axis and decays as d(omega)/dt = -4e-5 V omega / d
(A. J. Smits and D. R. Smith, *Science and Golf II*, 340-347, 1994, recalled from memory; within 5 % of the
340 rpm/s at 120 mph and 7,097 rpm of P. Dewhurst, 2015). The equations are stepped by the classical
fourth-order Runge-Kutta rule, each ball with a step in proportion to its own flight time.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.ball.aero import Aero, aero_model
from caddie.ball.air import Air
from caddie.ball.sphere import AREA_M2, GRAVITY_M_S2, MASS_KG, RADIUS_M
from caddie.errors import CaddieError

SPIN_DECAY = 4e-5
STEPS = 14
"""Steps of a flight as long as the one without air; lift makes it up to twice as long."""
FIRST_STEPS = (0.06, 0.14, 0.3, 0.5)
"""The first step in wind, in parts: near the ground the wind changes fast with height, and a push that is
missed there is missed for the whole flight."""
_FIRST_PART = (0.02, 0.06, 0.12, 0.2, 0.3, 0.3)
_LATER_PART = (1 / 3,) * 3
"""Steps of a quarter of a flight, in parts: in wind the first ones are graded as those of a flight are."""
_DOWN_SHARE = 0.25
"""Balls that are down already are left out once they are more than this share."""


@dataclass(frozen=True)
class Launch:
    """The ball just after impact; every field an array or number, broadcastable, any shape.

    ``azimuth_rad`` is positive to the player's left. ``axis_rad`` tilts the axis of the backspin in the
    plane square to the flight; a positive tilt curves the ball left.
    """

    speed_m_s: Floats
    angle_rad: Floats
    azimuth_rad: Floats
    spin_rad_s: Floats
    axis_rad: Floats


@dataclass(frozen=True)
class Landing:
    """Balls as they meet the ground: position m, velocity m/s, spin vector rad/s, flight time, apex.

    Every field has the shape of the launch. The spin vector of pure backspin on a ball flying along +x
    points to -y (the player's right).
    """

    x_m: Floats
    y_m: Floats
    z_m: Floats
    vx_m_s: Floats
    vy_m_s: Floats
    vz_m_s: Floats
    spin_x_rad_s: Floats
    spin_y_rad_s: Floats
    spin_z_rad_s: Floats
    time_s: Floats
    apex_m: Floats

    @property
    def spin_rad_s(self) -> Floats:
        """Spin rate, never negative."""
        return np.asarray(np.sqrt(self.spin_x_rad_s**2 + self.spin_y_rad_s**2 + self.spin_z_rad_s**2))

    @property
    def angle_rad(self) -> Floats:
        """Angle of descent below the horizontal."""
        return np.asarray(np.arctan2(-self.vz_m_s, np.hypot(self.vx_m_s, self.vy_m_s)))

    @property
    def axis_rad(self) -> Floats:
        """Tilt of the spin axis out of the horizontal, positive curving left."""
        return np.asarray(np.arctan2(self.spin_z_rad_s, np.hypot(self.spin_x_rad_s, self.spin_y_rad_s)))


Derivative = Callable[[Floats], Floats]


def _start(launch: Launch) -> tuple[Floats, Floats, tuple[int, ...]]:
    """State (7, n): position, velocity, spin rate; and the unit spin axis (3, n)."""
    fields = (launch.speed_m_s, launch.angle_rad, launch.azimuth_rad, launch.spin_rad_s, launch.axis_rad)
    arrays = np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in fields))
    if not all(np.all(np.isfinite(array)) for array in arrays):
        raise CaddieError("flight: launch holds a value that is not a number: check speed, angle and spin")
    speed, angle, azimuth, spin, tilt = (array.ravel() for array in arrays)
    if np.any(speed < 0) or np.any(speed > 110):
        raise CaddieError("flight: launch speed_m_s must be 0 to 110")
    level, rise = np.cos(angle), np.sin(angle)
    ahead_x, ahead_y = np.cos(azimuth), np.sin(azimuth)
    state = np.zeros((7, speed.size))
    state[3], state[4], state[5] = speed * level * ahead_x, speed * level * ahead_y, speed * rise
    state[6] = np.abs(spin)
    back, side = np.cos(tilt), np.sin(tilt)
    axis = np.array(
        [ahead_y * back - rise * ahead_x * side, -ahead_x * back - rise * ahead_y * side, level * side]
    )
    return state, np.where(spin < 0, -axis, axis), arrays[0].shape


def _rate(
    air: Air, axis: Floats, coefficients: Aero, lowest_m: Floats, winds: Floats | None = None
) -> Derivative:
    """Time derivative of the state; ``winds`` (2, n) is each ball's own in place of the air's."""
    reynolds_per_speed = air.density_kg_m3 * 2 * RADIUS_M / air.viscosity_pa_s
    pull = 0.5 * air.density_kg_m3 * AREA_M2 / MASS_KG
    windy = winds is not None or air.wind_along_m_s != 0.0 or air.wind_across_m_s != 0.0
    unit = replace(air, wind_along_m_s=1.0, wind_across_m_s=1.0)
    axis_x, axis_y, axis_z = axis

    def rate(state: Floats) -> Floats:
        out = np.empty_like(state)
        out[:3] = state[3:6]
        through = state[3:6]
        if windy:
            height = state[2] - lowest_m
            along, across = air.wind_at(height) if winds is None else winds * unit.wind_at(height)
            through = through.copy()
            through[0] -= along
            through[1] -= across
        x, y, z = through
        spin = state[6]
        speed = np.sqrt(x * x + y * y + z * z)
        drag, lift = coefficients(speed, spin, speed * reynolds_per_speed)
        scale = pull * speed
        drag = drag * scale
        lift = lift * scale
        out[3] = lift * (axis_y * z - axis_z * y) - drag * x
        out[4] = lift * (axis_z * x - axis_x * z) - drag * y
        out[5] = lift * (axis_x * y - axis_y * x) - drag * z - GRAVITY_M_S2
        out[6] = (-SPIN_DECAY / (2 * RADIUS_M)) * speed * spin
        return out

    return rate


def _steps_s(state: Floats, height: Floats, step_s: float | None) -> Floats:
    if step_s is not None:
        if not 0 < step_s <= 0.5:
            raise CaddieError(f"flight: step_s {step_s:g} must be above 0 and at most 0.5")
        return np.full(height.size, step_s)
    drop = np.maximum(state[5] ** 2 + 2 * GRAVITY_M_S2 * np.maximum(-height, 0.0), 0.0)
    return np.asarray(np.maximum((state[5] + np.sqrt(drop)) / GRAVITY_M_S2, 0.05) / STEPS)


def _hermite(u: Floats, h: Floats, p0: Floats, v0: Floats, p1: Floats, v1: Floats) -> Floats:
    rest = 1.0 - u
    bend = (1 + 2 * u) * rest * rest * p0 + u * u * (3 - 2 * u) * p1
    return np.asarray(bend + h * u * rest * (rest * v0 - u * v1))


def _step(rate: Derivative, state: Floats, step: Floats) -> Floats:
    half = 0.5 * step
    k1 = rate(state)
    k2 = rate(state + half * k1)
    k3 = rate(state + half * k2)
    k4 = rate(state + step * k3)
    k2 += k3
    k1 += k4
    k1 += 2.0 * k2
    return np.asarray(state + (step / 6.0) * k1)


def fly(
    launch: Launch,
    air: Air,
    landing_height_m: ArrayLike = 0.0,
    aero: str = "bearman_harvey",
    step_s: float | None = None,
    winds: tuple[ArrayLike, ArrayLike] | None = None,
) -> Landing:
    """Fly balls until each comes down to ``landing_height_m`` (above the launch; broadcast to the shots).

    A ball that never gets up to that height is followed down to the level it started from, so that
    :func:`caddie.ball.roll.settle` finds where it meets the bank.

    Args:
        launch: the balls, any shape.
        air: density, viscosity and wind.
        landing_height_m: height of the landing level, m.
        aero: a name of :data:`caddie.ball.aero.AERO`.
        step_s: a fixed step in s in place of one per ball.
        winds: along and across in m/s of each ball, broadcast to the shots, in place of the air's.

    Raises:
        CaddieError: an unknown model, a launch that is not a number, a flight beyond 60 s.
    """
    balls = _Flying(launch, air, landing_height_m, aero, step_s, winds)
    windy = winds is not None or air.wind_along_m_s != 0.0 or air.wind_across_m_s != 0.0
    first = FIRST_STEPS if windy and step_s is None else ()
    for number in range(40 * STEPS if step_s is None else int(60 / step_s)):
        if balls.all_landed():
            return balls.landing()
        balls.advance(first[number] if number < len(first) else 1.0)
    raise CaddieError("flight: a ball stayed in the air for a minute: check launch and wind")


class _Flying:
    """Balls on their way: those still followed (n,), and what became of all (N,)."""

    def __init__(
        self,
        launch: Launch,
        air: Air,
        landing_height_m: ArrayLike,
        aero: str,
        step_s: float | None,
        winds: tuple[ArrayLike, ArrayLike] | None,
    ) -> None:
        self.state, self.axis, self.shape = _start(launch)
        count = self.state.shape[1]
        height = np.broadcast_to(np.asarray(landing_height_m, dtype=float), self.shape)
        self.height = height.ravel().copy()
        self.air, self.coefficients = air, aero_model(aero)
        self.lowest = np.minimum(self.height, 0.0)
        self.winds = (
            None
            if winds is None
            else np.array([np.broadcast_to(np.asarray(one), self.shape).ravel() for one in winds])
        )
        self.rate = _rate(air, self.axis, self.coefficients, self.lowest, self.winds)
        self.step_s = _steps_s(self.state, self.height, step_s)
        self.time = np.zeros(count)
        self.landed = (self.state[5] <= 0.0) & (self.height >= 0.0)
        self.index = np.arange(count)
        """Which of all balls each followed one is."""
        self.end, self.end_time, self.apex = self.state.copy(), np.zeros(count), np.zeros(count)

    def all_landed(self) -> bool:
        """Whether none is left in the air; when many are down, only the others are followed."""
        down = int(np.count_nonzero(self.landed))
        if down == self.landed.size:
            return True
        if down > _DOWN_SHARE * self.landed.size:
            up = np.flatnonzero(~self.landed)
            self.state, self.height = self.state[:, up], self.height[up]
            self.step_s, self.time = self.step_s[up], self.time[up]
            self.index, self.landed = self.index[up], self.landed[up]
            winds = None if self.winds is None else self.winds[:, self.index]
            self.rate = _rate(
                self.air, self.axis[:, self.index], self.coefficients, self.lowest[self.index], winds
            )
        return False

    def advance(self, share: float) -> None:
        """Follow the balls for a share of their step."""
        step, before = self.step_s * share, self.state
        after = _step(self.rate, before, step)
        falling = after[5] < 0.0
        turned = np.flatnonzero(falling & (before[5] >= 0.0) & ~self.landed)
        if turned.size:
            u = before[5, turned] / (before[5, turned] - after[5, turned])
            ends = before[2, turned], before[5, turned], after[2, turned], after[5, turned]
            self.apex[self.index[turned]] = _hermite(u, step[turned], *ends)
        short = falling & (self.height > 0.0) & (before[2] <= self.height) & (after[2] <= self.height)
        self.height[short & ~self.landed] = 0.0
        hit = np.flatnonzero(falling & (after[2] <= self.height) & ~self.landed)
        if hit.size:
            where = self.index[hit]
            self.end[:, where], part = _meet(before[:, hit], after[:, hit], step[hit], self.height[hit])
            self.end_time[where] = self.time[hit] + part * step[hit]
            self.landed[hit] = True
        self.state = after
        self.time = self.time + step

    def landing(self) -> Landing:
        """The landings of all balls, in the shape of the launch."""
        columns = (*self.end[:6], *(self.end[6] * self.axis), self.end_time, self.apex)
        return Landing(*(column.reshape(self.shape) for column in columns))


def _meet(state: Floats, after: Floats, step: Floats, height: Floats) -> tuple[Floats, Floats]:
    """State where the cubic through two steps comes down to ``height``, and the share of the step."""
    u = np.clip((state[2] - height) / np.maximum(state[2] - after[2], 1e-12), 0.0, 1.0)
    for _ in range(4):
        z = _hermite(u, step, state[2], state[5], after[2], after[5])
        velocity = state[5] + u * (after[5] - state[5])
        u = np.clip(u - (z - height) / np.minimum(velocity * step, -1e-9), 0.0, 1.0)
    found = state + u * (after - state)
    for axis in range(3):
        found[axis] = _hermite(u, step, state[axis], state[axis + 3], after[axis], after[axis + 3])
    return found, u


def on_the_way(
    launch: Launch,
    air: Air,
    landing_height_m: ArrayLike,
    landing: Landing,
    aero: str = "bearman_harvey",
    parts: int = 4,
) -> Floats:
    """States (parts + 1, 9, ...) at even shares of the flight times of :func:`fly`, launch and landing included.

    A state is position, velocity and spin vector. ``landing`` is what :func:`fly` gave for the same arguments.

    Raises:
        CaddieError: as :func:`fly`.
    """
    state, axis, shape = _start(launch)
    height = np.broadcast_to(np.asarray(landing_height_m, dtype=float), shape).ravel()
    rate = _rate(air, axis, aero_model(aero), np.minimum(height, 0.0))
    part = landing.time_s.ravel() / parts
    windy = air.wind_along_m_s != 0.0 or air.wind_across_m_s != 0.0
    nodes = np.empty((parts + 1, 9, state.shape[1]))
    for number in range(parts + 1):
        nodes[number, :6], nodes[number, 6:] = state[:6], state[6] * axis
        shares = _FIRST_PART if windy and number == 0 else _LATER_PART
        for share in shares if number < parts else ():
            state = _step(rate, state, share * part)
    return nodes.reshape(parts + 1, 9, *shape)


def trace(
    launch: Launch,
    air: Air,
    landing_height_m: ArrayLike = 0.0,
    aero: str = "bearman_harvey",
    points: int = 60,
) -> tuple[Floats, Floats, Floats, Floats]:
    """Points of each flight for a picture: (t, x, y, z), each (points, ...) from launch to landing.

    Raises:
        CaddieError: as :func:`fly`.
    """
    end = fly(launch, air, landing_height_m, aero)
    state, axis, shape = _start(launch)
    height = np.broadcast_to(np.asarray(landing_height_m, dtype=float), shape).ravel()
    rate = _rate(air, axis, aero_model(aero), np.minimum(height, 0.0))
    step = end.time_s.ravel() / max(points - 1, 1)
    path = np.empty((points, 4, state.shape[1]))
    for index in range(points):
        path[index, 0], path[index, 1:] = index * step, state[:3]
        state = _step(rate, state, step)
    t, x, y, z = (path[:, row].reshape(points, *shape) for row in range(4))
    return t, x, y, z
