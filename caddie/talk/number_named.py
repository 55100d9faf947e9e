"""A number put right by its old value: "call it sixteen, not eighteen" changes what was told to be eighteen."""

import re
from collections.abc import Iterator

from caddie.bag import Bag
from caddie.situation import Lie, Situation
from caddie.talk.state import Known
from caddie.units import SpeedUnit, Unit, from_metres, from_metres_per_second
from caddie.words.quantities import first_number

_NUMBER = (
    r"(?:\d+|(?:(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)"
    r"(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?|one hundred(?: and)?(?: \w+)?"
    r"|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen"
    r"|seventeen|eighteen|nineteen))"
)
_UNIT = r"(?: (?:feet|foot|yards|yard|metres|meters|paces|steps|miles an hour|mph))?"
_LED = (
    r"(?:(?:and|so|no|sorry|wait|actually|i|you|we|it's|it is|it was|that's|that is|said|say|meant|mean|call|make|it"
    r"|that|was|is|should|be|told|the|putt|flag|pin)[, ]+)*"
)
_NOT = r",? (?:and )?(?:not|rather than|instead of)(?: the| an?)? "
_SET_RIGHT = re.compile(
    rf"(?:(?<=^)|(?<=[.!?;,] )){_LED}(?P<new>{_NUMBER}){_UNIT}{_NOT}(?P<old>{_NUMBER}){_UNIT}(?=[.!?;,]|$)",
    re.IGNORECASE,
)
_OLD_FIRST = re.compile(
    rf"(?:(?<=^)|(?<=[.!?;,] ))(?:no[, ]+)?(?:it's |it is |i said |that's )?not (?P<old>{_NUMBER}){_UNIT}[,.;:]? "
    rf"(?:but |it's |it is |i said )?(?P<new>{_NUMBER}){_UNIT}(?=[.!?;,]|$)",
    re.IGNORECASE,
)
_SAME = 0.05
"""So near a number is the one that was said, counted in the unit it was said in."""


def number_by_its_value(text: str, known: Known, bag: Bag) -> str:
    """The words with the fact named that has the value taken back, where just one has it.

    Only what was told has a value to take back; a contrast of other numbers stays as it was said.
    """
    for pattern in (_SET_RIGHT, _OLD_FIRST):
        found = pattern.search(text)
        if found is None:
            continue
        old, new = first_number(found["old"]), first_number(found["new"])
        named = [
            said
            for value, said in _told(known.situation, bag)
            if old is not None and abs(value - old) < _SAME
        ]
        if new is not None and named:
            return f"{text[: found.start()]}no, {named[0].format(int(new))}{text[found.end() :]}"
    return text


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
