"""How far it is to clear trouble, and how high it stands (common practice, no source)."""

from collections.abc import Callable

import pytest

from caddie.units import FOOT_M, YARD_M
from caddie.words.lies import read_lie
from caddie.words.scene import Scene
from caddie.words.trouble import read_trouble

Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    ("text", "side", "carry_yd"),
    [
        ("seventy one to flag bunker short sixty three to carry run off right", "short", 63),
        ("bunker right forty to carry flag fifty five", "right", 40),
        ("a burn runs across forty yards out and I am fifty five from the flag", "short", 40),
        ("trees in front, twenty feet tall, ten yards ahead, flag at 55", "short", 10),
    ],
)
def test_a_carry_belongs_to_what_was_named_before_it(
    scene_of: Scenes, text: str, side: str, carry_yd: float
) -> None:
    scene = scene_of(text)
    first = read_trouble(scene, read_lie(scene).bunker_at).hazards[0]
    assert first.side == side
    assert first.carry_m == pytest.approx(carry_yd * YARD_M)


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("bunker on the right that's four foot deep, wind behind", 4),
        ("bunker short, it's got a 3 ft lip", 3),
        ("over the bunker with the six foot lip", 6),
        ("trees short are twenty feet tall", 20),
    ],
)
def test_how_high_it_stands(scene_of: Scenes, text: str, feet: float) -> None:
    scene = scene_of(text)
    [hazard] = read_trouble(scene, read_lie(scene).bunker_at).hazards
    assert hazard.height_m == pytest.approx(feet * FOOT_M)
