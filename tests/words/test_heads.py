"""The flag and the trouble that are named in an utterance."""

from collections.abc import Callable

import pytest

from caddie.situation import HazardKind
from caddie.words import understand
from caddie.words.heads import heads_of
from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("bunker short and the flag at the back", [HazardKind.BUNKER, None]),
        ("gorse left, a grass bunker right", [HazardKind.TREES, HazardKind.SWALE]),
        ("no bunker, water left", [HazardKind.WATER]),
        ("70 yards, fairway", []),
        ("a bunker on the left and another one on the right", [HazardKind.BUNKER, HazardKind.BUNKER]),
    ],
)
def test_each_thing_with_a_place_is_found(
    scene_of: Scenes, text: str, kinds: list[HazardKind | None]
) -> None:
    scene = scene_of(text)
    places = list(scene.having("where", "side"))
    assert [head.kind for head in heads_of(scene, frozenset(), places)] == kinds


@pytest.mark.parametrize(
    ("said", "called"),
    [
        ("a narrow creek short, fifty yards", "creek"),
        ("duck pond on the left, seventy yards", "pond"),
        ("privet hedge behind, twenty yards", "hedge"),
        ("water hazard short, fifty yards", None),
        ("bunker short, fifty yards", None),
    ],
)
def test_trouble_keeps_the_name_it_was_said_by(said: str, called: str | None) -> None:
    assert [hazard.called for hazard in understand(said).situation.hazards] == [called]
