"""Clean, heavy and thin strikes told apart by their carries: a mixture fitted by expectation-maximisation.

A clean strike's carry is normal about its cell's own mean. A heavy one comes up well short of it, a thin one
flies past it, and a few numbers are plain misreadings; their shapes, as shares of the cell's carry, and
their prior rates are common practice, no source. Rates are shared by all cells, so that five balls a cell
are enough. What the player said of a strike is believed. A thin strike that nobody called thin and that
came up short counts as heavy: carry alone cannot tell.
(A. P. Dempster, N. M. Laird & D. B. Rubin, J. R. Stat. Soc. B 39, 1, 1977.)
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats

Indices = NDArray[np.intp]

CLEAN, HEAVY, THIN, ODD = range(4)
NOT_SAID = -1
_CENTRE = np.array([1.0, 0.65, 1.2])
_WIDTH = np.array([np.nan, 0.15, 0.1])
_ODD_RATE = 0.003
_ODD_SPAN = 3.0
_PRIOR_BALLS = 25.0
SPREAD_PRIOR_BALLS = 6.0
"""Balls that the expected spread counts for against a cell's own."""
_SHAPE_KNOWN = 0.9
"""Share of the information that is left because the shape of mishits is assumed; from recovery tests."""
_ROUNDS = 25
_ACCURACY = 1e-3


@dataclass(frozen=True)
class MeasuredBalls:
    """Measured balls: carry [m], the index of the cell, what was said of the strike; each of shape (n,)."""

    carry_m: Floats
    cell: Indices
    said: Indices
    """CLEAN, HEAVY, THIN or NOT_SAID."""


@dataclass(frozen=True)
class Mixture:
    """What the mixture says; arrays over cells (k,) but ``share``, chances of each kind by ball (4, n)."""

    share: Floats
    clean: Floats
    """Expected number of clean strikes."""
    mean_m: Floats
    variance_m2: Floats
    """Of clean strikes, shrunk toward the expected spread."""
    information: Floats
    """About the mean, in balls: fewer than the clean ones where it is open which ones are clean."""
    rates: Floats
    """Of each kind of strike (4,)."""


def robust_start(balls: MeasuredBalls, cells: int) -> tuple[Floats, Floats]:
    """Median and normal-consistent median absolute deviation [m] of each cell; NaN where it has no ball.

    The constant 1.4826 makes the deviation estimate a normal standard deviation (F. R. Hampel, J. Am. Stat.
    Assoc. 69, 383, 1974).
    """
    middle, spread = np.full(cells, np.nan), np.full(cells, np.nan)
    usable = (balls.said == NOT_SAID) | (balls.said == CLEAN)
    for cell in range(cells):
        carries = balls.carry_m[(balls.cell == cell) & usable]
        if carries.size:
            middle[cell] = np.median(carries)
            spread[cell] = 1.4826 * np.median(np.abs(carries - middle[cell]))
    return middle, spread


def tell_apart(
    balls: MeasuredBalls,
    start_m: Floats,
    expected_sd_m: Floats,
    mishit_rate: float,
    added_balls: Floats | None = None,
    added_squares_m2: Floats | None = None,
) -> Mixture:
    """Fit the mixture.

    Args:
        balls: the balls of all cells.
        start_m: first guess of each cell's mean (k,); NaN for cells without a ball.
        expected_sd_m: spread expected of each cell (k,), counted as ``SPREAD_PRIOR_BALLS`` balls.
        mishit_rate: prior chance of a heavy, and of a thin strike.
        added_balls: balls (k,) known only by their spread.
        added_squares_m2: their sums of squares about their mean (k,).
    """
    cells = len(start_m)
    mean = np.where(np.isnan(start_m), 1.0, start_m)
    expected = expected_sd_m**2
    variance = expected.copy()
    prior_rates = np.array([1 - 2 * mishit_rate - _ODD_RATE, mishit_rate, mishit_rate, _ODD_RATE])
    rates = prior_rates
    added = np.zeros(cells) if added_balls is None else np.maximum(added_balls - 1.0, 0.0)
    squares_added = np.zeros(cells) if added_squares_m2 is None else added_squares_m2
    said = balls.said != NOT_SAID
    fixed = np.zeros((4, balls.carry_m.size))
    fixed[balls.said[said], np.flatnonzero(said)] = 1.0
    for _ in range(_ROUNDS):
        share = np.where(said, fixed, _chances(balls, mean, variance, rates))
        clean = np.bincount(balls.cell, share[CLEAN], cells).astype(np.float64)
        total = np.bincount(balls.cell, share[CLEAN] * balls.carry_m, cells)
        before = mean
        mean = np.where(clean > 1e-9, total / np.maximum(clean, 1e-9), mean)
        off = (balls.carry_m - mean[balls.cell]) ** 2
        squares = np.bincount(balls.cell, share[CLEAN] * off, cells)
        variance = (SPREAD_PRIOR_BALLS * expected + squares + squares_added) / (
            SPREAD_PRIOR_BALLS + np.maximum(clean - 1.0, 0.0) + added
        )
        rates = (share.sum(axis=1) + _PRIOR_BALLS * prior_rates) / (balls.carry_m.size + _PRIOR_BALLS)
        if np.all(np.abs(mean - before) < _ACCURACY * np.sqrt(variance)):
            break
    # Louis (J. R. Stat. Soc. B 44, 226, 1982): what is lost by not knowing which balls were clean.
    lost = np.bincount(balls.cell, share[CLEAN] * (1 - share[CLEAN]) * off, cells) / variance
    information = _SHAPE_KNOWN * np.maximum(clean - lost, 0.3 * clean)
    return Mixture(share, clean, mean, variance, information, rates)


def _chances(balls: MeasuredBalls, mean: Floats, variance: Floats, rates: Floats) -> Floats:
    """Chance of each kind of strike by ball (4, n), given the cells' means and variances."""
    centre = mean[balls.cell]
    sd = np.sqrt(variance)[balls.cell]
    width = np.stack([sd, *(np.hypot(sd, share * centre) for share in _WIDTH[1:])])
    distance = (balls.carry_m - _CENTRE[:, None] * centre) / width
    density = np.exp(-0.5 * distance**2) / (width * np.sqrt(2 * np.pi))
    # A heavy strike is short and a thin one long by definition: without this a wide mishit shape would
    # claim clean balls on the wrong side of the mean.
    short = balls.carry_m < centre
    density[HEAVY] *= short
    density[THIN] *= ~short
    weighted = np.concatenate([density, 1 / (_ODD_SPAN * centre)[None, :]]) * rates[:, None]
    return np.asarray(weighted / weighted.sum(axis=0))
