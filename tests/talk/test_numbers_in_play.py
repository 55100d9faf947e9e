"""While a shot is talked about a number is the distance only where it is said of the flag."""

import pytest

from caddie.situation import Fall
from caddie.units import FOOT_M, MPH_M_S, YARD_M
from tests.talk.conftest import Start

PITCH = "38 yards, fairway, flag in the middle"
POND = "42 yards, pond on the way, 30 to carry, fairway, flag in the middle"
FAR = "80 yards, fairway, flag in the middle"
CHIP = "16 yards, light rough, flag back"
PUTT = "twenty foot putt, downhill, breaks right to left"


@pytest.mark.parametrize(
    ("shot", "say"),
    [
        # A club of the bag by its loft, agreed to or asked about.
        (PITCH, "Okay fifty-six. How long a swing is that?"),
        (PITCH, "fair enough, sixty. What's the thought?"),
        (PITCH, "go on, fifty-six, but I always chunk it"),
        (PITCH, "fifty-two, could that work?"),
        (PITCH, "you said fifty-six, why?"),
        # A carry of a club and its swing.
        (POND, "Sixty to the chest goes 46. Water odds on that?"),
        (POND, "my 56 to the hip flies 24"),
        # An age.
        (PITCH, "I'm seventy-four you know, I can't hit it hard"),
        (PITCH, "at sixty-eight I can't get it up"),
        (PITCH, "I'm forty-one with a bad hip"),
        # A score, strokes and odds.
        (POND, "I need a four here. What's the play?"),
        (POND, "one in six wet is too much"),
        (POND, "I'm three over today, should I be careful?"),
        # Where the green begins.
        (CHIP, "three yards on and then it's all green"),
        (CHIP, "there's four yards of junk and then plenty of green"),
        (CHIP, "two yards and I'm on the green"),
        # The line of a putt, and a pace that is supposed.
        (PUTT, "I'd only have given it a foot"),
        (PUTT, "my mate gives it two feet"),
        (PUTT, "if I roll it two feet past, what's the read?"),
        (PUTT, "with firmer pace, a yard by?"),
    ],
)  # fmt: skip
def test_the_distance_stays(start: Start, shot: str, say: str) -> None:
    talk = start()
    before = talk.turn(shot).situation
    after = talk.turn(say)
    assert before is not None and after.situation is not None
    assert after.situation.pin_m == before.pin_m, after.spoken
    assert after.situation.lie is before.lie and not after.situation.unplayable
    assert not talk.known.played and not after.over


@pytest.mark.parametrize(
    ("shot", "say", "far_m"),
    [
        (PITCH, "it's forty-five", 45 * YARD_M),
        (PITCH, "call it twenty", 20 * YARD_M),
        (PITCH, "I'm eighty off", 80 * YARD_M),
        (PITCH, "now fifteen to the pin", 15 * YARD_M),
        (PITCH, "seventy yards", 70 * YARD_M),
        (PITCH, "make that fifty-two", 52 * YARD_M),
        (PITCH, "fifty-six, light rough, bunker short", 56 * YARD_M),
        (PITCH, "thirty-five", 35 * YARD_M),
        (FAR, "the laser says sixty", 60 * YARD_M),
        (FAR, "seventy, into the wind", 70 * YARD_M),
        (PUTT, "it's actually fifteen feet", 15 * FOOT_M),
        (PUTT, "four feet, uphill", 4 * FOOT_M),
        (PUTT, "now a three footer, straight", 3 * FOOT_M),
    ],
)
def test_a_number_said_of_the_flag_is_the_distance(start: Start, shot: str, say: str, far_m: float) -> None:
    talk = start()
    talk.turn(shot)
    after = talk.turn(say)
    assert after.situation is not None and after.situation.pin_m == pytest.approx(far_m), after.spoken


@pytest.mark.parametrize("say", ["into the wind, fifteen", "headwind, about fifteen", "fifteen, into"])
def test_a_number_beside_a_wind_is_its_speed(start: Start, say: str) -> None:
    talk = start()
    talk.turn(FAR)
    after = talk.turn(say).situation
    assert after is not None and after.pin_m == pytest.approx(80 * YARD_M)
    assert after.wind.speed_m_s == pytest.approx(15 * MPH_M_S)


def test_a_pace_supposed_is_answered_by_its_line(start: Start) -> None:
    talk = start()
    talk.turn(PUTT)
    spoken = talk.turn("if I ram it three feet past, how much break?").spoken
    assert spoken.startswith("To run three feet past, start it") and "At the pace I gave" in spoken


@pytest.mark.parametrize(
    ("say", "fall", "slope"),
    [
        ("right", Fall.RIGHT_TO_LEFT, None),
        ("the right, about two percent", Fall.RIGHT_TO_LEFT, 0.02),
        ("about one percent right to left", Fall.RIGHT_TO_LEFT, 0.01),
        ("maybe 3 percent from the left", Fall.LEFT_TO_RIGHT, 0.03),
    ],
)
def test_the_higher_side_is_answered_with_its_slope(
    start: Start, say: str, fall: Fall, slope: float | None
) -> None:
    talk = start()
    assert "higher" in (talk.turn("twenty foot putt, uphill").question or "")
    green = talk.turn(say).situation.green  # type: ignore[union-attr]
    assert (green.side_fall, green.side_slope) == (fall, slope)


def test_all_right_ends_no_talk(start: Start) -> None:
    talk = start()
    talk.turn(PITCH)
    assert not talk.turn("All right").over
