"""The ball on the ground: from its landing through bounce, skid and roll to rest, and the roll of a putt."""

import os
from concurrent.futures import ThreadPoolExecutor

import numpy as np

from caddie.ball.bounce import bounce_model, rebound
from caddie.ball.flight import Landing
from caddie.ball.ground import Ground
from caddie.ball.hole import capture_model
from caddie.ball.impact import fall, first_contact
from caddie.ball.putt import roll2d, roll_path
from caddie.ball.sphere import FloatArray, IntArray
from caddie.ball.track import Rest, Slopes, roll_out
from caddie.ball.turf import (
    ABSORBS,
    FRICTION,
    RESTITUTION,
    SKID,
    TILT,
    deceleration,
    skid,
    skid_to_roll,
    steepest_hold,
)

__all__ = ["Rest", "deceleration", "roll2d", "roll_path", "settle", "skid_to_roll", "steepest_hold"]

_CHUNK = 8_192
_ROLLS_M_S = 0.7
"""A ball that leaves the ground slower than this (2.5 cm high) is rolling."""

_SKIMS = 0.2
"""A ball that leaves flatter than this (11 degrees) skims: its hops cost it what rolling would."""

_MOST_BOUNCES = 12


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
    capture_model(capture)
    names = list(Landing.__dataclass_fields__)
    fields = [np.asarray(getattr(landing, name), dtype=float) for name in names[:10]]
    shape = fields[0].shape
    state = [field.ravel() for field in fields]
    count = state[0].size
    rest = Rest.blank(count)
    slopes = Slopes.of(ground)

    def work(first: int) -> None:
        part = slice(first, first + _CHUNK)
        chunk = np.array([row[part] for row in state])
        _settle_chunk(chunk, ground, slopes, bounce, hole, capture, met, rest, part)

    starts = range(0, count, _CHUNK)
    if len(starts) > 1:
        with ThreadPoolExecutor(min(len(starts), os.cpu_count() or 1)) as pool:
            list(pool.map(work, starts))
    else:
        for first in starts:
            work(first)
    return rest.shaped(shape)


def _settle_chunk(
    chunk: FloatArray,
    ground: Ground,
    slopes: Slopes,
    bounce: str,
    hole: tuple[float, float] | None,
    capture: str,
    met: bool,
    rest: Rest,
    part: slice,
) -> None:
    position, velocity, spin = chunk[0:3], chunk[3:6], chunk[6:9]
    level = np.maximum(np.hypot(velocity[0], velocity[1]), 1e-12)
    ahead_x, ahead_y = velocity[0] / level, velocity[1] / level
    strip = first_contact(ground, position, velocity, chunk[9], met)
    rest.first_bounce_x_m[part], rest.first_bounce_y_m[part] = position[0], position[1]
    spot, motion = _bounce_out(ground, position, velocity, spin, strip, bounce)
    surface, holed, endless = roll_out(ground, slopes, spot, motion, hole, capture)
    rest.x_m[part], rest.y_m[part] = spot
    rest.surface[part], rest.holed[part], rest.never_stopped[part] = surface, holed, endless
    run_x, run_y = spot[0] - rest.first_bounce_x_m[part], spot[1] - rest.first_bounce_y_m[part]
    rest.run_m[part] = run_x * ahead_x + run_y * ahead_y


def _bounce_out(
    ground: Ground,
    position: FloatArray,
    velocity: FloatArray,
    spin: FloatArray,
    strip: IntArray,
    bounce: str,
) -> tuple[FloatArray, FloatArray]:
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
        velocity, spin = rebound(velocity, spin, normal, tilt, give, FRICTION[surface])
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
