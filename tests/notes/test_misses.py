"""What the log says of a hole: counts and intervals, and nothing from a few shots."""

import pytest

from caddie.log.shot import Shot
from caddie.notes.misses import FEWEST_ON_A_HOLE, misses_of, misses_told
from caddie.situation import Finish, Lie, Result, Side, Situation, Strike

SHORT = Shot(result=Result(side=(Side.SHORT,), finish=Finish.BUNKER))
ON = Shot(result=Result(finish=Finish.GREEN, distance_m=3.0))
HEAVY = Shot(result=Result(strike=Strike.HEAVY, side=(Side.SHORT, Side.LEFT)))
PUTT = Shot(situation=Situation(lie=Lie.GREEN), result=Result(side=(Side.SHORT,)))
UNTOLD = Shot()


@pytest.mark.parametrize("count", range(FEWEST_ON_A_HOLE))
def test_a_few_shots_say_nothing(count: int) -> None:
    found = misses_of([SHORT] * count + [PUTT, UNTOLD] * 20)
    assert (found.shots, found.shares) == (count, ())
    assert "%" not in misses_told(found)


def test_shots_are_counted_with_their_interval() -> None:
    """Wilson's 95 % interval of 5 in 10 is 23.7 to 76.3 % (Brown, Cai & DasGupta 2001, Statistical Science 16(2))."""
    found = misses_of([SHORT] * 4 + [HEAVY] + [ON] * 5)
    shares = {share.what: share for share in found.shares}
    assert {what: share.times for what, share in shares.items()} == {
        "on the green": 5, "short": 5, "in trouble": 4, "left": 1, "heavy": 1,
    }  # fmt: skip
    assert shares["short"].interval.low == pytest.approx(0.237, abs=0.001)
    assert shares["short"].interval.high == pytest.approx(0.763, abs=0.001)
    assert "5 short (24 to 76 %)" in misses_told(found)
