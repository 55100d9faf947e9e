"""The talk over the wire: the answer of the terminal, facts set by tap, results, undo, competition."""

import pytest

from caddie.bag.file import load_bag
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.talk.conversation import Conversation

SHOT = "seventy yards, light rough, flag in the middle, bunker short"


def shown(state):
    return [fact["shown"] for fact in state["facts"] if fact["shown"]]


def fact(browser, name, value):
    answer = browser.post("/api/fact", {"name": name, "value": value})
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_a_sentence_is_answered_as_in_the_terminal(browser, home):
    turn = browser.say(SHOT)["turns"][-1]
    terminal = Conversation(load_bag(home / "bag.toml")).turn(SHOT)
    assert (turn["spoken"], turn["written"]) == (terminal.spoken, terminal.written)


def test_a_tap_says_what_the_whole_sentence_would_have_said(browser, home):
    """Corrected to heavy rough, the shot is that of a player who said heavy rough."""
    browser.say(SHOT)
    state = fact(browser, "lie", "heavy_rough")
    terminal = Conversation(load_bag(home / "bag.toml"))
    terminal.turn(SHOT.replace("light", "heavy"))
    assert state["shot"]["chosen"]["strokes"] == round(terminal.known.plan.chosen.strokes, 2)
    assert shown(state) == ["flag 70 yards", "heavy rough", "bunker short", "flag middle"]
    assert browser.say("undo")["facts"][1]["value"] == "light_rough"


@pytest.mark.parametrize(
    ("name", "value", "now"),
    [
        ("pin_m", 75, ["flag 75 yards", "light rough", "bunker short", "flag middle"]),
        ("trouble.0", None, ["flag 70 yards", "light rough", "flag middle"]),
        ("trouble.0", "bunker.long", ["flag 70 yards", "light rough", "bunker long", "flag middle"]),
        (
            "trouble",
            "water.left",
            ["flag 70 yards", "light rough", "bunker short", "water left", "flag middle"],
        ),
        ("pin_position", None, ["flag 70 yards", "light rough", "bunker short"]),
        (
            "wind.speed_m_s",
            10,
            ["flag 70 yards", "light rough", "bunker short", "flag middle", "wind 10 mph"],
        ),
        ("green.stimp_ft", 11, ["flag 70 yards", "light rough", "bunker short", "flag middle", "stimp 11"]),
    ],
)
def test_each_kind_of_fact_is_set_and_taken_out(browser, name, value, now):
    browser.say(SHOT)
    assert shown(fact(browser, name, value)) == now


def test_where_a_putt_is_started_is_set_in_inches_and_taken_out_with_its_fall(browser):
    browser.say("twelve foot putt, a cup outside the left")
    assert shown(fact(browser, "green.borrow", 10))[-1] == "borrow 10 inches"
    assert "borrow 10 inches" not in shown(fact(browser, "green.fall", None))
    assert shown(fact(browser, "green.borrow", 0))[-1] == "straight"


