"""What is asked or lamented in the sentence that tells a shot is answered with it."""

import pytest

from caddie.bag import load_bag
from caddie.talk.answer import answer
from caddie.talk.conversation import Conversation

BAG = load_bag()


@pytest.mark.parametrize(
    ("shot", "beside", "answered"),
    [
        ("35 yards, fairway", "which is the surest one?", "bad ones cost less"),
        ("55 yards, light rough, pond on the right", "what's the sensible play?", "safest"),
        ("25 yards, fairway", "I usually chunk these", "brush"),
        ("14 yards, bunker", "I always leave it in there", "finish"),
        ("45 yards, fairway, water short", "how likely am I to clear it?", "in ten"),
    ],
)
def test_a_question_or_a_fault_told_with_the_shot_is_answered(shot: str, beside: str, answered: str) -> None:
    advice = answer(f"{shot}, {beside}", BAG).advice
    alone = answer(shot, BAG).advice
    assert advice is not None and alone is not None
    assert advice["club"] == alone["club"]
    assert advice["spoken"].startswith(alone["spoken"].split(". ")[0])
    assert answered in advice["spoken"] and answered in advice["written"]


def test_what_is_answered_is_not_called_unfollowed() -> None:
    assert answer("35 yards, fairway, I keep thinning these", BAG).left_over == ()
    assert answer("35 yards, fairway, blurgh", BAG).left_over == ("blurgh",)


def test_it_is_the_answer_that_a_talk_gives() -> None:
    said = "35 yards, fairway, flag in the middle, I keep thinning these"
    asked = answer(said, BAG).advice
    assert asked is not None
    talked = Conversation(BAG).turn(said).spoken
    assert asked["spoken"].split(". ")[-1] in talked


@pytest.mark.parametrize(
    ("told", "first"),
    [
        ("on the buggy path, 45 yards out, do I get a drop and which club?", "Forty-five yards"),
        ("down a mole hole in the semi, thirty yards, do I get relief and what do I play?", "Thirty yards"),
        ("down a rabbit hole in the rough, do I get relief and which club?", "How far is it to the flag?"),
    ],
)
def test_a_rule_and_the_shot_asked_in_one_breath_are_both_told(told: str, first: str) -> None:
    said = answer(told, BAG)
    spoken = said.question or (said.advice or {})["spoken"]
    assert spoken.startswith("Free drop") and first in spoken
    talked = Conversation(BAG).turn(told).spoken
    assert talked.startswith("Free drop") and first in talked


def test_a_rule_alone_is_told_alone() -> None:
    assert answer("on the buggy path, 45 yards out, do I get a drop?", BAG).advice is None
