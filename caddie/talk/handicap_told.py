"""A handicap told beside a shot, "I play off four": it is no number of the shot, and the bag's own one stands."""

import re
from dataclasses import replace
from functools import cache

from caddie.talk import lines
from caddie.talk.state import Said
from caddie.words.talk_files import talk_data

_UNITS = r"feet|foot|ft|yards?|yds?|metres?|meters?|m|paces?|steps?|inch|inches|percent|degrees?|mph"
_MEASURED = rf"(?!\s*(?:{_UNITS})\b)(?!\d|\.\d|%)"


@cache
def _told() -> re.Pattern[str]:
    """The ways to tell a handicap, from where a clause begins."""
    numbers = "|".join(sorted(talk_data()["handicap"]["numbers"].split(), key=len, reverse=True))
    units = "one|two|three|four|five|six|seven|eight|nine"
    one = rf"(?:plus )?(?:(?:twenty|thirty|forty|fifty)[ -](?:{units})|{numbers}|\d{{1,2}}(?:\.\d)?)\b"
    number = rf"{one}{_MEASURED}"
    ways = "|".join(way.replace("#", number) for way in talk_data()["handicap"]["say"])
    return re.compile(
        rf"(?:^|(?<=[,.;:!?\n])|(?<=\band)|(?<=\bbut))\s*(?:{ways})(?=\s*(?:[,.;:!]|$|and\b|but\b))", re.I
    )


def without_handicap(text: str) -> tuple[str, bool]:
    """The text without a handicap that is told in it, and whether one is.

    >>> without_handicap("I play off four, forty yards, fairway")
    ('forty yards, fairway', True)
    >>> without_handicap("forty yards off the fairway, off four feet")
    ('forty yards off the fairway, off four feet', False)
    """
    rest, count = _told().subn("", text)
    return (rest.strip(" ,.;:!"), True) if count else (text, False)


def with_handicap(said: Said) -> Said:
    """The reply, with what became of the handicap: to be read, and not said."""
    return replace(said, written=f"{said.written or said.spoken}\n{lines.HANDICAP_STANDS}".strip())
