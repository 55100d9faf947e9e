"""Nothing that the player has is lost on the way: by a kill, by an edit meanwhile, by a spreadsheet."""

import csv
import io

import pytest
import typer
from invented import invented_season

from caddie.bag import load_bag
from caddie.bag.file import own_bag, previous, save_bag
from caddie.log.export import Form, exported
from caddie.log.lessons import taught
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.printable import cell_text, table_cell
from caddie.range.csv_import import import_text
from caddie.range.sessions import rejected_text
from caddie.range.shots import session_text

TABLE = "Club;Carry (yd);Swing\n56;61,5;half\nDriver;200;full\n52;71;half\n"
KILLED_AT = """
import os, sys
from caddie import keeping
left, replace = int(sys.argv.pop(1)), os.replace
def stop(*names):
    global left
    if left == 0:
        os.kill(os.getpid(), 9)
    left -= 1
    replace(*names)
keeping.os.replace = stop
from caddie.cli import run
run()
"""
"""The command is killed in place of its so-manieth write."""


def written(home):
    return {
        str(path.relative_to(home)): path.read_text()
        for path in home.rglob("*")
        if path.is_file() and not path.name.startswith(".") and "cache" not in path.parts
    }


@pytest.mark.parametrize("own", [True, False])
@pytest.mark.parametrize("writes", [0, 1, 2])
def test_an_import_that_was_killed_is_completed_by_the_next(own, writes, home, tmp_path, bag, child, caddie):
    table = tmp_path / "radar.csv"
    table.write_text(TABLE)
    if own:
        save_bag(bag, own_bag())
    code, _, _ = child(str(writes), "bag", "import", str(table), "--yes", code=KILLED_AT)
    assert code == (0 if own and writes == 2 else -9)
    caddie("bag", "import", str(table), "--yes")
    assert set(written(home)) == {"bag.toml", "radar.csv.rejected.csv", "sessions/radar.csv"}
    assert written(home)["radar.csv.rejected.csv"].endswith(",Driver,200,full\n")
    whole = written(home)
    assert "kept already" in caddie("bag", "import", str(table), "--yes")[2]
    assert written(home) == whole


def test_rejected_rows_that_went_missing_come_back(home, tmp_path, bag, caddie):
    table = tmp_path / "radar.csv"
    table.write_text(TABLE)
    save_bag(bag, own_bag())
    caddie("bag", "import", str(table), "--yes")
    whole = written(home)
    (home / "radar.csv.rejected.csv").unlink()
    code, out, _ = caddie("bag", "import", str(table), "--yes")
    assert (code, "rejected.csv" in out) == (0, True)
    assert written(home) == whole


def test_rejected_rows_never_go_over_others(home, tmp_path, bag, caddie):
    table = tmp_path / "radar.csv"
    save_bag(bag, own_bag())
    mine = home / "radar.csv.rejected.csv"
    mine.write_text("mine")
    (home / "radar.csv.rejected_2.csv").symlink_to("nowhere")
    table.write_text(TABLE)
    caddie("bag", "import", str(table), "--yes")
    assert mine.read_text() == "mine"
    assert not (home / "nowhere").exists()
    assert "Driver" in (home / "radar.csv.rejected_3.csv").read_text()


def edits(monkeypatch, path, text):
    """Somebody changes the file while the command asks."""

    def confirm(*_, **__):
        path.write_text(text)
        return True

    monkeypatch.setattr(typer, "confirm", confirm)


def test_a_bag_edited_while_a_lesson_was_offered_keeps_the_edit(home, bag, caddie, monkeypatch):
    save_bag(bag, own_bag())
    with Log() as log:
        log.add_all(invented_season()[:200])
    edited = own_bag().read_text().replace("handicap = 14", "handicap = 9 # since Sunday")
    edits(monkeypatch, own_bag(), edited)
    code, _, err = caddie("log", "teach")
    assert (code, "was changed meanwhile" in err) == (2, True)
    assert own_bag().read_text() == edited
    assert not previous(own_bag()).exists()
    with Log(read_only=True) as log:
        assert taught(log, load_bag(own_bag())).up_to == 0, "the lesson still counts for nothing"
    assert caddie("log", "teach", "--yes")[0] == 0
    assert "handicap = 9 # since Sunday" in own_bag().read_text()


