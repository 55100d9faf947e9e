"""Cell means drawn toward the player's own curve of carry against loft and swing length.

The logarithm of a cell's carry is the expected one plus the player's level, a tilt with loft, smooth
deviations along loft and along swing length, and a deviation of its own, all normal with mean 0. Measured
cells then give the best linear prediction, with its standard error, for every cell, measured or not
(kriging; C. E. Rasmussen & C. K. I. Williams, *Gaussian Processes for Machine Learning*, 2006, eq. 2.25).
How far a cell stands from the curve is not assumed: four sizes are averaged by their likelihood.
"""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats

LEVEL = 0.22
SAND_LEVEL = 0.4
"""What is expected of a splash is little more than a guess."""
_TILT_PER_10_DEG = 0.06
_ALONG_LOFT = 0.05
_LOFT_REACH_DEG = 6.0
_ALONG_SWING = 0.12
_SWING_REACH = 0.25
_OWN = (0.01, 0.02, 0.04, 0.08)
"""Sizes tried for a cell's own deviation."""


@dataclass(frozen=True)
class Drawn:
    """Logarithm of each cell's carry [m] and its standard error, shape (k,)."""

    log_carry: Floats
    standard_error: Floats


def draw_to_curve(
    loft_deg: Floats,
    share: Floats,
    expected_log: Floats,
    measured_log: Floats,
    error: Floats,
    level: float = LEVEL,
) -> Drawn:
    """Best linear prediction of every cell.

    Args:
        loft_deg, share: each cell's loft and swing share (k,).
        expected_log: logarithm of the carry expected before measuring (k,).
        measured_log: logarithm of the measured mean (k,); NaN for unmeasured cells.
        error: standard error of ``measured_log`` (k,).
        level: standard deviation of the player's level.
    """
    known = np.flatnonzero(~np.isnan(measured_log))
    common = _common_covariance(loft_deg, share, level)
    if known.size == 0:
        return Drawn(expected_log, np.sqrt(np.diag(common) + _OWN[-1] ** 2))
    residual = (measured_log - expected_log)[known]
    noise = np.diag(error[known] ** 2)
    means, variances, likelihoods = [], [], []
    for own in _OWN:
        covariance = common + own**2 * np.eye(len(share))
        among = covariance[np.ix_(known, known)] + noise
        lower = np.linalg.cholesky(among)
        gain = np.linalg.solve(among, covariance[known]).T
        means.append(gain @ residual)
        variances.append(np.diag(covariance) - np.einsum("ij,ji->i", gain, covariance[known]))
        whitened = np.linalg.solve(lower, residual)
        likelihoods.append(-0.5 * whitened @ whitened - np.log(np.diag(lower)).sum())
    weight = np.exp(np.array(likelihoods) - max(likelihoods))[:, None]
    weight = weight / weight.sum()
    mean = (weight * means).sum(axis=0)
    variance = (weight * (np.array(variances) + (np.array(means) - mean) ** 2)).sum(axis=0)
    return Drawn(expected_log + mean, np.sqrt(np.maximum(variance, 0.0)))


def _common_covariance(loft_deg: Floats, share: Floats, level: float) -> Floats:
    """Covariance of what cells have in common (k, k)."""
    tilt = (loft_deg - 50.0) / 10.0
    loft_apart = (loft_deg[:, None] - loft_deg[None, :]) / _LOFT_REACH_DEG
    swing_apart = (share[:, None] - share[None, :]) / _SWING_REACH
    # A full swing is what the level means; the shorter the swing, the freer its fraction of it.
    freedom = np.clip(1.25 - share, 0.25, 1.0)
    return np.asarray(
        level**2
        + _TILT_PER_10_DEG**2 * np.outer(tilt, tilt)
        + _ALONG_LOFT**2 * np.exp(-0.5 * loft_apart**2)
        + _ALONG_SWING**2 * np.outer(freedom, freedom) * np.exp(-0.5 * swing_apart**2)
    )
