"""A number put right by its old value: "call it sixteen, not eighteen"."""

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from caddie.words.round_numbers import RoundNumbers, Ways, marked, number_data


class PutRight(NamedTuple):
    """A number in the place of another, and what part of the text says so."""

    new: float
    old: float
    start: int
    end: int


def put_right_by_value(text: str, is_told: Callable[[float], bool]) -> PutRight | None:
    """The first number of a text that takes the place of one that was told; None where none does.

    >>> put_right_by_value("So call it sixteen, not eighteen feet.", lambda told: told == 18)
    PutRight(new=16.0, old=18.0, start=0, end=37)
    """
    said = RoundNumbers(text)
    if sum(1 for _ in said.numbers()) < 2:
        return None
    begins = [at for at, place in enumerate(said.places) if place.begins]
    slots = {"new": lambda value: True, "old": is_told}
    found = sorted(
        (start, -end, dict(filled))
        for start, (end, filled) in marked(said, _ways(), slots, begins)
        if said.ends(end)
    )
    if not found:
        return None
    start, last, filled = found[0]
    new, old = (said.places[filled[name]].value for name in ("new", "old"))
    assert new is not None and old is not None
    return PutRight(new, old, said.places[start].start, said.places[-last - 1].end)


@cache
def _ways() -> Ways:
    data = number_data()["put_right"]
    return Ways.of(data["say"], {name: way for name, way in data.items() if isinstance(way, str)})
