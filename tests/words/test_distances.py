"""Which number measures what, read by itself."""

from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.units import YARD_M, Unit
from caddie.words.distances import Distances, read_distances, refusal, unit_meant
from caddie.words.quantities import Quantity
from caddie.words.roles import names_a_club
from caddie.words.scene import Scene

REGISTRY = pint.UnitRegistry()
Scenes = Callable[[str], Scene]
UNITS = st.sampled_from(["yards", "metres", "feet"])


def read(scene: Scene, *, from_speech: bool = False) -> Distances:
    return read_distances(scene, on_green=False, from_speech=from_speech)


def yards(metres: float | None) -> float | None:
    return None if metres is None else round(metres / YARD_M, 6)


@pytest.mark.parametrize(
    ("text", "pin", "front", "room"),
    [
        ("70 yards to the flag", 70, None, None),
        ("seventy", 70, None, None),
        ("40 to the front, 52 to the pin", 52, 40, None),
        ("52 to the pin, 40 to the front", 52, 40, None),
        ("five yards off the green, 12 yards of green", None, 5, 12),
        ("87 to the middle, flag is five behind that", 92, None, None),
        ("bunker left", None, None, None),
    ],
)
def test_what_is_measured(
    scene_of: Scenes, text: str, pin: float | None, front: float | None, room: float | None
) -> None:
    said = read(scene_of(text))
    assert (yards(said.pin_m), yards(said.front_m), yards(said.room_m)) == (pin, front, room)


@given(
    st.integers(1, 100), UNITS, st.sampled_from(["to the flag", "to the pin", "to the hole", "to the front"])
)
def test_every_length_is_kept_in_its_unit(scene_of: Scenes, value: int, unit: str, what: str) -> None:
    said = read(scene_of(f"{value} {unit} {what}"))
    measured = said.front_m if what == "to the front" else said.pin_m
    assert measured == pytest.approx(REGISTRY.Quantity(value, unit).to("metre").magnitude)


@given(st.integers(20, 90), st.integers(1, 20))
def test_a_range_keeps_both_ends_and_plays_to_the_middle(scene_of: Scenes, low: int, width: int) -> None:
    said = read(scene_of(f"{low} to {low + width} yards"))
    assert said.pin_range_m is not None and said.pin_m is not None
    assert said.pin_range_m == pytest.approx((low * YARD_M, (low + width) * YARD_M))
    assert said.pin_m == pytest.approx(sum(said.pin_range_m) / 2)
    assert said.approximate


@pytest.mark.parametrize(
    "text", ["65 yards, 70 to the flag", "70 to the flag, plays like 65", "70 to the pin, at 65"]
)
def test_the_plainest_of_several_is_the_flags(scene_of: Scenes, text: str) -> None:
    assert yards(read(scene_of(text)).pin_m) == 70


def test_a_bare_number_is_counted_in_the_unit_said_beside_it(scene_of: Scenes) -> None:
    assert unit_meant(scene_of("70 metres to the front, 80 to the flag")) is Unit.METRES
    assert unit_meant(scene_of("70 to the front, 80 to the flag")) is Unit.YARDS
    assert unit_meant(scene_of("70 metres to the front, 80 yards to the flag")) is Unit.YARDS
    assert read(scene_of("70 metres to the front, 80 to the flag")).pin_m == pytest.approx(80)


def test_on_the_green_a_bare_number_is_in_feet(scene_of: Scenes) -> None:
    said = read_distances(scene_of("20"), on_green=True, from_speech=False)
    assert said.pin_m == pytest.approx(REGISTRY.Quantity(20, "foot").to("metre").magnitude)


def test_words_of_room_are_in_order(scene_of: Scenes) -> None:
    little, plenty = (read(scene_of(text)).room_m for text in ("short sided", "plenty of green"))
    assert little is not None and plenty is not None and little < plenty


@given(st.integers(121, 400))
def test_what_is_too_far_is_refused_in_one_line(scene_of: Scenes, value: int) -> None:
    said = read(scene_of(f"{value} yards"))
    assert said.pin_m is None
    assert said.problem is not None
    assert f"{value} yards" in said.problem and "\n" not in said.problem


@pytest.mark.parametrize(
    ("value", "unit", "part"),
    [
        (0, "yards", "nothing to play"),
        (-10, "yards", "less than nothing"),
        (150, "metres", "metres)"),
        (80, "yards", "green"),
    ],
)
def test_a_refusal_says_why_and_what_to_say(value: float, unit: str, part: str) -> None:
    quantity = Quantity(value, value, unit)
    line = refusal(quantity, Unit.YARDS, quantity.metres(Unit.YARDS, YARD_M), YARD_M)
    assert line.startswith(f"{value} {unit}")
    assert part in line and ": say " in line


def test_speech_tells_the_number_that_sounds_alike(scene_of: Scenes) -> None:
    heard = read(scene_of("fifteen yards to the flag"), from_speech=True)
    assert yards(heard.sounds_like_m) == 50
    assert read(scene_of("fifteen yards to the flag")).sounds_like_m is None
    assert read(scene_of("sixteen to eighteen yards"), from_speech=True).sounds_like_m is None


@pytest.mark.parametrize(
    ("quantity", "club"),
    [
        (Quantity(56, 56), True),
        (Quantity(56, 56, "degrees"), True),
        (Quantity(56, 56, "yards"), False),
        (Quantity(20, 20), False),
        (Quantity(52, 56), False),
    ],
)
def test_which_numbers_may_name_a_wedge(quantity: Quantity, club: bool) -> None:
    assert names_a_club(quantity) is club
