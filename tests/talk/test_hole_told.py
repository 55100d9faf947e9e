"""Which hole one is on: it lasts for the talk and for the hours in which it can be true, and is named when used."""

from datetime import timedelta

import pytest

from caddie.bag import load_bag
from caddie.log.shot import now
from caddie.notes.models import HOLE_LASTS
from caddie.notes.notebook import Notebook
from caddie.talk.conversation import Conversation

FOURTH = "remember: the fourth green falls left to right, bunker short right"


@pytest.fixture
def talk(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return lambda: Conversation(load_bag(), notebook=Notebook())


def told_ago(book, hours):
    today = book.notes.today
    book.keep_today(today.model_copy(update={"hole_told": now() - timedelta(hours=hours)}))


def test_a_hole_used_is_named(talk):
    conversation = talk()
    conversation.turn(FOURTH)
    assert "by your notes of hole four" in conversation.turn("on the fourth, seventy yards, fairway").spoken


@pytest.mark.parametrize(("hours", "there"), [(0.5, True), (1.5, True), (3.0, False), (9.0, False)])
def test_another_talk_the_same_day_takes_one_to_be_there_for_some_hours(talk, hours, there):
    first = talk()
    first.turn(FOURTH)
    first.turn("on the fourth, seventy yards, fairway")
    told_ago(Notebook(), hours)
    spoken = talk().turn("seventy yards, fairway").spoken
    assert ("hole four" in spoken) == there == (timedelta(hours=hours) <= HOLE_LASTS)


def test_a_hole_that_is_told_again_holds_again(talk):
    first = talk()
    first.turn(FOURTH)
    first.turn("on the fourth, seventy yards, fairway")
    told_ago(Notebook(), 5)
    talk().turn("on the fourth, fifty yards, fairway")
    assert "hole four" in talk().turn("sixty yards, fairway").spoken


def test_the_next_day_no_hole_holds(talk):
    first = talk()
    first.turn(FOURTH)
    first.turn("on the fourth, seventy yards, fairway")
    tomorrow = Notebook(day=Notebook().day + timedelta(days=1))
    assert tomorrow.notes.today.hole is None
