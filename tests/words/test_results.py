"""What became of a shot, read by itself, and whether the next one is told after all."""

from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.situation import Result
from caddie.words.result_mentions import own_mentions
from caddie.words.results import is_result, read_commitment, read_result
from caddie.words.scene import Scene
from caddie.words.strokes_told import read_strokes
from caddie.words.to_come import tells_a_shot_to_come

REGISTRY = pint.UnitRegistry()
Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    ("text", "result"),
    [
        ("chunked it", Result(strike="heavy")),
        ("shanked it", Result(strike="shank")),
        ("holed it", Result(finish="holed")),
        ("in the water", Result(finish="water")),
        ("finished eight feet past", Result(distance_m=8 * 0.3048, side=("long",))),
        ("fat, ten yards short", Result(distance_m=10 * 0.9144, side=("short",), strike="heavy")),
        ("long and left, eighteen feet", Result(distance_m=18 * 0.3048, side=("long", "left"))),
        ("thinned it over the back into the bunker", Result(side=("long",), strike="thin", finish="bunker")),
    ],
)
def test_what_became_of_it(scene_of: Scenes, text: str, result: Result) -> None:
    scene = scene_of(text)
    assert is_result(scene)
    assert read_result(scene) == result


@given(st.integers(1, 30), st.sampled_from(["feet", "yards", "metres"]), st.sampled_from(["past", "short"]))
def test_what_is_left_is_a_length(scene_of: Scenes, value: int, unit: str, side: str) -> None:
    result = read_result(scene_of(f"finished {value} {unit} {side}"))
    assert result.distance_m == pytest.approx(REGISTRY.Quantity(value, unit).to("metre").magnitude)
    assert result.side == ({"past": "long"}.get(side, side),)


def test_a_bare_number_is_in_feet(scene_of: Scenes) -> None:
    assert read_result(scene_of("finished 8 past")) == read_result(scene_of("finished 8 feet past"))


@pytest.mark.parametrize(
    "text", ["finished ten feet left", "pulled it into the bunker on the left", "long and left"]
)
def test_left_and_right_are_mirrored(scene_of: Scenes, text: str) -> None:
    first = read_result(scene_of(text))
    second = read_result(scene_of(text.replace("left", "right").replace("pulled", "pushed")))
    swap = {"left": "right"}
    assert tuple(swap.get(side, side) for side in first.side) == second.side
    assert (first.distance_m, first.finish) == (second.distance_m, second.finish)


def test_a_holed_ball_has_nothing_left(scene_of: Scenes) -> None:
    assert read_result(scene_of("holed it from twelve feet")) == Result(finish="holed")


@pytest.mark.parametrize(
    "text",
    [
        "thick rough, 30 yards",
        "seventy yards out",
        "bunker short",
        "I need to get up and down",
        "twelve foot putt",
    ],
)
def test_a_situation_is_no_result(scene_of: Scenes, text: str) -> None:
    assert not is_result(scene_of(text))


@pytest.mark.parametrize(
    ("text", "strokes"),
    [("up and down", 2), ("down in three", 3), ("took four to get down", 4), ("chunked it", None)],
)
def test_strokes_to_hole_out(scene_of: Scenes, text: str, strokes: int | None) -> None:
    assert read_strokes(scene_of(text)) == strokes


@pytest.mark.parametrize(
    ("text", "went"),
    [("committed to it", "committed"), ("I quit on it", "quit"), ("rushed it", "rush"), ("holed it", None)],
)
def test_how_it_was_gone_through_with(scene_of: Scenes, text: str, went: str | None) -> None:
    assert read_commitment(scene_of(text)) == went


@pytest.mark.parametrize(
    ("text", "to_come"),
    [
        ("pulled my second, it's kicked into the long stuff and I've got thirty-five yards", True),
        ("pulled it, ten yards left, in the rough", False),
        ("thinned it over the back, so I'm on the fringe and the pin's 14 paces", True),
        ("thinned it over the back", False),
        ("trickled off the back, nine paces to the hole", True),
        ("left it short of the ten footer", False),
        ("left myself a little chip of eight yards", True),
        ("holed it", False),
    ],
)
def test_a_shot_to_come_is_told_apart_from_one_that_is_over(
    scene_of: Scenes, text: str, to_come: bool
) -> None:
    scene = scene_of(text)
    assert tells_a_shot_to_come(scene, own_mentions(scene)) is to_come
