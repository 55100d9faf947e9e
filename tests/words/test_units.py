"""Lengths and speeds in every unit players use, checked against pint (0.25)."""

import pint
import pytest

from caddie.units import Unit
from caddie.words import understand

REGISTRY = pint.UnitRegistry()
LENGTHS = {
    "yards": "yard", "yd": "yard", "yds": "yard", "metres": "metre", "meters": "metre", "m": "metre",
    "feet": "foot", "ft": "foot",
}  # fmt: skip
SPEEDS = {
    "mph": "mile / hour", "miles an hour": "mile / hour", "kph": "km / hour", "km/h": "km / hour",
    "knots": "knot", "kts": "knot", "metres per second": "metre / second", "m/s": "metre / second",
}  # fmt: skip


@pytest.mark.parametrize(("said", "unit"), LENGTHS.items())
@pytest.mark.parametrize("value", [7, 31.5, 88, 100])
def test_lengths(said: str, unit: str, value: float) -> None:
    metres = REGISTRY.Quantity(value, unit).to("metre").magnitude
    assert understand(f"{value} {said} to the flag from the rough").situation.pin_m == pytest.approx(metres)


@pytest.mark.parametrize(("said", "unit"), SPEEDS.items())
@pytest.mark.parametrize("value", [3, 8, 15])
def test_wind_speeds(said: str, unit: str, value: float) -> None:
    speed = REGISTRY.Quantity(value, unit).to("metre / second").magnitude
    wind = understand(f"70 yards, {value} {said} headwind").situation.wind
    assert wind.speed_m_s == pytest.approx(speed)
    assert wind.from_ == "ahead"


@pytest.mark.parametrize(
    ("text", "feet", "inches"), [("6'6\"", 6, 6), ("six foot six", 6, 6), ("6ft 3in", 6, 3)]
)
def test_feet_and_inches(text: str, feet: int, inches: int) -> None:
    metres = (feet * REGISTRY.foot + inches * REGISTRY.inch).to("metre").magnitude
    assert understand(f"{text} putt").situation.pin_m == pytest.approx(metres)


def test_a_pace_is_the_players_own() -> None:
    assert understand("20 paces to the flag", pace_m=0.8).situation.pin_m == pytest.approx(16.0)


def test_a_bare_number_is_in_the_players_unit_and_in_feet_on_the_green_for_who_counts_in_yards() -> None:
    assert understand("70 to the flag", unit=Unit.METRES).situation.pin_m == pytest.approx(70.0)
    assert understand("putting from 20", unit=Unit.YARDS).situation.pin_m == pytest.approx(20 * 0.3048)
    assert understand("putting from 20", unit=Unit.METRES).situation.pin_m == pytest.approx(20.0)


@pytest.mark.parametrize(("text", "slope"), [("3 percent", 0.03), ("2 degrees", 0.0349), ("a little", 0.01)])
def test_how_steep(text: str, slope: float) -> None:
    green = understand(f"12 foot putt, {text} downhill").situation.green
    assert green.fall == "away"
    assert green.fall_slope == pytest.approx(slope, abs=2e-4)
