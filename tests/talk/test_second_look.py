"""Turns that the rules refuse, looked at a second time."""

import subprocess
import sys
from typing import Any

import pytest
import train_intents
import utterances

import caddie.talk.second_look as looked
from caddie.log.store import Log
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.conversation import Conversation
from caddie.talk.kinds import BY_SAYING, kind_said
from caddie.words import Intent
from caddie.words.second_opinion import Opinion

SHOT = "seventy yards, fairway, flag in the middle, the green is medium and level"
REFUSED = "florbly gromp"
"""Words that nobody knows."""


@pytest.fixture
def begun(start: Any) -> Conversation:
    conversation: Conversation = start()
    conversation.turn(SHOT)
    return conversation


@pytest.fixture
def opines(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Says what the second opinion is to be, and gives the list of what it is asked."""
    asked: list[tuple[str, ...]] = []

    def be(kind: str | None) -> list[tuple[str, ...]]:
        def opinion(words: tuple[str, ...]) -> Opinion | None:
            asked.append(words)
            return Opinion(kind, 0.9) if kind else None

        monkeypatch.setattr(looked, "second_opinion", opinion)
        return asked

    return be


def test_a_refused_turn_is_answered_as_its_kind_and_tells_how_it_was_taken(
    begun: Conversation, start: Any, opines: Any
) -> None:
    other: Conversation = start()
    other.turn(SHOT)
    plainly = other.turn("how far does it carry")
    opines("carry")
    turn = begun.turn(REFUSED)
    assert (turn.spoken, turn.intent) == (plainly.spoken, plainly.intent)
    assert "aken as: how far does it carry" in turn.written


def test_without_an_opinion_it_is_refused_as_ever(begun: Conversation, opines: Any) -> None:
    assert opines(None) == []
    turn = begun.turn(REFUSED)
    assert (turn.intent, turn.spoken) == (Intent.OUT_OF_SCOPE.value, lines.OFF_TOPIC_MIDWAY)


@pytest.mark.parametrize("name", sorted(looked.plainly()))
def test_the_plain_words_of_every_kind_are_read_as_what_they_are_named(
    name: str, begun: Conversation
) -> None:
    begun.turn("what about the gap wedge")
    words = looked.plainly()[name]
    kind = kind_said(utterances.understand(words), begun.known)
    if name in BY_SAYING:
        assert (kind is not None and kind.handle is BY_SAYING[name].handle) or name == "thanks"
    else:
        assert begun.turn(words).intent != Intent.OUT_OF_SCOPE.value


def test_what_the_rules_read_is_never_looked_at_again(begun: Conversation, opines: Any) -> None:
    asked = opines("carry")
    read = [line.say for line in utterances.lines("remarks") if line.facts["intent"] != "out_of_scope"]
    for text in read:
        before = begun.known
        begun.turn(text)
        begun.known = before
    assert len(read) > 100
    assert asked == []


def test_driving_is_declined_and_not_looked_at(begun: Conversation, opines: Any) -> None:
    asked = opines("carry")
    assert begun.turn("gromp the driver florbly").spoken == lines.BEYOND
    assert asked == []


def test_no_refused_turn_changes_a_fact_writes_a_shot_or_ends_the_talk(start: Any, log: Log) -> None:
    conversation = start()
    conversation.turn(SHOT)
    begun, taken = conversation.known, 0
    for text, kind in train_intents.written(train_intents.UNSEEN):
        if kind == "idle" or utterances.understand(text).intent is not Intent.OUT_OF_SCOPE:
            continue
        conversation.known = begun
        turn = conversation.turn(text)
        if "aken as:" not in turn.written and not (turn.question or "").startswith(
            tuple(looked.asks_back().values())
        ):
            continue
        taken += 1
        assert turn.situation == begun.situation, text
        assert not turn.over and not turn.logged, text
    # Most of them are known by their topic before.
    assert taken >= 5
    assert log.shots() == []


@pytest.mark.parametrize("name", sorted(looked.asks_back().keys() - {"adopt", "stick"}))
def test_what_ends_or_changes_anything_is_asked_back(
    name: str, begun: Conversation, opines: Any, log: Log
) -> None:
    opines(name)
    before = begun.known.situation
    turn = begun.turn(REFUSED)
    assert turn.question == looked.asks_back()[name]
    assert (turn.situation, turn.over, turn.logged) == (before, False, False)
    turn = begun.turn("no")
    assert (turn.situation, turn.over, turn.logged, turn.spoken) == (before, False, False, lines.KEEP)
    assert log.shots() == []


def test_yes_stops(begun: Conversation, opines: Any) -> None:
    opines("stop")
    begun.turn(REFUSED)
    assert begun.turn("yes").over


def test_yes_takes_back(begun: Conversation, opines: Any) -> None:
    opines("undo")
    begun.turn(REFUSED)
    turn = begun.turn("yes please")
    assert turn.spoken.startswith(lines.UNDONE.rstrip("."))
    assert turn.situation == Situation()


def test_yes_goes_to_the_next_hole(begun: Conversation, opines: Any) -> None:
    opines("next")
    begun.turn(REFUSED)
    assert begun.turn("yes").spoken == "Next hole. What do you see?"


def test_yes_to_a_result_writes_nothing_and_the_result_told_is_written(
    begun: Conversation, opines: Any
) -> None:
    opines("result")
    begun.turn(REFUSED)
    assert not begun.turn("yes").logged
    assert begun.turn("it finished in the bunker").logged


def test_a_yes_after_something_else_was_answered_does_not_stop(begun: Conversation, opines: Any) -> None:
    opines("stop")
    begun.turn(REFUSED)
    begun.turn("how far does it carry")
    assert not begun.turn("yes").over


def test_there_is_no_going_with_another_shot_before_one_was_named(begun: Conversation, opines: Any) -> None:
    opines("adopt")
    assert begun.turn(REFUSED).question is None
    begun.turn("what about the gap wedge")
    assert begun.turn(REFUSED).question == looked.asks_back()["adopt"]


def test_spacy_is_imported_at_the_first_refusal_that_follows_an_answer() -> None:
    code = (
        "import sys\n"
        "from caddie import load_bag\n"
        "from caddie.talk.conversation import Conversation\n"
        "talk = Conversation(load_bag())\n"
        "for said in ('florbly gromp', 'seventy yards, fairway', 'why', 'florbly gromp'):\n"
        "    talk.turn(said)\n"
        "    print('spacy' in sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False", "False", "True"]
    assert done.stderr == ""
