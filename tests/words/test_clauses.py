"""What is said beside a shot costs its own clause, and talk without a shot stays talk (common practice, no source)."""

import pytest

from caddie.situation import Fall, Lie
from caddie.units import FOOT_M, YARD_M, Unit, to_metres
from caddie.words import Intent, understand


@pytest.mark.parametrize(
    ("say", "pin_m"),
    [
        ("my brother took a nine here, but I've sixty yards left", 60 * YARD_M),
        ("the dinner is not agreeing with me, but it's forty yards, ball on an upslope", 40 * YARD_M),
        ("three pars in a row already, 50 yards, fairway", 50 * YARD_M),
        ("hole 7 par 4 lying 3, 38yds", 38 * YARD_M),
        ("we're two up with three to play and I've thirty metres out of the rough", 30.0),
        ("5 footer to win the match, breaks left", 5 * FOOT_M),
    ],
)
def test_an_aside_costs_only_its_clause(say: str, pin_m: float) -> None:
    said = understand(say)
    assert said.intent in (Intent.SITUATION, Intent.PUTT)
    assert said.situation.pin_m == pytest.approx(pin_m)


@pytest.mark.parametrize(
    "say",
    [
        "the shop is sixty yards down the road, and it shuts at five",
        "we had dinner in the bunker bar and it was ten yards from the hotel",
        "put the kettle on, there's two yards of cable behind the telly",
        "I made an eight on the last, dreadful stuff",
    ],
)
def test_talk_without_a_shot_stays_talk(say: str) -> None:
    assert understand(say).intent is Intent.OUT_OF_SCOPE


def test_what_is_over_does_not_hide_what_lies_ahead() -> None:
    said = understand(
        "someone took a lump out of the fairway and my ball is sat in their divot, 70 yards out"
    )
    assert (said.intent, said.situation.lie) == (Intent.SITUATION, Lie.DIVOT)


@pytest.mark.parametrize(
    ("say", "pin"),
    [
        ("50 yds no sry 55", 55),
        ("30 yards, well, 33 if I'm honest", 33),
        ("80 to the pin, scratch that, 80 to the front and 90 to the pin", 90),
        ("12 paces, er, 14 paces", 14),
        ("30, 33 I mean", 33),
    ],
)
def test_the_later_number_counts(say: str, pin: float) -> None:
    unit = Unit.PACES if "paces" in say else Unit.YARDS
    assert understand(say).situation.pin_m == pytest.approx(to_metres(pin, unit))


def test_feet_downhill_with_a_break_are_a_putt() -> None:
    said = understand("20ft downhill left to right")
    assert (said.intent, said.situation.green.fall) == (Intent.PUTT, Fall.AWAY)


def test_trouble_short_of_a_known_edge_has_a_carry() -> None:
    (burn,) = understand("burn ten yards short of the green, front edge 70").situation.hazards
    assert burn.carry_m == pytest.approx(60 * YARD_M)
