"""One stretch of rolling balls on a plane, in exact closed form.

On a plane a rolling ball loses a along its way and is pulled downhill with g' = (5/7) g sin(slope). With phi
the angle between its way and the fall line, dv/dt = g' cos phi - a and v dphi/dt = -g' sin phi, so that
v = C tan(phi/2)^(a/g') / sin phi (the hodograph under friction and a steady pull; standard mechanics).
With e = g'/a, c = cos^2(phi0/2), s = sin^2(phi0/2) and q falling from 1 to 0 that gives (own derivation)

    v = v0 q^(1-e) (c + s q^(2e)),
    X = v0^2 / 2 [c^2 (1 - q^(2-2e)) / (a - g') - s^2 (1 - q^(2+2e)) / (a + g')]    down the fall line,
    Y = 2 v0^2 sqrt(c s) [c (1 - q^(2-e)) / (2a - g') + s (1 - q^(2+e)) / (2a + g')]    across it,

and the ball rests at q = 0 unless e >= 1, when the slope is steeper than it can hold. A level green is e = 0.
Run backward in time the ball gains a along its way: the same forms with -a for a, and q growing from 1.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from caddie.ball.ground import Ground
from caddie.ball.track import Slopes
from caddie.ball.turf import ABSORBS

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

_LEVEL = 1e-9
_LAST = 1 - 1e-12
_LEAST_POWER = 0.02
_BACK = 7.0
"""A ball followed backward gains up to e^7 times its speed."""


@dataclass(frozen=True)
class Way:
    """Balls (n,) on their planes: start, speed, axes down and across the fall line, terms of X and Y."""

    x: Floats
    y: Floats
    speed: Floats
    down_x: Floats
    down_y: Floats
    across_x: Floats
    across_y: Floats
    steep: Floats
    """e = g' / a of the formulas above."""
    cosine2: Floats
    sine2: Floats
    terms: Floats
    """(4, n): the lengths that multiply 1 - q^(2-2e), 1 - q^(2+2e), 1 - q^(2-e) and 1 - q^(2+e)."""
    rates: Floats
    """(4, n): those powers of q."""
    holds: Bools
    pace: Floats
    """How the share of the way is spread: over the speed lost, or the power of q where the ball speeds up."""
    backward: bool
    all_hold: bool

    def take(self, at: Ints) -> "Way":
        """The balls at these indices."""
        fields: list[Any] = [getattr(self, name) for name in self.__dataclass_fields__]
        taken: list[Any] = [each[..., at] if isinstance(each, np.ndarray) else each for each in fields]
        part = Way(*taken)
        return replace(part, all_hold=bool(part.holds.all()))

    def power(self, tau: Floats) -> Floats:
        """-ln q for the share ``tau`` (0 to 1) of the way."""
        if self.backward:
            return np.asarray(-self.pace * tau)
        if self.all_hold:
            return np.asarray(-np.log1p(-np.minimum(tau, _LAST)) / self.pace)
        return np.where(self.holds, -np.log1p(-np.minimum(tau, _LAST)) / self.pace, self.pace * tau**3)

    def share(self, power: Floats) -> Floats:
        """The inverse of :meth:`power`."""
        if self.backward:
            return np.clip(-power / self.pace, 0.0, 1.0)
        return np.where(
            self.holds, -np.expm1(-power * self.pace), np.cbrt(np.minimum(power / self.pace, 1.0))
        )

    def at(self, tau: Floats) -> tuple[Floats, Floats]:
        """Place (x, y) after the share ``tau`` of the way."""
        return self._place(self.power(tau))

    def state(self, tau: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Place and velocity (x, y, vx, vy) after the share ``tau`` of the way."""
        lost = self.power(tau)
        turned = np.exp(-2 * lost * self.steep)
        scale = self.speed * np.exp(-lost * (1 - self.steep))
        down = scale * (self.cosine2 - self.sine2 * turned)
        across = scale * 2 * np.sqrt(self.cosine2 * self.sine2 * turned)
        return (
            *self._place(lost),
            down * self.down_x + across * self.across_x,
            down * self.down_y + across * self.across_y,
        )

    def turns(self, down: Floats, across: Floats) -> Floats:
        """The share of the way at which the velocity along an axis turns round, 1 when it never does.

        ``down`` and ``across`` are that axis's parts of the fall line's two directions.
        """
        flip = np.where(down >= 0, 1.0, -1.0)
        half_angle = 0.5 * np.arctan2(np.abs(down), -across * flip)
        start = np.sqrt(self.sine2 / self.cosine2)
        with np.errstate(divide="ignore", invalid="ignore"):
            power = -np.log(np.tan(half_angle) / start) / self.steep
        ahead = power < 0 if self.backward else power > 0
        found = np.isfinite(power) & ahead & (self.steep != 0)
        return np.where(found, self.share(np.where(found, power, 0.0)), 1.0)

    def _place(self, lost: Floats) -> tuple[Floats, Floats]:
        gone = -np.expm1(-lost * self.rates) * self.terms
        down, across = gone[0] - gone[1], gone[2] + gone[3]
        return (
            self.x + down * self.down_x + across * self.across_x,
            self.y + down * self.down_y + across * self.across_y,
        )


def way_of(
    ground: Ground,
    slopes: Slopes,
    strip: Ints,
    x: Floats,
    y: Floats,
    vx: Floats,
    vy: Floats,
    backward: bool,
) -> Way:
    """The stretch of balls at (x, y) with level velocity (vx, vy), all (n,), on the planes of their strips.

    ``backward`` follows them back in time; the velocity is then the one they run backward with.
    """
    a = slopes.resist_m_s2[strip * ABSORBS.size + ground.surface[strip]] * (-1.0 if backward else 1.0)
    pull_x, pull_y = -slopes.along_m_s2[strip], -slopes.across_m_s2[strip]
    g = np.hypot(pull_x, pull_y)
    speed = np.maximum(np.hypot(vx, vy), 1e-12)
    # On the level the fall line is taken along the way, so that the ball rolls straight.
    level = g < _LEVEL
    safe = np.where(level, 1.0, g)
    down_x, down_y = np.where(level, vx / speed, pull_x / safe), np.where(level, vy / speed, pull_y / safe)
    g = np.where(level, 0.0, g)
    cosine = np.clip((vx * down_x + vy * down_y) / speed, -1.0, 1.0)
    side = np.where(vy * down_x - vx * down_y >= 0, 1.0, -1.0)
    c, s = np.maximum(0.5 * (1 + cosine), 1e-18), 0.5 * (1 - cosine)
    e = g / a
    squared, bend = speed * speed, np.sqrt(c * s)
    terms = np.array(
        [
            0.5 * squared * c**2 / _apart(a, g),
            0.5 * squared * s**2 / _apart(a, -g),
            2 * squared * bend * c / _apart(2 * a, g),
            2 * squared * bend * s / _apart(2 * a, -g),
        ]
    )
    holds = g < a
    slowing = np.maximum(1 - e, _LEAST_POWER)
    if backward:
        running = np.minimum(_BACK / np.maximum(1 + e, 0.1), 80.0)
    else:
        running = np.minimum(2000.0, 60.0 / np.maximum(2 * e - 2, 0.03))
    return Way(
        x=x,
        y=y,
        speed=speed,
        down_x=down_x,
        down_y=down_y,
        across_x=-side * down_y,
        across_y=side * down_x,
        steep=e,
        cosine2=c,
        sine2=s,
        terms=terms,
        rates=np.array([2 - 2 * e, 2 + 2 * e, 2 - e, 2 + e]),
        holds=holds,
        pace=np.where(holds, slowing, running),
        backward=backward,
        all_hold=bool(holds.all()),
    )


def _apart(first: Floats, second: Floats) -> Floats:
    """Their difference, kept off zero."""
    return np.where(np.abs(first - second) < 1e-9, 1e-9, first - second)
