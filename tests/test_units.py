"""Units against pint, spoken numbers against num2words (general reference libraries)."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from caddie.units import (
    SpeedUnit,
    Unit,
    from_metres,
    from_metres_per_second,
    length_text,
    spoken_length,
    spoken_number,
    to_metres,
    to_metres_per_second,
)

PINT = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("unit", "name"),
    [(Unit.YARDS, "yard"), (Unit.FEET, "foot"), (Unit.INCHES, "inch"), (Unit.METRES, "metre")],
)
def test_lengths_agree_with_pint(unit, name):
    assert to_metres(37.5, unit) == pytest.approx((37.5 * PINT(name)).to("metre").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "name"),
    [
        (SpeedUnit.MPH, "mile / hour"),
        (SpeedUnit.KMH, "kilometre / hour"),
        (SpeedUnit.KNOTS, "knot"),
        (SpeedUnit.M_S, "metre / second"),
    ],
)
def test_speeds_agree_with_pint(unit, name):
    expected = (12.0 * PINT(name)).to("metre / second").magnitude
    assert to_metres_per_second(12.0, unit) == pytest.approx(expected, rel=1e-12)


@given(st.floats(-500, 500), st.sampled_from(Unit), st.floats(0.4, 1.5))
def test_conversion_round_trip_is_the_identity(value, unit, pace_m):
    assert from_metres(to_metres(value, unit, pace_m), unit, pace_m) == pytest.approx(value, abs=1e-9)


@given(st.floats(0, 100), st.sampled_from(SpeedUnit))
def test_speed_round_trip_is_the_identity(value, unit):
    assert from_metres_per_second(to_metres_per_second(value, unit), unit) == pytest.approx(value, abs=1e-9)


def test_spoken_numbers_agree_with_num2words():
    for number in range(1000):
        expected = (
            num2words(number).replace("one hundred", "a hundred", 1) if number < 200 else num2words(number)
        )
        assert spoken_number(number) == expected


@pytest.mark.parametrize("number", [-1, 1000])
def test_numbers_that_are_not_said_are_refused(number):
    with pytest.raises(ValueError, match="outside"):
        spoken_number(number)


def test_lengths_are_said_in_whole_units_and_never_zero():
    assert spoken_length(0.1, Unit.PACES) == "a pace"
    assert spoken_length(0.02, Unit.INCHES) == "an inch"
    assert spoken_length(-3 * 0.9144, Unit.YARDS) == "three yards"
    assert length_text(0.3048, Unit.FEET) == "1 foot"
