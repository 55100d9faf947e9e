"""The lip of the bunker the ball lies in: its height and distance beside the flag (common practice, no source)."""

import pytest

from caddie.units import YARD_M
from caddie.words import understand


@pytest.mark.parametrize(
    ("said", "pin_yd", "lip_m", "away_yd"),
    [
        ("bunker, twelve yards to the flag, lip's up to my chest", 12, 1.3, None),
        ("greenside bunker, fourteen yards, the lip's waist-high", 14, 1.0, None),
        (
            "fairway bunker, a hundred and five, the lip's chest high and only three yards in front of me",
            105,
            1.3,
            3,
        ),
        ("bunker, a hundred yards, four foot lip three yards in front", 100, 1.219, 3),
        ("fairway bunker, 75, lip at shoulder height about four yards away", 75, 1.45, 4),
        ("fairway sand, ninety yards, lip about a foot, five yards in front of me", 90, 0.305, 5),
        ("I'm in a bunker, sixteen yards to go, the face is taller than me", 16, 2.0, None),
        ("under a steep face, six feet of it, nine yards to the hole", 9, 1.829, None),
        ("bunker, high lip, twelve yards away", 12, 1.5, None),
    ],
)
def test_a_lip_is_as_high_and_as_far_as_it_was_told(
    said: str, pin_yd: float, lip_m: float, away_yd: float | None
) -> None:
    situation = understand(said).situation
    assert situation.pin_m == pytest.approx(pin_yd * YARD_M)
    assert situation.lip_m == pytest.approx(lip_m, abs=0.01)
    assert situation.lip_away_m == (None if away_yd is None else pytest.approx(away_yd * YARD_M))


def test_the_lip_of_a_bunker_in_the_way_is_not_the_balls_own() -> None:
    situation = understand("bunker in front with a lip of about five feet, 36 yards").situation
    assert (situation.lie, situation.lip_m, situation.lip_away_m) == (None, None, None)


def test_a_lip_behind_the_ball_is_no_wind_from_behind() -> None:
    assert (
        understand("bunker, downslope, no lip behind me to speak of, sixteen yards").situation.wind.from_
        is None
    )
