import json
import re

import pytest
from invented import invented_season
from typer.testing import CliRunner

from caddie.bag import load_bag
from caddie.bag.file import save_bag
from caddie.cli.log import app
from caddie.errors import CaddieError
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.situation import Result, Side


@pytest.fixture
def kept(home):
    """A log with a round in it."""
    with Log() as log:
        log.add_all(invented_season(1))
        return log.path


def run(*words, typed="", fails=False):
    done = CliRunner().invoke(app, list(words), input=typed)
    assert fails or done.exit_code == 0, done.output
    return done


def count(path):
    with Log(path, read_only=True) as log:
        return log.count()


def test_show_prints_the_last_shots(kept):
    lines = run("show", "--last", "3").stdout.splitlines()
    assert len(lines) == 4
    assert lines[-1] == f"3 of {count(kept)} shots."
    assert "Rowan Fenwick" in lines[0]


def test_show_as_json_is_one_object_that_reads_back(kept):
    found = json.loads(run("show", "--last", "5", "--json").stdout)
    assert (len(found["shots"]), found["count"]) == (5, count(kept))
    assert all(Shot.model_validate({k: v for k, v in shot.items() if k != "id"}) for shot in found["shots"])


def test_undo_shows_and_asks(kept):
    before = count(kept)
    assert "Left in." in run("undo", typed="n\n").output
    assert count(kept) == before
    assert "Taken out." in run("undo", typed="y\n").output
    assert count(kept) == before - 1
    assert json.loads(run("undo", "--yes", "--json").stdout)["removed"] is True
    assert json.loads(run("undo", "--json").stdout)["removed"] is False
    assert count(kept) == before - 2


def test_with_nobody_to_answer_nothing_is_written(kept):
    before = count(kept)
    done = run("undo", fails=True)
    assert isinstance(done.exception, CaddieError)
    assert "--yes" in str(done.exception)
    assert count(kept) == before


def test_export_to_a_file_and_to_standard_output(kept, home):
    out = home / "shots.csv"
    run("export", "--out", str(out), "--yes")
    assert len(out.read_text().splitlines()) == count(kept) + 1
    assert len(json.loads(run("export", "--form", "json").stdout)) == count(kept)
    done = run("export", "--form", "xml", fails=True)
    assert "choose csv, json, jsonl" in str(done.exception)


def test_export_asks_before_it_replaces_a_file(kept, home):
    out = home / "shots.csv"
    out.write_text("mine")
    assert "shots.csv is there already" in run("export", "--out", str(out), typed="n\n", fails=True).output
    assert out.read_text() == "mine"


@pytest.fixture
def own_bag(home):
    save_bag(load_bag(), home / "bag.toml")
    return home / "bag.toml"


def shots_that_run_long(log):
    log.add_all(
        [
            Shot(
                player="Rowan Fenwick", club="56", swing="chest", flight="stock", family="pitch",
                advice={"club": "56", "swing": "chest", "flight": "stock", "carry_m": 59.4, "run_m": 4.0},
                situation={"pin_m": 63.4, "lie": "fairway"},
                result=Result(carry_m=59.4 + i % 3 - 1, distance_m=2.7 + i % 3 - 1, side=(Side.LONG,)),
            )
            for i in range(15)
        ]
    )  # fmt: skip


def test_teach_explains_asks_and_writes_once(home, own_bag):
    with Log() as log:
        shots_that_run_long(log)
    before = own_bag.read_text()
    said = run("teach", typed="n\n").output
    assert re.search(r"your 56 to the chest ran 2\.\d yards more than modelled over 15 shots", said)
    assert "Nothing written." in said
    assert own_bag.read_text() == before
    assert "taught." in run("teach", "--yes").output
    taught = load_bag(own_bag)
    cell = next(cell for cell in taught.club_called("56").carries if cell.swing == "chest")
    assert cell.shots > 30
    assert "no new shots" in run("teach", "--yes").output
    assert load_bag(own_bag) == taught


def test_teach_as_json_looks_and_does_not_write(home, own_bag):
    with Log() as log:
        shots_that_run_long(log)
    found = json.loads(run("teach", "--json").stdout)
    assert (found["shots"], found["written"]) == (15, False)
    assert {change["kind"] for change in found["changes"]} >= {"carry", "spread", "run", "trust", "strikes"}
    assert load_bag(own_bag) == load_bag()
    assert json.loads(run("teach", "--json", "--yes").stdout)["written"] is True


def test_teach_needs_a_bag_of_the_players_own(kept):
    assert "caddie bag new" in str(run("teach", "--yes", fails=True).exception)


def test_a_bag_that_cannot_be_saved_stays_untaught(home, own_bag, monkeypatch):
    with Log() as log:
        shots_that_run_long(log)

    def full(*_):
        raise CaddieError("disk full")

    monkeypatch.setattr("caddie.bag.file.save_bag", full)
    assert isinstance(run("teach", "--yes", fails=True).exception, CaddieError)
    monkeypatch.undo()
    monkeypatch.setenv("CADDIE_HOME", str(home))
    assert json.loads(run("teach", "--json").stdout)["shots"] == 15


def test_forget_asks_and_says_how_many(kept):
    before = count(kept)
    assert "say what to forget" in str(run("forget", fails=True).exception)
    assert "Nothing erased." in run("forget", "--all", typed="n\n").output
    assert count(kept) == before
    assert run("forget", "--before", "2026-01-01", "--yes").output == "0 shots erased.\n"
    assert f"{before} shots erased." in run("forget", "--player", "Rowan Fenwick", "--yes").output
    assert count(kept) == 0


def test_without_a_log_the_line_says_what_to_do(home):
    done = run("show", fails=True)
    assert isinstance(done.exception, CaddieError)
    assert "there is no log yet" in str(done.exception)
