"""A result and the next shot told in one breath; common practice in speech, no source."""

import pytest

from caddie.situation import Finish, Lie, Strike
from caddie.units import YARD_M
from caddie.words import Intent, understand, understand_turn
from caddie.words.gist import asks_meaning


@pytest.mark.parametrize(
    ("said", "strike", "yards"),
    [
        ("Chunked it. 25 out now, fairway, pin's back.", Strike.HEAVY, 25),
        ("bladed it through the green, 22 yards now, downhill lie, flag's close to me", Strike.THIN, 22),
        ("duffed that one so now its 31 with the bunker in front", Strike.HEAVY, 31),
        ("topped it, still 40 yards, light rough, bunker between us", Strike.TOPPED, 40),
    ],
)
def test_a_strike_and_the_shot_after_it_are_two_things(said: str, strike: Strike, yards: float) -> None:
    before, then = understand_turn(said)
    assert before.intent is Intent.RESULT
    assert before.result is not None
    assert before.result.strike is strike
    assert then.situation.pin_m == pytest.approx(yards * YARD_M)
    assert before.result.distance_m == then.situation.pin_m


def test_on_alone_before_a_putt_is_the_green() -> None:
    before, then = understand_turn("On in two. Eight footer, downhill, left to right")
    assert before.result is not None
    assert before.result.finish is Finish.GREEN
    assert then.situation.lie is Lie.GREEN


@pytest.mark.parametrize(
    "said",
    [
        "thinned it, twenty yards past, in the rough",
        "finished eight feet past",
        "forty left, fairway",
        "seventy yards, light rough, bunker short",
        "Two yards short, not bad",
    ],
)
def test_a_result_or_a_shot_alone_stays_one_thing(said: str) -> None:
    assert len(understand_turn(said)) == 1


@pytest.mark.parametrize(
    "said", ["what does it mean short sided", "what does plugged mean", "what is meant by a fried egg"]
)
def test_a_word_asked_about_tells_no_fact(said: str) -> None:
    heard = understand(said)
    assert heard.asks == ("meaning",)
    assert heard.situation == understand("hello").situation


@pytest.mark.parametrize(
    "said", ["what do you mean", "what does that mean for the club", "70 yards, plugged"]
)
def test_what_asks_for_no_word_is_no_question_of_meaning(said: str) -> None:
    assert not asks_meaning(said)


def test_two_questions_are_both_heard() -> None:
    assert [part.asks[0] for part in understand_turn("which club then and how hard do i hit it")] == [
        "shot",
        "how",
    ]


def test_leave_taken_at_the_end_is_all_that_counts() -> None:
    (heard,) = understand_turn("ok my moms calling me for lunch cya")
    assert heard.intent is Intent.STOP
