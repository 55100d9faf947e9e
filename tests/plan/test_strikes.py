"""Heavy and thin strikes: the handicap's on the course, and the player's own as they are counted."""

import numpy as np
import pytest

from caddie.bag import Family, Player, StrikeCount
from caddie.bag.curve import expected_mishits
from caddie.plan.assume import complete
from caddie.plan.strikes import strike_rates
from caddie.situation import Lie, Situation

HALF = np.array([0.5])


def heavy(seen=None, lie=Lie.FAIRWAY, handicap=14.0):
    situation = complete(Situation(pin_m=60, lie=lie))[0]
    rates = strike_rates(Player(handicap=handicap), situation, Family.PITCH, 50.0, HALF, seen)
    return float(rates[0][0])


def test_poor_strikes_are_likelier_on_the_course_than_on_the_range():
    assert heavy() > 1.5 * expected_mishits(14.0)


def test_shots_on_the_course_become_what_is_told():
    """Thousands of shots outweigh what is expected of the handicap: their own share, within a point."""
    for share in (0.03, 0.25):
        seen = StrikeCount(shots=20_000, heavy=int(20_000 * share))
        assert heavy(seen) == pytest.approx(share, abs=0.01)


def test_a_usual_range_count_tells_nothing_new():
    """Balls from a mat that go wrong as often as expected there leave the odds of the course as they were."""
    struck = round(10_000 * expected_mishits(14.0))
    assert heavy(StrikeCount(shots=10_000, heavy=struck, on_range=10_000)) == pytest.approx(heavy(), rel=0.01)
    better = StrikeCount(shots=200, heavy=2, on_range=200)
    assert better.heavy / better.shots < heavy(better) < heavy()


def test_a_count_keeps_the_lies_apart():
    seen = StrikeCount(shots=500, heavy=40)
    assert heavy(seen, Lie.HEAVY_ROUGH) / heavy(seen) == pytest.approx(heavy(None, Lie.HEAVY_ROUGH) / heavy())
