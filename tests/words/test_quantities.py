"""Numbers and their units as one quantity, checked against pint (0.25) and num2words (0.5.14)."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from caddie.units import YARD_M, Unit
from caddie.words.grammar import grammar
from caddie.words.quantities import Piece, Quantity, gather
from caddie.words.spelling import tokens

REGISTRY = pint.UnitRegistry()


def gathered(text: str) -> list[Piece]:
    return gather(tokens(text), grammar().units)


def only(text: str) -> Quantity:
    quantities = [piece.quantity for piece in gathered(text) if piece.quantity is not None]
    assert len(quantities) == 1, quantities
    return quantities[0]


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("70 yards", 70, "yards"),
        ("seventy", 70, None),
        ("65m", 65, "metres"),
        ("14y", 14, "yards"),
        ("7p", 7, "paces"),
        ("forty-five and a half yards", 45.5, "yards"),
        ("a pace and a half", 1.5, "paces"),
        ("half a pace", 0.5, "paces"),
        ("a yard", 1, "yards"),
        ("minus ten yards", -10, "yards"),
        ("3%", 3, "percent"),
        ("12 mph", 12, "mph"),
    ],
)
def test_a_number_with_its_unit(text: str, value: float, unit: str | None) -> None:
    quantity = only(text)
    assert (quantity.low, quantity.high, quantity.unit) == (value, value, unit)


@given(st.integers(1, 11), st.integers(1, 11))
def test_feet_and_inches_are_one_length(feet: int, inches: int) -> None:
    metres = (feet * REGISTRY.foot + inches * REGISTRY.inch).to("metre").magnitude
    for text in (f"{feet}'{inches}\"", f"{feet} feet {inches} inches"):
        quantity = only(text)
        assert quantity.feet_and_inches
        assert quantity.metres(Unit.YARDS, YARD_M) == pytest.approx(metres)


@given(st.integers(1, 99), st.sampled_from(["yards", "metres", "feet"]))
def test_words_and_digits_are_the_same_quantity(value: int, unit: str) -> None:
    said = only(f"{num2words(value)} {unit}")
    assert said == only(f"{value} {unit}")
    metres = REGISTRY.Quantity(value, unit).to("metre").magnitude
    assert said.metres(Unit.FEET, YARD_M) == pytest.approx(metres)


@given(st.floats(1, 100), st.sampled_from(list(Unit)))
def test_a_bare_number_is_counted_in_the_unit_asked_for(value: float, unit: Unit) -> None:
    bare, named = Quantity(value, value), Quantity(value, value, unit.value)
    assert bare.metres(unit, 0.8) == named.metres(Unit.YARDS, 0.8)
    assert bare.is_length and named.is_length


@given(st.floats(1, 60), st.floats(0, 20))
def test_the_middle_of_a_range_lies_between_its_ends(low: float, width: float) -> None:
    quantity = Quantity(low, low + width, "yards")
    first, last = quantity.ends_m(Unit.YARDS, YARD_M)
    assert first <= quantity.metres(Unit.YARDS, YARD_M) * (1 + 1e-12)
    assert quantity.metres(Unit.YARDS, YARD_M) <= last * (1 + 1e-12)


@pytest.mark.parametrize("degrees", [0.5, 1, 2, 3])
def test_a_small_angle_is_its_tangent(degrees: float) -> None:
    slope = Quantity(degrees, degrees, "degrees").slope()
    assert slope == pytest.approx(math.tan(math.radians(degrees)), rel=1e-3)


def test_marks_of_how_it_was_said() -> None:
    assert only("twelve footer").footer
    assert only("the 56").definite
    assert not only("56").definite
    assert only("seventy-ish").approximate
    assert only("a few feet").approximate


@pytest.mark.parametrize("text", ["that one", "a step in the green", "the flag", "few trees"])
def test_what_is_no_quantity(text: str) -> None:
    assert all(piece.quantity is None for piece in gathered(text))


def test_a_number_does_not_go_across_a_pause() -> None:
    assert [piece.quantity and piece.quantity.low for piece in gathered("sixty, five")] == [60, 5]
    assert only("sixty five").low == 65


@given(st.lists(st.sampled_from(["bunker", "left", "and", "rough", "the"]), max_size=6))
def test_plain_words_stay_as_they_are(words: list[str]) -> None:
    assert [piece.text for piece in gathered(" ".join(words))] == words
