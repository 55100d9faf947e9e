"""Where the pin is cut and what trouble stands where, read by itself."""

from collections.abc import Callable
from itertools import permutations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.situation import Hazard
from caddie.words.heads import TroubleSaid
from caddie.words.lies import read_lie
from caddie.words.scene import Scene
from caddie.words.trouble import read_trouble

REGISTRY = pint.UnitRegistry()
Scenes = Callable[[str], Scene]


def read(scene: Scene) -> TroubleSaid:
    return read_trouble(scene, read_lie(scene).bunker_at)


def told(said: TroubleSaid) -> set[str]:
    return {f"{hazard.kind} {hazard.side or '-'}" for hazard in said.hazards}


@pytest.mark.parametrize(
    ("text", "hazards"),
    [
        ("bunker short", {"bunker short"}),
        ("bunker short, water left", {"bunker short", "water left"}),
        ("bunkers left and right", {"bunker left", "bunker right"}),
        ("water both sides", {"water left", "water right"}),
        ("trees behind the green", {"trees long"}),
        ("false front", {"false_front short"}),
        ("out of bounds right", {"out_of_bounds right"}),
        ("a bunker between me and the pin", {"bunker short"}),
        ("no bunkers", set()),
        ("not a bunker in sight", set()),
        ("fairway, 70 yards", set()),
    ],
)
def test_trouble_and_its_side(scene_of: Scenes, text: str, hazards: set[str]) -> None:
    assert told(read(scene_of(text))) == hazards


@pytest.mark.parametrize(
    "text", ["bunker left", "water right, trees left", "bunkers left and right", "pin front left"]
)
def test_left_and_right_are_mirrored(scene_of: Scenes, text: str) -> None:
    def mirrored(said: str) -> str:
        return said.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")

    first, second = read(scene_of(text)), read(scene_of(mirrored(text)))
    assert {mirrored(hazard) for hazard in told(first)} == told(second)
    assert mirrored(str(first.pin_position)) == str(second.pin_position)


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("pin at the back left", "back_left"),
        ("flag's cut on the right", "middle_right"),
        ("pin in the middle", "middle"),
        ("front pin", "front"),
        ("bunker front left, pin back right", "back_right"),
        ("bunker left", None),
    ],
)
def test_where_the_pin_is_cut(scene_of: Scenes, text: str, position: str | None) -> None:
    assert read(scene_of(text)).pin_position == position


@pytest.mark.parametrize(
    "phrases", list(permutations(["bunker short", "water on the left", "pin at the back"]))
)
def test_each_place_belongs_to_what_stands_beside_it(scene_of: Scenes, phrases: tuple[str, ...]) -> None:
    said = read(scene_of(", ".join(phrases)))
    assert told(said) == {"bunker short", "water left"}
    assert said.pin_position == "back"


@given(st.integers(1, 110), st.sampled_from(["yards", "metres"]))
def test_a_carry_is_the_length_to_clear_it(scene_of: Scenes, value: int, unit: str) -> None:
    (hazard,) = read(scene_of(f"{value} {unit} to carry the bunker")).hazards
    assert hazard.carry_m == pytest.approx(REGISTRY.Quantity(value, unit).to("metre").magnitude)
    assert hazard.side == "short"


def test_a_carry_with_nothing_named_is_to_the_front(scene_of: Scenes) -> None:
    said = read(scene_of("40 to carry"))
    assert said.hazards == ()
    assert said.front_m == pytest.approx(REGISTRY.Quantity(40, "yard").to("metre").magnitude)


def test_a_carry_nobody_hits_is_told(scene_of: Scenes) -> None:
    problem = read(scene_of("400 to carry the water")).problem
    assert problem is not None and "400 yards" in problem and "\n" not in problem


def test_how_high_it_is(scene_of: Scenes) -> None:
    (tree,) = read(scene_of("a twenty foot tree in the way")).hazards
    assert tree.height_m == pytest.approx(REGISTRY.Quantity(20, "foot").to("metre").magnitude)


def test_named_twice_is_one(scene_of: Scenes) -> None:
    (bunker,) = read(scene_of("bunker short, 40 to carry the bunker")).hazards
    assert isinstance(bunker, Hazard)
    assert bunker.carry_m is not None and bunker.side == "short"


def test_the_bunker_the_ball_lies_in_is_no_trouble(scene_of: Scenes) -> None:
    assert told(read(scene_of("in the bunker, 20 yards"))) == set()
    assert told(read(scene_of("in the bunker, 20 yards, water long"))) == {"water long"}
