"""Where the balls finish: every candidate's strikes, flown through today's air and run out on the ground."""

from dataclasses import dataclass, replace

import numpy as np

from caddie.arrays import Bools, Floats, Ints, distinct
from caddie.bag import Bag
from caddie.ball.flight import Landing
from caddie.ball.ground import Surface
from caddie.ball.roll import settle
from caddie.ball.sphere import GRAVITY_M_S2
from caddie.plan.dispersion import GRASS_BITE_M_S, Draws, aim_bias, length_bias
from caddie.plan.grass import keeps
from caddie.plan.launches import Rows
from caddie.plan.scene import Barrier, Scene
from caddie.situation import IN_SAND, Sand

HEAVY_SPEED = (0.5, 0.95)
"""A heavy strike keeps a share of the speed somewhere in this range: from one that goes a third of the way to one
that is hardly felt (common practice; amateurs' misses are short by no more, see :mod:`caddie.bag.amateurs`)."""
HEAVY_CAUGHT_SPEED = (0.25, 0.75)
"""The same where the club digs or is caught: in sand and in long grass (common practice, no source)."""
CAUGHT_BELOW_SHARE = 0.4
"""Swings at least so long get through long grass (common practice, no source)."""
CAUGHT_POWER = 2.0
"""What holds more than thick rough or sand (:func:`caddie.plan.grass.keeps`) leaves every heavy strike less of its
speed, catches longer swings, and leaves those less by this power (common practice, no source)."""
THIN_SPEED_FACTOR, THIN_SAND_FACTOR = (0.6, 1.0), (0.7, 1.1)
"""A thin strike's speed varies by this factor, from grass and from sand (common practice)."""
NEAREST_CARRY_M = 0.15
UNEVEN = {
    Surface.GREEN: 0.05,
    Surface.FRINGE: 0.10,
    Surface.FAIRWAY: 0.14,
    Surface.BARE: 0.15,
    Surface.LIGHT_ROUGH: 0.22,
    Surface.HEAVY_ROUGH: 0.3,
    Surface.PINE_STRAW: 0.25,
}
"""Spread of the speed a ball keeps on landing, by what it lands on: a green bounces true, a fairway does not
(common practice, no source)."""
UNSURE_PER_M = 0.04
"""How much wider that spread gets with every metre of other ground that it still has to cross to the green: its
slopes and soft spots are not seen (common practice, no source)."""
UNSURE_PER_SLOPE = 6.0
"""How much wider it gets with the slope of what it lands on: a bank or a false front kicks as it likes (common
practice, no source)."""
BANK_MISREAD = 0.25
"""Error with which a bank or a step on the way is judged, as a share of its height (common practice, no source)."""
LEAST_LANDING_ENERGY, MOST_KICK = 0.5, 2.5
PICKED_SD_RAD = float(np.radians(6.0))
"""The same of a ball picked clean from sand, where little tells how the club meets it (common practice, no source)."""
LAUNCH_SD_RAD, SPLASH_SD_RAD = float(np.radians(3.0)), float(np.radians(4.5))
"""Spread of the launch angle, and of a splash's: the sand in between decides it (common practice, no source)."""
ROLLS_TO_REST = [int(surface) for surface in (Surface.GREEN, Surface.FRINGE, Surface.FAIRWAY)]
KICK = np.array([UNEVEN.get(surface, 0.0) for surface in Surface])


@dataclass(frozen=True)
class Candidates:
    """Shots to try, one per entry (all arrays of shape ``(c,)``)."""

    row: Ints
    share: Floats
    speed_m_s: Floats
    carry_m: Floats
    aim_left_m: Floats
    length_sd_m: Floats
    side_sd_m: Floats
    heavy: Floats
    thin: Floats
    owned: Bools
    """A swing length the player has measured, not one between two."""
    aim_saves: Floats
    """Strokes that the aim saves against one straight at the flag, once weighed."""

    def take(self, index: Ints) -> "Candidates":
        """The candidates at these positions."""
        return Candidates(**{name: value[index] for name, value in vars(self).items()})

    def aimed(self, left_m: float) -> "Candidates":
        """The same shots aimed so far left of the flag."""
        return replace(self, aim_left_m=np.full_like(self.carry_m, left_m))


def joined(first: Candidates, second: Candidates) -> Candidates:
    """The candidates of both, in order."""
    return Candidates(
        **{name: np.concatenate([value, getattr(second, name)]) for name, value in vars(first).items()}
    )


@dataclass(frozen=True)
class Finishes:
    """Where each ball of each candidate came to rest, shape ``(c, n)``."""

    x_m: Floats
    y_m: Floats
    surface: Ints
    holed: Bools
    land_x_m: Floats
    """Where it first met the ground."""
    clean: Bools
    free_x_m: Floats
    """Where it would have come to rest with no trees or lip to meet on its way."""


