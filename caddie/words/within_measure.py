"""Numbers that are a part of a measure, so that they name no club: "sixty centimetres", "seven and a half"."""

from functools import cache

from caddie.words.grammar import grammar
from caddie.words.numbers import is_number
from caddie.words.talk_files import turn_data


def within_a_measure(words: tuple[str, ...], at: int) -> bool:
    """Whether a number stands before a place and its unit behind it: "sixty centimetres" names no sixty.

    Nor does a number with a part of one behind it name a club: "seven and a half".

    A loft's degrees name a club.
    """
    if not 0 < at < len(words) or not is_number(words[at - 1]):
        return False
    if any(words[at : at + len(half)] == half for half in _halves()):
        return True
    unit = next((found for n in (3, 2, 1) if (found := grammar().units.get(words[at : at + n]))), None)
    return unit is not None and unit != _OF_A_LOFT


_OF_A_LOFT = "degrees"


@cache
def _halves() -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(way.split()) for way in turn_data()["halves"])
