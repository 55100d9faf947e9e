"""What makes a shot in wind less certain: the wind is not quite the one that was told, and it moves the player.

The wind is known to some share of its speed and to some degrees, and it comes in gusts. What that does to
where a ball ends is read off the flights themselves, flown once more in a stronger wind and in one that comes
from a little more to the right, and run out on a level green.
"""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats, Ints, distinct
from caddie.ball.air import HEAD_M, ROUGHNESS_M, WIND_HEIGHT_M, Air
from caddie.ball.flight import Launch, fly
from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.roll import settle
from caddie.ball.table import float_share, shortened

GUST_SHARE = 1.0 / float(np.log(WIND_HEIGHT_M / ROUGHNESS_M))
"""Standard deviation of the wind's speed about its mean, as a share: the turbulence intensity over open grass,
1 / ln(z / z0) (EN 1991-1-4:2005, eq. 4.7; recalled from memory), 0.17. A flight is over before a gust is."""
TOLD_M_S, TOLD_SHARE = 1.0, 0.5
"""Spread of the mean speed told or forecast about the true one: 1 m/s, about what forecasts of the hour miss by
(memory), and of a breath of wind no more than half of it (common practice, no source)."""
SWING_SHARE = 0.75
"""The gusts across the wind against those along it (EN 1991-1-4 and ESDU 85020 give 0.7 to 0.8; memory)."""
SECTOR_RAD = float(np.radians(45.0))
"""The wind is told by eight sides; within one, every direction is as likely."""
TURN_RAD = float(np.hypot(SECTOR_RAD / np.sqrt(12.0), SWING_SHARE * GUST_SHARE))
"""Spread of its direction."""
UNSTEADY_PER_M_S = 0.04
"""How much wider a player's own pattern gets, and how much likelier a mishit, with every m/s of wind at the head:
balance and tempo suffer (that they do is common practice; how much has no source)."""
FULL_SHARE, FULL_UNSTEADIER, SMOOTH_UNSTEADIER = 0.85, 1.5, 0.75
"""Into a wind a longer swing than this is unsteadier than the mean by the first factor, a shorter one by the second:
when it's breezy, swing easy (common practice, no source)."""
LEAST_CARRY_M = 0.1
_STRONGER = 0.25
_EVERY = 7
"""What the wind does changes slowly with ball speed: every seventh one is flown."""
_GREEN = Ground.of_strips([Strip(0.0, Surface.GREEN)])


@dataclass(frozen=True)
class WindError:
    """Carry in still air, and the spread of length and side that the wind's error makes [m], shape (m, k)."""

    still_carry_m: Floats
    length_sd_m: Floats
    side_sd_m: Floats


def wind_error(launch: Launch, today: Air, height_m: float, carry_m: Floats) -> WindError:
    """For launches (m, k) that land at ``height_m`` and carry ``carry_m`` today."""
    nothing = np.zeros_like(carry_m)
    if not (today.wind_along_m_s or today.wind_across_m_s):
        return WindError(carry_m, nothing, nothing)
    count = carry_m.shape[1]
    some = distinct(np.linspace(0, count - 1, count // _EVERY + 2).round().astype(np.intp))
    still, told, gust, turned = _ends(launch, some, today, height_m)
    length, side = np.hypot(speed_share(today) / _STRONGER * (gust - told), turned - told)[1:]
    # As shares of the carry they change more evenly with ball speed than in metres.
    flown = np.maximum(told[0], LEAST_CARRY_M)
    shares = [_between(launch.speed_m_s, some, value / flown) for value in (still[0] - told[0], length, side)]
    still_carry_m = np.maximum.accumulate(carry_m + shares[0] * carry_m, axis=1)
    return WindError(still_carry_m, shares[1] * carry_m, shares[2] * carry_m)


def speed_share(today: Air) -> float:
    """Spread of the wind's speed in the time of a flight about the told one, as a share: gusts and error."""
    speed_m_s = float(np.hypot(today.wind_along_m_s, today.wind_across_m_s))
    return float(np.hypot(GUST_SHARE, min(TOLD_M_S / speed_m_s, TOLD_SHARE)))


def unsteady(today: Air, share: Floats) -> Floats:
    """How much wider the player's own pattern is in this wind, and how much likelier a mishit, by swing share."""
    against = today.wind_along_m_s < 0.0
    by_swing = np.interp(share, [FULL_SHARE, 1.0], [SMOOTH_UNSTEADIER, FULL_UNSTEADIER]) if against else 1.0
    return np.asarray(1.0 + by_swing * UNSTEADY_PER_M_S * float(np.hypot(*today.wind_at(HEAD_M))))


def _ends(launch: Launch, some: Ints, today: Air, height_m: float) -> Floats:
    """Carry, and where balls come to rest on a level green, along and to the left, (4, 3, m, k).

    In still air, in the told wind, in one stronger by ``_STRONGER`` and in one turned to the left.
    """
    told = complex(today.wind_along_m_s, today.wind_across_m_s)
    winds = np.array([0.0, told, (1.0 + _STRONGER) * told, told * np.exp(1j * TURN_RAD)]).reshape(4, 1, 1)
    balls = Launch(**{name: np.stack([value[:, some]] * 4) for name, value in vars(launch).items()})
    landing = fly(balls, today, height_m, winds=(winds.real, winds.imag))
    if today.wind_along_m_s < 0.0:
        landing = shortened(landing, float_share(landing.x_m, landing.x_m[:1]))
    rest = settle(landing, _GREEN, met=True)
    return np.stack([landing.x_m, rest.x_m, rest.y_m], axis=1)


def _between(speeds: Floats, some: Ints, values: Floats) -> Floats:
    return np.array([np.interp(mine, mine[some], value) for mine, value in zip(speeds, values, strict=True)])
