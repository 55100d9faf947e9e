"""A number that is a club: with a shot in play, "the fifty-six" and "my sixty" are wedges, and no distances."""

import re

from caddie.bag import Bag
from caddie.talk.state import Known
from caddie.words.numbers import read_number

WEDGE_LOFTS = range(44, 65)
"""Numbers that wedges are called by (common practice, no source)."""
_EFFORT = (
    "easy|soft|smooth|hard|full|little|gentle|controlled|comfortable|half|quarter|three[ -]quarter|firm|"
    "knock[ -]?down|low|high|punch|punched|nice easy"
)
_NUMBER = r"(?P<number>\d\d?|(?:forty|fifty|sixty)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)"
_MEASURED = (
    r"(?![\s-]*(?:\d|yards?\b|yds?\b|y\b|m\b|met(?:re|er)s?\b|f(?:ee|oo)t\b|ft\b|foot|yarder|paces?\b|steps?\b|"
    r"percent|%|mph\b|miles?\b|k(?:ph|m)?\b|kilomet|knots?\b|degree|odd\b|ish\b|or so\b|inch|cent|iron\b|"
    r"(?:one|two|three|four|five|six|seven|eight|nine|hundred)\b|"
    r"to (?:the )?(?:flag|pin|hole|stick|cup|front|middle|back|edge|green|go|carry|clear)\b))"
)
"""What makes the number before it a length, or part of another number."""
_FAR = r"(?!\s+(?:out|away|left|short|past)\b)"
_WEDGE = re.compile(
    rf"\b(?P<whose>my|your|the|an?|{_EFFORT}) (?:(?:old|trusty|wee|{_EFFORT}) )*{_NUMBER}\b{_MEASURED}", re.I
)
_IRON = re.compile(
    rf"\b(?:(?:an?|the|my) )?(?P<effort>{_EFFORT}) (?P<number>five|six|seven|eight|nine|[5-9])\b{_MEASURED}{_FAR}",
    re.I,
)
_FAR_BEHIND = re.compile(_FAR)
_SWUNG_BEHIND = re.compile(
    r"\b(\d\d degree|\d iron), (?:nice and )?(soft|hard|smooth|easy|gentle|full)(?=[.?!]?$)", re.I
)
"""How it is swung, told behind the club: "and the sixty, hard"."""
_NAMES = ("lob wedge", "sand wedge", "gap wedge", "pitching wedge")
_ENDS = re.compile(r" to\b")
"""Told where it ended a club goes by its name, so that no second number stands beside the length."""
_OWNED = ("my", "your")


def clubs_by_number(text: str, known: Known, bag: Bag) -> str:
    """The words with each number that is a club said as one, while a shot is in play."""
    if known.plan is None or known.played:
        return text
    text = _WEDGE.sub(lambda found: _as_wedge(found, text, bag), text)
    text = _IRON.sub(lambda found: _as_iron(found, bag), text)
    return _SWUNG_BEHIND.sub(r"\2 \1", text)


def _as_wedge(found: re.Match[str], text: str, bag: Bag) -> str:
    number, whose = _value(found["number"]), found["whose"].lower()
    owned = whose in _OWNED
    known = number in WEDGE_LOFTS and (whose in (*_OWNED, "the") or bag.club_called(str(number)) is not None)
    measured = not owned and not _FAR_BEHIND.match(text, found.end())
    if not known or measured:
        return found[0]
    club = bag.club_called(str(number))
    named = club.name if club is not None and club.name in _NAMES and _ENDS.match(text, found.end()) else ""
    return f"{found[0][: found.start('number') - found.start()]}{named or f'{number} degree'}"


def _as_iron(found: re.Match[str], bag: Bag) -> str:
    number = _value(found["number"])
    if bag.club_called(f"{number} iron") is None:
        return found[0]
    return f"{found[0][: found.start('number') - found.start()]}{number} iron"


def _value(said: str) -> int | None:
    if said.isdigit():
        return int(said)
    number = read_number(said.lower().replace("-", " ").split())
    return None if number is None else int(number.value)
