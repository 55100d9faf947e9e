"""How often a shot and one putt are enough: the chance of getting down in two from off the green."""

import numpy as np

from caddie.bag import Bag
from caddie.plan.option import Option
from caddie.plan.putt.skill import make_chance
from caddie.plan.strokes import hole_out_table

_QUANTILES = (np.arange(64) + 0.5) / 64
_OF_THE_MEDIAN = np.sqrt(np.log(1 - _QUANTILES) / np.log(0.5))
"""Leaves of a Rayleigh spread as multiples of its median."""


def up_and_down(option: Option, bag: Bag) -> float:
    """The chance, 0 to 1: on the green, and then one putt on the level from leaves spread about the median.

    A ball off the green that is holed from there is left out: the true chance is a touch more.
    """
    skill = hole_out_table(bag.player.handicap).putting
    made = make_chance(option.leave_m * _OF_THE_MEDIAN, skill)
    return float(option.on_green * made.mean())
