"""The flight integrated by scipy, its force law written independently of the package."""

from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import RectBivariateSpline

from caddie.ball.air import Air
from caddie.ball.launch import Launch
from caddie.ball.wind_tunnel import AIR_SPEED_M_S, DRAG, LIFT, SPIN_RPM

MASS, RADIUS, GRAVITY = 0.04593, 0.021335, 9.80665


def _extended(table: np.ndarray, at_rest: np.ndarray) -> RectBivariateSpline:
    """The published table with the rules of `caddie.ball.aero` beyond it, written anew for scipy."""
    fast = np.arange(6200.0, 14001.0, 200.0)
    edge = table[-1]
    beyond = []
    for rpm in fast:
        same_ratio = [np.interp(max(v * 6000 / rpm, 13.7), AIR_SPEED_M_S, edge) for v in AIR_SPEED_M_S]
        beyond.append(edge + 0.25 * (np.array(same_ratio) - edge))
    spins_rpm = np.concatenate([[0.0], SPIN_RPM, fast])
    return RectBivariateSpline(
        spins_rpm, AIR_SPEED_M_S, np.vstack([at_rest, table, *beyond]), kx=1, ky=1, s=0
    )


DRAG_GRID, LIFT_GRID = _extended(DRAG, DRAG[0]), _extended(LIFT, np.zeros(10))


def reference_landing(
    start: Launch, here: Air, model: str, tolerance: float = 1e-7
) -> tuple[float, float, float]:
    """x, y and time of landing on level ground by scipy."""
    state, time = reference_contact(start, here, model, tolerance)
    return float(state[0]), float(state[1]), time


def reference_contact(
    start: Launch,
    here: Air,
    model: str = "bearman_harvey",
    tolerance: float = 1e-7,
    height_m: Callable[[float], float] = lambda x: 0.0,
    lowest_m: float = 0.0,
) -> tuple[np.ndarray, float]:
    """State (x, y, z, velocity, spin) and time where the ball meets ground of height ``height_m(x)`` by scipy.

    The same force law written independently; the wind's height counts from ``lowest_m``.
    """
    speed, angle, azimuth = (float(v) for v in (start.speed_m_s, start.angle_rad, start.azimuth_rad))
    tilt = float(start.axis_rad)
    heading = np.array([np.cos(azimuth), np.sin(azimuth), 0.0])
    left = np.array([-np.sin(azimuth), np.cos(azimuth), 0.0])
    direction = np.cos(angle) * heading + np.sin(angle) * np.array([0.0, 0.0, 1.0])
    above = np.cross(direction, left)
    axis = -np.cos(tilt) * left + np.sin(tilt) * above

    def coefficients(v: float, spin: float) -> tuple[float, float]:
        if model == "smits_smith":
            reynolds = np.clip(v * 2 * RADIUS * here.density_kg_m3 / here.viscosity_pa_s, 70e3, 210e3)
            ratio = min(spin * RADIUS / v, 1.0)
            return 0.24 + 0.18 * ratio + 0.06 * np.sin(np.pi * (reynolds - 90e3) / 200e3), 0.54 * ratio**0.4
        rpm = spin * 60 / (2 * np.pi)
        if v < 13.7:
            rpm, v = min(rpm * 13.7 / v, max(6000.0, rpm)), 13.7
        point = (min(rpm, 14000.0), min(v, 88.1))
        return float(DRAG_GRID.ev(*point)), float(LIFT_GRID.ev(*point))

    def rate(_: float, state: np.ndarray) -> np.ndarray:
        along, across = here.wind_at(state[2] - lowest_m)
        through = state[3:6] - np.array([along, across, 0.0])
        v = max(float(np.linalg.norm(through)), 1e-6)
        drag, lift = coefficients(v, state[6])
        force = 0.5 * here.density_kg_m3 * np.pi * RADIUS**2 * v**2
        pull = force / MASS * (-drag * through / v + lift * np.cross(axis, through / v))
        pull[2] -= GRAVITY
        return np.concatenate([state[3:6], pull, [-4e-5 * v * state[6] / (2 * RADIUS)]])

    def ground(_: float, state: np.ndarray) -> float:
        return float(state[2]) - height_m(float(state[0]))

    ground.terminal, ground.direction = True, -1  # type: ignore[attr-defined]
    begin = np.concatenate([[0, 0, 1e-9], speed * direction, [float(start.spin_rad_s)]])
    found = solve_ivp(rate, (0, 30), begin, events=ground, rtol=tolerance, atol=tolerance)
    return found.y[:, -1], float(found.t[-1])
