"""Whether the shot is a putt: said outright, or plain from what is said."""

from collections.abc import Callable

import pytest

from caddie.words.clubs import read_shot
from caddie.words.distances import read_distances
from caddie.words.green import read_green
from caddie.words.lies import read_lie
from caddie.words.putts import reads_as_putt, says_putt
from caddie.words.scene import Scene
from caddie.words.trouble import read_trouble

Scenes = Callable[[str], Scene]


def outright(scene: Scene) -> bool:
    return says_putt(scene, read_lie(scene), read_shot(scene))


def plain(scene: Scene) -> bool:
    lie = read_lie(scene)
    distances = read_distances(scene, on_green=False, from_speech=False)
    trouble = read_trouble(scene, lie.bunker_at)
    return reads_as_putt(scene, lie, distances, trouble, read_green(scene, on_green=False, near=True))


@pytest.mark.parametrize(
    "text", ["twelve footer", "20 foot putt", "on the green, 35 feet", "putting from 20"]
)
def test_said_outright(scene_of: Scenes, text: str) -> None:
    assert outright(scene_of(text))


@pytest.mark.parametrize(
    "text", ["twelve feet to the flag", "15 feet, breaks left to right", "six feet, uphill"]
)
def test_plain_from_feet_or_a_break(scene_of: Scenes, text: str) -> None:
    assert plain(scene_of(text))


@pytest.mark.parametrize(
    "text",
    [
        "twelve feet to the flag, fringe",
        "fifteen feet, bunker between",
        "twelve yards to the flag",
        "twelve feet to the flag, into the wind",
        "thirty feet to the hole, sitting down",
        "forty to the front",
    ],
)
def test_what_lies_off_the_green_is_no_putt(scene_of: Scenes, text: str) -> None:
    assert not plain(scene_of(text))
    assert not outright(scene_of(text))
