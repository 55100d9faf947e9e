"""Where the wind comes from and how strong it is, read by itself."""

import math
from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.situation import WindFrom, WindKnownBy
from caddie.words import understand
from caddie.words.scene import Scene
from caddie.words.wind import CLUB_M_S, read_wind

REGISTRY = pint.UnitRegistry()
Scenes = Callable[[str], Scene]
BEAUFORT_M_S = {
    1: (0.3, 1.5),
    2: (1.6, 3.3),
    3: (3.4, 5.4),
    4: (5.5, 7.9),
    5: (8.0, 10.7),
    6: (10.8, 13.8),
    7: (13.9, 17.1),
}
"""WMO code table 1100, mean wind at 10 m (memory)."""
HOURS = "one two three four five six seven eight nine ten eleven twelve".split()
ORIGINS = st.sampled_from(["into the wind", "wind behind", "wind off the left", "wind from the right"])


def mirrored(way: WindFrom | None) -> WindFrom | None:
    if way is None:
        return None
    swapped = {"left": "right", "right": "left"}
    return WindFrom("_".join(swapped.get(part, part) for part in way.split("_")))


@pytest.mark.parametrize(
    ("text", "origin"),
    [
        ("into the wind", "ahead"),
        ("wind behind me", "behind"),
        ("downwind", "behind"),
        ("wind off the left", "left"),
        ("into and off the left", "ahead_left"),
        ("helping from the right", "behind_right"),
        ("crosswind left to right", "left"),
        ("10 knots, right to left", "right"),
    ],
)
def test_where_it_comes_from(scene_of: Scenes, text: str, origin: str) -> None:
    assert read_wind(scene_of(text)).wind.from_ == origin


@pytest.mark.parametrize(("hour", "word"), list(enumerate(HOURS, start=1)))
def test_the_clock_is_a_circle_with_the_flag_at_twelve(scene_of: Scenes, hour: int, word: str) -> None:
    """Hours are 30 degrees apart: each of the eight ways is the nearest of them, or one beside it."""
    origin = read_wind(scene_of(f"wind from {word} o'clock")).wind.from_
    assert origin is not None
    ways = ("ahead", "ahead_right", "right", "behind_right", "behind", "behind_left", "left", "ahead_left")
    apart = (30 * hour - 45 * ways.index(origin)) % 360
    assert min(apart, 360 - apart) <= 15


@pytest.mark.parametrize(
    "text", ["wind off the left, 12 mph", "into and off the left", "10 knots left to right"]
)
def test_left_and_right_are_mirrored(scene_of: Scenes, text: str) -> None:
    other = text.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")
    first, second = read_wind(scene_of(text)).wind, read_wind(scene_of(other)).wind
    assert first.from_ == mirrored(second.from_)
    assert first.speed_m_s == second.speed_m_s


@given(
    st.integers(1, 40),
    ORIGINS,
    st.sampled_from([("mph", "mile / hour"), ("knots", "knot"), ("kph", "km / hour")]),
)
def test_a_speed_is_that_of_its_unit(
    scene_of: Scenes, value: int, origin: str, unit: tuple[str, str]
) -> None:
    wind = read_wind(scene_of(f"{origin}, {value} {unit[0]}")).wind
    assert wind.speed_m_s == pytest.approx(REGISTRY.Quantity(value, unit[1]).to("metre / second").magnitude)
    assert wind.from_ == read_wind(scene_of(origin)).wind.from_


@pytest.mark.parametrize("force", BEAUFORT_M_S)
def test_a_force_is_a_speed_of_its_range(scene_of: Scenes, force: int) -> None:
    speed = read_wind(scene_of(f"force {force} wind behind")).wind.speed_m_s
    assert speed is not None
    low, high = BEAUFORT_M_S[force]
    assert low <= speed <= high
    assert speed == pytest.approx(0.836 * math.sqrt(force**3), abs=0.006)


def test_wind_in_clubs_grows_by_the_club(scene_of: Scenes) -> None:
    one, two = (read_wind(scene_of(f"{n} club wind into")).wind.speed_m_s for n in ("one", "two"))
    assert (one, two) == (CLUB_M_S, 2 * CLUB_M_S)


def test_words_of_strength_are_in_order(scene_of: Scenes) -> None:
    said = ("light breeze helping", "wind behind me", "strong wind behind")
    light, plain, strong = (read_wind(scene_of(text)).wind.speed_m_s for text in said)
    assert plain is None
    assert light is not None and strong is not None and 0 < light < strong


def test_no_wind_is_a_calm_and_silence_is_not(scene_of: Scenes) -> None:
    assert read_wind(scene_of("no wind")).wind.speed_m_s == 0
    silent = read_wind(scene_of("70 yards, fairway"))
    assert silent.wind.speed_m_s is None
    assert not silent.said


@pytest.mark.parametrize(
    "text", ["into the bunker", "water on the left", "trees behind the green", "off the left edge"]
)
def test_words_of_place_are_no_wind(scene_of: Scenes, text: str) -> None:
    assert read_wind(scene_of(text)).wind.from_ is None


def test_a_wind_that_nobody_plays_in_is_told(scene_of: Scenes) -> None:
    problem = read_wind(scene_of("headwind of 90 mph")).problem
    assert problem is not None and "90" in problem and "\n" not in problem


def test_a_speed_is_used_once(scene_of: Scenes) -> None:
    scene = scene_of("70 yards, headwind, 12 mph")
    assert [scene.pieces[at].text for at in scene.used] == []
    read_wind(scene)
    (at,) = scene.used
    assert scene.pieces[at].quantity is not None and scene.pieces[at].quantity.unit == "mph"


@pytest.mark.parametrize(
    ("said", "known_by"),
    [
        ("80 yards into ten mile an hour wind, the app says", WindKnownBy.FORECAST),
        ("forecast says 12 mph from the left, 80 yards", WindKnownBy.FORECAST),
        ("80 yards, wind 10 mph into, according to the forecast", WindKnownBy.FORECAST),
        ("70 yards, fairway, it feels like ten miles an hour into", WindKnownBy.FELT),
        ("wind feels like fifteen into, 90 yards", WindKnownBy.FELT),
        ("ten miles an hour into at head height, 60 yards", WindKnownBy.FELT),
        ("80 yards into 10 mph", None),
        ("60 yards, the green feels firm", None),
    ],
)
def test_whether_a_speed_is_a_forecasts_or_felt(said: str, known_by: WindKnownBy | None) -> None:
    assert understand(said).situation.wind.known_by is known_by
