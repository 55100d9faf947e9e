"""A turn tried ahead is the turn that would be taken, and leaves no trace when it is not."""

import threading
from pathlib import Path

import pytest

from caddie.bag import load_bag
from caddie.log.store import Log
from caddie.notes.notebook import Notebook
from caddie.talk.conversation import Conversation
from caddie.talk.spoken_talk import SpokenTalk
from caddie.talk.state import Turn
from caddie.talk.which_number import Doubt
from caddie.words.endings import Endings

SHOT = "fifty yards light rough bunker short"
LATER = [
    "what about the sand wedge",
    "why",
    "competition mode",
    "scratch that",
    "the green slopes away",
    "hello",
]


def talk_of(*said: str) -> Conversation:
    talk = Conversation(load_bag())
    for each in said:
        talk.turn(each)
    return talk


@pytest.mark.parametrize("text", [SHOT, *LATER])
def test_the_turn_is_the_same_tried_or_not(text: str) -> None:
    tried, plain = talk_of(SHOT), talk_of(SHOT)
    ahead = tried.rehearse(text, from_speech=True)
    taken, wanted = tried.turn(text, from_speech=True), plain.turn(text, from_speech=True)
    assert taken is ahead
    assert taken == wanted
    assert tried.known == plain.known
    assert tried.mode is plain.mode
    assert tried.turn("scratch that").spoken == plain.turn("scratch that").spoken


def test_what_was_tried_and_not_said_leaves_no_trace() -> None:
    talk = talk_of(SHOT)
    before, mode = talk.known, talk.mode
    for text in LATER:
        assert isinstance(talk.rehearse(text), Turn)
    assert talk.known is before
    assert talk.mode is mode
    assert talk.turn("why").spoken == talk_of(SHOT).turn("why").spoken


def test_what_was_tried_before_something_else_happened_is_not_taken() -> None:
    talk = talk_of(SHOT)
    ahead = talk.rehearse("why")
    talk.turn("make it sixty yards")
    assert talk.turn("why") is not ahead
    ahead = talk.rehearse("why")
    talk.play_with(load_bag())
    assert talk.turn("why") is not ahead
    ahead = talk.rehearse("why")
    assert talk.turn("why", from_speech=True) is not ahead


def test_a_turn_that_writes_is_not_tried(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    log = Log(tmp_path / "log.db")
    talk = Conversation(load_bag(), log=log, notebook=Notebook())
    talk.turn(SHOT)
    # Asked back first; a yes to it writes.
    talk.turn("forget everything")
    kept = sorted(tmp_path.rglob("*"))
    name = load_bag().player.name
    for text in ("hit it to ten feet", "how am I doing today", "yes"):
        assert talk.rehearse(text) is None, text
    assert list(log.shots(name)) == []
    assert sorted(tmp_path.rglob("*")) == kept
    talk.turn("no")
    assert talk.turn("hit it to ten feet").logged
    assert len(list(log.shots(name))) == 1
    log.close()


def test_what_holds_for_the_day_is_kept_when_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    talk = Conversation(load_bag(), notebook=Notebook())
    ahead = talk.rehearse("we are on hole seven")
    assert Notebook().notes.today.hole is None
    assert talk.turn("we are on hole seven") is ahead
    assert Notebook().notes.today.hole == 7


def test_it_is_tried_on_another_thread_with_a_log_open(tmp_path: Path) -> None:
    log = Log(tmp_path / "log.db")
    talk = Conversation(load_bag(), log=log)
    thread = threading.Thread(target=talk.rehearse, args=(SHOT,))
    thread.start()
    thread.join()
    assert talk.turn(SHOT).advice is not None
    log.close()


def test_spoken_words_are_tried_in_the_light_of_a_doubt() -> None:
    talk = Conversation(load_bag())
    spoken = SpokenTalk(talk, Endings([SHOT]))
    doubt = spoken.taken("fifteen yards light rough", ("fifty yards light rough",))
    assert isinstance(doubt, Doubt)
    assert {"fifteen", "fifty"} <= set(spoken.expected())
    assert spoken.said_enough("fifty")
    assert spoken.rehearse("fifty", lambda _: None).startswith("Fifty yards")
    taken = spoken.taken("fifty", ())
    assert taken == "fifty yards light rough"
    assert talk.turn(taken, from_speech=True).spoken.startswith("Fifty yards")


def test_the_answers_to_an_open_question_are_expected() -> None:
    talk = Conversation(load_bag())
    spoken = SpokenTalk(talk, Endings([SHOT]))
    assert not spoken.expected()
    talk.turn("I am in the light rough")
    assert talk.known.question is not None
    assert "fifty yards" in spoken.expected()


OPENED = (
    SHOT,
    "twenty foot putt, downhill, left to right",
    "hundred and ten, bunker short, wind behind, light rough",
    "eight paces from the fringe",
    "greenside bunker, twelve yards",
)


@pytest.mark.parametrize("said", OPENED)
def test_what_the_reply_begins_with_is_told_before_the_shot_is_planned(said: str) -> None:
    opened: list[str] = []
    turn = Conversation(load_bag()).rehearse(said, opens=opened.append)
    assert turn is not None
    assert all(turn.spoken.startswith(f"{start} ") for start in opened)
    assert opened or "fringe" in said, "off the green the way up or down is said with the length"


def test_what_a_reply_to_several_things_begins_with_is_not_told_ahead() -> None:
    opened: list[str] = []
    talk = Conversation(load_bag())
    talk.turn(SHOT)
    talk.rehearse("six feet past. ten foot putt, uphill", opens=opened.append)
    talk.rehearse("why that club", opens=opened.append)
    assert opened == []