def simulate(scene: Scene, rows: Rows, shots: Candidates, draws: Draws, bag: Bag) -> Finishes:
    """Play every candidate with the same draws; the result has shape ``(candidates, balls)``."""
    heavy = draws.strike < shots.heavy[:, None]
    thin = draws.strike > 1.0 - shots.thin[:, None]
    speed = _speeds(scene, rows, shots, draws, bag, heavy, thin)
    azimuth = _azimuths(scene, shots, draws, bag)
    row = np.where(thin, rows.thin_row[shots.row][:, None], shots.row[:, None])
    finishes = finish(scene, rows, row, speed, azimuth, np.broadcast_to(draws.kick, speed.shape))
    return replace(finishes, clean=~(heavy | thin))


def finish(
    scene: Scene,
    rows: Rows,
    row: Ints,
    speed_m_s: Floats,
    azimuth_rad: Floats,
    kick: Floats,
    covered: bool = False,
) -> Finishes:
    """Where balls end that leave row by row with these speeds and directions (all of one shape).

    ``kick`` is a standard normal deviate: how the turf kicks the ball on landing.
    A ``covered`` hole takes no ball.
    """
    shape = speed_m_s.shape
    landing = rows.table.meet(scene.ground, row.ravel(), speed_m_s.ravel(), azimuth_rad.ravel())
    landing = _kicked(landing, scene, kick.ravel())
    hole, met = None if covered else (scene.pin_m, 0.0), rows.table.ways is not None
    rest = settle(landing, scene.ground, hole=hole, met=met)
    finishes = Finishes(
        x_m=rest.x_m.reshape(shape),
        y_m=rest.y_m.reshape(shape),
        surface=rest.surface.reshape(shape),
        holed=rest.holed.reshape(shape),
        land_x_m=rest.first_bounce_x_m.reshape(shape),
        clean=np.ones(shape, dtype=bool),
        free_x_m=rest.x_m.reshape(shape),
    )
    bias = rows.run_bias_m(row, speed_m_s)
    if bias is not None:
        finishes = _run_on(finishes, scene, azimuth_rad, bias)
    if scene.barrier is None:
        return finishes
    return _caught(finishes, scene.barrier, rows, row, speed_m_s, azimuth_rad, kick)


def _run_on(finishes: Finishes, scene: Scene, azimuth_rad: Floats, bias_m: Floats) -> Finishes:
    """What the player's own shots ran beyond the model, added to balls that rolled to rest."""
    rolled = ~finishes.holed & np.isin(finishes.surface, ROLLS_TO_REST)
    x_m = finishes.x_m + np.where(rolled, bias_m * np.cos(azimuth_rad), 0.0)
    y_m = finishes.y_m + np.where(rolled, bias_m * np.sin(azimuth_rad), 0.0)
    surface = np.where(rolled, scene.ground.surface_at(x_m, y_m), finishes.surface)
    return replace(finishes, x_m=x_m, y_m=y_m, surface=surface, free_x_m=x_m)


def _kicked(landing: Landing, scene: Scene, kick: Floats) -> Landing:
    """Landings with the speed along the ground changed by the turf's unevenness."""
    surface = scene.ground.surface_at(landing.x_m, landing.y_m)
    to_green_m = np.maximum(scene.front_m - landing.x_m, 0.0)
    steep, _ = scene.ground.slope_at(landing.x_m)
    unsure = (1.0 + UNSURE_PER_M * to_green_m) * (1.0 + UNSURE_PER_SLOPE * np.abs(steep))
    energy = np.maximum(0.5 * (landing.vx_m_s**2 + landing.vy_m_s**2), LEAST_LANDING_ENERGY)
    # Half the share that the energy is misjudged by: energy goes with the square of the speed.
    misread = 0.5 * BANK_MISREAD * GRAVITY_M_S2 * scene.relief_ahead_m(landing.x_m) / energy
    factor = np.exp(np.clip(np.hypot(KICK[surface] * unsure, misread) * kick, -MOST_KICK, MOST_KICK))
    return replace(landing, vx_m_s=landing.vx_m_s * factor, vy_m_s=landing.vy_m_s * factor)


def heavy_speed(scene: Scene, share: Floats) -> tuple[Floats, Floats]:
    """Least and most of its speed that a heavy strike of these swing shares keeps from this lie (share's shape)."""
    lie, hold = scene.situation.lie, keeps(scene.situation)
    caught = np.zeros_like(share)
    if lie in IN_SAND:
        # On hard ground under hardly any sand a club skids, and does not dig.
        caught = np.full_like(share, scene.situation.sand is not Sand.THIN, dtype=float)
    elif lie in GRASS_BITE_M_S:
        # A longer swing gets through the grass.
        caught = np.clip(1.0 - share / (CAUGHT_BELOW_SHARE * hold), 0.0, 1.0)
    (least, most), (least_caught, most_caught) = HEAVY_SPEED, HEAVY_CAUGHT_SPEED
    least, most = least / hold, most / hold
    least_caught, most_caught = least_caught / hold**CAUGHT_POWER, most_caught / hold**CAUGHT_POWER
    return least + (least_caught - least) * caught, most + (most_caught - most) * caught


