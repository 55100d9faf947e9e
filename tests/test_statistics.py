import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import special, stats

from caddie.errors import CaddieError
from caddie.statistics import (
    beta_quantile,
    chi_square_quantile,
    incomplete_beta,
    incomplete_gamma,
    mean_interval,
    sd_interval,
    shrunk_variance,
    standard_error,
    t_quantile,
    wilson_interval,
)

SAMPLE_SIZE = Path(__file__).parent / "published" / "sample_size.csv"
PROBABILITIES = st.floats(1e-6, 1 - 1e-6)
CONFIDENCES = st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99])


def sample_size():
    return np.genfromtxt(SAMPLE_SIZE.read_text().splitlines()[1:], delimiter=",", names=True)


@pytest.mark.parametrize(
    ("successes", "n", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_wilson_against_newcombe_1998(successes, n, low, high):
    """R. Newcombe, *Stat. Med.* 17, 857-872 (1998), computed, as published: to the four digits printed."""
    assert wilson_interval(successes, n) == pytest.approx((low, high), abs=0.00005)


@settings(deadline=None)
@given(st.integers(1, 500), st.data(), CONFIDENCES)
def test_wilson_against_scipy(n, data, confidence):
    successes = data.draw(st.integers(0, n))
    reference = stats.binomtest(successes, n).proportion_ci(confidence, method="wilson")
    assert wilson_interval(successes, n, confidence) == pytest.approx(reference, abs=1e-9)


def test_mean_against_the_nist_handbook():
    """NIST/SEMATECH e-Handbook 1.3.5.2: 9.258242 to 9.264679, to the six digits printed."""
    interval = mean_interval(9.261460, 0.022789, 195)
    assert interval == pytest.approx((9.258242, 9.264679), abs=1e-6)


def test_intervals_against_the_sample_size_table():
    """Reference table computed from t and chi-square: to the four digits printed."""
    for row in sample_size():
        n = int(row["n"])
        assert standard_error(1, n) == pytest.approx(row["SE_mean_over_sigma"], abs=0.00005)
        assert mean_interval(0, 1, n).high == pytest.approx(row["t95_halfwidth_mean_over_s"], abs=0.00005)
        low, high = sd_interval(1, n)
        assert low == pytest.approx(row["sd_CI95_lower_factor"], abs=0.00005)
        assert high == pytest.approx(row["sd_CI95_upper_factor"], abs=0.00005)


@settings(deadline=None)
@given(PROBABILITIES, st.integers(1, 2000))
def test_t_quantile_against_scipy(probability, freedom):
    assert t_quantile(probability, freedom) == pytest.approx(
        stats.t.ppf(probability, freedom), rel=1e-8, abs=1e-8
    )


@settings(deadline=None)
@given(PROBABILITIES, st.integers(1, 2000))
def test_chi_square_quantile_against_scipy(probability, freedom):
    assert chi_square_quantile(probability, freedom) == pytest.approx(
        stats.chi2.ppf(probability, freedom), rel=1e-8, abs=1e-12
    )


@settings(deadline=None)
@given(PROBABILITIES, st.floats(0.05, 900), st.floats(0.05, 900))
def test_beta_quantile_against_scipy(probability, a, b):
    assert beta_quantile(probability, a, b) == pytest.approx(stats.beta.ppf(probability, a, b), abs=1e-8)


@settings(deadline=None)
@given(st.floats(0.05, 500), st.floats(0, 1))
def test_incomplete_functions_against_scipy(a, x):
    assert incomplete_beta(x, a, 3.5) == pytest.approx(special.betainc(a, 3.5, x), abs=1e-10)
    assert incomplete_gamma(a, 3 * a * x) == pytest.approx(special.gammainc(a, 3 * a * x), abs=1e-10)


@settings(deadline=None)
@given(st.integers(2, 300), st.floats(0.01, 50), CONFIDENCES)
def test_intervals_against_scipy(n, sd, confidence):
    reference = stats.t.interval(confidence, n - 1, loc=70, scale=sd / math.sqrt(n))
    assert mean_interval(70, sd, n, confidence) == pytest.approx(reference, rel=1e-9)
    low, high = stats.chi2.interval(confidence, n - 1)
    expected = (sd * math.sqrt((n - 1) / high), sd * math.sqrt((n - 1) / low))
    assert sd_interval(sd, n, confidence) == pytest.approx(expected, rel=1e-9)


def test_shrunk_variance_is_the_inverse_of_the_posterior_mean_precision_on_a_grid():
    """Bayes' rule summed on a grid: prior scaled inverse chi-square (8, 4), sample variance 9 of 6 shots."""
    variance = np.geomspace(0.05, 2000, 200_001)
    prior = stats.invgamma.pdf(variance, 4, scale=4 * 4)
    likelihood = stats.chi2.pdf(5 * 9 / variance, 5) / variance
    weight = prior * likelihood * variance  # the grid is even in the logarithm
    reference = np.sum(weight) / np.sum(weight / variance)
    assert shrunk_variance(9, 6, 4, 8) == pytest.approx(reference, rel=1e-5)


@settings(deadline=None)
@given(st.integers(0, 10_000), st.floats(1, 100), st.floats(1, 100), st.floats(0.1, 100))
def test_shrinking_stays_between_prior_and_sample(n, sample, prior, prior_shots):
    low, high = sorted((sample, prior))
    assert low - 1e-9 <= shrunk_variance(sample, n, prior, prior_shots) <= high + 1e-9


def test_without_shots_the_prior_stands_and_with_many_the_sample_does():
    assert shrunk_variance(math.nan, 1, 16, 5) == 16
    assert shrunk_variance(4, 10**6, 16, 5) == pytest.approx(4, abs=1e-3)


def test_too_few_shots_say_nothing():
    assert wilson_interval(0, 0) == (0, 1)
    assert mean_interval(70, 0, 1) == (-math.inf, math.inf)
    assert sd_interval(0, 1) == (0, math.inf)
    assert standard_error(3, 0) == math.inf


@pytest.mark.parametrize(
    "call",
    [
        lambda: wilson_interval(5, 4),
        lambda: wilson_interval(-1, 4),
        lambda: wilson_interval(1, 4, confidence=95),
        lambda: mean_interval(70, -1, 5),
        lambda: sd_interval(math.nan, 5),
        lambda: standard_error(1, -1),
        lambda: shrunk_variance(-1, 3, 2, 5),
        lambda: t_quantile(0, 5),
        lambda: chi_square_quantile(0.5, 0),
        lambda: beta_quantile(0.5, 0, 1),
    ],
)
def test_nonsense_is_refused_in_one_line(call):
    with pytest.raises(CaddieError) as error:
        call()
    assert "\n" not in str(error.value)
