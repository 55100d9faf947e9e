"""What a few shots say about a player: intervals, and estimates drawn toward what is known before them.

Small samples mislead: ten shots leave a standard deviation uncertain by a factor 0.69 to 1.83. So every
figure has an interval, and a cell with few shots is shrunk toward a prior worth a stated number of shots.
Quantiles are found by bisection on the regularised incomplete beta and gamma functions (DLMF 8.11.4, 8.9.2,
8.17.22), so that nothing beyond the standard library is needed.
"""

import math
from collections.abc import Callable, Iterable
from functools import lru_cache
from statistics import NormalDist
from typing import NamedTuple

from caddie.errors import CaddieError

_TINY = 1e-300
_TERMS = 1000
_REMEMBERED = 1000
"""Quantiles remembered: a bag asks for those of few counts of balls, each many times."""


class Interval(NamedTuple):
    """Both ends of an interval."""

    low: float
    high: float


def standard_error(sd: float, n: int) -> float:
    """Standard error of a mean of ``n`` values with standard deviation ``sd``; infinite for n = 0.

    >>> standard_error(3.0, 9)
    1.0
    """
    _require(sd >= 0, "standard deviation", sd, "0 or more")
    _require(n >= 0, "number of shots", n, "0 or more")
    return sd / math.sqrt(n) if n else math.inf


def wilson_interval(successes: int, n: int, confidence: float = 0.95) -> Interval:
    """Wilson score interval of a share, without continuity correction (Newcombe 1998, method 3).

    No trials give (0, 1). Raises `CaddieError` unless 0 <= successes <= n.

    >>> [round(end, 4) for end in wilson_interval(81, 263)]
    [0.2553, 0.3662]
    """
    _require(n >= 0, "number of shots", n, "0 or more")
    _require(0 <= successes <= n, "successes", successes, f"0 to {n}")
    z = NormalDist().inv_cdf(1 - _tail(confidence))
    if n == 0:
        return Interval(0.0, 1.0)
    share = successes / n
    centre = share + z * z / (2 * n)
    half = z * math.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    scale = 1 + z * z / n
    low = 0.0 if successes == 0 else (centre - half) / scale
    high = 1.0 if successes == n else (centre + half) / scale
    return Interval(low, high)


def mean_interval(mean: float, sd: float, n: int, confidence: float = 0.95) -> Interval:
    """Interval of a normal mean from a sample's ``mean``, ``sd`` and ``n``, by Student's t.

    Fewer than two shots give (-inf, inf). NIST/SEMATECH e-Handbook 1.3.5.2.
    """
    tail = _tail(confidence)
    _require(sd >= 0, "standard deviation", sd, "0 or more")
    if n < 2:
        return Interval(-math.inf, math.inf)
    half = t_quantile(1 - tail, n - 1) * standard_error(sd, n)
    return Interval(mean - half, mean + half)


def sd_interval(sd: float, n: int, confidence: float = 0.95) -> Interval:
    """Interval of a normal standard deviation from a sample's ``sd`` and ``n``, by chi-square.

    Fewer than two shots give (0, inf).
    """
    tail = _tail(confidence)
    _require(sd >= 0, "standard deviation", sd, "0 or more")
    if n < 2:
        return Interval(0.0, math.inf)
    freedom = n - 1
    return Interval(
        sd * math.sqrt(freedom / chi_square_quantile(1 - tail, freedom)),
        sd * math.sqrt(freedom / chi_square_quantile(tail, freedom)),
    )


def shrunk_variance(variance: float, n: int, prior_variance: float, prior_shots: float) -> float:
    """Scale of the inverse-gamma posterior of a normal variance whose prior is worth ``prior_shots``.

    (n0 v0 + (n - 1) s2) / (n0 + n - 1), the scaled inverse chi-square update with the mean unknown and flat
    (Gelman et al., *Bayesian Data Analysis*, 3rd ed., sec. 2.6, from memory). ``variance`` is the
    sample's, over n - 1; with fewer than two shots the prior stands.

    >>> shrunk_variance(16.0, 6, 4.0, 5)
    10.0
    """
    _require(n >= 0, "number of shots", n, "0 or more")
    _require(prior_shots > 0, "prior_shots", prior_shots, "more than 0")
    _require(prior_variance >= 0, "prior_variance", prior_variance, "0 or more")
    if n < 2:
        return prior_variance
    _require(variance >= 0, "variance", variance, "0 or more")
    return (prior_shots * prior_variance + (n - 1) * variance) / (prior_shots + n - 1)


