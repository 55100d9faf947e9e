"""One utterance in typed pieces: what stands how far from what."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.units import Unit
from caddie.words.mentions import Mention
from caddie.words.quantities import Quantity
from caddie.words.scene import Scene

Scenes = Callable[[str], Scene]
PLACES = st.tuples(st.integers(0, 9), st.integers(1, 4)).map(lambda span: (span[0], span[0] + span[1]))


@given(PLACES, PLACES)
def test_a_gap_is_nothing_between_spans_that_touch_or_overlap(
    scene_of: Scenes, first: tuple[int, int], second: tuple[int, int]
) -> None:
    between = (
        set(range(min(first[0], second[0]), max(first[1], second[1])))
        - set(range(*first))
        - set(range(*second))
    )
    assert scene_of("bunker").gap(Mention(*first, ()), *second) == len(between)


@pytest.mark.parametrize(
    ("first", "second", "pauses"), [(0, 1, 0), (0, 2, 1), (2, 0, 1), (0, 3, 2), (3, 3, 0)]
)
def test_pauses_between_two_pieces(scene_of: Scenes, first: int, second: int, pauses: int) -> None:
    scene = scene_of("bunker left, water, trees")
    assert scene.breaks_between(first, second) == pauses


def test_trouble_and_what_is_none(scene_of: Scenes) -> None:
    scene = scene_of("bunker left, water, pin")
    assert [scene.is_trouble(at) for at in range(len(scene.pieces))] == [True, False, True, False]


def test_a_bare_number_is_in_the_players_unit_unless_told(scene_of: Scenes) -> None:
    scene = scene_of("seventy")
    assert scene.length_m(Quantity(10, 10)) == pytest.approx(9.144)
    assert scene.length_m(Quantity(10, 10), Unit.FEET) == pytest.approx(3.048)
    assert scene.length_m(Quantity(10, 10, "metres"), Unit.FEET) == pytest.approx(10)


def test_mentions_with_any_of_the_keys_in_order(scene_of: Scenes) -> None:
    scene = scene_of("thick rough, into the wind, uphill lie")
    found = list(scene.having("stance", "lie"))
    assert [("lie" in mention, "stance" in mention) for mention in found] == [(True, False), (False, True)]
