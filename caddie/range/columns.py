"""Which column of a table is what, by its heading: the words of the trade as data."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from caddie.errors import CaddieError
from caddie.units import SpeedUnit, Unit


class Column(StrEnum):
    """What a column can hold."""

    CLUB = "club"
    SWING = "swing"
    CARRY = "carry"
    TOTAL = "total"
    SIDE = "side"
    BALL_SPEED = "ball speed"
    LAUNCH = "launch"
    SPIN = "spin"
    LIE = "lie"
    STRIKE = "strike"
    LOFT = "loft"
    NOTE = "note"


LENGTH_COLUMNS = (Column.CARRY, Column.TOTAL, Column.SIDE)
NUMBERS = (*LENGTH_COLUMNS, Column.BALL_SPEED, Column.LAUNCH, Column.SPIN)

HEADINGS: Mapping[Column, tuple[str, ...]] = {
    Column.CLUB: ("club", "club name", "club type", "club used", "clubs"),
    Column.SWING: ("swing", "swing length", "length of swing", "backswing", "swing type", "swing name"),
    Column.CARRY: (
        "carry",
        "carry distance",
        "carry dist",
        "carry length",
        "distance carry",
        "carried",
        "flight distance",
        "flight length",
        "distance",
    ),
    Column.TOTAL: ("total", "total distance", "total dist", "distance total", "total length"),
    Column.SIDE: (
        "side",
        "side carry",
        "carry side",
        "offline",
        "off line",
        "carry offline",
        "offline carry",
        "lateral",
        "lateral carry",
        "carry lateral",
        "side distance",
        "lateral distance",
        "offline distance",
        "deviation",
        "carry deviation",
        "left right",
        "side total",
        "total side",
    ),
    Column.BALL_SPEED: ("ball speed", "ballspeed", "speed of ball", "ball velocity", "initial ball speed"),
    Column.LAUNCH: (
        "launch",
        "launch angle",
        "vertical launch",
        "vertical launch angle",
        "launch angle vertical",
        "launch vertical",
        "take off angle",
        "takeoff angle",
        "elevation angle",
    ),
    Column.SPIN: ("spin", "spin rate", "backspin", "back spin", "total spin", "backspin rate"),
    Column.LIE: ("lie", "ball lie", "surface", "hit from", "played from", "turf"),
    Column.STRIKE: ("strike", "contact", "strike quality", "mishit", "hit"),
    Column.LOFT: ("loft", "club loft", "loft of club", "static loft", "nominal loft"),
    Column.NOTE: ("note", "notes", "comment", "comments", "remark", "remarks"),
}
"""Headings in order of preference; the first that a table has is taken."""

LENGTH_UNITS: Mapping[str, Unit] = {
    **dict.fromkeys(("yd", "yds", "yard", "yards", "y"), Unit.YARDS),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres", "mtr", "mtrs"), Unit.METRES),
    **dict.fromkeys(("ft", "feet", "foot"), Unit.FEET),
}
SPEED_UNITS: Mapping[str, SpeedUnit] = {
    "mph": SpeedUnit.MPH,
    **dict.fromkeys(("km/h", "kmh", "kph", "km h"), SpeedUnit.KMH),
    **dict.fromkeys(("m/s", "mps", "ms", "m s"), SpeedUnit.M_S),
    **dict.fromkeys(("kn", "kt", "kts", "knots"), SpeedUnit.KNOTS),
}
_PLAIN_UNITS = ("deg", "degs", "degree", "degrees", "°", "rpm", "1/min", "rev/min", "u/min", "%")
UNIT_WORDS = frozenset({*LENGTH_UNITS, *SPEED_UNITS, *_PLAIN_UNITS})

LONGEST_HEADING = 200
_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
_CAMEL = re.compile(r"(?<=[a-z])(?=[A-Z])")
_SEPARATORS = re.compile(r"[\s_\-,:.;]+")


@dataclass(frozen=True)
class Heading:
    """A heading taken apart: its words and the unit in it, both lower case."""

    words: str
    unit: str | None


def read_heading(text: str) -> Heading:
    """Words and unit of a heading.

    >>> read_heading("Carry Distance [yds]"), read_heading("ball_speed_mph")
    (Heading(words='carry distance', unit='yds'), Heading(words='ball speed', unit='mph'))
    """
    unit = None
    text = text[:LONGEST_HEADING]
    for inside in _BRACKETS.findall(text):
        if inside.strip().lower() in UNIT_WORDS:
            unit = inside.strip().lower()
            text = text.replace(f"({inside})", " ").replace(f"[{inside}]", " ")
    text = _CAMEL.sub(" ", re.sub(r"[()\[\]\"']", " ", text))
    words = [word for word in _SEPARATORS.split(text.lower()) if word]
    if unit is None and len(words) > 1:
        for count in (2, 1):
            tail = " ".join(words[-count:])
            if len(words) > count and tail in UNIT_WORDS:
                unit, words = tail, words[:-count]
                break
    return Heading(" ".join(words), unit)


def match_columns(headings: Sequence[str], wished: Mapping[Column, str] | None = None) -> dict[Column, int]:
    """The index of each column that the headings name; ``wished`` names a heading outright.

    Raises:
        CaddieError: if a wished heading is not there.
    """
    words = [read_heading(heading).words for heading in headings]
    found: dict[Column, int] = {}
    for column, heading in (wished or {}).items():
        exact = [i for i, each in enumerate(headings) if each.strip().lower() == heading.strip().lower()]
        exact = exact or [i for i, each in enumerate(words) if each == heading.strip().lower()]
        if not exact:
            shown = ", ".join(repr(each.strip()) for each in headings if each.strip())
            raise CaddieError(f"no column is headed {heading!r}; the headings are {shown}")
        found[column] = exact[0]
    for column, phrases in HEADINGS.items():
        if column not in found:
            free = (words.index(phrase) for phrase in phrases if phrase in words)
            index = next((i for i in free if i not in found.values()), None)
            if index is not None:
                found[column] = index
    return found
