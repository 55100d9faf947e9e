"""Putting drills as played: what is said after a putt, and the command from the first putt to the score."""

import json

import pytest
from typer.testing import CliRunner

from caddie.bag import load_bag
from caddie.cli.practice import app
from caddie.errors import CaddieError
from caddie.log.games import scores
from caddie.log.store import Log
from caddie.practice.drills import LAYOUTS, after, layout, sentences_of
from caddie.practice.putting import PaceLadder, StartGate, Stopped, ThreeFootRing

BAG = load_bag()


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))


def played(*words, typed):
    done = CliRunner().invoke(app, ["drill", *words], input=typed)
    assert done.exit_code == 0, done.output or done.exception
    return done.output


@pytest.mark.parametrize(
    ("line", "stopped"),
    [
        ("short", Stopped.SHORT),
        ("a foot short", Stopped.SHORT),
        ("In!", Stopped.IN_ZONE),
        ("two feet past", Stopped.IN_ZONE),
        ("holed it", Stopped.IN_ZONE),
        ("long", Stopped.LONG),
        ("four feet past", Stopped.LONG),
        ("nice weather", None),
        ("stop", None),
    ],
)
def test_the_ladder_hears_where_a_putt_stopped(line, stopped):
    told = after(PaceLadder(), line, BAG)
    assert told == (stopped and PaceLadder(putts=(stopped,)))


@pytest.mark.parametrize(
    ("line", "through"),
    [
        ("through", True),
        ("clean through", True),
        ("yes", True),
        ("touched", False),
        ("it hit the left tee", False),
        ("didn't go through", False),
        ("no", False),
        ("maybe", None),
    ],
)
def test_the_gate_hears_whether_a_putt_went_through(line, through):
    told = after(StartGate(), line, BAG)
    assert told == (None if through is None else StartGate(through=(through,)))


@pytest.mark.parametrize(
    ("line", "holed"),
    [
        ("in", True),
        ("holed", True),
        ("it went in", True),
        ("missed", False),
        ("missed it low", False),
        ("lipped out", False),
        ("two inches short", False),
        ("didn't go in", False),
        ("what time is it", None),
    ],
)
def test_the_ring_hears_whether_a_putt_went_in(line, holed):
    told = after(ThreeFootRing(), line, BAG)
    assert told == (None if holed is None else ThreeFootRing(holed=(holed,)))


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_answer_listened_for_is_understood(name):
    laid_out = layout(name)
    for answer in laid_out.answers:
        assert after(laid_out.fresh, answer, BAG) is not None, answer
    assert "stop" in sentences_of(name)


def test_an_unknown_drill_names_those_there_are():
    with pytest.raises(CaddieError, match="pace, gate, ring"):
        layout("circle")


def test_a_ring_is_putted_scored_and_kept():
    played("ring", typed="in\n" * 10 + "missed\n" * 2)
    said = played("ring", typed="in\n" * 12)
    assert "12 of 12 holed, 12 in a row" in said
    assert "Before: 10." in said
    with Log() as log:
        assert [score.points for score in scores(log, "ring")] == [
            {BAG.player.name: 10},
            {BAG.player.name: 12},
        ]


def test_a_word_it_cannot_place_is_asked_again_and_stop_ends_it():
    said = played("gate", typed="banana\nthrough\ntouched\nstop\n")
    assert 'Say "through" or "touched"; "stop" ends it.' in said
    assert "1 of 2 through; your handicap averages 1." in said
    with Log() as log:
        assert scores(log) == []


def test_the_drills_are_listed_and_answer_in_objects():
    assert [line.split(":")[0] for line in played(typed="").splitlines()] == ["pace", "gate", "ring"]
    lines = [json.loads(line) for line in played("pace", "--json", typed="in\nstop\n").splitlines()]
    assert lines[2] == {"counted": "1 point.", "points": 1}
    assert lines[-1]["points"] == 1
