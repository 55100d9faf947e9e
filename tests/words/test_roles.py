"""What the number of a mention measures (common practice, no source)."""

import pytest

from caddie.units import FOOT_M, YARD_M
from caddie.words import understand


@pytest.mark.parametrize(
    ("text", "pin_yd", "left_over"),
    [
        ("ball above my feet, about a foot, 50 yards", 50, "a foot"),
        ("28 yards hardpan bunker short its got a 3 ft lip pin on the front", 28, None),
        ("50 yds uphill lie green is like 8 ft above me pin at the back", 50, None),
        ("it's ten yards longer than I thought, so 65 not 55", 65, None),
    ],
)
def test_feet_that_nobody_named_are_no_distance_beside_yards(
    text: str, pin_yd: float, left_over: str | None
) -> None:
    said = understand(text)
    assert said.situation.pin_m == pytest.approx(pin_yd * YARD_M)
    assert left_over is None or left_over in said.left_over


def test_an_edge_behind_the_place_of_the_flag_is_no_front() -> None:
    said = understand("hole's cut on the right, five paces from the edge, seventy-six yards").situation
    assert (said.front_m, said.pin_m) == (None, pytest.approx(76 * YARD_M))


@pytest.mark.parametrize(
    ("text", "pin_yd"), [("fifteen yards across the green", 15), ("65 yards, the green is 20 across", 65)]
)
def test_across_is_how_far_when_nothing_else_is_measured(text: str, pin_yd: float) -> None:
    assert understand(text).situation.pin_m == pytest.approx(pin_yd * YARD_M)


def test_a_hill_before_what_it_plays_is_no_height() -> None:
    said = understand("74 up the hill, it'll play 80").situation
    assert said.pin_m == pytest.approx(74 * YARD_M)
    assert said.elevation_m is not None
    assert said.elevation_m > 0


def test_only_feet_may_be_a_putt() -> None:
    assert understand("a six foot putt").situation.pin_m == pytest.approx(6 * FOOT_M)
