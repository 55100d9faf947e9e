import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.stats import chi2

from caddie.errors import CaddieError
from caddie.plan.putt import skill
from caddie.plan.putt.skill import (
    LONGEST_M,
    PuttingSkill,
    expected_putts,
    make_chance,
    skill_for,
    three_putt_chance,
)
from caddie.units import FOOT_M

PUBLISHED = Path(__file__).parents[2] / "published"
ALWAYS_REACHES = 1e-4
"""A distance SD this small makes the model one of angle alone."""
HANDICAPS = st.floats(-8, 54)


def published(name):
    lines = (PUBLISHED / name).read_text().splitlines()[1:]
    lines[0] = lines[0].replace("(low confidence)", "")
    return np.genfromtxt(lines, delimiter=",", names=True)


def makes(distance_ft, angle_deg, distance_sd):
    chance = make_chance(distance_ft * FOOT_M, PuttingSkill(math.radians(angle_deg), distance_sd))
    return np.clip(chance, 1e-9, 1 - 1e-9)


def chi_square(data, chance, model_sd=0.0):
    variance = chance * (1 - chance) / data["tries"] + model_sd**2
    return float(np.sum((data["successes"] / data["tries"] - chance) ** 2 / variance))


def fit_angle(data):
    def loss(guess):
        chance = makes(data["distance_ft"], guess[0], ALWAYS_REACHES)
        made, missed = data["successes"], data["tries"] - data["successes"]
        return -np.sum(made * np.log(chance) + missed * np.log(1 - chance))

    return minimize(loss, [1.2], method="Nelder-Mead").x[0]


def fit_angle_and_distance(data):
    """Maximum likelihood of the case study's last model: normal rates, binomial plus a model error."""

    def loss(guess):
        chance = makes(data["distance_ft"], guess[0], guess[1])
        variance = chance * (1 - chance) / data["tries"] + guess[2] ** 2
        error = data["successes"] / data["tries"] - chance
        return np.sum(0.5 * np.log(variance) + 0.5 * error**2 / variance)

    return minimize(loss, [1.2, 0.1, 0.01], method="Nelder-Mead", options={"maxiter": 4000}).x


def test_angle_model_fitted_to_berry_1996():
    """A. Gelman's case study (2019) prints 1.5 deg; the reference file's own fit is 1.527 deg."""
    angle_deg = fit_angle(published("putts_made_berry1996.csv"))
    assert angle_deg == pytest.approx(1.5, abs=0.05)
    assert angle_deg == pytest.approx(1.527, abs=0.001)


def test_angle_and_distance_model_fitted_to_the_tour_2016_18():
    """Case study (2019): 1.0 deg and 0.08 printed; 1.02 deg and 0.080 computed from the same counts."""
    angle_deg, distance_sd, model_sd = fit_angle_and_distance(published("putts_made_tour_2016_18.csv"))
    assert angle_deg == pytest.approx(1.02, abs=0.005)
    assert distance_sd == pytest.approx(0.080, abs=0.0005)
    assert model_sd == pytest.approx(0.003, abs=0.0005)  # printed there as 0.003


def test_berry_1996_counts_reject_even_the_best_angle_model():
    """Berry 1996, 19 distances: chi-square 62.4 on 18 degrees of freedom. A useful fit, not a true one."""
    data = published("putts_made_berry1996.csv")
    chance = makes(data["distance_ft"], fit_angle(data), ALWAYS_REACHES)
    statistic = chi_square(data, chance)
    assert statistic == pytest.approx(62.4, abs=0.3)
    assert chi2.sf(statistic, 18) < 1e-5
    assert np.abs(data["successes"] / data["tries"] - chance).max() < 0.10


def test_tour_skill_against_the_counts_of_2016_18():
    """Makes of 2016-18, 31 distances, 0.3-75 ft: every rate within 0.01 of the tour skill's.

    The counts are so many (up to 183,020) that chi-square rejects the model: 129 on the 28 distances beyond
    2 ft, 57 on the 25 beyond 5 ft. With the model error of 0.003 that the case study allows it is 28 on 31.
    """
    data = published("putts_made_tour_2016_18.csv")
    chance = make_chance(data["distance_ft"] * FOOT_M, skill_for(-5))
    assert np.abs(data["successes"] / data["tries"] - chance).max() < 0.01
    for beyond_ft, statistic in [(2, 128.9), (5, 56.7)]:
        far = data["distance_ft"] > beyond_ft
        assert chi_square(data[far], chance[far]) == pytest.approx(statistic, abs=0.5)
        assert chi2.sf(statistic, far.sum()) < 0.001
    assert chi_square(data, chance, model_sd=0.003) == pytest.approx(28.4, abs=0.5)


