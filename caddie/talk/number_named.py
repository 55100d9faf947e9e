"""A number put right by its old value: "call it sixteen, not eighteen" changes what was told to be eighteen."""

from collections.abc import Iterator

from caddie.bag import Bag
from caddie.situation import Lie, Situation
from caddie.talk.state import Known
from caddie.units import SpeedUnit, Unit, from_metres, from_metres_per_second
from caddie.words.put_right import put_right_by_value

_SAME = 0.05
"""So near a number is the one that was said, counted in the unit it was said in."""


def number_by_its_value(text: str, known: Known, bag: Bag) -> str:
    """The words with the fact named that has the value taken back, where just one has it.

    Only what was told has a value to take back; a contrast of other numbers stays as it was said.
    """
    told = tuple(_told(known.situation, bag))
    found = put_right_by_value(text, lambda old: _said_of(old, told) is not None)
    said = _said_of(found.old, told) if found is not None else None
    if found is None or said is None:
        return text
    return f"{text[: found.start]}no, {said.format(int(found.new))}{text[found.end :]}"


def _said_of(value: float, told: tuple[tuple[float, str], ...]) -> str | None:
    """How the first fact with this value is told anew."""
    return next((said for number, said in told if abs(number - value) < _SAME), None)


def _told(situation: Situation, bag: Bag) -> Iterator[tuple[float, str]]:
    """The numbers told of a shot, each with the way to tell it anew; the flag's first."""
    unit, pace_m = bag.player.distances_in, bag.player.pace_m
    if situation.pin_m is not None:
        counts = (
            (Unit.FEET, unit, Unit.PACES) if situation.lie is Lie.GREEN else (unit, Unit.PACES, Unit.FEET)
        )
        for each in dict.fromkeys(counts):
            yield from_metres(situation.pin_m, each, pace_m), f"{{}} {each.value}"
    if situation.front_m is not None:
        yield from_metres(situation.front_m, unit, pace_m), "{} to the front"
    if situation.green.stimp_ft is not None:
        yield situation.green.stimp_ft, "stimp {}"
    if situation.wind.speed_m_s is not None:
        for speed, said in _SPEEDS.items():
            yield from_metres_per_second(situation.wind.speed_m_s, speed), f"wind {{}} {said}"


_SPEEDS = {SpeedUnit.MPH: "miles an hour", SpeedUnit.KMH: "kilometres an hour"}
