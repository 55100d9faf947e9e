"""``caddie notes``: shown, told, taken in, given out, taken back, erased."""

import json
import os
import tomllib

import pytest

from caddie.bag.file import load_bag
from caddie.cli.notes_reading import note_sentences
from caddie.errors import CaddieError
from caddie.log.holes import OnHole, add_on_hole
from caddie.log.shot import ROUNDS, Shot
from caddie.log.store import Log
from caddie.notes.misses import FEWEST_ON_A_HOLE
from caddie.places import shipped
from caddie.situation import Finish, Result, Side

COURSE = str(shipped("demo_bag/marram_links.toml"))


def objects(ended):
    return [json.loads(line) for line in ended.out.splitlines()]


@pytest.fixture
def noted(caddie):
    assert caddie("notes", "import", COURSE, "--yes").code == 0
    return caddie


def test_a_course_goes_in_and_comes_out_the_same(noted, tmp_path):
    out = tmp_path / "out.toml"
    assert noted("notes", "export", "--out", str(out)).code == 0
    with open(COURSE, "rb") as before:
        assert tomllib.loads(out.read_text()) == tomllib.load(before)
    assert "Nothing taken in" in noted("notes", "import", str(out), "--yes").out


def test_a_course_may_get_another_name(caddie):
    assert caddie("notes", "import", COURSE, "--course", "The Links", "--yes").code == 0
    assert "the Dell, of The Links" in caddie("notes", "hole", "4").out


def test_a_hole_is_told_shown_and_taken_back(caddie):
    told = caddie("notes", "hole", "4", "--tell", "falls left to right, bunker short, 28 deep", "--yes")
    assert told.code == 0
    assert "falls left to right, bunker short, 28 yards deep" in caddie("notes", "hole", "4").out
    assert caddie("notes", "hole", "4", "--tell", "falls right to left", "--yes").err.count("\n") == 1
    assert "falls right to left" in caddie("notes", "show").out
    assert "holes as before" in caddie("notes", "undo", "--yes").out
    assert "falls left to right" in caddie("notes", "show").out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["hole", "4", "--tell", "wibble"], "nothing of a green"),
        (["import", "nowhere.toml"], "no such file"),
        (["words", "--teach", "stop=heavy rough"], "choose another"),
        (["words", "--teach", "badlands"], "do not follow"),
        (["settings", "--firmness", "hard"], "firmness"),
        (["export"], "no hole"),
        (["forget"], "say what to forget"),
        (["forget", "--all", "--hole", "4"], "say what to forget"),
        (["course", "--out", "page.pdf"], "no hole"),
    ],
)
def test_what_cannot_be_done_is_told_in_a_line(caddie, words, told):
    ended = caddie("notes", *words)
    assert ended.code == 2
    assert told in ended.err and ended.err.count("\n") == 1


def test_own_words_are_shown_exported_and_erased(caddie, tmp_path):
    assert caddie("notes", "words", "--teach", "the badlands=heavy rough").code == 0
    out = tmp_path / "words.toml"
    assert caddie("notes", "words", "--out", str(out)).code == 0
    assert tomllib.loads(out.read_text()) == {"joins": {"badlands": "heavy rough"}}
    assert objects(caddie("understand", "forty, badlands", "--json"))[0]["situation"]["lie"] == "heavy_rough"
    assert "Erased" in caddie("notes", "forget", "--word", "the badlands", "--yes").out
    assert objects(caddie("notes", "words", "--json")) == [{"words": {}}]


def test_ears_expect_own_words_and_names(noted):
    noted("notes", "words", "--teach", "the badlands=heavy rough")
    said = note_sentences()
    assert any("badlands" in each for each in said)
    assert any("cockle strand" in each for each in said)
    assert any("marram links" in each for each in said)


