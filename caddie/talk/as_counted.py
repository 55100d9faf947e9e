"""A short shot told in feet or in paces, which is said back as it was counted."""

from caddie.bag import Bag
from caddie.reply.phrases import PACES_UP_TO_M
from caddie.situation import Lie, Situation
from caddie.units import Unit, spoken_length
from caddie.words import Understanding

_SAID_BACK = (Unit.FEET, Unit.PACES)


def counted_as_told(heard: Understanding, situation: Situation, bag: Bag) -> str:
    """A short shot told in feet or paces in those; nothing of any other, which is said in the player's own unit."""
    pin_m, unit = heard.situation.pin_m, heard.pin_unit
    if pin_m is None or unit not in _SAID_BACK or situation.lie is Lie.GREEN or pin_m > PACES_UP_TO_M:
        return ""
    metric = bag.player.distances_in is Unit.METRES
    return "" if metric else spoken_length(pin_m, unit, bag.player.pace_m)
