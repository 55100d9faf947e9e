"""Shots that finish past the flag: where short is dead, a long putt back is the price of leaving the trouble out."""

import numpy as np

from caddie.bag import Bag
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, allowed, coarse
from caddie.plan.choose import options_of
from caddie.plan.dispersion import draw
from caddie.plan.option import Option, Plan
from caddie.plan.runout import run_out
from caddie.plan.scene import lay_out
from caddie.plan.search import BALLS, launch_rows, play
from caddie.plan.strokes import hole_out_table
from caddie.situation import Lie

BEFORE_FLAG_M = 5.0
"""A shot that is to finish past the flag lands no farther short of it."""
PAST_M = 3.0
"""A clean one finishes at least so far past it (common practice, no source)."""
PLAYED_PAST = 32
"""Shots that are played ball by ball."""


def past_the_flag(going: Plan, bag: Bag, most: float = 0.0) -> Option | None:
    """The best shot that a clean strike finishes past the flag, and on the green more often than not.

    Parameters:
        most: how often it may find trouble; where every one finds it more often, the one that does so least.
    """
    if going.situation.pin_m is None or going.situation.lie is Lie.GREEN:
        return None
    scene = lay_out(complete(going.situation)[0], bag)
    rows = launch_rows(scene, bag, ANY)
    shots = allowed(coarse(scene, rows, bag), scene, rows, bag, ANY)
    shots = shots.take(np.flatnonzero(shots.carry_m >= scene.pin_m - BEFORE_FLAG_M))
    if not len(shots.row):
        return None
    table = hole_out_table(bag.player.handicap)
    quick = run_out(scene, rows, table).scores(shots, bag)
    shots = shots.take(np.argsort(quick, kind="stable")[:PLAYED_PAST])
    outcome = play(scene, rows, shots, draw(BALLS, going.seed), bag, table)
    past = [
        option
        for option in options_of(scene, rows, outcome, bag)
        if option.carry_m + option.run_m >= scene.pin_m + PAST_M and option.on_green > option.through_green
    ]
    least = min((option.in_trouble for option in past), default=0.0)
    return next((option for option in past if option.in_trouble <= max(most, least)), None)