@pytest.mark.parametrize(
    ("name", "value"),
    [("pin_m", -5), ("pin_m", 900), ("pin_m", "far"), ("lie", "moon"), ("lie", 5), ("nothing", 1), ("trouble.7", None),
     ("trouble", "bunker"), ("trouble", "dragon.left"), ("green.stimp_ft", 900),
     ("green.borrow", 900), ("green.borrow", "cup"), ("__class__", 1)],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_nothing_changes(browser, name, value):
    before = browser.say(SHOT)
    answer = browser.post("/api/fact", {"name": name, "value": value})
    assert answer.status_code in (200, 400)
    assert shown(browser.get("/api/talk").json()) == shown(before) or name == "trouble"
    if answer.status_code == 400:
        assert "\n" not in answer.json()["error"]


def test_another_option_is_picked_and_played(browser, home):
    options = browser.say(SHOT)["shot"]["options"]
    other = next(option for option in options if not option["chosen"])
    state = browser.post("/api/pick", {"number": other["number"]}).json()
    assert state["shot"]["chosen"]["name"] == other["name"]
    assert browser.post("/api/pick", {"number": 999}).status_code == 400
    browser.post("/api/result", {"left_ft": 6, "side": "short", "strike": "clean"})
    with Log(home / "log.sqlite3", read_only=True) as log:
        (shot,) = log.shots()
    assert shot.club == other["name"].split(" ")[0]
    assert shot.result.distance_m == pytest.approx(6 * 0.3048)


def test_a_result_is_on_disk_when_it_is_acknowledged_and_undone_by_a_word(browser, home):
    browser.say(SHOT)
    state = browser.post("/api/result", {"finish": "holed"}).json()
    assert state["turns"][-1]["logged"] and state["played"]
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 1
    browser.say("undo")
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 0


@pytest.mark.parametrize("told", [{"left_ft": -1}, {"left_ft": 1e4}, {"side": "up"}, {"strike": "magic"}])
def test_what_is_no_result_is_not_written(browser, home, told):
    browser.say(SHOT)
    assert browser.post("/api/result", told).status_code == 400
    with Log(home / "log.sqlite3", read_only=True) as log:
        assert log.count() == 0


def test_asked_twice_done_once(browser):
    """A page that heard no answer asks again by the same name."""
    first = browser.say(SHOT, request="a1")
    again = browser.say(SHOT, request="a1")
    assert len(first["turns"]) == len(again["turns"]) == 1


def test_two_tabs_see_one_talk(browser):
    browser.say(SHOT, request="of one tab")
    browser.say("make it 60 yards", request="of the other")
    turns = browser.get("/api/talk").json()["turns"]
    assert [turn["number"] for turn in turns] == [1, 2]


def test_pictures_are_served_by_turn(browser):
    number = browser.say(SHOT)["shot"]["picture"]
    picture = browser.get(f"/picture/shot/{number}")
    assert picture.headers["content-type"] == "image/svg+xml"
    assert picture.text.startswith("<svg") and "<script" not in picture.text
    assert browser.get("/picture/shot/99").status_code == 400


def test_in_competition_nothing_of_the_advice_is_left(browser):
    """Rules of Golf, Rule 4.3a(1): no device recommends a club or a line; what was advised before goes too."""
    number = browser.say(SHOT)["shot"]["picture"]
    state = browser.say("competition mode")
    assert state["mode"] == Mode.COMPETITION.value
    assert state["shot"] is None and len(state["turns"]) == 1
    assert browser.get(f"/picture/shot/{number}").status_code == 400
    tapped = fact(browser, "pin_m", 44)
    assert tapped["shot"] is None and "no advice" in tapped["turns"][-1]["spoken"]
    assert browser.post("/api/pick", {"number": 0}).status_code == 400
    assert browser.post("/api/result", {"left_ft": 3}).json()["turns"][-1]["logged"]


def test_competition_is_left_only_after_two_questions(browser):
    browser.say("competition mode")
    assert browser.say("practice mode")["mode"] == "competition"
    assert browser.say("yes")["mode"] == "competition"
    assert browser.say("yes")["mode"] == "practice"


def test_a_tap_between_the_two_questions_asks_both_again(browser):
    browser.say("competition mode")
    browser.say("practice mode")
    fact(browser, "pin_m", 44)
    assert browser.say("yes")["mode"] == "competition"


def test_the_card_of_a_competition_is_the_one_made_before(browser, home):
    before = browser.get("/paper/card").text
    browser.say("competition mode")
    bag = browser.get("/api/bag").json()
    cell = {"digest": bag["digest"], "club": "56", "swing": "chest", "carry": 61}
    assert browser.post("/api/bag/cell", cell).status_code == 200
    assert browser.get("/paper/card").text == before
    assert browser.get("/paper/card.pdf").content.startswith(b"%PDF")
