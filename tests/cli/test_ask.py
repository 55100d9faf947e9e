import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest

from caddie.places import shipped

SEVENTY = "seventy yards, fairway, flag in the middle"
SITUATION_FIELDS = {
    "pin_m", "front_m", "room_m", "lie", "stance", "pin_position", "elevation_m", "hazards", "green", "wind",
}  # fmt: skip
ADVICE_FIELDS = {
    "club", "loft_deg", "swing", "family", "flight", "carry_m", "run_m", "land_short_of_pin_m", "strokes",
    "strokes_se", "on_green", "in_trouble", "leave_m", "trusted", "cue", "spoken", "written", "reasons",
}  # fmt: skip


def test_a_situation_gets_club_swing_landing_run_and_cue(caddie):
    ended = caddie("ask", SEVENTY)
    assert ended.code == 0
    assert "52 (gap wedge, 52°), hands just short of the chest" in ended.out
    assert "Cue:" in ended.out
    assert (
        ended.out.strip()
        .splitlines()[-1]
        .startswith("Seventy yards. Fifty-two, hands just short of the chest.")
    )


def test_the_object_on_the_wire_has_every_documented_field(caddie):
    ended = caddie("ask", SEVENTY, "--json")
    found = json.loads(ended.out)
    assert ended.code == 0
    assert set(found) >= {
        "heard", "intent", "situation", "assumed", "question", "advice", "note", "options", "timing_ms",
    }  # fmt: skip
    assert set(found["situation"]) >= SITUATION_FIELDS
    assert set(found["situation"]["green"]) >= {"fall", "stimp_ft", "firmness"}
    assert set(found["situation"]["wind"]) == {"from", "speed_m_s", "known_by"}
    assert set(found["advice"]) >= ADVICE_FIELDS
    assert set(found["timing_ms"]) == {"words", "plan", "reply"}
    assert found["question"] is None
    assert found["note"] is None
    strokes = [option["rank_score"] for option in found["options"]]
    assert strokes == sorted(strokes)
    assert not {"spoken", "written"} & set(found["options"][0])


def test_the_same_seed_gives_the_same_answer(caddie):
    first, again, other = (
        json.loads(caddie("ask", SEVENTY, "--json", "--seed", seed).out)["options"]
        for seed in ("5", "5", "6")
    )
    assert first == again
    assert first != other


def test_without_a_distance_one_question_is_asked(caddie):
    ended = caddie("ask", "in the rough behind a bunker", "--json")
    found = json.loads(ended.out)
    assert ended.code == 1
    assert found["question"] == "How far is it to the flag?"
    assert found["advice"] is None


def test_in_competition_there_is_no_advice_and_the_rule_is_named(caddie):
    ended = caddie("ask", SEVENTY, "--json", "--competition")
    found = json.loads(ended.out)
    assert ended.code == 0
    assert found["advice"] is None
    assert found["options"] == []
    assert "4.3a(1)" in found["note"]
    assert found["situation"]["pin_m"] == pytest.approx(64.008)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "nothing was said"),
        ("   ", "nothing was said"),
        ("what is the weather in the morning", "no shot I can plan"),
        ("0 yards from the fairway", "0 yards"),
        ("400 yards, rough", "up to 120 yards"),
        ("minus twenty yards from the rough", "less than nothing"),
        ("70 yards with my 2 iron", "there is no 2 iron in the bag"),
    ],
)
def test_bad_input_is_one_line_that_says_what_to_type(caddie, text, told, tmp_path):
    picture = tmp_path / "shot.svg"
    ended = caddie("ask", text, "--picture", str(picture))
    assert ended.code == 2
    assert ended.out == ""
    assert ended.err.startswith("caddie: ")
    assert told in ended.err
    assert ended.err.count("\n") == 1
    assert not picture.exists()


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("carry = 65, ", ""), "carry"),
        (("loft_deg = 56", "loft_deg = 95"), "loft_deg"),
        (("schema = 1", "schema = 99"), "schema"),
        (("[player]", "[player"), "TOML"),
        (("handicap = 14", 'handicap = "fourteen"'), "handicap"),
    ],
)
def test_a_damaged_bag_is_told_with_its_field(caddie, tmp_path, change, told):
    bag = tmp_path / "bag.toml"
    bag.write_text(
        shipped("demo_bag/bag.toml").read_text(encoding="utf-8").replace(*change), encoding="utf-8"
    )
    ended = caddie("ask", SEVENTY, "--bag", str(bag))
    assert ended.code == 2
    assert str(bag) in ended.err
    assert told in ended.err
    assert ended.err.count("\n") == 1


def test_a_missing_bag_is_told(caddie, tmp_path):
    ended = caddie("ask", SEVENTY, "--bag", str(tmp_path / "none.toml"))
    assert ended.code == 2
    assert "no such bag file" in ended.err


def test_a_stream_answers_each_line_and_goes_on_after_a_bad_one(caddie):
    ended = caddie("ask", "-", "--json", typed=f"{SEVENTY}\nnonsense about lunch\n\nforty from light rough\n")
    lines = [json.loads(line) for line in ended.out.splitlines()]
    assert ended.code == 2
    assert [("error" in line) for line in lines] == [False, True, False]
    assert lines[2]["advice"]["club"]


def test_the_picture_is_an_svg_that_says_what_it_shows(caddie, tmp_path):
    picture = tmp_path / "shot.svg"
    written = caddie("ask", f"{SEVENTY}, bunker short", "--picture", str(picture)).out
    root = ET.parse(picture).getroot()
    space = "{http://www.w3.org/2000/svg}"
    carried = re.search(r"carries \d+ yards", written)
    assert carried[0] in root.find(f"{space}desc").text
    dots = root.findall(f".//{space}g/{space}circle")
    crosses = root.findall(f".//{space}g/{space}path")
    assert len(dots) - 1 + len(crosses) == 200, "the ring of the hole is a circle too"


def test_a_picture_that_cannot_be_written_is_told(caddie, tmp_path):
    ended = caddie("ask", SEVENTY, "--picture", str(tmp_path / "no" / "shot.svg"))
    assert ended.code == 2
    assert "cannot be written" in ended.err


def test_understand_shows_the_facts_alone(caddie):
    ended = caddie("understand", "forty yards, heavy rough, bunker long")
    assert ended.code == 0
    assert "heavy rough" in ended.out
    assert "bunker, long" in ended.out
    assert "strokes" not in ended.out


def test_a_defect_of_the_program_is_one_line_too(caddie, monkeypatch):
    monkeypatch.setattr("caddie.talk.answer.answer", lambda *_, **__: 1 / 0)
    ended = caddie("ask", SEVENTY)
    assert ended.code == 2
    assert "ZeroDivisionError" in ended.err
    assert "Traceback" not in ended.err


def test_help_starts_without_the_heavy_rooms():
    code = (
        "import sys; sys.argv = ['caddie', '--help']\n"
        "from caddie.cli import run\n"
        "try: run()\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'spacy', 'vosk', 'pocketsphinx', 'pydantic'} & set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)


def test_that_the_demo_bag_answers_is_told_once_and_never_to_a_program(caddie):
    told = caddie("ask", "forty yards, fairway")
    assert "demo bag" in told.err and told.err.count("\n") == 1
    assert "demo bag" not in caddie("ask", "forty yards, fairway", "--json").err
