"""The green's fall, steepness, speed and firmness, and its height, read by itself."""

import math
from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.green import GreenSaid, is_near, read_green
from caddie.words.scene import Scene

REGISTRY = pint.UnitRegistry()
Scenes = Callable[[str], Scene]


def putt(scene: Scene) -> GreenSaid:
    return read_green(scene, on_green=True, near=True)


def chip(scene: Scene) -> GreenSaid:
    return read_green(scene, on_green=False, near=True)


def pitch(scene: Scene) -> GreenSaid:
    return read_green(scene, on_green=False, near=False)


@pytest.mark.parametrize(
    ("text", "fall"),
    [
        ("green slopes towards me", "toward"),
        ("green runs away from me", "away"),
        ("green tilts left to right", "left_to_right"),
        ("back to front slope", "toward"),
        ("70 yards, fairway", None),
    ],
)
def test_the_way_it_falls(scene_of: Scenes, text: str, fall: str | None) -> None:
    assert chip(scene_of(text)).green.fall == fall


def test_a_putt_falls_two_ways(scene_of: Scenes) -> None:
    green = putt(scene_of("downhill, breaks a little left to right")).green
    assert (green.fall, green.side_fall) == ("away", "left_to_right")
    assert green.fall_slope is None
    assert green.side_slope is not None


@pytest.mark.parametrize(
    "text", ["breaks left to right", "uphill, breaks left to right", "green tilts left to right"]
)
def test_left_and_right_are_mirrored(scene_of: Scenes, text: str) -> None:
    first = putt(scene_of(text)).green
    second = putt(scene_of(text.replace("left to right", "right to left"))).green
    swap = {"left_to_right": "right_to_left"}
    assert swap.get(str(first.fall), first.fall) == second.fall
    assert swap.get(str(first.side_fall), first.side_fall) == second.side_fall


@given(st.integers(1, 5), st.sampled_from(["uphill", "downhill"]))
def test_percent_and_degrees(scene_of: Scenes, value: int, way: str) -> None:
    percent = putt(scene_of(f"{value}% {way}")).green
    assert percent.fall_slope == pytest.approx(value / 100)
    degrees = putt(scene_of(f"{value} degrees {way}")).green
    assert degrees.fall_slope == pytest.approx(math.tan(math.radians(value)), rel=3e-3)
    assert percent.fall == degrees.fall == ("toward" if way == "uphill" else "away")


def test_words_of_steepness_are_in_order(scene_of: Scenes) -> None:
    slopes = [putt(scene_of(f"{how} downhill")).green.fall_slope for how in ("slightly", "severe")]
    assert slopes[0] is not None and slopes[1] is not None
    assert 0 < slopes[0] < slopes[1]


def test_flat_is_a_slope_of_nothing(scene_of: Scenes) -> None:
    green = putt(scene_of("dead flat")).green
    assert (green.fall, green.fall_slope, green.side_slope) == (None, 0.0, 0.0)


@given(st.integers(1, 60), st.sampled_from(["feet", "metres", "yards"]))
def test_a_height_is_a_length_up_or_down(scene_of: Scenes, value: int, unit: str) -> None:
    metres = REGISTRY.Quantity(value, unit).to("metre").magnitude
    above, below = (pitch(scene_of(f"green is {value} {unit} {way} me")) for way in ("above", "below"))
    if metres > 40:
        return
    assert above.elevation_m == pytest.approx(metres)
    assert below.elevation_m == pytest.approx(-metres)


def test_uphill_is_the_greens_fall_near_by_and_its_height_from_afar(scene_of: Scenes) -> None:
    near, far = chip(scene_of("ten paces, uphill")), pitch(scene_of("90 yards, plays uphill"))
    assert (near.green.fall, near.elevation_m) == ("toward", None)
    assert far.green.fall is None
    assert far.elevation_m is not None and far.elevation_m > 0


@pytest.mark.parametrize(
    ("pin_m", "front_m", "chips", "near"),
    [
        (10.0, None, False, True),
        (60.0, None, False, False),
        (None, 10.0, False, True),
        (None, None, False, False),
        (60.0, None, True, True),
    ],
)
def test_near_is_a_chip_or_a_short_way(
    pin_m: float | None, front_m: float | None, chips: bool, near: bool
) -> None:
    assert is_near(pin_m, front_m, chips=chips) is near


def test_words_of_speed_are_in_order(scene_of: Scenes) -> None:
    speeds = [chip(scene_of(f"{how} greens")).green.stimp_ft for how in ("slow", "quick", "lightning fast")]
    assert None not in speeds
    assert speeds == sorted(speeds, key=float)
    assert len(set(speeds)) == 3


@given(st.integers(3, 16))
def test_a_reading_of_the_stimpmeter_is_kept(scene_of: Scenes, feet: int) -> None:
    assert chip(scene_of(f"stimp {feet}")).green.stimp_ft == feet


@pytest.mark.parametrize("feet", [1, 40])
def test_a_reading_that_no_green_has_is_told(scene_of: Scenes, feet: int) -> None:
    said = chip(scene_of(f"stimp {feet}"))
    assert said.green.stimp_ft is None
    assert said.problem is not None and str(feet) in said.problem and "\n" not in said.problem


@pytest.mark.parametrize(
    ("text", "firmness"),
    [
        ("firm greens", "firm"),
        ("the green is soft", "soft"),
        ("soft powdery sand", None),
        ("hard bare ground", None),
        ("breaks hard to the left", None),
    ],
)
def test_firmness_is_the_greens(scene_of: Scenes, text: str, firmness: str | None) -> None:
    assert chip(scene_of(text)).green.firmness == firmness
