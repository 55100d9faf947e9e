"""Units at the edge: the only place where yards, paces, feet and miles an hour meet SI.

Inside the program every length is in metres, speed in metres a second and angle in radians,
with the unit in the name (``carry_m``, ``spin_rad_s``); a slope is rise over run.
"""

import math
from enum import StrEnum

YARD_M = 0.9144
FOOT_M = 0.3048
INCH_M = 0.0254
MPH_M_S = 0.44704
KMH_M_S = 1 / 3.6
KNOT_M_S = 1852 / 3600
RPM_RAD_S = 2 * math.pi / 60


class Unit(StrEnum):
    """Units of length that players use."""

    YARDS = "yards"
    PACES = "paces"
    METRES = "metres"
    FEET = "feet"
    INCHES = "inches"
    CENTIMETRES = "centimetres"


SMALL_UNITS = (Unit.FEET, Unit.INCHES, Unit.CENTIMETRES)
"""What is left to the hole and what is high is told in these."""


class SpeedUnit(StrEnum):
    """Units of wind speed that players use."""

    MPH = "mph"
    KMH = "km/h"
    KNOTS = "knots"
    M_S = "m/s"


_LENGTH_M = {
    Unit.YARDS: YARD_M,
    Unit.METRES: 1.0,
    Unit.FEET: FOOT_M,
    Unit.INCHES: INCH_M,
    Unit.CENTIMETRES: 0.01,
}
_SPEED_M_S = {SpeedUnit.MPH: MPH_M_S, SpeedUnit.KMH: KMH_M_S, SpeedUnit.KNOTS: KNOT_M_S, SpeedUnit.M_S: 1.0}
_SINGULAR = {
    Unit.YARDS: "yard",
    Unit.PACES: "pace",
    Unit.METRES: "metre",
    Unit.FEET: "foot",
    Unit.INCHES: "inch",
    Unit.CENTIMETRES: "centimetre",
}


def to_metres(value: float, unit: Unit, pace_m: float = YARD_M) -> float:
    """Length in metres of ``value`` in ``unit``; a pace is ``pace_m`` long.

    >>> to_metres(100, Unit.YARDS)
    91.44
    """
    return value * (pace_m if unit is Unit.PACES else _LENGTH_M[unit])


def from_metres(length_m: float, unit: Unit, pace_m: float = YARD_M) -> float:
    """The inverse of :func:`to_metres`."""
    return length_m / (pace_m if unit is Unit.PACES else _LENGTH_M[unit])


def in_feet(length_m: float) -> float:
    """A length in feet.

    >>> in_feet(3 * FOOT_M)
    3.0
    """
    return length_m / FOOT_M


def in_inches(length_m: float) -> float:
    """A length in inches.

    >>> in_inches(INCH_M)
    1.0
    """
    return length_m / INCH_M


def in_yards(length_m: float) -> float:
    """A length in yards.

    >>> in_yards(YARD_M)
    1.0
    """
    return length_m / YARD_M


def to_metres_per_second(value: float, unit: SpeedUnit) -> float:
    """Speed in m/s of ``value`` in ``unit``."""
    return value * _SPEED_M_S[unit]


def from_metres_per_second(speed_m_s: float, unit: SpeedUnit) -> float:
    """The inverse of :func:`to_metres_per_second`."""
    return speed_m_s / _SPEED_M_S[unit]


def length_text(length_m: float, unit: Unit, pace_m: float = YARD_M) -> str:
    """A length as a player says it, rounded to the whole unit.

    >>> length_text(0.9144, Unit.YARDS), length_text(64, Unit.YARDS)
    ('1 yard', '70 yards')
    """
    count = round(from_metres(length_m, unit, pace_m))
    return f"{count} {_SINGULAR[unit] if abs(count) == 1 else unit.value}"