@pytest.mark.parametrize("words", [["bag", "fit", "{session}"], ["bag", "import", "{table}"]])
def test_a_bag_edited_while_balls_were_shown_keeps_the_edit(words, home, tmp_path, bag, caddie, monkeypatch):
    table = tmp_path / "radar.csv"
    table.write_text(TABLE)
    session = tmp_path / "session.csv"
    session.write_text("club,swing,carry (yd)\n56,half,60\n56,half,61\n")
    save_bag(bag, own_bag())
    edits(monkeypatch, own_bag(), own_bag().read_text() + "\n# mine\n")
    code, _, err = caddie(*(word.format(session=session, table=table) for word in words))
    assert (code, "was changed meanwhile" in err) == (2, True)
    assert own_bag().read_text().endswith("# mine\n")
    assert set(written(home)) == {"bag.toml"}


def test_a_bag_that_came_while_another_was_made_stays(home, bag, caddie, monkeypatch):
    home.mkdir()
    edits(monkeypatch, own_bag(), "mine")
    code, _, err = caddie("bag", "new", typed="\n" * 8)
    assert (code, "was changed meanwhile" in err) == (2, True)
    assert own_bag().read_text() == "mine"


def test_a_new_bag_asks_first_where_something_else_stands(home, tmp_path, bag, caddie):
    with Log() as log:
        log.add(Shot())
    notes, both = tmp_path / "notes.toml", tmp_path / "both.toml"
    notes.write_text("mine")
    both.write_text("mine")
    previous(both).write_text("mine too")
    for path in (notes, both, home / "log.sqlite3", previous(own_bag()), home / "sessions" / "bag.toml"):
        before = path.read_bytes() if path.exists() else None
        code, _, err = caddie("bag", "new", "--bag", str(path), typed="n\n" + "\n" * 8)
        assert (code, "Do you think in yards" in err) == (2, False), path
        assert (path.read_bytes() if path.exists() else None) == before
    assert caddie("bag", "new", "--bag", str(both), "--yes", typed="\n" * 8)[0] == 2
    assert previous(both).read_text() == "mine too"
    assert caddie("bag", "new", "--bag", str(notes), typed="y\n" + "\n" * 8 + "y\n")[0] == 0
    assert previous(notes).read_text() == "mine"


FORMULAS = ["=1+1", "+A1", "-A1", "@SUM(A1)", "-2+3", "-1-cmd", "+1(2)", "=", "-2 A1"]
HARMLESS = ["-2", "+2.5", "-2,5", "-3 yd", "-4.0°", "-", "--", "12", "56", "", "a=1", "'twas thin"]


@pytest.mark.parametrize("text", [*FORMULAS, "\t=1", "\r=1", *HARMLESS])
def test_a_cell_reads_back_as_it_was(text):
    """CSV injection, OWASP: a cell that begins with = + - @ tab or return is run (memory)."""
    assert cell_text(table_cell(text)) == text
    assert (table_cell(text) == text) == (text in HARMLESS)


@pytest.mark.parametrize("formula", FORMULAS)
def test_no_formula_stands_in_a_table_that_is_written(formula, bag):
    wedge = bag.clubs[1].model_copy(update={"id": formula, "said": ()})
    odd = bag.model_copy(update={"clubs": (wedge, *bag.clubs[2:])})
    rows = [["club", "swing", "carry (yd)", "side (yd)", "note", f"{formula} "]]
    rows += [[formula, "half", "60", "-2", formula, "x"], [f"{formula}x", "half", "60", "-2", formula, "x"]]
    text = io.StringIO()
    text.write(f"# date: 2026-05-02,{formula}\n")
    csv.writer(text).writerows(rows)
    read = import_text(text.getvalue(), "radar.csv", odd)
    assert (len(read.session.shots), len(read.rejected)) == (1, 1)
    session, rejected = session_text(read.session), rejected_text(read)
    log = "".join(exported([Shot(sentence=formula)], Form.CSV))
    for written_text in (session, rejected, log):
        for row in csv.reader(io.StringIO(written_text)):
            assert not any(cell.startswith(("=", "+", "@")) or cell.startswith("-A") for cell in row)
    assert "-2" in rejected.splitlines()[1].split(",")
    again = import_text(session, "session.csv", odd)
    kept = [(shot.club, shot.side_m, shot.note) for shot in again.session.shots]
    assert kept == [(shot.club, shot.side_m, shot.note) for shot in read.session.shots]
    assert session_text(again.session) == session
    mended = import_text(rejected, "rejected.csv", odd)
    assert mended.rejected[0].cells[2:] == tuple(map(table_cell, read.rejected[0].cells))
