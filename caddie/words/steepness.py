"""How steep a green is, told in everyday words as the answer to that: "hardly notice it", "a foot over the putt"."""

from functools import cache

from caddie.units import SMALL_UNITS, to_metres
from caddie.words.echoes import figures_in
from caddie.words.gist import Strength, WaysByWord, by_first_word, strengths
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

_OVER_ALL, _NONE = "over_all", "none"
_NAMES = ("severe", "clear", "slight")
"""Of two that as many words tell the more careful one goes last: "not very steep" is slight."""


def steepness_named(text: str) -> str | None:
    """Slight, clear or severe, by the words of an answer; None where they tell no steepness."""
    found = _found(text)
    if _NONE in found:
        return None
    named = [name for name in _NAMES if name in found]
    return max(named, key=lambda name: (found[name], _NAMES.index(name)), default=None)


def rise_told_m(text: str) -> float | None:
    """How much higher or lower the hole is, told as a small length over the whole putt; None where none is."""
    if _OVER_ALL not in _found(text):
        return None
    small = {unit.value: unit for unit in SMALL_UNITS}
    lengths = [each for each in figures_in(text.replace("a foot", "one foot")) if each.unit in small]
    return to_metres(lengths[0].value, small[lengths[0].unit or ""]) if len(lengths) == 1 else None


def _found(text: str) -> dict[str, Strength]:
    return strengths(_index(), compared(text))


@cache
def _index() -> WaysByWord[str]:
    ways = lore_data()["steepness"].items()
    return by_first_word("steepness", ((name, each) for name, written in ways for each in written))
