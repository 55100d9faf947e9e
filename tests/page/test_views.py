"""Bag, shots, practice and papers over the wire: what the commands would write, and nothing lost."""

import json

import pytest
from invented import invented_season

from caddie.bag.file import load_bag
from caddie.log.games import scores
from caddie.log.store import Log
from caddie.page.asked import PracticeWanted
from caddie.page.service import Service, Wanted
from caddie.range.journal import read_events
from caddie.range.session import resume_range
from caddie.range.sessions import read_session
from caddie.units import YARD_M


def bag_of(browser):
    return browser.get("/api/bag").json()


def edited(browser, digest, **cell):
    return browser.post("/api/bag/cell", {"digest": digest, "club": "56", "swing": "chest", **cell})


def carry_m(home, swing="chest"):
    club = load_bag(home / "bag.toml").club_called("56")
    return next((cell.carry_m for cell in club.carries if cell.swing == swing), None)


def test_the_table_is_the_bag(browser, home):
    cells = {
        cell["swing"]: cell
        for club in bag_of(browser)["clubs"]
        if club["id"] == "56"
        for cell in club["cells"]
    }
    for cell in load_bag(home / "bag.toml").club_called("56").carries:
        assert cells[cell.swing]["carry"] == pytest.approx(cell.carry_m / YARD_M, abs=0.06)
        assert cells[cell.swing]["shots"] == cell.shots


def test_a_carry_is_written_its_comments_stay_and_undo_brings_it_back(browser, home):
    file = home / "bag.toml"
    file.write_text("# mine\n" + file.read_text(encoding="utf-8"), encoding="utf-8")
    before = carry_m(home)
    after = edited(browser, bag_of(browser)["digest"], carry=61).json()
    assert carry_m(home) == pytest.approx(61 * YARD_M)
    assert file.read_text(encoding="utf-8").startswith("# mine\n")
    assert after["undo"]
    undone = browser.post("/api/bag/undo", {"digest": after["digest"]})
    assert undone.status_code == 200
    assert carry_m(home) == pytest.approx(before)


def test_a_bag_changed_elsewhere_is_not_written_over(browser, home):
    digest = bag_of(browser)["digest"]
    file = home / "bag.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n# by hand\n", encoding="utf-8")
    by_hand = file.read_bytes()
    answer = edited(browser, digest, carry=61)
    assert answer.status_code == 400 and "changed meanwhile" in answer.json()["error"]
    assert file.read_bytes() == by_hand


def test_two_tabs_at_once_do_not_undo_each_other(browser, home):
    digest = bag_of(browser)["digest"]
    assert edited(browser, digest, carry=61).status_code == 200
    assert edited(browser, digest, carry=63).status_code == 400
    assert carry_m(home) == pytest.approx(61 * YARD_M)


@pytest.mark.parametrize(
    "cell",
    [{"carry": 0}, {"carry": -5}, {"carry": 900}, {"carry": 95}, {"carry": 61, "spread": -1},
     {"club": "none", "carry": 5}, {"swing": "moon", "carry": 5}],
)  # fmt: skip
def test_a_carry_that_cannot_be_leaves_the_bag(browser, home, cell):
    before = (home / "bag.toml").read_bytes()
    answer = edited(browser, bag_of(browser)["digest"], **cell)
    assert answer.status_code == 400 and "\n" not in answer.json()["error"]
    assert (home / "bag.toml").read_bytes() == before


def test_a_carry_is_taken_out(browser, home):
    assert edited(browser, bag_of(browser)["digest"], carry=None).status_code == 200
    assert carry_m(home) is None


def test_the_talk_goes_on_with_the_bag_as_it_was_written(browser):
    first = browser.say("65 yards, fairway")["shot"]["chosen"]
    bag = bag_of(browser)
    for swing, carry in (("chest", 30), ("shoulder", 40), ("full", 50)):
        bag = edited(browser, bag["digest"], swing=swing, carry=carry).json()
    assert browser.say("next hole")["shot"] is None
    assert browser.say("65 yards, fairway")["shot"]["chosen"]["name"] != first["name"]


