"""A short shot told in feet, which is said back as it was counted."""

from caddie.bag import Bag
from caddie.reply.phrases import PACES_UP_TO_M
from caddie.situation import Lie, Situation
from caddie.units import Unit, spoken_length
from caddie.words import Understanding


def counted_as_told(heard: Understanding, situation: Situation, bag: Bag) -> str:
    """A short shot told in feet in feet, as it is said back; nothing of any other."""
    pin_m = heard.situation.pin_m
    if pin_m is None or not heard.pin_in_feet or situation.lie is Lie.GREEN or pin_m > PACES_UP_TO_M:
        return ""
    return "" if bag.player.distances_in is Unit.METRES else spoken_length(pin_m, Unit.FEET)
