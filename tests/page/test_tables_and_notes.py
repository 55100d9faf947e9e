"""Tables of shots sent by the page, the fit to them, and the notes: what the commands would write, and no more."""

import base64
import shutil

import pytest
from page_fixtures import ROOT

from caddie.bag.file import load_bag
from caddie.notes.notebook import read_notes
from caddie.page.limits import LARGEST_BODY_BYTES, LARGEST_TABLE_BODY_BYTES
from caddie.range.csv_import import import_csv
from caddie.range.sessions import fit_sessions, kept_sessions

TABLE = ROOT / "demo_bag" / "range_session.csv"


def sent(content, name="session.csv", **more):
    return {"name": name, "content": base64.b64encode(content).decode(), **more}


def kept(browser, content=TABLE.read_bytes(), **more):
    table = sent(content, **more)
    seen = browser.post("/api/bag/table", table).json()
    return browser.post("/api/bag/table/keep", {**table, "digest": seen["digest"]})


def test_a_table_is_shown_first_and_kept_as_the_command_keeps_it(browser, home, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    read = import_csv(TABLE, load_bag(home / "bag.toml"))
    seen = browser.post("/api/bag/table", sent(TABLE.read_bytes())).json()
    assert seen["new"] and seen["rejects"] == len(read.rejected)
    assert sum(int(line.rpartition(": ")[2]) for line in seen["balls"]) == len(read.session.shots)
    assert not (home / "sessions").exists()
    assert kept(browser).status_code == 200
    (by_page,) = kept_sessions(home / "bag.toml")
    here = home / "by command"
    here.mkdir()
    shutil.copy(home / "bag.toml", here / "bag.toml")
    assert caddie("bag", "import", str(TABLE), "--bag", str(here / "bag.toml"), "--yes").code == 0
    (by_command,) = kept_sessions(here / "bag.toml")
    assert by_page.read_bytes() == by_command.read_bytes()
    assert not browser.post("/api/bag/table", sent(TABLE.read_bytes())).json()["new"]


def test_what_a_table_leaves_open_is_asked(browser):
    table = b"club,swing,carry\n56,full,83\n56,full,85\n"
    asks = browser.post("/api/bag/table", sent(table)).json()["asks"]
    assert asks["wish"] == "length_unit" and "yards" in asks["choices"]
    seen = browser.post("/api/bag/table", sent(table, wishes={"length_unit": "yards"})).json()
    assert seen["asks"] is None and seen["balls"] == ["56 full: 2"]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_table_may_be_in_any_of_the_codes_that_files_are(browser, encoding):
    table = "club,swing,carry (yd),note\n56,full,83,räumlich\n".encode(encoding)
    assert browser.post("/api/bag/table", sent(table)).json()["balls"] == ["56 full: 1"]


@pytest.mark.parametrize(
    ("content", "wishes"),
    [(b"", {}), (b"\0\1\2", {}), (b"hello", {}), (b"club,swing,carry (yd)\n", {}), (b"a,b\n" * 50_000, {}),
     (b"club,swing,carry\n56,full,83\n", {"length_unit": "miles"}), (b"x", {"columns": "y"})],
)  # fmt: skip
def test_what_is_no_table_is_told_in_one_line_and_leaves_nothing(browser, home, content, wishes):
    before = sorted(home.iterdir())
    for path in ("/api/bag/table", "/api/bag/table/keep"):
        answer = browser.post(path, sent(content, wishes=wishes))
        assert answer.status_code == 400 and "\n" not in answer.json()["error"], answer.text
    assert sorted(home.iterdir()) == before


@pytest.mark.parametrize("name", ["../../bag.toml", "/etc/passwd", "..", "", "\0", "a/b\\c.csv", "x" * 199])
def test_no_name_of_a_table_reaches_out_of_its_folder(browser, home, name):
    rejected = b"club,swing,carry (yd)\n56,full,83\nwood,full,200\n"
    before = (home / "bag.toml").read_bytes()
    assert kept(browser, rejected, name=name).status_code == 200
    assert (home / "bag.toml").read_bytes() == before
    (session,) = kept_sessions(home / "bag.toml")
    assert session.parent == home / "sessions"
    assert len(list(home.glob("*.rejected.csv"))) == 1


def test_a_table_starts_a_first_bag_as_the_command_does(browser, home, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    (home / "bag.toml").unlink()
    table = b"club,swing,carry (yd)\n" + b"".join(
        f"{club},full,{carry + ball}\n".encode()
        for club, carry in (("PW", 110), ("56", 85))
        for ball in range(6)
    )
    assert browser.get("/api/bag").json()["digest"] is None
    seen = browser.post("/api/bag/table", sent(table)).json()
    assert seen["clubs"] == ["56: loft 56°", "PW: loft 46°, the usual one"]
    assert kept(browser, table).status_code == 200
    assert browser.get("/api/bag").json()["digest"]
    assert browser.say("112 yards, fairway")["shot"]["chosen"]["name"].startswith("PW")
    (home / "table.csv").write_bytes(table)
    monkeypatch.setenv("CADDIE_HOME", str(home / "home"))
    assert caddie("bag", "import", str(home / "table.csv"), "--yes").code == 0
    assert load_bag(home / "home" / "bag.toml") == load_bag(home / "bag.toml")


def test_a_first_bag_is_not_written_over_one_that_came_meanwhile(browser, home):
    before = (home / "bag.toml").read_bytes()
    (home / "bag.toml").unlink()
    table = sent(b"club,swing,carry (yd)\n56,full,83\n56,full,84\n")
    assert browser.post("/api/bag/table", table).status_code == 200
    (home / "bag.toml").write_bytes(before)
    assert browser.post("/api/bag/table/keep", {**table, "digest": None}).status_code == 400
    assert (home / "bag.toml").read_bytes() == before


def test_a_table_is_not_kept_beside_a_bag_that_changed_meanwhile(browser, home):
    table = sent(TABLE.read_bytes())
    digest = browser.post("/api/bag/table", table).json()["digest"]
    file = home / "bag.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n# by hand\n", encoding="utf-8")
    assert browser.post("/api/bag/table/keep", {**table, "digest": digest}).status_code == 400
    assert not (home / "sessions").exists()


def test_only_tables_may_be_large(browser):
    content = b"club,swing,carry (yd)\n" + b"56,full,83\n" * 20_000
    assert len(content) > 3 * LARGEST_BODY_BYTES
    assert browser.post("/api/bag/table", sent(content)).json()["balls"] == ["56 full: 20000"]
    assert browser.post("/api/bag/table", sent(b"a" * LARGEST_TABLE_BODY_BYTES)).status_code == 413


def test_the_fit_is_shown_first_and_is_that_of_the_command(browser, home):
    assert browser.get("/api/bag/fit").json()["sessions"] == 0
    assert browser.post("/api/bag/fit", {"digest": None, "shots": 0}).status_code == 400
    kept(browser)
    before = (home / "bag.toml").read_bytes()
    seen = browser.get("/api/bag/fit").json()
    assert seen["sessions"] == 1 and seen["changes"]
    assert (home / "bag.toml").read_bytes() == before
    fitted, _ = fit_sessions(kept_sessions(home / "bag.toml"), load_bag(home / "bag.toml"))
    assert browser.post("/api/bag/fit", {"digest": seen["digest"], "shots": 2}).status_code == 400
    assert browser.post("/api/bag/fit", {"digest": "0", "shots": 1}).status_code == 400
    assert browser.post("/api/bag/fit", {"digest": seen["digest"], "shots": 1}).status_code == 200
    assert load_bag(home / "bag.toml") == fitted
    assert browser.get("/api/bag/fit").json()["changes"] == []


def told_of_hole(browser, text, hole=4, course="Marram Links"):
    return browser.post("/api/notes/hole", {"course": course, "hole": hole, "text": text})


def test_a_hole_is_noted_and_the_talk_knows_it(browser):
    state = told_of_hole(browser, "falls left to right, bunker short right, 28 deep").json()
    assert state["told"] == "Remembered of hole 4 of Marram Links."
    (course,) = state["courses"]
    assert course["holes"][0]["facts"].startswith("falls left to right")
    note = read_notes().hole("Marram Links", 4)
    assert note.depth_m == pytest.approx(28 * 0.9144)
    browser.say("I am at Marram Links")
    written = browser.say("fourth hole, 60 yards, fairway")["turns"][-1]["written"]
    assert "left to right" in written
    assert browser.get("/paper/course?of=Marram%20Links").text.lower().startswith("<!doctype html>")


def test_what_the_talk_remembers_stands_in_the_notes(browser):
    browser.say("remember, the fourth green falls left to right")
    assert browser.get("/api/notes").json()["courses"][0]["holes"][0]["number"] == 4


def test_a_note_is_put_right_undone_and_erased(browser):
    told_of_hole(browser, "falls left to right")
    changed = told_of_hole(browser, "falls right to left").json()
    assert "it says falls right to left now" in changed["told"]
    undone = browser.post("/api/notes/undo", {}).json()
    assert undone["courses"][0]["holes"][0]["facts"] == "falls left to right"
    gone = browser.post("/api/notes/forget", {"course": "Marram Links", "hole": 4})
    assert gone.json()["courses"] == []
    assert browser.post("/api/notes/forget", {"course": "Marram Links", "hole": 4}).status_code == 400


@pytest.mark.parametrize(
    ("hole", "course", "text"),
    [(0, "", "falls left to right"), (99, "", "falls left to right"), (4, "", "blue"), (4, "", ""),
     (4, "x" * 60, "falls left to right"), (4, "\x01", "falls left to right")],
)  # fmt: skip
def test_what_is_no_note_is_told_in_one_line(browser, hole, course, text):
    answer = told_of_hole(browser, text, hole, course)
    assert answer.status_code == 400 and "\n" not in answer.json()["error"]
    assert browser.get("/api/notes").json()["courses"] == []


def test_an_own_word_is_taught_understood_and_erased(browser):
    taught = browser.post("/api/notes/word", {"word": "badlands", "means": "heavy rough"}).json()
    assert taught["words"] == [{"word": "badlands", "means": "heavy rough"}]
    assert browser.say("40 yards from the badlands")["facts"][1]["value"] == "heavy_rough"
    assert browser.post("/api/notes/forget", {"word": "badlands"}).json()["words"] == []


def test_a_word_of_the_trade_is_asked_about_first(browser):
    wanted = {"word": "fairway", "means": "heavy rough"}
    assert "Shall it mean" in browser.post("/api/notes/word", wanted).json()["asks"]
    assert read_notes().words == {}
    assert browser.post("/api/notes/word", {**wanted, "sure": True}).json()["words"]