def test_expected_putts_of_the_tour_against_broadie_2011():
    """M. Broadie, "Putts Gained" (2011), fig. 1, transcribed: 0.015 to 40 ft, 0.07 to 90 ft.

    Beyond 40 ft the model is up to 0.06 low: real long putts also break and are misread.
    """
    data = published("putting_tour_broadie.csv")
    error = expected_putts(data["distance_ft"] * FOOT_M, skill_for(-5)) - data["expected_putts"]
    assert np.abs(error[data["distance_ft"] <= 40]).max() < 0.015
    assert np.abs(error).max() < 0.07


def test_one_and_three_putts_of_the_tour_against_broadie_2011():
    """The same table (secondary): one-putt share within 0.025, three-putt share within 0.06."""
    data = published("putting_tour_broadie.csv")
    distance_m = data["distance_ft"] * FOOT_M
    one = 100 * make_chance(distance_m, skill_for(-5)) - data["one_putt_pct"]
    three = 100 * three_putt_chance(distance_m, skill_for(-5)) - data["three_putt_pct_derived"]
    assert np.nanmax(np.abs(one)) < 2.5
    assert np.nanmax(np.abs(three)) < 6


def test_golfer_who_shoots_90_against_the_confirmed_points():
    """*Every Shot Counts* (2014), confirmed: 50 % at 5 ft and just over 25 % at 8 ft; tolerance 0.05."""
    five, eight = make_chance(np.array([5, 8]) * FOOT_M, skill_for(18))
    assert five == pytest.approx(0.50, abs=0.03)
    assert eight == pytest.approx(0.26, abs=0.05)


def test_scratch_and_90s_golfers_against_memory():
    """*Every Shot Counts* (2014) from memory, so only 0.08 on makes and 0.10 on three-putts: the skills are fitted to
    averages by handicap that were read (tests/published/test_amateurs.py)."""
    data = published("putting_scratch_and_90s_from_memory.csv")
    distance_m = data["distance_ft"] * FOOT_M
    scratch = make_chance(distance_m, skill_for(0)) - data["scratch_one_putt_pct_MEM"] / 100
    ninety = make_chance(distance_m, skill_for(18)) - data["golfer90_one_putt_pct_MEM"] / 100
    three = three_putt_chance(distance_m, skill_for(18)) - data["golfer90_three_putt_pct_MEM"] / 100
    assert np.abs(scratch).max() < 0.08
    assert np.abs(ninety).max() < 0.08
    assert np.nanmax(np.abs(three)) < 0.10


@pytest.mark.parametrize(("handicap", "distance_m"), [(-5, 3.0), (18, 1.5), (18, 12.0), (36, 25.0)])
def test_recursion_against_putts_played_out(handicap, distance_m):
    """An independent Monte Carlo of the two errors, 60,000 balls putted until holed: within four SE."""
    skill, rng, balls = skill_for(handicap), np.random.default_rng(5), 60_000
    left = np.full(balls, distance_m)
    putts = np.zeros(balls)
    while (playing := left > 0).any():
        start = left[playing]
        angle = rng.normal(0, skill.angle_sd_rad, start.size)
        rolled = (start + FOOT_M) * (1 + skill.distance_sd * rng.normal(size=start.size))
        on_line = start * np.abs(np.sin(angle)) < (2.125 - 0.84) * 0.0254
        holed = on_line & (rolled >= start) & (rolled <= start + 3 * FOOT_M)
        off = np.hypot(rolled * np.cos(angle) - start, rolled * np.sin(angle))
        left[playing] = np.where(holed, 0, np.maximum(off, 1e-6))
        putts[playing] += 1
    for got, played in [
        (expected_putts(distance_m, skill), putts),
        (three_putt_chance(distance_m, skill), putts >= 3),
    ]:
        # 0.002 is what the grid's linear interpolation may add.
        assert abs(float(got) - played.mean()) < 4 * played.std() / math.sqrt(balls) + 0.002