def test_a_shot_is_taken_out(browser, home):
    browser.say("seventy yards, fairway")
    browser.post("/api/result", {"left_ft": 6})
    (shot,) = browser.get("/api/shots").json()["shots"]
    assert "6 feet" in shot["ended"]
    assert browser.post("/api/shots/remove", {"shot": shot["id"]}).json()["count"] == 0
    assert browser.post("/api/shots/remove", {"shot": shot["id"]}).status_code == 400
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 0


def test_a_lesson_is_shown_first_and_written_only_as_shown(browser, home):
    for _ in range(12):
        browser.say("seventy yards, fairway, flag in the middle")
        browser.post("/api/result", {"left_ft": 25, "side": "short", "strike": "clean"})
    before = (home / "bag.toml").read_bytes()
    lesson = browser.get("/api/shots/lesson").json()
    assert lesson["shots"] == 12 and lesson["changes"]
    assert (home / "bag.toml").read_bytes() == before
    seen = {"digest": lesson["digest"], "shots": 11}
    assert browser.post("/api/shots/teach", seen).status_code == 400
    assert (home / "bag.toml").read_bytes() == before
    assert browser.post("/api/shots/teach", {**seen, "shots": 12}).status_code == 200
    assert (home / "bag.toml").read_bytes() != before
    assert browser.get("/api/shots/lesson").json()["changes"] == []


def test_a_rehearsal_is_played_and_every_ball_kept(browser, home):
    state = browser.post("/api/practice/start", {"balls": 3, "order": "mixed"}).json()
    assert state["on"] and state["prompt"].startswith("Ball one of three")
    told = browser.post("/api/practice/tell", {"id": "one", "text": "six feet short"}).json()
    again = browser.post("/api/practice/tell", {"id": "one", "text": "six feet short"}).json()
    assert told["played"] == again["played"] == 1
    assert browser.post("/api/practice/tell", {"id": "x", "text": "blue"}).json()["played"] == 1
    browser.post("/api/practice/tell", {"id": "two", "text": "in"})
    over = browser.post("/api/practice/stop", {}).json()
    assert over["over"] and over["summary"].startswith("Two balls")
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 2


@pytest.mark.parametrize(
    "wanted",
    [{"balls": 0}, {"balls": 1000}, {"balls": 100}, {"order": "backwards"}, {"kind": "nothing"},
     {"kind": "game", "name": "none"}, {"kind": "game", "name": "nearest", "players": ["Ash", "Ash"]},
     {"kind": "drill", "name": "none"}, {"kind": "range", "go_on": True}, {"kind": "range", "balls": 2},
     {"kind": "range", "clubs": ["none"]}, {"kind": "range", "order": "rising", "balls": 30}],
)  # fmt: skip
def test_practice_that_cannot_be_is_refused(browser, wanted):
    answer = browser.post("/api/practice/start", wanted)
    assert answer.status_code == 400 and "\n" not in answer.json()["error"]
    assert browser.post("/api/practice/tell", {"text": "in"}).status_code == 400


def practise(browser, **wanted):
    answer = browser.post("/api/practice/start", wanted)
    assert answer.status_code == 200, answer.text
    return answer.json()


def told(browser, text, request=""):
    answer = browser.post("/api/practice/tell", {"id": request, "text": text})
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_a_range_session_of_ten_balls_is_measured_and_kept(browser, home):
    state = practise(browser, kind="range", balls=10, clubs=["56"], swings=["chest", "full"])
    assert state["on"] and state["prompt"].endswith("Ball 1 of 10.") and len(state["cells"]) == 2
    said = ["63", "64, left", "thin", "62, right", "63", "64", "65", "63", "64", "62"]
    for number, text in enumerate(said, start=1):
        called = next(cell["expected"] for cell in state["cells"] if cell["called"])
        carry = text if text == "thin" else text.replace(text[:2], str(called))
        state = told(browser, carry, f"ball {number}")
        assert told(browser, carry, f"ball {number}")["played"] == number
    assert state["over"] and "10 balls" in state["line"]
    (kept,) = (home / "sessions").glob("*_range.csv")
    assert len(read_session(kept, load_bag(home / "bag.toml")).session.shots) == 10


def test_a_range_session_goes_on_where_it_was_left(browser, home):
    practise(browser, kind="range", balls=30, clubs=["56"])
    told(browser, "thin")
    told(browser, "heavy")
    assert told(browser, "scratch that")["played"] == 1
    left = browser.post("/api/practice/stop", {}).json()
    assert not left["on"] and left["waits"]
    assert practise(browser, kind="range", go_on=True)["played"] == 1


