"""What a picture of a plan shows: the flight, the ground under it and where balls finish."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.ball.flight import trace
from caddie.plan.candidates import Only, same_swing
from caddie.plan.choose import launch_rows
from caddie.plan.dispersion import draw
from caddie.plan.finish import simulate
from caddie.plan.option import Plan
from caddie.plan.scene import Scene, lay_out

BALLS_SHOWN = 200
GROUND_STEP_M = 0.25


@dataclass(frozen=True)
class View:
    """Curves and points in metres: x toward the flag, y to the player's left, z up."""

    scene: Scene
    flight_x_m: Floats
    flight_z_m: Floats
    ground_x_m: Floats
    ground_z_m: Floats
    ground_surface: NDArray[np.int64]
    """Surface on the line at each ground point."""
    land_x_m: float
    rest_x_m: float
    ball_x_m: Floats
    ball_y_m: Floats
    ball_surface: NDArray[np.int64]
    clean: NDArray[np.bool_]


def view_of(plan: Plan, bag: Bag) -> View:
    """Lay the plan's chosen shot out again for drawing; the same seed shows the same balls."""
    scene = lay_out(plan.situation, bag)
    rows = launch_rows(scene, bag, Only(flight=plan.chosen.flight))
    shot = same_swing(scene, rows, bag, plan.chosen)
    assert shot is not None
    shot = shot.aimed(plan.chosen.aim_left_m)
    finishes = simulate(scene, rows, shot, draw(BALLS_SHOWN, plan.seed), bag)
    launch = rows.launch_of(int(shot.row[0]), float(shot.speed_m_s[0]))
    _, x, _, z = trace(launch, scene.air, min(scene.landing_height_m, 0.0))
    end_m = scene.back_m + max(8.0, 0.15 * scene.pin_m)
    ground_x = np.arange(-2.0, end_m, GROUND_STEP_M)
    on_line = np.zeros_like(ground_x)
    ground_z = scene.ground.height_m(ground_x, on_line)
    x, z = np.ravel(x), np.ravel(z)
    falling = np.flatnonzero((z < scene.ground.height_m(x, np.zeros_like(x))) & (x > 0.3))
    stop = int(falling[0]) + 1 if len(falling) else len(x)
    return View(
        scene=scene,
        flight_x_m=x[:stop],
        flight_z_m=z[:stop],
        ground_x_m=ground_x,
        ground_z_m=ground_z,
        ground_surface=np.asarray(scene.ground.surface_at(ground_x, on_line), dtype=np.int64),
        land_x_m=plan.chosen.carry_m,
        rest_x_m=plan.chosen.carry_m + plan.chosen.run_m,
        ball_x_m=finishes.x_m[0],
        ball_y_m=finishes.y_m[0],
        ball_surface=finishes.surface[0],
        clean=finishes.clean[0],
    )
