import numpy as np
import pytest
from scipy import stats

from caddie.log.bayes import faded, fading, share_after, spread_after, two_biases

NEVER = 1e12


def test_with_no_forgetting_a_bias_is_the_shrunk_mean():
    """(n0 m0 + n m) / (n0 + n), the conjugate normal update (Gelman et al., *Bayesian Data Analysis*, 3rd ed.,
    sec. 3.3, from memory)."""
    rng = np.random.default_rng(1)
    carries, prior, sd, worth = rng.normal(62, 3, 14), 65.0, 3.2, 30.0
    one, none = np.ones(14), np.zeros(14)
    bias = two_biases(
        carries - prior, one, none, one * sd**2, fading(14, NEVER), np.array([sd / worth**0.5, 1.0])
    )
    wanted = (worth * prior + carries.sum()) / (worth + 14)
    assert prior + bias.first == pytest.approx(wanted, abs=1e-6)
    assert bias.first_se == pytest.approx(sd / np.sqrt(worth + 14), abs=1e-9)
    assert (bias.second, bias.second_se) == (0.0, 1.0)


def test_two_biases_are_the_generalised_least_squares_of_numpy():
    """Priors as extra observations: numpy.linalg.lstsq on the whitened system."""
    rng = np.random.default_rng(2)
    n = 40
    x1, x2, variance, weight = rng.random(n), rng.random(n), rng.random(n) + 0.5, rng.random(n)
    y = 2 * x1 - 1 * x2 + rng.normal(0, variance**0.5)
    prior = np.array([1.5, 0.7])
    whiten = np.sqrt(weight / variance)
    design = np.vstack([np.column_stack([x1, x2]) * whiten[:, None], np.diag(1 / prior)])
    wanted, *_ = np.linalg.lstsq(design, np.concatenate([y * whiten, [0, 0]]), rcond=None)
    bias = two_biases(y, x1, x2, variance, weight, prior)
    assert (bias.first, bias.second) == pytest.approx(tuple(wanted), abs=1e-10)


def test_a_share_is_the_mean_of_the_beta_posterior():
    assert share_after(0.3, 20, 7, 15) == pytest.approx(stats.beta(6 + 7, 14 + 8).mean())


def test_a_spread_is_the_scale_of_the_inverse_chi_square_posterior():
    z = np.array([0.5, -2.0, 1.2, 0.1])
    prior_sd, worth = 3.0, 10.0
    after = spread_after(prior_sd, worth, float((z**2).sum()), 4.0)
    assert after**2 == pytest.approx((worth * prior_sd**2 + ((z * prior_sd) ** 2).sum()) / (worth + 4))


def test_what_came_before_counts_half_after_a_half_life():
    assert faded(30, 60, 60) == 15
    assert fading(61, 60)[0] == pytest.approx(0.5)
    assert fading(5000, 60).sum() == pytest.approx(60 / np.log(2), rel=0.01)