def test_a_range_session_survives_the_server(home, keys, ears, mouth):
    """What is acknowledged is in the journal: another server, or the terminal, goes on with it."""
    first = Service(Wanted())
    first.open()
    wanted = PracticeWanted(kind="range", balls=30, clubs=("56",))
    first.now(lambda views: views.practice.start(views.bag.bag(), wanted, 1))
    first.now(lambda views: views.practice.tell(views.bag.bag(), "", "thin"))
    (journal,) = (home / "range").glob("*.jsonl")
    assert [event["event"] for event in read_events(journal)] == ["start", "shot"]
    first.close()
    with resume_range(journal) as session:
        assert len(session.shots) == 1


def test_what_to_practise_next_is_told_as_what_to_tap(browser):
    for each in browser.get("/api/practice/next").json()["gains"]:
        assert each["practise"].startswith("tap ") and "caddie" not in each["practise"]
        wanted = {"kind": "drill", "name": each["drill"]} if each["drill"] else {"kind": "rehearsal"}
        state = practise(browser, **wanted)
        assert state["on"] and state["kind"] == wanted["kind"]


def test_what_to_practise_next_is_what_the_command_says(browser, home, caddie, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    shown = browser.get("/api/practice/next").json()
    told = caddie("practice", "next").out
    assert "about 20" in shown["too_few"] and shown["too_few"] in told and shown["gains"] == []
    assert len(shown["for_everybody"]) == 3
    assert all(each["sentence"] in told for each in shown["for_everybody"])
    with Log() as log:
        player = load_bag().player.name
        log.add_all([shot.model_copy(update={"player": player}) for shot in invented_season(2)])
    shown = browser.get("/api/practice/next").json()
    said = json.loads(caddie("practice", "next", "--json").out)
    assert said["enough"] and not shown["too_few"] and not shown["for_everybody"]
    for one, other in zip(shown["gains"], said["next"], strict=True):
        assert (one["drill"] or "rehearse") == other["practise"].split()[-1]
        assert one["strokes"] == pytest.approx(other["strokes"], abs=6e-4)


def test_a_game_is_played_as_in_the_terminal(browser, home):
    state = practise(browser, kind="game", name="nearest", players=["Rowan Fenwick", "Ash"])
    assert state["asks"] == "left" and state["prompt"].startswith("Rowan Fenwick, spot one of nine")
    for spot in range(9):
        told(browser, "six feet short", f"{spot} a")
        assert told(browser, "blue", "")["played"] == 2 * spot + 1
        state = told(browser, "two feet long", f"{spot} b")
    assert state["over"] and state["summary"].endswith("Ash wins.")
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 18
        assert scores(log, "nearest")[0].points == {"Rowan Fenwick": 0.0, "Ash": 18.0}


def test_a_game_of_strokes_takes_strokes(browser):
    assert practise(browser, kind="game", name="down_in_two")["asks"] == "strokes"
    assert told(browser, "99")["played"] == 0
    assert told(browser, "2")["summary"] == "Down in Two: Two points."
    assert browser.post("/api/practice/stop", {}).json()["over"]


@pytest.mark.parametrize(("drill", "good"), [("ring", "in"), ("gate", "through"), ("pace", "in")])
def test_a_drill_is_putted_and_its_score_kept(browser, home, drill, good):
    state = practise(browser, kind="drill", name=drill)
    assert told(browser, "purple")["played"] == 0
    for number in range(state["balls"]):
        assert state["on"]
        state = told(browser, good, str(number))
    assert state["over"] and state["summary"]
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert len(scores(log, drill)) == 1


def test_the_papers_are_documents_that_stand_alone(browser):
    card = browser.get("/paper/card")
    assert card.text.lower().startswith("<!doctype html>") and "4.3a" in card.text
    assert browser.get("/paper/card.pdf").content.startswith(b"%PDF")
    assert browser.get("/paper/report").json()["error"].startswith("no shots")
    season = browser.get("/paper/report?of=demo").text
    assert "Rowan Fenwick" in season and "<script" not in season
