"""The parts of the fit against independent libraries and laws."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy import optimize, stats

from caddie.bag.curve import expected_carry_m, expected_spread_m, full_carry_m, swing_fraction
from caddie.bag.models import Conditions
from caddie.range.mishits import CLEAN, HEAVY, NOT_SAID, THIN, MeasuredBalls, robust_start, tell_apart
from caddie.range.monotone import rising, rising_both_ways
from caddie.range.shots import carry_in
from caddie.range.shrinkage import draw_to_curve


def balls(carries: list[list[float]], said: int = NOT_SAID) -> MeasuredBalls:
    cell = np.repeat(np.arange(len(carries)), [len(each) for each in carries])
    flat = np.array([carry for each in carries for carry in each], dtype=float)
    return MeasuredBalls(flat, cell, np.full(flat.size, said))


@given(arrays(float, st.integers(1, 30), elements=st.floats(1, 200)))
@settings(max_examples=50, deadline=None)
def test_robust_start_is_scipys_median_and_deviation(carries: np.ndarray) -> None:
    """Against scipy.stats.median_abs_deviation with scale="normal" (1.482602...)."""
    middle, spread = robust_start(balls([carries.tolist()]), 1)
    assert middle[0] == pytest.approx(np.median(carries))
    assert spread[0] == pytest.approx(stats.median_abs_deviation(carries, scale="normal"), rel=1e-4)


@given(arrays(float, st.integers(1, 25), elements=st.floats(-50, 50)), st.randoms(use_true_random=False))
@settings(max_examples=80, deadline=None)
def test_rising_is_scipys_isotonic_regression(values: np.ndarray, random: object) -> None:
    """Against scipy.optimize.isotonic_regression."""
    weights = np.array([random.uniform(0.1, 5) for _ in values])  # type: ignore[attr-defined]
    theirs = optimize.isotonic_regression(values, weights=weights).x
    assert rising(values, weights) == pytest.approx(theirs, abs=1e-9)


def test_rising_both_ways_is_the_nearest_such_table() -> None:
    """Against scipy.optimize.minimize (SLSQP) under the same inequalities."""
    rng = np.random.default_rng(3)
    values, weights = rng.normal(size=(3, 4)).cumsum(axis=1), rng.uniform(0.5, 2, (3, 4))
    ours = rising_both_ways(values, weights)
    assert (np.diff(ours, axis=0) >= -1e-6).all()
    assert (np.diff(ours, axis=1) >= -1e-6).all()

    def apart(table: np.ndarray) -> float:
        return float((weights * (table.reshape(3, 4) - values) ** 2).sum())

    law = {
        "type": "ineq",
        "fun": lambda table: np.concatenate(
            [np.diff(table.reshape(3, 4), axis=0).ravel(), np.diff(table.reshape(3, 4), axis=1).ravel()]
        ),
    }
    theirs = optimize.minimize(apart, values.ravel(), constraints=[law], tol=1e-12)
    assert apart(ours) == pytest.approx(theirs.fun, rel=1e-4)


def test_without_mishits_the_mixture_is_the_plain_mean_near_a_trimmed_one() -> None:
    """Against numpy and scipy.stats.trim_mean: 40 clean balls a cell, all said to be clean."""
    rng = np.random.default_rng(5)
    carries = [rng.normal(60, 4, 40).tolist(), rng.normal(90, 5, 40).tolist()]
    told = tell_apart(balls(carries, CLEAN), np.array([60.0, 90.0]), np.array([4.0, 5.0]), 0.05)
    assert told.mean_m == pytest.approx([np.mean(each) for each in carries])
    unsaid = tell_apart(balls(carries), np.array([60.0, 90.0]), np.array([4.0, 5.0]), 0.05)
    assert unsaid.mean_m == pytest.approx([stats.trim_mean(each, 0.05) for each in carries], abs=0.5)


def test_mishits_are_told_apart_and_one_misreading_moves_nothing() -> None:
    clean = [58.0, 59, 60, 60, 61, 62, 60, 59]
    start = np.array([60.0])
    alone = tell_apart(balls([clean]), start, np.array([3.0]), 0.05)
    told = tell_apart(balls([[*clean, 25, 35, 80, 160]]), start, np.array([3.0]), 0.05)
    assert told.share.argmax(axis=0).tolist() == [CLEAN] * 8 + [HEAVY, HEAVY, THIN, 3]
    assert told.mean_m[0] == pytest.approx(alone.mean_m[0], abs=0.1)
    assert np.sqrt(told.variance_m2[0]) < 3
    # The plain mean of the same balls is far away.
    assert abs(np.mean([*clean, 25, 35, 80, 160]) - 60) > 4


def test_what_the_player_said_is_believed() -> None:
    some = balls([[60.0, 61, 59, 62, 58]])
    said = MeasuredBalls(some.carry_m, some.cell, np.array([NOT_SAID, NOT_SAID, NOT_SAID, THIN, HEAVY]))
    told = tell_apart(said, np.array([60.0]), np.array([3.0]), 0.05)
    assert told.share.argmax(axis=0).tolist() == [CLEAN, CLEAN, CLEAN, THIN, HEAVY]
    assert told.mean_m[0] == pytest.approx(60.0, abs=0.05)


def test_the_mixture_scales_with_the_unit() -> None:
    carries = [[58.0, 61, 60, 33, 59, 62]]
    one = tell_apart(balls(carries), np.array([60.0]), np.array([3.0]), 0.05)
    ten = tell_apart(balls([[10 * c for c in carries[0]]]), np.array([600.0]), np.array([30.0]), 0.05)
    assert ten.mean_m == pytest.approx(10 * one.mean_m)
    assert ten.variance_m2 == pytest.approx(100 * one.variance_m2)


def test_the_expected_curve_rises_with_the_swing_and_falls_with_loft_and_handicap() -> None:
    share = np.linspace(0.05, 1, 30)
    assert (np.diff(swing_fraction(share)) > 0).all()
    assert (np.diff(full_carry_m(np.linspace(10, 70, 40), 14)) < 0).all()
    assert expected_carry_m(56, 1, 5) > expected_carry_m(56, 1, 25)
    length, side = expected_spread_m(np.array([8.0, 85.0]), 0)
    assert length / [8.0, 85.0] == pytest.approx([0.13, 0.05], abs=0.01)
    assert (side < length).all()


def curve(measured: list[float], error: float) -> tuple[np.ndarray, np.ndarray]:
    loft, share = np.repeat([60.0, 56, 52], 2), np.tile([0.5, 1.0], 3)
    log = np.log(np.array(measured))
    drawn = draw_to_curve(loft, share, np.log(expected_carry_m(loft, share, 14)), log, np.full(6, error))
    return np.exp(drawn.log_carry), drawn.standard_error


def test_exact_measurements_are_kept_and_vague_ones_ignored() -> None:
    carries = [40.0, 66, 50, 75, 55, 84]
    assert curve(carries, 1e-4)[0] == pytest.approx(carries, rel=1e-3)
    vague, error = curve(carries, 5.0)
    prior, prior_error = curve([float("nan")] * 6, 1.0)
    assert vague == pytest.approx(prior, rel=0.02)
    assert (error < prior_error + 1e-9).all()


def test_unmeasured_cells_follow_the_players_level() -> None:
    nan = float("nan")
    long, error = curve([nan, 100, nan, 112, nan, nan], 0.02)
    short, _ = curve([nan, 60, nan, 67, nan, nan], 0.02)
    assert (long > 1.3 * short).all()
    assert error[5] > error[1]
    assert error[0] > error[1]


def test_a_session_in_the_cold_is_carried_to_the_warm_and_back() -> None:
    cold, warm = Conditions(temperature_c=2), Conditions(temperature_c=30)
    carries = np.array([20.0, 60, 90])
    moved = carry_in(carries, 56, cold, warm)
    assert (moved > carries).all()
    assert (np.diff(moved / carries) > 0).all()
    assert carry_in(moved, 56, warm, cold) == pytest.approx(carries, rel=2e-3)
    assert (carry_in(carries, 56, cold, cold) == carries).all()


def test_altitude_makes_a_carry_longer_and_a_misreading_does_no_harm() -> None:
    high = Conditions(altitude_m=1500)
    carries = np.array([60.0, 61, 62, 1.0, 345.0])
    moved = carry_in(carries, 56, Conditions(), high)
    assert (moved[:3] > 1.02 * carries[:3]).all()
    assert (moved[:3] < 1.10 * carries[:3]).all()
    assert moved[3] == 1.0
    assert np.isfinite(moved[4])