def left_text(length_m: float, unit: Unit) -> str:
    """What is left to the hole, as written: whole feet, or metres to the tenth; at least a foot.

    >>> left_text(2.2, Unit.FEET), left_text(2.2, Unit.METRES)
    ('7 feet', '2.2 metres')
    """
    if unit is not Unit.METRES:
        half = half_feet(length_m) if unit is Unit.FEET else None
        return length_text(max(length_m, FOOT_M), unit) if half is None else f"{half}.5 feet"
    return f"{max(length_m, FOOT_M):.1f} metres"


def half_feet(length_m: float) -> int | None:
    """The whole feet of a short length that has half a one more, as it is told and kept; None of any other.

    >>> half_feet(4.5 * FOOT_M), half_feet(4.4 * FOOT_M), half_feet(20.5 * FOOT_M)
    (4, None, None)
    """
    feet = in_feet(abs(length_m))
    return int(feet) if 1 < feet < HALVES_TO_FT and abs(feet % 1 - 0.5) < AS_TOLD_FT else None


HALVES_TO_FT, AS_TOLD_FT = 10, 0.03
"""A foot's half is told no farther from the hole (common practice, no source), and is no rounding."""


def speed_text(speed_m_s: float, unit: SpeedUnit) -> str:
    """A speed as written: ``"10 mph"``."""
    return f"{from_metres_per_second(speed_m_s, unit):.0f} {unit.value}"


_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()


def spoken_number(number: int) -> str:
    """A whole number from 0 to 999 in words.

    >>> spoken_number(56), spoken_number(105)
    ('fifty-six', 'a hundred and five')
    """
    if not 0 <= number <= 999:
        raise ValueError(f"{number} is outside 0..999")
    if number < 20:
        return _ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens - 2] + (f"-{_ONES[ones]}" if ones else "")
    hundreds, rest = divmod(number, 100)
    start = "a hundred" if hundreds == 1 else f"{_ONES[hundreds]} hundred"
    return f"{start} and {spoken_number(rest)}" if rest else start


HALF_A_METRE_TO_M, HALVES_TO_M = 0.75, 10.0


def spoken_length(length_m: float, unit: Unit, pace_m: float = YARD_M, *, halves: bool = True) -> str:
    """A length as it is said aloud, rounded to the whole unit, at least one; metres to the half of one below ten.

    Without ``halves`` metres are whole from where half of one would be all.

    Feet near the hole keep the half that they were told with.

    >>> spoken_length(0.9144, Unit.PACES), spoken_length(64, Unit.YARDS), spoken_length(0.5, Unit.METRES)
    ('a pace', 'seventy yards', 'half a metre')
    >>> spoken_length(4.4, Unit.METRES), spoken_length(12.4, Unit.METRES)
    ('four and a half metres', 'twelve metres')
    >>> spoken_length(4.5 * FOOT_M, Unit.FEET), spoken_length(4.4 * FOOT_M, Unit.FEET)
    ('four and a half feet', 'four feet')
    """
    if unit is Unit.METRES and abs(length_m) < HALF_A_METRE_TO_M:
        return "half a metre"
    if (
        halves
        and unit is Unit.METRES
        and abs(length_m) < HALVES_TO_M
        and (half_m := round(2 * abs(length_m))) % 2
    ):
        return f"{spoken_number(half_m // 2)} and a half metres"
    if unit is Unit.FEET and (half := half_feet(length_m)) is not None:
        return f"{'a foot' if half == 1 else spoken_number(half)} and a half{'' if half == 1 else ' feet'}"
    count = max(round(from_metres(abs(length_m), unit, pace_m)), 1)
    if count == 1:
        return f"{'an' if unit is Unit.INCHES else 'a'} {_SINGULAR[unit]}"
    return f"{spoken_number(count)} {unit.value}"


def without_unit(spoken: str) -> str:
    """The number alone of a length as :func:`spoken_length` says it.

    >>> without_unit("four and a half metres"), without_unit("half a metre"), without_unit("a foot and a half")
    ('four and a half', 'half a', 'a foot and a half')
    """
    number, _, last = spoken.rpartition(" ")
    return number if last != "half" else spoken
