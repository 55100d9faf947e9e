"""The way of one putt in even steps of time, for a picture of it."""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats
from caddie.ball.ground import Ground
from caddie.ball.leg import Balls, Leg, Slopes, leg_of

STEP_S = 0.02
LONGEST_ROLL_S = 60.0
_NODES = 65
_ROUNDS = 3
_STILL = 1e-4
"""Share of its speed with which a ball is taken to rest."""


@dataclass(frozen=True)
class Path:
    """Where one ball is and how fast, (p,) each, every ``STEP_S`` from its start; the last place is its rest."""

    time_s: Floats
    x_m: Floats
    y_m: Floats
    speed_m_s: Floats


def roll_path(ground: Ground, speed_m_s: float, azimuth_rad: float) -> Path:
    """The way of a putt from the origin over a covered hole, until it rests or for a minute.

    >>> from caddie.ball.ground import flat
    >>> path = roll_path(flat(stimp_ft=10.0), 1.0, 0.0)
    >>> round(float(path.x_m[-1]), 3), round(float(path.time_s[-1]), 2)
    (0.91, 1.82)
    """
    start = speed_m_s * np.array([[np.cos(azimuth_rad)], [np.sin(azimuth_rad)]])
    balls, slopes = Balls.of(np.zeros((2, 1)), start), Slopes.of(ground)
    parts: list[Path] = []
    begun_s = 0.0
    while balls.number.size and begun_s < LONGEST_ROLL_S:
        leg = leg_of(ground, slopes, balls)
        lasts_s = _lasts_s(leg)
        parts.append(_sampled(leg, begun_s, min(lasts_s, LONGEST_ROLL_S - begun_s)))
        begun_s += lasts_s
        rest = Path(np.array([begun_s]), leg.end_x, leg.end_y, np.zeros(1))
        balls = leg.onward(balls)
    parts.append(rest)
    return Path(
        *(np.concatenate([getattr(part, name) for part in parts]) for name in Path.__dataclass_fields__)
    )


def _lasts_s(leg: Leg) -> float:
    if leg.stuck[0]:
        return 0.0
    return float(leg.way.time_s(leg.last(np.zeros(1, dtype=np.int64), _STILL))[0])


def _sampled(leg: Leg, begun_s: float, lasts_s: float) -> Path:
    """The even steps of time that fall on a leg of one ball, begun at ``begun_s``."""
    steps = np.arange(np.ceil(begun_s / STEP_S - 1e-9), np.ceil((begun_s + lasts_s) / STEP_S - 1e-9))
    time_s = np.asarray(steps * STEP_S, dtype=np.float64)
    since = time_s - begun_s
    nodes = np.linspace(0.0, float(leg.last(np.zeros(1, dtype=np.int64), _STILL)[0]), _NODES)
    way = leg.way.take(np.zeros(_NODES, dtype=np.int64))
    lost = np.interp(since, way.time_s(nodes), nodes)
    way = leg.way.take(np.zeros(since.size, dtype=np.int64))
    for _ in range(_ROUNDS):
        lost += (since - way.time_s(lost)) * way.resist / way.spot(lost).speed()
    there = way.spot(lost)
    return Path(time_s, way.x + there.moved_x, way.y + there.moved_y, there.speed())
