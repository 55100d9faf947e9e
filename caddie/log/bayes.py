"""Bayesian updates with forgetting: what is known before, faded, and what the shots add.

A shot counts half as much once ``half_life`` newer ones have been played, and so does all that was known
before them. In the long run a figure rests on about 1.44 half-lives of shots, so it follows a player who
changes.
"""

import math
from typing import NamedTuple

import numpy as np

from caddie.arrays import Floats


class Belief(NamedTuple):
    """A normal mean and spread, and how many shots they are worth."""

    mean: float
    sd: float
    shots: float


class Bias(NamedTuple):
    """How far two things are off, with their standard errors."""

    first: float
    first_se: float
    second: float
    second_se: float


def fading(count: int, half_life: float) -> Floats:
    """Weights (count,) of shots from the oldest to the newest, whose weight is 1.

    >>> fading(3, 1).tolist()
    [0.25, 0.5, 1.0]
    """
    return np.asarray(0.5 ** (np.arange(count - 1, -1, -1) / half_life), dtype=np.float64)


def faded(worth: float, count: float, half_life: float) -> float:
    """What was worth ``worth`` shots is worth this much after ``count`` new ones.

    >>> faded(20, 50, 50)
    10.0
    """
    return float(worth * 0.5 ** (count / half_life))


def two_biases(
    residual: Floats, of_first: Floats, of_second: Floats, variance: Floats, weight: Floats, prior_sd: Floats
) -> Bias:
    """Two biases that residuals show together: each residual is ``of_first`` a + ``of_second`` b + noise.

    Weighted linear regression with independent normal priors of mean 0 and ``prior_sd`` (2,): the posterior
    has precision P0 + X' W X / variance (Gelman et al., *Bayesian Data Analysis*, 3rd ed., sec. 14.8, from
    memory). All other arrays have shape (n,), in one unit.
    """
    with np.errstate(divide="ignore"):
        precision = np.diag(1.0 / np.square(prior_sd))
    design = np.stack([of_first, of_second])
    scaled = design * (weight / variance)
    covariance = np.linalg.inv(precision + scaled @ design.T)
    a, b = covariance @ (scaled @ residual)
    return Bias(float(a), math.sqrt(covariance[0, 0]), float(b), math.sqrt(covariance[1, 1]))


def spread_after(sd: float, worth: float, scaled_squares: float, weight: float) -> float:
    """A spread that was worth ``worth`` degrees of freedom, after residuals in units of it.

    Scaled inverse chi-square: (v0 s0^2 + s0^2 sum w z^2) / (v0 + sum w) (Gelman et al., *Bayesian Data
    Analysis*, 3rd ed., sec. 2.6, from memory), with ``scaled_squares`` = sum w z^2.
    """
    return sd * math.sqrt((worth + scaled_squares) / (worth + weight))


def share_after(share: float, worth: float, successes: float, weight: float) -> float:
    """A rate that was worth ``worth`` trials, after weighted trials: the mean of the Beta posterior.

    >>> share_after(0.5, 20, 0, 20)
    0.25
    """
    return (share * worth + successes) / (worth + weight)
