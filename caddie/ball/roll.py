"""The ball on the ground: from its landing through bounce, skid and roll to rest."""

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from caddie.arrays import Bools, Floats, Ints
from caddie.ball.bounce import bounce_model, climb_out, rebound
from caddie.ball.flight import Landing
from caddie.ball.ground import Ground
from caddie.ball.hole import Hole
from caddie.ball.impact import fall, first_contact
from caddie.ball.leg import Balls, Slopes
from caddie.ball.track import roll_out
from caddie.ball.turf import ABSORBS, FRICTION, RESTITUTION, SKID, TILT, skid

_CHUNK = 8_192
_ROLLS_M_S = 0.7
"""A ball that leaves the ground slower than this (2.5 cm high) is rolling."""

_SKIMS = 0.2
"""A ball that leaves flatter than this (11 degrees) skims: its hops cost it what rolling would."""

_MOST_BOUNCES = 12


@dataclass(frozen=True)
class Rest:
    """Where balls come to rest; every field has the shape of the landing.

    ``run_m`` is measured from the first bounce along the landing's heading, negative for a ball that came
    back.
    """

    x_m: Floats
    y_m: Floats
    surface: Ints
    first_bounce_x_m: Floats
    run_m: Floats
    holed: Bools
    never_stopped: Bools

    @staticmethod
    def of(parts: Sequence["Rest"], shape: tuple[int, ...]) -> "Rest":
        """All the balls of ``parts``, one part after the other, in a ``shape``."""
        names = Rest.__dataclass_fields__
        return Rest(
            *(np.concatenate([getattr(part, name) for part in parts]).reshape(shape) for name in names)
        )


@dataclass(frozen=True)
class _Fall:
    """What landed balls settle on and by which rules."""

    ground: Ground
    slopes: Slopes
    bounce: str
    hole: Hole | None
    met: bool

    def settle(self, landed: Floats) -> Rest:
        """Settle balls (10, n): position, velocity, spin vector and time of flight, as a landing has them."""
        position, velocity, spin = landed[0:3], landed[3:6], landed[6:9]
        level = np.maximum(np.hypot(velocity[0], velocity[1]), 1e-12)
        ahead_x, ahead_y = velocity[0] / level, velocity[1] / level
        strip = first_contact(self.ground, position, velocity, landed[9], self.met)
        first_x, first_y = position[0].copy(), position[1].copy()
        spot, motion = _bounce_out(self.ground, position, velocity, spin, strip, self.bounce)
        end = roll_out(self.ground, self.slopes, Balls.of(spot, motion), self.hole)
        run_m = (end.x_m - first_x) * ahead_x + (end.y_m - first_y) * ahead_y
        return Rest(end.x_m, end.y_m, end.surface, first_x, run_m, end.holed, end.never_stopped)


def settle(
    landing: Landing,
    ground: Ground,
    bounce: str = "penner",
    hole: tuple[float, float] | None = None,
    capture: str = "holmes",
    met: bool = False,
) -> Rest:
    """Bounce, skid and roll every landed ball to rest on ``ground``.

    Args:
        landing: balls, any shape; their height is only a level of reference, each first meets the true
        ground. ground: the lie of the land. bounce: a name of :data:`caddie.ball.bounce.BOUNCE`. hole: (x,
        y) in m of a hole that may take the rolling ball; ``None`` leaves it covered. capture: a name of
        :data:`caddie.ball.hole.CAPTURE`. met: the balls are where they meet the ground, or within 0.3 m of that, as
        :meth:`caddie.ball.table.FlightTable.meet` brings them; none is sought on the way there.

    Raises:
        CaddieError: an unknown bounce or capture model.
    """
    bounce_model(bounce)
    rules = _Fall(ground, Slopes.of(ground), bounce, None if hole is None else Hole(*hole, capture), met)
    names = list(Landing.__dataclass_fields__)
    fields = [np.asarray(getattr(landing, name), dtype=float) for name in names[:10]]
    state = [field.ravel() for field in fields]
    starts = range(0, max(state[0].size, 1), _CHUNK)
    chunks = [np.array([row[first : first + _CHUNK] for row in state]) for first in starts]
    if len(chunks) > 1:
        with ThreadPoolExecutor(min(len(chunks), os.cpu_count() or 1)) as pool:
            parts = list(pool.map(rules.settle, chunks))
    else:
        parts = [rules.settle(chunk) for chunk in chunks]
    return Rest.of(parts, fields[0].shape)


def _bounce_out(
    ground: Ground,
    position: Floats,
    velocity: Floats,
    spin: Floats,
    strip: Ints,
    bounce: str,
) -> tuple[Floats, Floats]:
    """Bounce balls until they roll: position (2, n) and level velocity (2, n) at the start of the roll."""
    count = position.shape[1]
    spot, motion = np.empty((2, count)), np.zeros((2, count))
    model = bounce_model(bounce)
    active = np.arange(count)
    for number in range(_MOST_BOUNCES):
        surface = ground.surface_on(strip, position[0], position[1])
        normal = ground.normal_on(strip, position[1])
        vx, vy, vz = velocity
        into = -(vx * normal[0] + vy * normal[1] + vz * normal[2])
        level = np.sqrt(np.maximum(vx * vx + vy * vy + vz * vz - into * into, 0.0))
        tilt, give = model(np.maximum(into, 0.0), level, ground.firmness[strip])
        tilt = tilt * TILT[surface]
        give = give * RESTITUTION[surface]
        landed = velocity
        velocity, spin = rebound(landed, spin, normal, tilt, give, FRICTION[surface])
        climb_out(landed, velocity, normal, ground.firmness[strip])
        vx, vy, vz = velocity
        out = vx * normal[0] + vy * normal[1] + vz * normal[2]
        caught = ABSORBS[surface]
        rolls = (out < _ROLLS_M_S) | (out * out < _SKIMS * _SKIMS * (vx * vx + vy * vy)) | caught
        if number == _MOST_BOUNCES - 1:
            rolls[:] = True
        at = np.flatnonzero(rolls)
        if at.size:
            here, moving, turning = (array.take(at, axis=1) for array in (position, velocity, spin))
            stuck = caught.take(at)
            upright = [row.take(at) for row in normal]
            moved, rolling = skid(here[:2], moving, turning, upright, SKID[surface.take(at)])
            where = active.take(at)
            for axis in range(2):
                spot[axis][where] = np.where(stuck, here[axis], moved[axis])
                motion[axis][where] = np.where(stuck, 0.0, rolling[axis])
            keep = np.flatnonzero(~rolls)
            if not keep.size:
                break
            active = active.take(keep)
            position, velocity, spin = (array.take(keep, axis=1) for array in (position, velocity, spin))
        strip = fall(ground, position, velocity)
    return spot, motion
