"""The unit that an answer is asked for in: "the pace in metres, please"."""

import re

from caddie.bag import Family
from caddie.plan.option import Plan
from caddie.talk.state import Known
from caddie.units import Unit

_IN_UNIT = re.compile(r"\bin (metres|meters|metric|centimetres|centimeters|cm|feet|foot|yards)\b")


def counted_as_asked(known: Known, plan: Plan, text: str) -> Known:
    """ "The pace in metres, please": the unit of putts, or of shots, from now on."""
    said = _IN_UNIT.search(text.lower())
    if said is None:
        return known
    unit = {"feet": Unit.FEET, "foot": Unit.FEET, "yards": Unit.YARDS}.get(said[1], Unit.METRES)
    if plan.chosen.family is Family.PUTT:
        return known.on_the_day(putt_unit=Unit.METRES if unit is Unit.METRES else Unit.FEET)
    return known if unit is Unit.FEET else known.on_the_day(unit=unit)