def test_a_word_that_no_ear_can_know_is_told_so(caddie, monkeypatch):
    """The neural ear spells: no word is unknown to it."""
    assert not caddie("notes", "words", "--teach", "gubbins=heavy rough").err

    def lacking():
        raise CaddieError("not installed")

    monkeypatch.setattr("caddie.voice.neural.files.network_files", lacking)
    assert "badlands" not in caddie("notes", "words", "--teach", "badlands=heavy rough").err
    assert "sound of wibblewood" in caddie("notes", "words", "--teach", "wibblewood=heavy rough").err


def test_the_page_of_a_course_stands_alone(noted, tmp_path):
    out = tmp_path / "course.html"
    assert noted("notes", "course", "Marram Links", "--out", str(out)).code == 0
    page = out.read_text()
    assert page.count("<section>") == 9
    assert "local rules decide" in page and "Rule 4.3a" in page
    for outside in ("http://", "https://", "<script", "src="):
        assert outside not in page.replace("http://www.w3.org/2000/svg", "")


def test_a_sentence_is_answered_with_the_note_of_its_hole(noted):
    (found,) = objects(noted("ask", "on the Dell, seventy to the flag, back", "--json"))
    assert found["notes"][0] == "falls left to right"
    assert found["situation"]["room_m"] > 20
    assert "Notes: falls left to right" in found["advice"]["written"]


def test_what_the_day_holds_lasts_from_one_talk_to_the_next(noted):
    talk = ("talk", "--json")
    noted(*talk, typed="we're on the fourth at Marram Links\nI left the sixty at home\n")
    turns = objects(noted(*talk, typed="next hole\nwhat do you know about me\nthat's my round\n"))
    assert turns[0]["spoken"].startswith("Hole five")
    assert "one club out today" in turns[1]["spoken"]
    turns = objects(noted(*talk, typed="next hole\nwhat do you know about me\n"))
    assert turns[0]["spoken"].startswith("What do you see?")
    assert "out today" not in turns[1]["spoken"]


def test_a_damaged_entry_costs_no_other(noted, tmp_path):
    path = tmp_path / "home" / "notes" / "holes.toml"
    path.write_text(path.read_text().replace("depth_yards = 31", 'depth_yards = "deep"'))
    ended = noted("notes", "show")
    assert ended.err.count("\n") == 1 and "depth_yards must be a number" in ended.err
    assert "9 holes" not in ended.out and "8 holes" in ended.out


def test_a_full_disk_costs_no_note(noted, tmp_path, monkeypatch):
    path = tmp_path / "home" / "notes" / "holes.toml"
    before = path.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    ended = noted("notes", "hole", "4", "--tell", "falls right to left", "--yes")
    assert ended.code == 2 and "No space left" in ended.err
    assert path.read_bytes() == before


def test_the_log_says_nothing_of_a_hole_from_two_shots(noted):
    typed = "on the fourth at Marram Links, seventy to the flag, fairway\nfinished ten feet short\n"
    noted("talk", "--json", typed=typed)
    assert "too few to say" in noted("notes", "hole", "4").out


def test_the_page_says_how_shots_ended_where_there_are_enough(noted, tmp_path):
    """Wilson's 95 % interval of 8 in 8: its lower end is n / (n + z**2), 67.6 % (the formula with a share of one)."""
    player = load_bag().player.name
    with Log() as log:
        for _ in range(FEWEST_ON_A_HOLE):
            shot = Shot(
                player=player, mode=ROUNDS[0], result=Result(side=(Side.SHORT,), finish=Finish.BUNKER)
            )
            add_on_hole(log, shot, OnHole("Marram Links", 4))
        add_on_hole(
            log,
            Shot(player=player, mode=ROUNDS[0], result=Result(side=(Side.LEFT,))),
            OnHole("Marram Links", 5),
        )
    out = tmp_path / "course.html"
    assert noted("notes", "course", "--out", str(out)).code == 0
    page = out.read_text()
    assert page.count("Your shots: ") == 1
    assert f"Your shots: {FEWEST_ON_A_HOLE} shots: {FEWEST_ON_A_HOLE} short (68 to 100 %)" in page
