"""A kept shot in words: nothing that was told is left out, and every length says what it is counted in."""

import pytest

from caddie.bag.models import Family
from caddie.log.line import ended_said, played_said
from caddie.log.shot import Commitment, Shot
from caddie.situation import Finish, Result, Side, Strike
from caddie.units import FOOT_M, YARD_M, Unit


@pytest.mark.parametrize(
    ("result", "unit", "said"),
    [
        (Result(side=(Side.SHORT,)), Unit.YARDS, "short of the hole"),
        (Result(side=(Side.LONG,)), Unit.METRES, "past the hole"),
        (Result(side=(Side.LEFT,)), Unit.YARDS, "left of the hole"),
        (Result(distance_m=6 * FOOT_M), Unit.YARDS, "6 feet from the hole"),
        (Result(distance_m=1.8, side=(Side.LEFT,)), Unit.METRES, "1.8 metres left of the hole"),
        (Result(distance_m=6 * FOOT_M, side=(Side.LEFT,)), Unit.YARDS, "6 feet left of the hole"),
        (Result(distance_m=25 * YARD_M, side=(Side.SHORT,)), Unit.YARDS, "25 yards short of the hole"),
        (Result(finish=Finish.BUNKER, strike=Strike.HEAVY), Unit.YARDS, "bunker, heavy"),
        (Result(finish=Finish.HOLED, distance_m=1.0), Unit.YARDS, "holed"),
        (Result(carry_m=60 * YARD_M, run_m=4 * YARD_M), Unit.YARDS, "carried 60 yards, ran 4 yards"),
        (Result(), Unit.YARDS, ""),
    ],
)
def test_what_was_told_of_the_end_is_in_the_line_with_its_unit(result: Result, unit: Unit, said: str) -> None:
    assert ended_said(Shot(result=result), unit) == said


def test_every_side_told_shows_however_it_was_told_with_a_distance_or_alone() -> None:
    for side in Side:
        for distance_m in (None, 2.0, 40.0):
            said = ended_said(Shot(result=Result(side=(side,), distance_m=distance_m)), Unit.YARDS)
            assert {"long": "past"}.get(side.value, side.value) in said.split()


def test_the_count_and_the_swing_told_are_in_the_line() -> None:
    assert ended_said(Shot(commitment=Commitment.QUIT, down_in=3), Unit.YARDS) == "quit, down in 3"
    assert played_said(Shot(club="8i", family=Family.BUMP_AND_RUN)) == "8i bump-and-run"
