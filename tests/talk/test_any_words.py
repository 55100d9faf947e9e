"""Laws of the conversation, for whatever is said in whatever order."""

import re
import tomllib
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from utterances import CORPUS, OFF_TOPIC, SUBJECTS, lines

import caddie.talk.as_wished
import caddie.talk.compare
import caddie.talk.of_two
import caddie.talk.planning
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.notes.notebook import read_notes
from caddie.reply.spoken import most_words
from caddie.talk.conversation import Conversation
from caddie.talk.rules_told import RULE_ASKED
from caddie.talk.state import Turn

SITUATIONS = (
    "forty yards, light rough", "seventy yards, fairway, flag in the middle", "ten yards, fringe",
    "twelve foot putt, left to right", "heavy rough", "bunker", "water on the right", "no, fifty", "fifty",
    "green is firm", "wind behind me",
)  # fmt: skip
REMARKS = (
    "why", "shorter", "repeat", "ready", "yes", "no", "undo", "next hole", "help", "hello", "something else",
    "I'll go with that", "what about the gap wedge?", "and if I run it?", "what if it were soft?", "not sure",
    "can I putt it?", "taking stock", "back left", "left", "worn", "enough", "what do you know so far",
)  # fmt: skip
RESULTS = ("finished eight feet past", "chunked it", "holed it", "I quit on it", "committed", "rushed it")
NOTES = (
    "remember: the fourth green falls left to right, bunker short right, twenty-eight deep",
    "on the fourth, seventy, back",
    "on the fourth, fifty, water left", "remember the fourth has water right", "both", "the note", "no, right to left",
    "what do you know about me", "what do you know about this hole", "forget everything", "forget the fourth",
    "when I say the badlands I mean heavy rough", "forty yards, badlands", "forty yards in the wibblewood",
    "call that my flick shot", "when I say the beach I mean rough", "my home greens are quick", "always just the club",
    "speak slower", "I left the sixty at home", "that's my round", "where do I miss on the fourth", "hole 4", "28 deep",
    "the course is called Marram Links", "call the fourth the Dell",
)  # fmt: skip
MODES = ("competition mode", "practice mode", "yes")
SOME_FACTS = 6
SOME_OFF_TOPIC = tuple(line.say for line in lines(OFF_TOPIC)[::8])
lines_said = st.sampled_from((*SITUATIONS, *REMARKS, *RESULTS, *MODES)) | st.text(max_size=60)
relaxed = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
Start = Callable[..., Conversation]


def check(turn: Turn) -> None:
    assert turn.spoken.strip()
    assert len(turn.spoken.split()) <= most_words(turn.things), turn.spoken
    assert turn.spoken.count("?") <= 1, turn.spoken
    assert turn.question is None or turn.question in turn.spoken
    assert turn.advice is None or turn.mode is not Mode.COMPETITION


@relaxed
@given(said=st.lists(st.tuples(lines_said, st.booleans()), max_size=7))
def test_nothing_that_is_said_raises(start: Start, said: list[tuple[str, bool]]) -> None:
    conversation = start()
    for text, from_speech in said:
        check(conversation.turn(text, from_speech=from_speech))


@relaxed
@given(said=st.lists(st.sampled_from(NOTES) | lines_said, max_size=9))
def test_nothing_that_is_said_to_be_remembered_raises(start: Start, notebook: Any, said: list[str]) -> None:
    remembers = notebook()
    remembers.erase_all()
    conversation = start(notebook=remembers)
    for text in said:
        check(conversation.turn(text))
    # What the talk has in hand is what stands in the files.
    assert read_notes(remembers.day) == remembers.notes
    assert not remembers.notes.problems


@relaxed
@given(said=st.lists(st.sampled_from(NOTES) | st.sampled_from(SITUATIONS), min_size=1, max_size=6))
def test_undo_to_the_beginning_leaves_no_note(start: Start, notebook: Any, said: list[str]) -> None:
    remembers = notebook()
    remembers.erase_all()
    conversation = start(notebook=remembers)
    for text in said:
        conversation.turn(text)
    for _ in range(2 * len(said)):
        conversation.turn("undo")
    assert not remembers.notes.holes
    assert not remembers.notes.words


@pytest.mark.parametrize("text", SOME_OFF_TOPIC)
def test_off_topic_costs_no_fact(start: Start, text: str) -> None:
    conversation = start()
    conversation.turn("forty yards, light rough, bunker short")
    before = conversation.known
    turn = conversation.turn(text)
    assert conversation.known.situation == before.situation
    assert conversation.known.plan == before.plan
    assert turn.advice is None and not turn.logged
    assert len(turn.spoken.split()) <= 16


@relaxed
@given(
    first=st.lists(st.sampled_from((*SITUATIONS, *REMARKS, *RESULTS)), max_size=4),
    last=st.sampled_from((*SITUATIONS, *RESULTS[:3], "next hole", "taking stock")),
)
def test_undo_restores_facts_and_log(start: Start, log: Log, first: list[str], last: str) -> None:
    conversation = start()
    for text in first:
        conversation.turn(text)
    before, shots = conversation.known, log.shots()
    amended = conversation.known.shot_logged
    turn = conversation.turn(last)
    if conversation.known == before or (turn.logged and conversation.known.shot_logged == amended):
        return
    conversation.turn("undo")
    assert conversation.known.situation == before.situation
    assert conversation.known.question == before.question
    assert conversation.known.plan == before.plan
    assert log.shots() == shots


def said_in_corpora() -> dict[str, list[str]]:
    """Utterances of every corpus by its file: every one of the talks, one in so many of the plain facts."""
    said = {subject: [line.say for line in lines(subject)][::SOME_FACTS] for subject in SUBJECTS}
    for path in sorted((CORPUS / "talks").glob("*.toml")):
        data: dict[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))
        said[path.name] = [turn["say"] for talk in data["talk"] for turn in talk["turns"]]
    return said


@pytest.mark.parametrize("name", said_in_corpora())
def test_competition_plans_nothing_whatever_is_said(
    start: Start, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """The planner is not even asked, and no advice is worded."""

    def refuse(*_: Any, **__: Any) -> Any:
        raise AssertionError("planned in competition")

    for module in (caddie.talk.as_wished, caddie.talk.of_two, caddie.talk.compare):
        monkeypatch.setattr(module, "advise", refuse)
    monkeypatch.setattr(caddie.talk.planning, "most_telling", refuse)
    advice = re.compile(
        r"\b(hands|swing|land it|cup|aim|start it|roll it|wedge|iron|putter|strokes?|in ten|see it|falls?)\b"
    )
    conversation = start(Mode.COMPETITION)
    for text in said_in_corpora()[name]:
        turn = conversation.turn(text)
        check(turn)
        assert turn.mode is Mode.COMPETITION
        if turn.question:
            conversation.turn("no")
        # What the Rules say may be told in competition (Rules of Golf, Rule 4.3a).
        if turn.intent != RULE_ASKED and "in the bag" not in turn.spoken and "say" not in turn.spoken:
            assert not advice.search(turn.spoken.lower().replace("use the card", "")), turn.spoken


def test_twenty_undos_end_where_the_talk_began(start: Start) -> None:
    conversation = start()
    for text in SITUATIONS:
        conversation.turn(text)
    for _ in range(len(SITUATIONS) + 1):
        last = conversation.turn("undo")
    assert last.spoken == "There is nothing to take back."
    assert conversation.known.plan is None
