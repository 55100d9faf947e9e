"""The club, swing, kind of shot and flight that were named, read by themselves."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.clubs import ShotNamed, read_shot
from caddie.words.quantities import IRONS, LOFTS
from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]


@pytest.mark.parametrize(
    ("text", "club"),
    [
        ("sand wedge", "sand wedge"),
        ("pw", "pitching wedge"),
        ("the 56", "56"),
        ("56 degree", "56"),
        ("seven iron", "7 iron"),
        ("putter", "putter"),
        ("56 to the flag", None),
        ("56 yards out", None),
    ],
)
def test_the_club(scene_of: Scenes, text: str, club: str | None) -> None:
    assert read_shot(scene_of(text)).club == club


@given(st.sampled_from(LOFTS))
def test_every_loft_of_a_wedge_names_it(scene_of: Scenes, loft: int) -> None:
    assert read_shot(scene_of(f"the {loft}")).club == f"{loft}"


@given(st.sampled_from(IRONS))
def test_every_iron_is_named_by_its_number(scene_of: Scenes, number: int) -> None:
    assert read_shot(scene_of(f"{number} iron")).club == f"{number} iron"


def test_a_number_taken_for_a_club_is_no_distance_any_more(scene_of: Scenes) -> None:
    scene = scene_of("50 yards with the 56")
    read_shot(scene)
    assert [scene.pieces[at].quantity.low for at in scene.used if scene.pieces[at].quantity] == [56]


@pytest.mark.parametrize(
    ("said", "hands"),
    [("quarter", "hip"), ("half", "chest"), ("three quarter", "shoulder"), ("full", "full")],
)
def test_a_swing_goes_by_where_the_hands_stop(scene_of: Scenes, said: str, hands: str) -> None:
    """Common practice, no source."""
    assert read_shot(scene_of(f"{said} sand wedge")).swing == hands


@pytest.mark.parametrize(
    ("text", "family"),
    [
        ("chip it", "chip"),
        ("bump and run", "bump_and_run"),
        ("flop shot", "lob"),
        ("splash it out", "splash"),
        ("putter", "putt"),
        ("70 yards", None),
    ],
)
def test_the_kind_of_shot(scene_of: Scenes, text: str, family: str | None) -> None:
    assert read_shot(scene_of(text)).family == family


@pytest.mark.parametrize(
    ("text", "flight"),
    [
        ("low sand wedge", "low"),
        ("high sand wedge", "high"),
        ("bunker with a high lip", None),
        ("pin high", None),
    ],
)
def test_the_flight_stands_beside_a_shot(scene_of: Scenes, text: str, flight: str | None) -> None:
    assert read_shot(scene_of(text)).flight == flight


def test_nothing_named(scene_of: Scenes) -> None:
    assert read_shot(scene_of("seventy yards from the fairway, bunker short")) == ShotNamed()
