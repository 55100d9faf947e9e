import numpy as np
import pytest

from caddie.log.cues import CUE_PRIOR_SHOTS, HALF_LIFE_SHOTS, cue_weights
from caddie.log.shot import Commitment, Shot
from caddie.situation import Finish, Result, Strike


def shots(cue, worked):
    return [
        Shot(cue=cue, result=Result(strike=Strike.CLEAN if good else Strike.HEAVY, finish=Finish.GREEN))
        for good in worked
    ]


def test_the_cue_that_works_comes_first():
    played = [
        shot
        for pair in zip(shots("finish_long", [1] * 20), shots("landing_spot", [0, 1] * 10), strict=True)
        for shot in pair
    ]
    weights = cue_weights(played)
    assert weights["finish_long"] > 1.1
    assert weights["landing_spot"] < 0.9


def test_a_weight_is_the_posterior_mean_against_the_players_rate():
    worked = [1, 1, 0, 1, 1, 0]
    fade = 0.5 ** (np.arange(5, -1, -1) / HALF_LIFE_SHOTS)
    good = float((fade * worked).sum())
    overall = (good + 1) / (fade.sum() + 2)
    mean = (CUE_PRIOR_SHOTS * overall + good) / (CUE_PRIOR_SHOTS + fade.sum())
    assert cue_weights(shots("a", worked)) == pytest.approx({"a": mean / overall})


def test_one_shot_moves_a_cue_little():
    many = shots("a", [1, 0] * 20)
    assert cue_weights([*many, *shots("b", [0])])["b"] > 0.8


def test_old_shots_fade():
    assert cue_weights([*shots("a", [0] * 40), *shots("b", [1] * 200), *shots("a", [1] * 40)])["a"] > 0.95


def test_thompson_draws_follow_the_seed_and_try_a_rare_cue_sometimes():
    played = [*shots("old", [1, 1, 1, 0] * 15), *shots("new", [0])]
    assert cue_weights(played, seed=4) == cue_weights(played, seed=4)
    first = [cue_weights(played, seed=seed) for seed in range(200)]
    tried = np.mean([weights["new"] > weights["old"] for weights in first])
    assert 0.05 < tried < 0.5


def test_what_tells_nothing_gives_no_weight():
    assert cue_weights([]) == {}
    assert cue_weights([Shot(cue="a"), Shot(result=Result(strike=Strike.CLEAN))]) == {}


def test_quitting_is_a_failure_whatever_the_strike():
    quit_on = [Shot(cue="a", commitment=Commitment.QUIT, result=Result(strike=Strike.CLEAN))] * 8
    assert cue_weights([*shots("b", [1] * 8), *quit_on])["a"] < 0.8


def test_with_neither_strike_nor_commitment_the_leave_decides():
    near = Shot(cue="near", advice={"leave_m": 3.0}, result=Result(distance_m=2.0))
    far = Shot(cue="far", advice={"leave_m": 3.0}, result=Result(distance_m=5.0))
    weights = cue_weights([near, far] * 6)
    assert weights["near"] > 1 > weights["far"]
