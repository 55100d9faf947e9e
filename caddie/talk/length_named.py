"""A length by the first number that is said, whatever it is the length of."""

from caddie.bag import Bag
from caddie.units import to_metres
from caddie.words.numbers import read_number
from caddie.words.sayings import compared


def length_named_m(text: str, bag: Bag) -> float | None:
    """The first number of the words as a length, in what the player counts in."""
    words = list(compared(text))
    player = bag.player
    found = (read_number(words[at:]) for at in range(len(words)))
    number = next((number for number in found if number is not None), None)
    return None if number is None else to_metres(number.value, player.distances_in, player.pace_m)
