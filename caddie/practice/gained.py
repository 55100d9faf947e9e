"""Strokes against a table: what each shot gained or lost, once it is known where the ball ended.

A shot's worth is the strokes to hole out from where it was played, less one, less those from where it ended
(M. Broadie, *Interfaces* 42(2), 146-165, 2012). The table is the published one for tour players, or its
estimate for a handicap (:mod:`caddie.plan.strokes`).
"""

import numpy as np

from caddie.arrays import Floats
from caddie.bag.amateurs import TOUR_HANDICAP
from caddie.log.table import Table
from caddie.plan.strokes import (
    LIE_CODES,
    HoleOutTable,
    hole_out_table,
    out_of_bounds_cost,
    water_cost,
)
from caddie.situation import Finish, Lie

LIE_AFTER = {
    Finish.GREEN: Lie.GREEN,
    Finish.FRINGE: Lie.FRINGE,
    Finish.FAIRWAY: Lie.FAIRWAY,
    Finish.ROUGH: Lie.LIGHT_ROUGH,
    Finish.BUNKER: Lie.BUNKER,
}
NEAR_GREEN_M = 12.0
"""A leave with no word of where counts as on the green up to here, as light rough beyond."""


def strokes_before(table: Table, handicap: float = TOUR_HANDICAP) -> Floats:
    """Strokes to hole out from where each shot was played; NaN when the distance was not said."""
    codes = np.where(table.lie < 0, LIE_CODES.index(Lie.FAIRWAY), table.lie)
    known = ~np.isnan(table.pin_m)
    strokes = np.full(len(table), np.nan)
    strokes[known] = hole_out_table(handicap).strokes_by_code(table.pin_m[known], codes[known])
    return strokes


def strokes_after(table: Table, handicap: float = TOUR_HANDICAP) -> Floats:
    """Strokes to hole out from where each shot ended, penalties included; NaN when the log cannot tell."""
    value = hole_out_table(handicap)
    strokes = np.full(len(table), np.nan)
    left_m, unsaid = table.distance_m, table.finish < 0
    for finish, lie in LIE_AFTER.items():
        there = table.is_finish(finish)
        if lie is Lie.GREEN:
            there = there | (unsaid & (left_m <= NEAR_GREEN_M))
        elif lie is Lie.LIGHT_ROUGH:
            there = there | (unsaid & (left_m > NEAR_GREEN_M))
        there &= ~np.isnan(left_m)
        strokes[there] = value.strokes(left_m[there], lie)
    among_trees = table.is_finish(Finish.TREES) & ~np.isnan(left_m)
    strokes[among_trees] = value.recovery(left_m[among_trees])
    _penalties(table, value, strokes)
    strokes[table.holed] = 0.0
    return strokes


def strokes_gained(table: Table, handicap: float = TOUR_HANDICAP) -> Floats:
    """What each shot gained on the table, negative when it lost; NaN when the log cannot tell."""
    return strokes_before(table, handicap) - 1.0 - strokes_after(table, handicap)


def _penalties(table: Table, value: HoleOutTable, strokes: Floats) -> None:
    """Fill in shots lost in water and out of bounds, by the lie they were played from."""
    for finish, cost in ((Finish.WATER, water_cost), (Finish.OUT_OF_BOUNDS, out_of_bounds_cost)):
        lost = table.is_finish(finish) & ~np.isnan(table.pin_m)
        for code in np.unique(table.lie[lost]):
            there = lost & (table.lie == code)
            lie = LIE_CODES[int(code)] if code >= 0 else Lie.FAIRWAY
            strokes[there] = cost(value, table.pin_m[there], lie)
