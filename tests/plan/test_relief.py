"""Relief from water: Rules of Golf (January 2023), Rule 17.1d; an unmarked penalty area is red (Definitions)."""

import numpy as np
import pytest

from caddie.bag import load_bag
from caddie.ball.ground import Surface
from caddie.plan.assume import complete
from caddie.plan.finish import Finishes
from caddie.plan.relief import crossing_distance_m
from caddie.plan.scene import Scene, lay_out
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import strokes_of
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation

TABLE = hole_out_table(14)


def beside(side: Side, carry_m: float | None = None, pin_m: float = 60.0) -> Scene:
    water = Hazard(kind=HazardKind.WATER, side=side, carry_m=carry_m)
    situation, _ = complete(Situation(pin_m=pin_m, lie=Lie.FAIRWAY, hazards=(water,)))
    return lay_out(situation, load_bag())


def lying(x_m: float, y_m: float, land_x_m: float, surface: Surface = Surface.WATER) -> Finishes:
    x, y = np.array([[x_m]]), np.array([[y_m]])
    none = np.zeros((1, 1), dtype=bool)
    return Finishes(x, y, np.array([[int(surface)]]), none, np.array([[land_x_m]]), ~none, x)


def crossed(scene: Scene, x_m: float, y_m: float, land_x_m: float | None = None) -> float:
    found = crossing_distance_m(scene, lying(x_m, y_m, x_m if land_x_m is None else land_x_m))
    return float(found[0, 0])


def test_a_ball_flown_into_a_pond_in_front_crossed_its_near_edge():
    scene = beside(Side.SHORT, carry_m=50.0)
    assert crossed(scene, 42.0, 0.0) == pytest.approx(60.0 - 35.0)
    # On a slant the edge is met aside of the line.
    assert crossed(scene, 42.0, 6.0) == pytest.approx(np.hypot(60.0 - 35.0, 6.0 * 35 / 42))


def test_a_ball_that_landed_beyond_and_rolled_back_crossed_the_far_edge():
    scene = beside(Side.SHORT, carry_m=50.0)
    assert crossed(scene, 49.9, 1.0, land_x_m=52.0) == pytest.approx(np.hypot(10.0, 1.0))


def test_a_pond_behind_is_entered_at_the_edge_toward_the_green():
    scene = beside(Side.LONG)
    near = next(patch.x0_m for patch in scene.ground.patches)
    assert crossed(scene, near + 6.0, 0.0) == pytest.approx(near - 60.0)


@pytest.mark.parametrize(("side", "sign"), [(Side.LEFT, 1.0), (Side.RIGHT, -1.0)])
def test_a_pond_beside_is_entered_where_the_line_to_the_ball_meets_its_edge(side: Side, sign: float):
    scene = beside(side)
    patch = scene.ground.patches[0]
    edge_m = patch.y0_m if sign > 0 else patch.y1_m
    x_m, y_m = 61.0, edge_m + sign * 4.0
    share = edge_m / y_m
    assert crossed(scene, x_m, y_m) == pytest.approx(np.hypot(60.0 - share * x_m, edge_m))


def test_a_ball_in_no_water_crossed_nothing():
    scene = beside(Side.LONG)
    found = crossing_distance_m(scene, lying(60.0, 1.0, 55.0, Surface.GREEN))
    assert np.isnan(found).all()


def test_the_cheaper_of_previous_spot_and_edge_is_counted():
    behind = beside(Side.LONG)
    edge_m = behind.ground.patches[0].x0_m - 60.0
    there = lying(60.0 + edge_m + 5.0, 0.0, 60.0 + edge_m + 5.0)
    cost = strokes_of(behind, there, TABLE)[0, 0]
    assert cost == pytest.approx(2.0 + float(TABLE.strokes(edge_m, Lie.LIGHT_ROUGH)))
    assert cost < 2.0 + float(TABLE.strokes(60.0, Lie.FAIRWAY))
    far = beside(Side.SHORT, carry_m=14.0, pin_m=20.0)
    near_edge_m = 20.0 - far.ground.patches[0].x0_m
    short = strokes_of(far, lying(8.0, 0.0, 8.0), TABLE)[0, 0]
    previous = 2.0 + float(TABLE.strokes(20.0, Lie.FAIRWAY))
    edge = 2.0 + float(TABLE.strokes(near_edge_m, Lie.LIGHT_ROUGH))
    assert short == pytest.approx(min(previous, edge))
