"""A flight kept as states on its way, and where it meets ground far above or below its landing level.

A landing at one level tells little of where a ball meets a bank metres above or below that level: without air,
the parabola through it is off by yards. So a flight is also kept as its states at five times, and is between them
the cubic with their positions and velocities (Hermite), which is within a few millimetres of the flight.
"""

import numpy as np

from caddie.arrays import Bools, Floats, Ints
from caddie.ball.flight import Landing
from caddie.ball.ground import Ground
from caddie.ball.impact import fall
from caddie.ball.sphere import GRAVITY_M_S2

NODES = 5
STATE = 9
"""Fields of a state: position, velocity and spin vector."""
_HALVINGS = 7
_NEAR_M = 0.3
"""So close to its landing level the parabola finds the ground within a centimetre or two."""
_CLEAR_M = 0.5
"""A ball that passes the edge of a drop so far above is not followed."""


def edges(ground: Ground) -> Ints:
    """The strips before whose start the ground rises more, or falls less, than behind it."""
    return np.asarray(1 + np.flatnonzero(np.diff(ground.slope) < 0.0))


def doubtful(ground: Ground, landing: Landing) -> Bools:
    """Which balls (n,) may meet the ground elsewhere than near their landing at a level.

    Those with ground of another height under their landing, and those that no way lower than the flight brings
    over every edge behind which the ground falls away: the parabola back from the landing to its top, and the
    straight line from there to the start.
    """
    x, y, z = landing.x_m, landing.y_m, landing.z_m
    found = np.abs(ground.height_m(x, y) - z) > _NEAR_M
    ahead = np.maximum(landing.vx_m_s, 1e-3)
    since_top = np.maximum(-landing.vz_m_s, 0.0) / GRAVITY_M_S2
    rising = (z + 0.5 * GRAVITY_M_S2 * since_top**2) / np.maximum(x - ahead * since_top, 1e-3)
    for edge in edges(ground):
        back = (x - ground.start_m[edge]) / ahead
        fallen = z - (landing.vz_m_s + 0.5 * GRAVITY_M_S2 * back) * back
        passed = np.where(back < since_top, fallen, rising * ground.start_m[edge])
        found |= (back > 0.0) & (passed < ground.base_m[edge] + _lean(ground) * np.abs(y) + _CLEAR_M)
    return np.asarray(found)


def _lean(ground: Ground) -> float:
    return float(np.max(np.abs(ground.cross_slope)) + np.max(np.abs(ground.funnel)))


def meet(ground: Ground, nodes: Floats, time_s: Floats) -> Floats:
    """States (9, n) of balls as they first meet the ground, by the states (5, 9, n) on their ways.

    ``time_s`` (n,) is the flight's, and the nodes are at even shares of it. Heights are compared at eight even
    shares and over every edge; the first that lies below the ground, and the last before it, enclose the contact.
    """
    step = time_s / (NODES - 1)
    every = np.arange(time_s.size)
    shares, under = [], []

    def look(share: Floats | float, place: Floats) -> None:
        shares.append(np.broadcast_to(share, step.shape))
        under.append(place[2] <= ground.height_m(place[0], place[1]))

    for number in range(NODES - 1):
        low, high = nodes[number], nodes[number + 1]
        look(number + 0.5, 0.5 * (low[:3] + high[:3]) + 0.125 * step * (low[3:6] - high[3:6]))
        look(number + 1.0, high[:3])
    places = np.ascontiguousarray(nodes[:, :6].transpose(0, 2, 1))
    for edge in edges(ground):
        share = _share_at(nodes[:, 0], step, nodes[:, 3], ground.start_m[edge])
        node = np.minimum(share.astype(np.intp), NODES - 2)
        look(share, _place(places[node, every].T, places[node + 1, every].T, step, share - node))
    low_share, high_share = np.zeros(time_s.size), np.full(time_s.size, NODES - 1.0)
    for share, below in zip(shares, under, strict=True):
        high_share = np.where(below, np.minimum(high_share, share), high_share)
    for share, below in zip(shares, under, strict=True):
        low_share = np.where(~below & (share <= high_share), np.maximum(low_share, share), low_share)
    node = np.minimum(low_share.astype(np.intp), NODES - 2)
    low, high = np.ascontiguousarray(places[node, every].T), np.ascontiguousarray(places[node + 1, every].T)
    u, most = low_share - node, high_share - node
    for _ in range(_HALVINGS):
        half = 0.5 * (u + most)
        x, y, z = _place(low, high, step, half)
        above = z > ground.height_m(x, y)
        u, most = np.where(above, half, u), np.where(above, most, half)
    rest = 1.0 - u
    state = np.empty((STATE, time_s.size))
    spin, later = nodes[node, 6:, every].T, nodes[node + 1, 6:, every].T
    state[:3], state[6:] = _place(low, high, step, u), spin + u * (later - spin)
    swift = 6 * u * rest * (high[:3] - low[:3]) / np.maximum(step, 1e-9)
    state[3:6] = np.where(
        step > 0.0, swift + rest * (1 - 3 * u) * low[3:] + u * (3 * u - 2) * high[3:], low[3:]
    )
    fall(ground, state[:3], state[3:6])
    return state


def _place(low: Floats, high: Floats, step: Floats, u: Floats) -> Floats:
    """Positions (3, n) at the share ``u`` (n,) of the time between two states."""
    rest = 1.0 - u
    moved = (step * u * rest) * (rest * low[3:6] - u * high[3:6])
    share = u * u * (3 - 2 * u)
    return np.asarray(low[:3] + share * (high[:3] - low[:3]) + moved)


def _share_at(x: Floats, step: Floats, ahead: Floats, edge_m: float) -> Floats:
    """Where (n,) on the ways, in nodes, the balls pass ``edge_m``; the end where they do not come so far."""
    node = np.clip((x[1:] < edge_m).sum(axis=0), 0, NODES - 2)
    every = np.arange(step.size)
    near, far = x[node, every], x[node + 1, every]
    start, end = step * ahead[node, every], step * ahead[node + 1, every]
    u = np.clip((edge_m - near) / np.maximum(far - near, 1e-9), 0.0, 1.0)
    for _ in range(2):
        rest = 1.0 - u
        at = (
            (1 + 2 * u) * rest * rest * near + u * u * (3 - 2 * u) * far + u * rest * (rest * start - u * end)
        )
        u = np.clip(u + (edge_m - at) / np.maximum(far - near, 1e-9), 0.0, 1.0)
    return np.asarray(node + u)
