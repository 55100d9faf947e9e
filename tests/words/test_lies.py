"""What the ball lies on and how, read by itself."""

from collections.abc import Callable
from itertools import permutations

import pytest

from caddie.words.lies import LieSaid, read_lie
from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    ("text", "lie"),
    [
        ("on the fairway", "fairway"),
        ("in the first cut", "first_cut"),
        ("thick rough", "heavy_rough"),
        ("rough, really thick", "heavy_rough"),
        ("in a divot on the fairway", "divot"),
        ("in the bunker", "bunker"),
        ("plugged in the bunker", "plugged"),
        ("tight lie", "bare"),
        ("on pine needles", "pine_straw"),
        ("on the fringe", "fringe"),
        ("70 yards", None),
    ],
)
def test_where_the_ball_lies(scene_of: Scenes, text: str, lie: str | None) -> None:
    assert read_lie(scene_of(text)).lie == lie


@pytest.mark.parametrize(
    ("text", "lie"),
    [
        ("70 yards, bunker", "bunker"),
        ("70 yards, bunker left", None),
        ("70 yards over a bunker", None),
        ("70 yards with a bunker in the way", None),
        ("70 yards, no bunker", None),
        ("70 yards, bunkers", None),
    ],
)
def test_a_bunker_is_the_lie_when_nothing_puts_it_elsewhere(
    scene_of: Scenes, text: str, lie: str | None
) -> None:
    assert read_lie(scene_of(text)).lie == lie


def test_the_bunker_of_the_ball_is_not_the_one_in_the_way(scene_of: Scenes) -> None:
    scene = scene_of("in the bunker, 20 yards, another bunker short")
    first, second = (at for at, piece in enumerate(scene.pieces) if piece.text == "BUNKER")
    assert first in read_lie(scene).bunker_at
    assert second not in read_lie(scene).bunker_at


@pytest.mark.parametrize("lies", [("fairway", "divot"), ("bunker", "plugged"), ("fairway", "tight lie")])
def test_of_two_lies_the_one_that_tells_more_counts_in_any_order(
    scene_of: Scenes, lies: tuple[str, str]
) -> None:
    said = {read_lie(scene_of(f"40 yards, {', '.join(order)}")).lie for order in permutations(lies)}
    assert said == {read_lie(scene_of(f"40 yards, {lies[1]}")).lie}


def test_grass_that_is_passed_over_is_not_under_the_ball(scene_of: Scenes) -> None:
    assert read_lie(scene_of("ten yards over the rough")).lie is None
    assert read_lie(scene_of("two paces of fringe")).lie is None


@pytest.mark.parametrize(
    ("text", "sitting"),
    [
        ("rough, sitting up", "up"),
        ("nestled down in the rough", "down"),
        ("down in the bunker", None),
        ("settled in the semi", None),
    ],
)
def test_how_it_sits(scene_of: Scenes, text: str, sitting: str | None) -> None:
    assert read_lie(scene_of(text)).sitting == sitting


@pytest.mark.parametrize(
    ("text", "stance"),
    [
        ("ball above my feet", ("ball_above",)),
        ("uphill lie", ("uphill",)),
        ("ball below my feet, downhill lie", ("ball_below", "downhill")),
        ("flat lie", ()),
    ],
)
def test_the_slope_under_the_feet(scene_of: Scenes, text: str, stance: tuple[str, ...]) -> None:
    assert read_lie(scene_of(text)).stance == stance


def test_wet_muddy_and_beside_the_green(scene_of: Scenes) -> None:
    assert read_lie(scene_of("wet rough")).wet is True
    assert read_lie(scene_of("dry lie")).wet is False
    assert read_lie(scene_of("mud on my grooves")).dirty_grooves is True
    assert read_lie(scene_of("greenside rough")).greenside is True


def test_nothing_said_is_nothing_known(scene_of: Scenes) -> None:
    assert read_lie(scene_of("seventy yards to the flag")) == LieSaid()
