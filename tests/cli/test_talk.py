import json

from caddie.log.store import Log

SHOT = "seventy yards, fairway, flag in the middle"
FIELDS = {
    "heard", "intent", "mode", "spoken", "written", "question", "advice", "situation", "logged", "over",
    "things",
}  # fmt: skip


def talked(ended):
    return [json.loads(line) for line in ended.out.splitlines()]


def test_one_object_a_line_and_logged_only_when_written(caddie, tmp_path):
    ended = caddie("talk", "--json", typed=f"{SHOT}\nwhy\nfinished eight feet past\n")
    turns = talked(ended)
    assert ended.code == 0 and not ended.err
    assert [turn["intent"] for turn in turns] == ["situation", "why", "result"]
    assert all(set(turn) == FIELDS for turn in turns)
    assert [turn["logged"] for turn in turns] == [False, False, True]
    assert turns[0]["advice"]["spoken"] == turns[0]["spoken"]
    assert turns[0]["situation"]["lie"] == "fairway"
    with Log(tmp_path / "home" / "log.sqlite3", read_only=True) as log:
        (shot,) = log.shots()
    assert shot.sentence == SHOT and shot.advice is not None


def test_typed_lines_get_the_written_reply_and_the_spoken_one(caddie):
    ended = caddie("talk", "--no-log", typed=f"{SHOT}\n\n  \nhello\n")
    assert ended.code == 0
    assert "Shot:" in ended.out and "Cue:" in ended.out
    assert ended.out.strip().endswith("Here, and listening.")


def test_goodbye_ends_the_talk(caddie):
    turns = talked(caddie("talk", "--json", "--no-log", typed=f"goodbye\n{SHOT}\n"))
    assert len(turns) == 1 and turns[0]["over"]


def test_a_log_that_cannot_be_opened_costs_one_line_and_not_the_talk(caddie, tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    ended = caddie(
        "talk", "--json", "--log", str(blocked / "log.sqlite3"), typed=f"{SHOT}\nholed it\n{SHOT}\n"
    )
    turns = talked(ended)
    assert ended.code == 0
    assert len(ended.err.strip().splitlines()) == 1 and str(blocked) in ended.err
    assert [turn["logged"] for turn in turns] == [False, False, False]
    assert turns[2]["advice"]


def test_a_damaged_log_is_left_as_it_is(caddie, tmp_path):
    path = tmp_path / "log.sqlite3"
    path.write_bytes(b"this is no log" * 100)
    ended = caddie("talk", "--json", "--log", str(path), typed=f"{SHOT}\nholed it\n")
    assert ended.code == 0 and not talked(ended)[1]["logged"]
    assert path.read_bytes() == b"this is no log" * 100


def test_competition_from_the_start(caddie):
    ended = caddie("talk", "--json", "--no-log", "--competition", typed=f"{SHOT}\nwhy\n")
    turns = talked(ended)
    assert [turn["mode"] for turn in turns] == ["competition"] * 2
    assert all(turn["advice"] is None and "4.3a" in turn["spoken"] for turn in turns)


def test_the_same_seed_gives_the_same_talk(caddie):
    typed = f"{SHOT}\nwhat about the gap wedge?\nwhy\n"
    first = caddie("talk", "--json", "--no-log", "--seed", "4", typed=typed)
    assert first.out == caddie("talk", "--json", "--no-log", "--seed", "4", typed=typed).out


def test_an_unreadable_bag_ends_in_one_line(caddie, tmp_path):
    ended = caddie("talk", "--bag", str(tmp_path / "none.toml"), typed=f"{SHOT}\n")
    assert ended.code == 2 and len(ended.err.strip().splitlines()) == 1
