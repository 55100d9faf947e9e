import tomllib

import pytest

from caddie.bag import ClubKind, Family, Handed, Miss
from caddie.bag.file import read_bag
from caddie.bag.writing import fresh_text
from caddie.errors import CaddieError
from caddie.range.new_bag import BAG_QUESTIONS, USUAL, Answers, bag_from, next_question
from caddie.talk.new_bag import answered
from caddie.units import Unit

YARD_M = 0.9144


def talk(*replies: str) -> Answers:
    answers = Answers()
    for reply in replies:
        answers = answered(answers, reply)
    return answers


def test_the_questions_come_in_order_and_end() -> None:
    answers, asked = Answers(), []
    while (question := next_question(answers)) is not None:
        asked.append(question.about)
        answers = answered(answers, "")
    assert asked == [question.about for question in BAG_QUESTIONS]
    assert answered(answers, "anything") == answers


def test_what_is_shown_as_the_usual_answer_is_the_usual_answer() -> None:
    answers = Answers()
    for question in BAG_QUESTIONS:
        answers = answered(answers, question.usual)
    assert answers == USUAL


def test_a_whole_conversation() -> None:
    answers = talk(
        "metres", "Robin", "+2", "left", "60, 56 and 52, pitching wedge, 9 iron, 8i",
        "56 half 60, sand wedge full 90; pw 115", "quit and short", "bump and run, lobs",
    )  # fmt: skip
    bag = bag_from(answers)
    assert bag.player.name == "Robin"
    assert bag.player.handicap == -2
    assert bag.player.handed is Handed.LEFT
    assert bag.player.distances_in is Unit.METRES
    assert bag.player.usual_misses == (Miss.QUIT, Miss.SHORT)
    assert bag.trust == {Family.BUMP_AND_RUN: 0.8, Family.LOB: 0.8}
    assert [club.id for club in bag.clubs] == ["60", "56", "52", "PW", "9i", "8i", "putter"]
    sand = bag.clubs[1]
    assert [(cell.swing, cell.shots) for cell in sand.carries] == [
        ("hip", 0),
        ("chest", 3),
        ("shoulder", 0),
        ("full", 3),
    ]
    assert (sand.carries[1].carry_m, sand.carries[3].carry_m) == (60, 90)
    assert bag.clubs[3].carries[3].carry_m == 115
    assert read_bag(tomllib.loads(fresh_text(bag))).clubs[1].id == "56"


def test_known_carries_move_the_others() -> None:
    common = ("yards", "a", "14", "", "60 56 52 46")
    short = bag_from(talk(*common, "56 full 75", "", ""))
    long = bag_from(talk(*common, "56 full 105", "", ""))
    for one, other in zip(short.clubs, long.clubs, strict=True):
        for cell, farther in zip(one.carries, other.carries, strict=True):
            assert farther.carry_m > 1.15 * cell.carry_m


def test_a_higher_handicap_carries_less() -> None:
    good = bag_from(talk("", "a", "0", "", "56", "", "", ""))
    weak = bag_from(talk("", "a", "36", "", "56", "", "", ""))
    assert good.clubs[0].carries[3].carry_m > weak.clubs[0].carries[3].carry_m + 10


def test_silence_makes_a_bag_of_estimates() -> None:
    bag = bag_from(Answers())
    assert len(bag.clubs) == 8
    assert all(cell.shots == 0 for club in bag.clubs for cell in club.carries)
    assert bag.clubs[-1].kind is ClubKind.PUTTER


def test_two_wedges_of_one_kind_get_names_of_their_own() -> None:
    names = [club.name for club in bag_from(talk("", "a", "9", "", "54 56", "", "", "")).clubs]
    assert names == ["56 degree wedge", "54 degree wedge", "putter"]


@pytest.mark.parametrize(
    ("before", "reply", "complaint"),
    [
        ((), "furlongs", "say yards or metres"),
        (("", ""), "many", "say a number, for example 14"),
        (("", ""), "99", r"say a number from \+8 to 54"),
        (("", "", ""), "both", "say right or left"),
        (("", "", "", ""), "banana", "'banana': say a wedge by its loft"),
        (("", "", "", ""), "wedges", "say at least one club"),
        (("", "", "", "", "56"), "56 half", "say club, swing and carry, for example 56 half 65"),
        (("", "", "", "", "56"), "52 half 60", "say one of 56, then one of hip"),
        (("", "", "", "", "56"), "56 half 900", "out of reach"),
        (("", "", "", "", "56"), "56 half 90, 56 full 80", "full must carry farther than chest"),
        (("", "", "", "", "56", ""), "hooks", "'hooks': say some of short, long"),
    ],
)
def test_a_reply_that_is_not_understood(before: tuple[str, ...], reply: str, complaint: str) -> None:
    answers = talk(*before)
    with pytest.raises(CaddieError, match=complaint):
        answered(answers, reply)