def thin_factor(scene: Scene) -> tuple[float, float]:
    """Least and most of a thin strike's usual speed from this lie."""
    return THIN_SAND_FACTOR if scene.situation.lie in IN_SAND else THIN_SPEED_FACTOR


def _speeds(
    scene: Scene, rows: Rows, shots: Candidates, draws: Draws, bag: Bag, heavy: Bools, thin: Bools
) -> Floats:
    """Ball speed of every strike: a carry drawn around the candidate's own, a mishit from its swing."""
    carry = (shots.carry_m + length_bias(bag.player, shots.length_sd_m))[:, None]
    carry = np.maximum(carry + shots.length_sd_m[:, None] * draws.distance, NEAREST_CARRY_M)
    speed = np.empty_like(carry)
    for row in distinct(shots.row):
        mine = shots.row == row
        speed[mine] = np.interp(carry[mine], rows.carry_m[row], rows.speed_m_s[row])
    nominal = shots.speed_m_s[:, None]
    least, most = (each[:, None] for each in heavy_speed(scene, shots.share))
    slow = least + (most - least) * draws.quality
    slowest, fastest = thin_factor(scene)
    fast = slowest + (fastest - slowest) * draws.quality
    speed = np.where(heavy, nominal * slow, speed)
    return np.where(thin, nominal * rows.thin_ratio[shots.row][:, None] * fast, speed)


def _azimuths(scene: Scene, shots: Candidates, draws: Draws, bag: Bag) -> Floats:
    """Start direction of every strike, left positive: the aim, the usual miss and the spread."""
    side = shots.side_sd_m[:, None] * draws.direction + aim_bias(bag.player, shots.side_sd_m)[:, None]
    reach = np.maximum(shots.carry_m, 1.0)[:, None]
    return np.arctan(np.clip(side / reach, -2.0, 2.0)) + np.arctan(shots.aim_left_m / scene.pin_m)[:, None]


def _unsure_rad(barrier: Barrier, rows: Rows, row: int) -> float:
    """Spread of the launch angle of a launch over trees or out of sand."""
    if barrier.surface is not Surface.SAND or row >= len(rows):
        return LAUNCH_SD_RAD
    return SPLASH_SD_RAD if rows.kinds[row].splash else PICKED_SD_RAD


def _caught(
    finishes: Finishes,
    barrier: Barrier,
    rows: Rows,
    row: Ints,
    speed: Floats,
    azimuth: Floats,
    deviate: Floats,
) -> Finishes:
    """Balls that meet trees or a lip on the way too low to clear them, or too high to pass under, drop there.

    How high a ball starts goes astray by :data:`LAUNCH_SD_RAD`, here by the same ``deviate`` that kicks it later; its
    height at the barrier then by the derivative of x tan(angle) - g x^2 / (2 v^2 cos^2(angle)).
    """
    assert rows.barrier_height_m is not None
    height = np.empty_like(speed)
    for each in distinct(row):
        mine = row == each
        speeds = rows.launch.speed_m_s[each]
        height[mine] = np.interp(speed[mine], speeds, rows.barrier_height_m[each])
        steepness = np.tan(np.interp(speed[mine], speeds, rows.launch.angle_rad[each]))
        fallen = GRAVITY_M_S2 * barrier.x_m * steepness / np.maximum(speed[mine], 1.0) ** 2
        rises = barrier.x_m * (1.0 + steepness**2) * np.abs(1.0 - fallen)
        height[mine] += _unsure_rad(barrier, rows, int(each)) * rises * deviate[mine]
    met = ~barrier.is_passed_by(height, azimuth)
    # Under branches a ball that comes down before their end has to stay under them too.
    caught = met & ((finishes.land_x_m > barrier.x_m) | (barrier.clear_m > 0.0))
    drop_x_m = np.minimum(barrier.drop_x_m, finishes.land_x_m) if barrier.clear_m else barrier.drop_x_m
    return Finishes(
        x_m=np.where(caught, drop_x_m, finishes.x_m),
        y_m=np.where(caught, drop_x_m * np.tan(azimuth), finishes.y_m),
        surface=np.where(caught, int(barrier.surface), finishes.surface),
        holed=finishes.holed & ~caught,
        land_x_m=finishes.land_x_m,
        clean=finishes.clean,
        free_x_m=finishes.free_x_m,
    )
