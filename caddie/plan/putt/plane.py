"""One stretch of putts on a plane (:mod:`caddie.ball.plane`), told by the share of its way, forward or backward."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.ball import plane
from caddie.ball.ground import Ground
from caddie.ball.track import Slopes
from caddie.ball.turf import ABSORBS

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

_LAST = 1 - 1e-12
_LEAST_POWER = 0.02
_BACK = 7.0
"""A ball followed backward gains up to e^7 times its speed."""


@dataclass(frozen=True)
class Way:
    """Balls (n,) on their planes, with the measure of how far they are on their way."""

    motion: plane.Way
    holds: Bools
    pace: Floats
    """How the share of the way is spread: over the speed lost, or the power of q where the ball speeds up."""
    backward: bool
    all_hold: bool

    @property
    def x(self) -> Floats:
        """Where each ball starts."""
        return self.motion.x

    @property
    def y(self) -> Floats:
        """Where each ball starts."""
        return self.motion.y

    def take(self, at: Ints) -> "Way":
        """The balls at these indices."""
        holds = self.holds[at]
        return Way(self.motion.take(at), holds, self.pace[at], self.backward, bool(holds.all()))

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
        moved_x, moved_y = self.motion.moved(self.power(tau))
        return self.x + moved_x, self.y + moved_y

    def state(self, tau: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Place and velocity (x, y, vx, vy) after the share ``tau`` of the way."""
        lost = self.power(tau)
        moved_x, moved_y = self.motion.moved(lost)
        return self.x + moved_x, self.y + moved_y, *self.motion.velocity(lost)

    def turns(self, axis_x: Floats | float, axis_y: Floats | float) -> Floats:
        """The share of the way at which the velocity along an axis turns round, 1 when it never does."""
        motion = self.motion
        power = motion.turns(
            motion.down_x * axis_x + motion.down_y * axis_y, motion.down_x * axis_y - motion.down_y * axis_x
        )
        ahead = power < 0 if self.backward else power > 0
        found = np.isfinite(power) & ahead & (motion.steep != 0)
        return np.where(found, self.share(np.where(found, power, 0.0)), 1.0)


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
    resist = slopes.resist_m_s2[strip * ABSORBS.size + ground.surface[strip]] * (-1.0 if backward else 1.0)
    motion = plane.way_of(x, y, vx, vy, resist, -slopes.along_m_s2[strip], -slopes.across_m_s2[strip])
    e = motion.steep
    held = plane.holds(motion)
    slowing = np.maximum(1 - e, _LEAST_POWER)
    if backward:
        running = np.minimum(_BACK / np.maximum(1 + e, 0.1), 80.0)
    else:
        running = np.minimum(2000.0, 60.0 / np.maximum(2 * e - 2, 0.03))
    return Way(motion, held, np.where(held, slowing, running), backward, bool(held.all()))
