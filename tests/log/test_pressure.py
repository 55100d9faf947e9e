import pytest

from caddie.bag.models import Miss
from caddie.log.pressure import difference_interval, nerve
from caddie.log.shot import Commitment, Shot
from caddie.situation import Finish, Hazard, HazardKind, Lie, Result, Situation

WATER = Situation(pin_m=40, lie=Lie.FAIRWAY, hazards=(Hazard(kind=HazardKind.WATER),))
RIDGE = Situation(pin_m=40, lie=Lie.FAIRWAY, hazards=(Hazard(kind=HazardKind.RIDGE),))
GREEN = Result(distance_m=4, finish=Finish.GREEN)


def played(situation, commitment=None, count=1):
    return [Shot(situation=situation, result=GREEN, commitment=commitment)] * count


def test_quitting_near_water_is_found():
    shots = played(WATER, Commitment.QUIT, 12) + played(WATER, count=28) + played(RIDGE, count=60)
    first, second = nerve(shots)
    assert (first.miss, first.near, first.near_shots, first.clear, first.clear_shots) == (
        Miss.QUIT,
        12,
        40,
        0,
        60,
    )
    assert first.more == pytest.approx(0.3)
    assert first.under_pressure
    assert (second.miss, second.near) == (Miss.RUSH, 0)
    assert not second.under_pressure


def test_the_same_rate_with_and_without_trouble_is_no_pressure():
    shots = [
        *played(WATER, Commitment.RUSH, 5), *played(WATER, count=45),
        *played(RIDGE, Commitment.RUSH, 5), *played(RIDGE, count=45),
    ]  # fmt: skip
    assert not any(found.under_pressure for found in nerve(shots))


def test_an_empty_log_says_nothing():
    assert [found.near_shots for found in nerve([])] == [0, 0]
    assert not nerve([])[0].under_pressure


def test_newcombes_difference_of_two_shares():
    """R. Newcombe, Stat. Med. 17, 873-890 (1998), method 10, table II, from memory: to four digits."""
    assert difference_interval(56, 70, 48, 80) == pytest.approx((0.0524, 0.3339), abs=5e-5)
    assert difference_interval(9, 10, 3, 10) == pytest.approx((0.1705, 0.8090), abs=5e-5)
    assert difference_interval(10, 10, 0, 10) == pytest.approx((0.6075, 1.0), abs=5e-5)


def test_swapping_sides_mirrors_the_interval():
    low, high = difference_interval(7, 30, 2, 41)
    assert difference_interval(2, 41, 7, 30) == pytest.approx((-high, -low))
