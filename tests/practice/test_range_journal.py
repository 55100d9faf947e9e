"""A journal is one program's at a time, and a damaged one stands in nobody's way and is kept."""

import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from caddie.bag import load_bag
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.practice.range_talk import hear
from caddie.range.bucket import plan_range
from caddie.range.journal import journals, read_events, unfinished
from caddie.range.session import RangeSession, resume_range, start_range

NOW = datetime(2026, 5, 2, 10, 15)
ROOT = Path(__file__).parents[2]
FOUR = ("--balls", "4", "--clubs", "56", "--swings", "half", "--yes")


@pytest.fixture
def home(tmp_path, monkeypatch):
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("CADDIE_HOME", str(home))
    (home / "bag.toml").write_text(shipped("demo_bag/bag.toml").read_text(encoding="utf-8"))
    return home


@pytest.fixture
def session(home) -> RangeSession:
    bag = load_bag()
    plan = plan_range(bag, 20, clubs=["56"], swings=["half"])
    return start_range(plan, bag.player, journals() / "2026-05-02T10-15-00.jsonl", NOW)


def start(*words):
    """A range session in a process of its own, fed line by line."""
    return subprocess.Popen(
        [sys.executable, "-u", "-c", "from caddie.cli import run; run()", "practice", "range", *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


def tell(command, text, answer):
    command.stdin.write(text + "\n")
    command.stdin.flush()
    for line in command.stdout:
        if answer in line:
            return
    raise AssertionError(f"no {answer!r} to {text!r}")


def carries(path):
    with resume_range(path) as session:
        return [shot.carry_m and round(shot.carry_m / 0.9144) for shot in session.shots]


def test_a_second_program_is_told_and_the_lock_ends_with_the_first(home, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    first = start(*FOUR)
    try:
        tell(first, "63", "63.")
        tell(first, "64", "64.")
        ended = caddie("practice", "range", typed="scratch that\n")
        assert ended.code == 2
        assert len(ended.err.strip().splitlines()) == 1
        assert "another 'caddie practice range' is taking down balls" in ended.err
        assert "--new" in ended.err
        own = caddie("practice", "range", "--new", *FOUR, typed="65\nscratch that\n66\nfinish\n")
        assert own.code == 0
        tell(first, "66", "66.")
    finally:
        first.kill()
        first.communicate()
    path = unfinished()
    assert carries(path) == [63, 64, 66]
    ended = caddie("practice", "range", typed="")
    assert "3 balls so far" in ended.out


def test_what_another_program_wrote_meanwhile_is_not_scratched(session):
    """Where a folder knows no locks, such as one of another machine."""
    hear(session, "63", NOW)
    path = unfinished()
    with path.open("a") as file:
        file.write(path.read_text().splitlines()[-1].replace('"ball":1', '"ball":2') + "\n")
    with pytest.raises(CaddieError, match="was changed by another program meanwhile"):
        hear(session, "scratch that", NOW)
    session.leave()
    assert carries(path) == [63, 63]


def test_a_journal_that_was_taken_away_takes_no_more_balls(session):
    hear(session, "63", NOW)
    path = unfinished()
    path.rename(path.with_name("elsewhere"))
    with pytest.raises(CaddieError, match="was moved or removed meanwhile"):
        hear(session, "64", NOW)


def test_a_scratch_names_its_ball(session):
    for said in ("63", "64", "scratch that", "65"):
        hear(session, said, NOW)
    session.leave()
    path = unfinished()
    assert [event.get("ball") for event in read_events(path)] == [None, 1, 2, 2, 3]
    path.write_text(path.read_text() + '{"event":"scratch","ball":1}\n')
    with pytest.raises(CaddieError, match="line 6, column 1"):
        resume_range(path)


def test_a_journal_without_numbers_is_still_read(session):
    for said in ("63", "64", "scratch that"):
        hear(session, said, NOW)
    session.leave()
    path = unfinished()
    events = [json.loads(line) for line in path.read_text().splitlines()]
    bare = [{key: value for key, value in event.items() if key != "ball"} for event in events]
    path.write_text("".join(json.dumps(event) + "\n" for event in bare))
    assert carries(path) == [63]


def test_a_ball_that_the_disk_refused_is_not_there_later(session, monkeypatch):
    hear(session, "63", NOW)

    def refuse(_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as full:
        full.setattr(os, "fsync", refuse)
        with pytest.raises(CaddieError, match="No space left"):
            hear(session, "64", NOW)
    hear(session, "65", NOW)
    session.leave()
    assert carries(unfinished()) == [63, 65]


@pytest.mark.parametrize("line", ["hello", '{"event":"shot","shot":{"club":"56"}}', '{"event":["shot"]}'])
def test_a_damaged_journal_is_set_aside_by_new(line, home, session, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    hear(session, "63", NOW)
    session.leave()
    path = unfinished()
    path.write_text(path.read_text() + line + "\n")
    before = path.read_text()
    ended = caddie("practice", "range", typed="64\n")
    assert (ended.code, len(ended.err.strip().splitlines())) == (2, 1)
    assert "line 3, column 1" in ended.err
    assert "--new" in ended.err
    assert path.read_text() == before
    ended = caddie("practice", "range", "--new", *FOUR, typed="64\nfinish\n")
    assert ended.code == 0
    aside = path.with_name(path.name + ".damaged")
    assert aside.name in ended.out
    assert aside.read_text() == before
    assert not path.exists()
    assert caddie("practice", "range", *FOUR, typed="64\nfinish\n").code == 0


def test_a_session_that_was_over_but_not_kept_is_kept_by_the_next_run(home, session, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    hear(session, "63", NOW)
    hear(session, "finish", NOW)
    session.leave()
    ended = caddie("practice", "range", typed="")
    assert "Kept" in ended.out
    assert len(list((home / "sessions").glob("*.csv"))) == 1
    assert unfinished() is None
