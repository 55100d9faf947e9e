"""The pace of a putt, on the green or from off it, as the length of a flat one."""

from caddie.bag import Bag
from caddie.plan.option import Option
from caddie.units import FOOT_M, Unit, in_feet, spoken_length, spoken_number, without_unit

EXACT_TO_FT = 30
"""A longer pace is said to the nearest five feet."""
JUST_ROLLING_FT, JUST_ROLLING_M = 1.5, 0.5
"""A pace of less is none: the slope does the rest."""
_VOWELS = ("eight", "eleven", "a hundred")


def rolled_as(pace_m: float, unit: Unit) -> str:
    """The pace as a flat putt, with its article: whole feet, or metres to the half.

    >>> rolled_as(12.3 * FOOT_M, Unit.FEET), rolled_as(4.6, Unit.METRES), rolled_as(0.3, Unit.FEET)
    ('a twelve-footer', 'a four-and-a-half-metre putt', '')
    """
    if unit is Unit.METRES:
        if pace_m < JUST_ROLLING_M:
            return ""
        length = without_unit(spoken_length(pace_m, unit)).replace(" ", "-")
        length = {"a": "one", "half-a": "half"}.get(length, length)
        return f"{_article(length)} {length}-metre putt"
    feet = round(in_feet(pace_m)) if pace_m >= JUST_ROLLING_FT * FOOT_M else 0
    if not feet:
        return ""
    if feet > EXACT_TO_FT:
        feet = 5 * round(feet / 5)
    length = spoken_number(feet).replace("a hundred", "hundred")
    return f"{_article(length)} {length}-footer"


def _article(number: str) -> str:
    return "an" if number.startswith(_VOWELS) else "a"


def rolled_said(option: Option, bag: Bag, verb: str = "roll it") -> str:
    """The pace of a putt from off the green: as long a flat putt, or else by where it would stop."""
    unit = bag.player.putt_unit
    if option.roll_m is not None:
        flat = rolled_as(option.roll_m, unit)
        return f"{verb} as {flat}" if flat else "just set it rolling"
    past_m = option.run_m - option.land_short_of_pin_m
    past_ft = round(in_feet(past_m))
    if past_ft <= 0:
        return f"{verb} to die at the hole"
    if unit is Unit.METRES:
        return f"{verb} {spoken_length(past_m, Unit.METRES)} past the hole"
    return f"{verb} {'a foot' if past_ft == 1 else f'{spoken_number(past_ft)} feet'} past the hole"
