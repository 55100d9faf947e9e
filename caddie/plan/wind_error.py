"""How far a ball is carried astray because the wind is not the one that was told.

The wind is known to some share of its speed and to some degrees, and it comes in gusts. What that does to
carry and side is read off the flights themselves: flown once more in a stronger wind, and turned against it.
"""

from dataclasses import dataclass, replace

import numpy as np

from caddie.arrays import Floats, Ints, distinct
from caddie.ball.air import ROUGHNESS_M, WIND_HEIGHT_M, Air
from caddie.ball.flight import Launch, fly
from caddie.ball.table import FlightTable

GUST_SHARE = 1.0 / float(np.log(WIND_HEIGHT_M / ROUGHNESS_M))
"""Standard deviation of the wind's speed about its mean, as a share: the turbulence intensity over open grass,
1 / ln(z / z0) (EN 1991-1-4:2005, eq. 4.7; recalled from memory), 0.17. A flight is over before a gust is."""
TOLD_SHARE = 0.1
"""Spread of the mean speed told or forecast about the true one, as a share (common practice, no source)."""
SPEED_SHARE = float(np.hypot(GUST_SHARE, TOLD_SHARE))
SWING_SHARE = 0.75
"""The gusts across the wind against those along it (EN 1991-1-4 and ESDU 85020 give 0.7 to 0.8; memory)."""
SECTOR_RAD = float(np.radians(45.0))
"""The wind is told by eight sides; within one, every direction is as likely."""
TURN_RAD = float(np.hypot(SECTOR_RAD / np.sqrt(12.0), SWING_SHARE * GUST_SHARE))
"""Spread of its direction."""
_STRONGER = 0.25
_PROBE_RAD = 0.1
_EVERY = 3
"""What the wind does changes slowly with ball speed: every third one is flown."""


@dataclass(frozen=True)
class WindError:
    """Carry in still air, and the spread of carry and side that the wind's error makes [m], shape (m, k)."""

    still_carry_m: Floats
    length_sd_m: Floats
    side_sd_m: Floats


def wind_error(launch: Launch, table: FlightTable, today: Air, height_m: float, carry_m: Floats) -> WindError:
    """For (m, k) launches, landing at ``height_m``, of which ``table`` holds the first m rows."""
    nothing = np.zeros_like(carry_m)
    if not (today.wind_along_m_s or today.wind_across_m_s):
        return WindError(carry_m, nothing, nothing)
    count = carry_m.shape[1]
    some = distinct(np.linspace(0, count - 1, count // _EVERY + 2).round().astype(np.intp))
    balls = Launch(**{name: value[: len(carry_m), some] for name, value in vars(launch).items()})
    still = fly(balls, _blown(today, 0.0), height_m)
    told = fly(balls, today, height_m)
    gust = fly(balls, _blown(today, 1.0 + _STRONGER), height_m)
    by_speed = [
        SPEED_SHARE / _STRONGER * (now - then) for now, then in ((gust.x_m, told.x_m), (gust.y_m, told.y_m))
    ]
    by_turn = _turned(table, balls)
    length, side = (np.hypot(one, other) for one, other in zip(by_speed, by_turn, strict=True))
    speeds = launch.speed_m_s[: len(carry_m)]
    spread = [_between(speeds, some, value) for value in (still.x_m, length, side)]
    return WindError(np.maximum.accumulate(spread[0], axis=1), spread[1], spread[2])


def _blown(air: Air, share: float) -> Air:
    return replace(
        air, wind_along_m_s=share * air.wind_along_m_s, wind_across_m_s=share * air.wind_across_m_s
    )


def _turned(table: FlightTable, balls: Launch) -> tuple[Floats, Floats]:
    """Change of carry and side when the wind turns by its spread: a shot turned against it, turned back."""
    shape = balls.speed_m_s.shape
    row = np.repeat(np.arange(shape[0]), shape[1])
    ends = []
    for turn in (_PROBE_RAD, -_PROBE_RAD):
        landing = table.land(row, balls.speed_m_s.ravel(), -turn)
        cosine, sine = np.cos(turn), np.sin(turn)
        x_m, y_m = landing.x_m, landing.y_m
        ends.append(np.array([cosine * x_m - sine * y_m, sine * x_m + cosine * y_m]))
    change = (ends[0] - ends[1]) * (TURN_RAD / (2 * _PROBE_RAD))
    return change[0].reshape(shape), change[1].reshape(shape)


def _between(speeds: Floats, some: Ints, values: Floats) -> Floats:
    return np.array([np.interp(mine, mine[some], value) for mine, value in zip(speeds, values, strict=True)])
