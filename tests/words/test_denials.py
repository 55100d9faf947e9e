"""What a "no" or "not" takes away."""

from collections.abc import Callable

import pytest

from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    "text", ["no bunkers", "without a bunker", "not a bunker", "no water or bunker", "never a bunker"]
)
def test_what_is_denied_is_marked(scene_of: Scenes, text: str) -> None:
    scene = scene_of(text)
    named = {at for at in range(len(scene.pieces)) if scene.is_trouble(at)}
    assert named
    assert named <= scene.denied


@pytest.mark.parametrize("text", ["no, bunker left", "bunker left", "fifty, no, sixty, bunker left"])
def test_a_no_before_a_pause_denies_nothing_behind_it(scene_of: Scenes, text: str) -> None:
    scene = scene_of(text)
    assert not any(scene.is_trouble(at) for at in scene.denied)


def test_a_wind_denied_is_a_calm(scene_of: Scenes) -> None:
    assert scene_of("70 yards without any wind").wind_denied
    assert not scene_of("no bunker, wind behind").wind_denied


def test_a_lie_said_and_then_denied_was_not_said(scene_of: Scenes) -> None:
    lies = [m.get("lie") for m in scene_of("plugged, well, not plugged, in the bunker").having("lie")]
    assert lies == ["bunker"]
