import numpy as np
import pytest

from caddie.bag import load_bag
from caddie.ball.ground import Surface
from caddie.plan.assume import complete
from caddie.plan.scene import lay_out
from caddie.situation import (
    Fall,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Wind,
    WindFrom,
)

BAG = load_bag()


def scene_of(**said):
    situation, _ = complete(Situation(**said))
    return lay_out(situation, BAG)


def surface(scene, x, y=0.0):
    return Surface(int(scene.ground.surface_at(np.array([x]), np.array([y]))[0]))


def height(scene, x, y=0.0):
    return float(scene.ground.height_m(np.array([x]), np.array([y]))[0])


def test_the_line_runs_from_lie_over_fringe_and_green_to_rough():
    scene = scene_of(pin_m=40, front_m=30, lie=Lie.FAIRWAY)
    assert surface(scene, 1) is Surface.FAIRWAY
    assert surface(scene, 29.5) is Surface.FRINGE
    assert surface(scene, 40) is Surface.GREEN
    assert surface(scene, scene.back_m + 5) is Surface.LIGHT_ROUGH
    assert surface(scene, 40, 30) is Surface.LIGHT_ROUGH


def test_out_of_a_bunker_the_sand_ends_before_the_green():
    scene = scene_of(pin_m=15, front_m=8, lie=Lie.BUNKER)
    assert surface(scene, 0.5) is Surface.SAND
    assert surface(scene, 6) is Surface.LIGHT_ROUGH


@pytest.mark.parametrize(
    ("kind", "covered"),
    [(HazardKind.BUNKER, Surface.SAND), (HazardKind.WATER, Surface.WATER)],
)
def test_short_trouble_ends_at_its_carry(kind, covered):
    scene = scene_of(pin_m=40, front_m=32, hazards=(Hazard(kind=kind, side=Side.SHORT, carry_m=28),))
    assert surface(scene, 27.5) is covered
    assert surface(scene, 28.5) is Surface.FAIRWAY


def test_trouble_left_and_right_lies_beside_the_green_on_that_side():
    scene = scene_of(
        pin_m=40,
        front_m=30,
        pin_position=PinPosition.MIDDLE_LEFT,
        hazards=(
            Hazard(kind=HazardKind.WATER, side=Side.LEFT),
            Hazard(kind=HazardKind.BUNKER, side=Side.RIGHT),
        ),
    )
    assert surface(scene, 40, 7) is Surface.WATER
    assert surface(scene, 40, -7) is Surface.GREEN
    assert surface(scene, 40, -19) is Surface.SAND


def test_long_trouble_begins_behind_the_green():
    scene = scene_of(pin_m=40, front_m=30, hazards=(Hazard(kind=HazardKind.OUT_OF_BOUNDS, side=Side.LONG),))
    assert surface(scene, scene.back_m - 0.5) is Surface.GREEN
    assert surface(scene, scene.back_m + 4) is Surface.OUT_OF_BOUNDS


def test_a_raised_green_is_as_high_as_said():
    scene = scene_of(pin_m=40, front_m=30, elevation_m=2.0)
    assert height(scene, 35) == pytest.approx(2.0, abs=1e-6)
    assert scene.landing_height_m == 2.0


def test_a_ridge_rises_to_its_crest_and_falls_behind_it():
    scene = scene_of(pin_m=40, front_m=20, hazards=(Hazard(kind=HazardKind.RIDGE, carry_m=27, height_m=0.5),))
    assert height(scene, 27) == pytest.approx(0.5, abs=1e-6)
    assert height(scene, 24) == pytest.approx(0.0, abs=1e-6)
    assert height(scene, 32) == pytest.approx(0.0, abs=1e-6)


def test_a_tier_stays_up():
    scene = scene_of(pin_m=40, front_m=20, hazards=(Hazard(kind=HazardKind.TIER, carry_m=30, height_m=0.6),))
    assert height(scene, 38) == pytest.approx(0.6, abs=1e-6)


@pytest.mark.parametrize(
    ("fall", "along", "across"),
    [
        (Fall.TOWARD, 0.03, 0.0),
        (Fall.AWAY, -0.03, 0.0),
        (Fall.LEFT_TO_RIGHT, 0.0, 0.03),
        (Fall.RIGHT_TO_LEFT, 0.0, -0.03),
    ],
)
def test_a_fall_is_a_slope_of_the_green(fall, along, across):
    scene = scene_of(pin_m=40, front_m=30, green=Green(fall=fall, fall_slope=0.03))
    slope = scene.ground.slope_at(np.array([40.0]))
    assert (float(slope[0][0]), float(slope[1][0])) == pytest.approx((along, across))


@pytest.mark.parametrize(
    ("source", "along", "across"),
    [(WindFrom.AHEAD, -5, 0), (WindFrom.BEHIND, 5, 0), (WindFrom.LEFT, 0, -5), (WindFrom.RIGHT, 0, 5)],
)
def test_wind_blows_from_where_it_is_said_to_come(source, along, across):
    scene = scene_of(pin_m=60, wind=Wind(from_=source, speed_m_s=5))
    assert (scene.air.wind_along_m_s, scene.air.wind_across_m_s) == pytest.approx((along, across))
