"""Where a falling ball meets ground that is made of strips: the local parabola against each strip's plane.

Between a flight's last metres and its first contact, and in every hop after it, the air is left out: over the
fraction of a second in question it moves the impact by centimetres.
"""

import numpy as np

from caddie.arrays import Floats, Ints
from caddie.ball.ground import Ground
from caddie.ball.sphere import GRAVITY_M_S2

_NUDGE_M = 1e-9
_TOUCH_M = 1e-9


def fall(ground: Ground, position: Floats, velocity: Floats) -> Ints:
    """Move balls (3, n) in place along their parabolas to the ground; returns the strip (n,) each one hits.

    A ball that starts below the ground is lifted onto it. A step up between strips (they lean differently
    away from the line) is hit as a wall.
    """
    strip = ground.strip_at(position[0])
    _advance(ground, position, velocity, strip, np.arange(position.shape[1]))
    return strip


def _advance(ground: Ground, position: Floats, velocity: Floats, strip: Ints, active: Ints) -> None:
    last = ground.start_m.size - 1
    everywhere = True
    while active.size:
        if everywhere:
            (x, y, z), (vx, vy, vz), at = position, velocity, strip
        else:
            x, y, z = position.take(active, axis=1)
            vx, vy, vz = velocity.take(active, axis=1)
            at = strip[active]
        along = ground.slope[at]
        across = ground.cross_slope[at]
        if ground.funnels:
            across = across + ground.funnel[at] * np.sign(y)
        plane = ground.offset_m[at] + along * x + across * y
        z = np.maximum(z, plane)
        gap = z - plane
        climb = vz - along * vx - across * vy
        time = (climb + np.sqrt(climb * climb + 2 * GRAVITY_M_S2 * gap)) / GRAVITY_M_S2
        goal = x + vx * time
        inside = (goal < ground.end_m[at]) & (goal >= ground.begin_m[at])
        if last == 0 or inside.all():
            leaving = active[:0]
        else:
            out = np.flatnonzero(~inside)
            leaving = active[out] if not everywhere else out
            forward = vx[out] >= 0
            edge = np.where(forward, ground.end_m[at[out]], ground.begin_m[at[out]])
            with np.errstate(divide="ignore", invalid="ignore"):
                exit_time = np.where(vx[out] == 0, 0.0, (edge - x[out]) / vx[out])
            time[out] = np.clip(exit_time, 0.0, time[out])
        new_x = x + vx * time
        new_y = y + vy * time
        new_vz = vz - GRAVITY_M_S2 * time
        new_z = z + (vz - 0.5 * GRAVITY_M_S2 * time) * time
        if leaving.size:
            moved = np.where(forward, 1, -1)
            new_x[out] = edge + np.where(forward, 0.0, -_NUDGE_M)
            strip[leaving] = np.clip(strip[leaving] + moved, 0, last)
        if everywhere:
            position[0], position[1], position[2], velocity[2] = new_x, new_y, new_z, new_vz
        else:
            position[0, active], position[1, active] = new_x, new_y
            position[2, active], velocity[2, active] = new_z, new_vz
        everywhere = False
        active = leaving


def first_contact(
    ground: Ground, position: Floats, velocity: Floats, time_s: Floats, met: bool = False
) -> Ints:
    """Move landed balls (3, n) in place to where they first meet the true ground; returns the strip (n,).

    A landing is known at a level of reference. Each ball is taken back up its parabola until it is above
    every strip's height, or near its start when it never was, and then falls from there. That is true for ground
    that leaves the level by a metre or so (0.08 yd off by then). Balls that ``met`` the ground already, or nearly
    (:func:`caddie.ball.descent.meet` for higher ground), are taken back only to get out of the ground just there.
    """
    here = ground.height_m(position[0], position[1])
    sunk = here - position[2]
    top = np.where(sunk > _TOUCH_M, here + sunk, here) if met else np.maximum(ground.top_m(position[1]), here)
    rise = top - position[2]
    if np.any(rise > _TOUCH_M):
        vz = velocity[2]
        reach = vz * vz - 2 * GRAVITY_M_S2 * np.maximum(rise, 0.0)
        back = np.where(
            reach > 0,
            (-vz - np.sqrt(np.maximum(reach, 0.0))) / GRAVITY_M_S2,
            -1.96 * vz / GRAVITY_M_S2,
        )
        back = np.clip(np.where(rise > _TOUCH_M, back, 0.0), 0.0, time_s)
        position[0] -= velocity[0] * back
        position[1] -= velocity[1] * back
        position[2] -= (vz + 0.5 * GRAVITY_M_S2 * back) * back
        velocity[2] = vz + GRAVITY_M_S2 * back
    return fall(ground, position, velocity)