@lru_cache(maxsize=_REMEMBERED)
def t_quantile(probability: float, freedom: float) -> float:
    """Quantile of Student's t with ``freedom`` degrees of freedom.

    By the incomplete beta function: P(|T| > t) = I(f / (f + t^2); f/2, 1/2).
    """
    _require(0 < probability < 1, "probability", probability, "between 0 and 1")
    _require(freedom > 0, "degrees of freedom", freedom, "more than 0")
    if probability == 0.5:
        return 0.0
    both_tails = 2 * min(probability, 1 - probability)
    # f / (f + t^2) keeps its digits in the tails, its complement near the middle.
    if both_tails < 0.5:
        share = 1 / beta_quantile(both_tails, freedom / 2, 0.5) - 1
    else:
        share = 1 / (1 / beta_quantile(1 - both_tails, 0.5, freedom / 2) - 1)
    size = math.sqrt(freedom * share)
    return math.copysign(size, probability - 0.5)


@lru_cache(maxsize=_REMEMBERED)
def chi_square_quantile(probability: float, freedom: float) -> float:
    """Quantile of chi-square with ``freedom`` degrees of freedom: twice that of Gamma(f / 2)."""
    _require(0 < probability < 1, "probability", probability, "between 0 and 1")
    _require(freedom > 0, "degrees of freedom", freedom, "more than 0")
    high = max(freedom, 1.0)
    while incomplete_gamma(freedom / 2, high / 2) < probability:
        high *= 2
    return _bisect(lambda x: incomplete_gamma(freedom / 2, x / 2), probability, high)


def beta_quantile(probability: float, a: float, b: float) -> float:
    """Quantile of Beta(a, b)."""
    _require(0 < probability < 1, "probability", probability, "between 0 and 1")
    return _bisect(lambda x: incomplete_beta(x, a, b), probability, 1.0)


def incomplete_gamma(a: float, x: float) -> float:
    """Regularised lower incomplete gamma function P(a, x): a series below a + 1, else a continued fraction.

    DLMF 8.11.4 and 8.9.2, the fraction by Lentz's method.
    """
    if x <= 0:
        return 0.0
    scale = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1:
        term = total = 1 / a
        for k in range(1, _TERMS):
            term *= x / (a + k)
            total += term
            if term < total * 1e-16:
                break
        return min(scale * total, 1.0)
    first = x + 1 - a
    steps = ((-k * (k - a), first + 2 * k) for k in range(1, _TERMS))
    return 1 - scale / _continued_fraction(first, steps)


def incomplete_beta(x: float, a: float, b: float) -> float:
    """Regularised incomplete beta function I(x; a, b) by the continued fraction DLMF 8.17.22."""
    _require(a > 0 and b > 0, "beta parameters", min(a, b), "more than 0")
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - incomplete_beta(1 - x, b, a)
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )

    def numerator(j: int) -> float:
        m = j // 2
        if j % 2:
            return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))

    return front / (a * _continued_fraction(1.0, ((numerator(j), 1.0) for j in range(1, _TERMS))))


def _continued_fraction(first: float, steps: Iterable[tuple[float, float]]) -> float:
    """b0 + a1/(b1 + a2/(b2 + ...)) by Lentz's method as modified by Thompson and Barnett (1986)."""
    value = c = first if first else _TINY
    d = 0.0
    for numerator, denominator in steps:
        d = 1 / ((denominator + numerator * d) or _TINY)
        c = (denominator + numerator / c) or _TINY
        value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value


def _bisect(rising: Callable[[float], float], target: float, high: float) -> float:
    """Where a rising function on 0..``high`` reaches ``target``, to the last digit."""
    low = 0.0
    while True:
        middle = (low + high) / 2
        if not low < middle < high:
            return middle
        if rising(middle) < target:
            low = middle
        else:
            high = middle


def _tail(confidence: float) -> float:
    _require(0 < confidence < 1, "confidence", confidence, "between 0 and 1, such as 0.95")
    return (1 - confidence) / 2


def _require(holds: bool, what: str, value: float, wanted: str) -> None:
    if not holds:
        raise CaddieError(f"{what} {value:g}: give {wanted}")