@settings(deadline=None)
@given(HANDICAPS, st.floats(0, LONGEST_M), st.floats(0, LONGEST_M))
def test_farther_never_takes_fewer_putts(handicap, one_m, other_m):
    near, far = expected_putts(np.sort([one_m, other_m]), skill_for(handicap))
    assert 1 <= near <= far < 5


@settings(deadline=None)
@given(HANDICAPS, HANDICAPS, st.floats(0, LONGEST_M))
def test_more_skill_never_takes_more_putts(one, other, distance_m):
    better, worse = skill_for(min(one, other)), skill_for(max(one, other))
    assert expected_putts(distance_m, better) <= expected_putts(distance_m, worse) + 1e-9
    assert make_chance(distance_m, better) >= make_chance(distance_m, worse) - 1e-12


@settings(deadline=None)
@given(HANDICAPS, st.floats(0, LONGEST_M))
def test_putts_are_never_fewer_than_their_shares_say(handicap, distance_m):
    """E >= P(1) + 2 P(2) + 3 P(3 or more): the identity of a mean, up to the grid's 0.003."""
    skill = skill_for(handicap)
    one, three = make_chance(distance_m, skill), three_putt_chance(distance_m, skill)
    assert expected_putts(distance_m, skill) >= one + 2 * (1 - one - three) + 3 * three - 0.003


def test_a_ball_at_the_hole_takes_one():
    assert expected_putts(0.0, skill_for(18)) == 1
    assert make_chance(0.0, skill_for(18)) == pytest.approx(1, abs=1e-6)


def test_arrays_keep_their_shape_and_agree_with_single_putts():
    distance_m = np.array([[0.0, 1.23, 4.5], [9.87, 30.0, 99.0]])
    together = expected_putts(distance_m, skill_for(10))
    assert together.shape == (2, 3)
    alone = [float(expected_putts(each_m, skill_for(10))) for each_m in distance_m.ravel()]
    assert together.ravel() == pytest.approx(alone)
    assert together[1, 2] == expected_putts(LONGEST_M, skill_for(10))


@pytest.mark.parametrize("slope", [0.01, 0.02, 0.03, 0.04])
@pytest.mark.parametrize("distance_m", [1.0, 2.0, 5.0, 10.0, 20.0])
def test_from_above_the_hole_is_harder(slope, distance_m):
    """Common practice, no source: leave it below the hole."""
    skill = skill_for(14)
    level = expected_putts(distance_m, skill)
    assert expected_putts(distance_m, skill, -slope) > level
    assert expected_putts(distance_m, skill, -slope) > expected_putts(distance_m, skill, slope)


def test_a_faster_green_makes_the_slope_worse():
    fast, slow = (expected_putts(6.0, skill_for(14), -0.03, stimp_ft) for stimp_ft in (12, 8))
    assert fast > slow


def test_a_green_too_steep_to_hold_the_ball_is_reported():
    """The ball cannot stop downhill at stimp 10 above 7.8 % (computed, rolling sphere on a grade)."""
    assert expected_putts(3.0, skill_for(14), -0.07) < 4
    with pytest.raises(CaddieError, match="cannot stop"):
        make_chance(3.0, skill_for(14), -0.078)


@pytest.mark.parametrize(
    "call",
    [
        lambda: skill_for(70),
        lambda: skill_for(math.nan),
        lambda: PuttingSkill(0.0, 0.1),
        lambda: PuttingSkill(0.02, -0.1),
        lambda: expected_putts(-1.0, skill_for(0)),
        lambda: make_chance([1.0, math.nan], skill_for(0)),
        lambda: make_chance(1.0, skill_for(0), slope=-0.01, stimp_ft=0.0),
        lambda: expected_putts(1.0, skill_for(0), slope=math.nan),
    ],
)
def test_nonsense_is_refused_in_one_line(call):
    with pytest.raises(CaddieError) as error:
        call()
    assert "\n" not in str(error.value)


def test_gauss_nodes_are_those_numpy_works_out():
    nodes, weights = np.polynomial.legendre.leggauss(8)
    np.testing.assert_array_equal(skill._GAUSS, nodes)
    np.testing.assert_array_equal(skill._GAUSS_WEIGHT, weights)
