import json

import pytest
from typer import Typer
from typer.testing import CliRunner

from caddie.cli.practice import app
from caddie.cli.report import report
from caddie.errors import CaddieError
from caddie.log.export import Form, exported
from caddie.log.games import scores
from caddie.log.shot import Commitment, Mode
from caddie.log.store import Log

pages = Typer()
pages.command()(report)


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def kept(home, season):
    with Log() as log:
        log.add_all(season)
        return log.path


def run(*words, typed="", fails=False, of=app):
    done = CliRunner().invoke(of, list(words), input=typed)
    assert fails or done.exit_code == 0, done.output or done.exception
    return done


def test_next_names_what_gains_most_and_how_sure(kept):
    said = run("next").output
    assert said.startswith("1. ")
    assert "Twenty minutes: " in said
    assert "% chance" in said
    assert "which nobody has measured" in said


def test_next_as_json(kept):
    found = json.loads(run("next", "--json").output)
    assert len(found["next"]) == 5
    assert all(row["low"] <= row["high"] for row in found["next"])


def test_next_names_the_practice_for_each(kept):
    for row in json.loads(run("next", "--json").output)["next"]:
        words = row["practise"].split()[2:]
        assert ("drill" in words) == row["kind"].startswith("putts")
        assert run(*words, "--help").output


def test_short_putts_go_round_the_ring_and_long_ones_up_the_ladder():
    from caddie.practice.kinds import kinds
    from caddie.practice.next import Gain
    from caddie.units import Unit

    putts = [kind for kind in kinds(Unit.FEET) if kind.name.startswith("putts")]
    drills = [Gain(kind, *[0] * 8).drill for kind in putts]
    assert drills == ["ring", "gate", "gate", "pace", "pace"]


def test_next_without_a_log_writes_none(home):
    said = run("next").output
    assert said.startswith("No shots are in the log: about 20 are needed")
    assert "strokes a round" not in said and "chance" not in said
    assert "caddie practice drill ring" in said
    assert list(home.iterdir()) == []


def test_a_rehearsal_is_played_out_and_kept(kept):
    typed = "six feet short\nwhat is for lunch\nholed it\nquit on it, ten feet short\n"
    said = run("rehearse", "--balls", "3", typed=typed).output
    assert "Porter & Magill 2010" in said
    assert "Ball three of three: " in said
    assert "Say where it ended" in said
    assert "finish as long as you went back" in said
    assert "Three balls, half within six feet" in said
    with Log(read_only=True) as log:
        shots = log.shots(modes=(Mode.REHEARSAL,))
    assert [shot.result.holed for shot in shots] == [False, True, False]
    assert shots[2].commitment is Commitment.QUIT


def test_a_rehearsal_stops_when_told_and_at_the_end_of_input(kept):
    assert "One ball" in run("rehearse", typed="four feet\nstop\n").output
    assert "No ball played." in run("rehearse", typed="").output


def test_a_rehearsal_can_leave_no_trace(home):
    run("rehearse", "--no-log", "--balls", "1", "--within", "30", typed="four feet\n")
    assert list(home.iterdir()) == []


def test_a_rehearsal_with_advice_keeps_what_was_advised(home):
    run("rehearse", "--advice", "--balls", "1", "--within", "40", typed="four feet\n")
    with Log(read_only=True) as log:
        (shot,) = log.shots()
    assert shot.club == shot.advice["club"]
    assert shot.advice["carry_m"] > 0


def test_a_rehearsal_as_json_is_one_object_a_line(kept):
    lines = run("rehearse", "--balls", "1", "--json", typed="four feet\n").output.splitlines()
    found = [json.loads(line) for line in lines]
    assert [next(iter(one)) for one in found] == ["note", "log", "prompt", "feedback", "summary"]


def test_an_order_that_does_not_exist(home):
    assert "choose mixed, blocked, rising" in str(run("rehearse", "--order", "odd", fails=True).exception)


def test_games_are_listed(home):
    said = run("game").output
    assert [line.split(":")[0] for line in said.splitlines()] == [
        "nearest", "down_in_two", "nine_spots", "ladder", "wedge_check",
    ]  # fmt: skip


def test_a_game_of_two_is_played_and_its_result_kept(home):
    typed = "four feet\neh\nsix feet\n" * 9
    said = run("game", "nearest", "--player", "Ash", "--player", "Bryn", typed=typed).output
    assert "Nearest: Ash nine, Bryn zero points. Ash wins." in said
    with Log(read_only=True) as log:
        assert scores(log)[0].points == {"Ash": 9, "Bryn": 0}
        assert log.count("Ash") == log.count("Bryn") == 9


def test_a_game_of_strokes(home):
    said = run("game", "down_in_two", typed="two\nnothing\nthree\nstop\n").output
    assert "say how many strokes" in said.lower()
    assert "Down in Two: Two points." in said
    with Log(read_only=True) as log:
        assert [shot.down_in for shot in log.shots()] == [2, 3]
        assert scores(log) == []


def test_a_game_that_does_not_exist(home):
    assert isinstance(run("game", "darts", fails=True).exception, CaddieError)


def test_the_report_is_written_for_log_demo_and_exported_file(home, kept, season):
    out = home / "page.html"
    assert "the report on Rowan Fenwick" in run("--out", str(out), of=pages).output
    assert "24 rounds" in out.read_text()
    assert run("--out", str(home / "demo.html"), "--demo", of=pages).exit_code == 0
    lines = home / "other.jsonl"
    other = [shot.model_copy(update={"player": "Marlow Teague"}) for shot in season[:80]]
    lines.write_text("".join(exported(other, Form.LINES)), encoding="utf-8")
    two = home / "two.html"
    run("--out", str(two), "--log", str(kept), "--log", str(lines), of=pages)
    assert "Side by side" in two.read_text()


def test_the_report_asks_before_it_replaces_a_page(home, kept):
    out = home / "page.html"
    out.write_text("mine")
    declined = run("--out", str(out), of=pages, typed="n\n", fails=True)
    assert "replace it by the report on Rowan Fenwick?" in declined.output
    assert "nothing is written" in str(declined.exception)
    assert out.read_text() == "mine"
    found = json.loads(run("--out", str(out), "--json", "--yes", of=pages).output)
    assert found == {"out": str(out), "written": True, "players": ["Rowan Fenwick"]}


def test_no_shots_no_report(home):
    with Log():
        pass
    assert "no shots to report on" in str(run("--out", str(home / "x.html"), of=pages, fails=True).exception)


@pytest.mark.parametrize("word", ["stop", "finish", "quit"])
def test_every_ending_that_is_listened_for_ends_a_game_of_strokes(kept, word):
    said = run("game", "down_in_two", typed=f"two\n{word}\nthree\n").output
    assert said.count("how many strokes") == 2
