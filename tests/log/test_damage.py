"""A damaged row is found out, named, left out and can be taken out; no damage changes a figure in silence."""

import contextlib
import json
import os
import random
import re
import sqlite3
import sys

import pytest

from caddie.bag import load_bag
from caddie.bag.file import save_bag
from caddie.errors import CaddieError
from caddie.log.change import Change, ChangeKind
from caddie.log.games import note_game, scores
from caddie.log.lessons import note_lesson, taught
from caddie.log.seals import digest, seal_all
from caddie.log.shot import Mode, Shot
from caddie.log.store import Log
from caddie.log.table import Table, read_table
from caddie.situation import Result, Strike

PLAYER = "Rowan Fenwick"
FLIPS = int(os.environ.get("CADDIE_FLIPS", "400"))
"""How many bytes of the small log are changed; 0 changes each of them."""


def change(path, *statements, sealed=False):
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)
        if sealed:
            seal_all(connection)


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def five(home, full_shot):
    """A log of five shots."""
    with Log() as log:
        log.add_all([full_shot.model_copy(update={"sentence": f"shot {n}"}) for n in range(1, 6)])
        return log.path


def sentences(path):
    with Log(path, read_only=True) as log:
        return [shot.sentence for shot in log.shots()]


BAD = {
    "situation = '{\"pin_m\": -4}'": r"situation\.pin_m is -4; it must be greater than",
    'situation = \'{"lie": "moon"}\'': r"situation\.lie is 'moon'; it must be ",
    "mode = 'dream'": "mode is 'dream'; it must be ",
    "time = 'yesterday'": "time is 'yesterday'; it must be a valid datetime",
    "down_in = 99": "down_in is 99; it must be less than or equal to 12",
    "player = ''": "player is ''; ",
}


@pytest.mark.parametrize("sealed", [True, False])
@pytest.mark.parametrize("bad", BAD)
def test_a_bad_field_is_named_in_plain_words_and_the_others_go_on(bad, sealed, five, caddie, home):
    save_bag(load_bag(), home / "bag.toml")
    change(five, f"UPDATE shots SET {bad} WHERE id = 3", sealed=sealed)
    day = "" if bad.startswith("time") else " of 2026-05-03"
    for words, other in (
        (("log", "show"), "shot 4"),
        (("log", "export", "--form", "jsonl"), "shot 4"),
    ):
        ended = caddie(*words)
        assert ended.code == 0
        assert other in ended.out
        assert "shot 3 " not in ended.out
        assert f"shot 3{day} is left out: " in ended.err
        found = ended.err.split("is left out: ")[1].splitlines()[0]
        assert re.match(BAD[bad], found), found
        assert "http" not in ended.err
        assert "1 shot left out; 'caddie log undo --damaged' takes out what cannot be read" in ended.err
    for words in (
        ("log", "teach", "--json"),
        ("practice", "next"),
        ("report", "--out", str(home / "r.html")),
    ):
        ended = caddie(*words)
        assert ended.code == 0, ended.err
        assert "Traceback" not in ended.err
        if not sealed or ("99" not in bad and "''" not in bad):
            assert "shot 3" in ended.err


def test_a_row_is_taken_out_when_that_is_agreed(five, caddie):
    change(five, "UPDATE shots SET club = '9' WHERE id IN (2, 4)")
    refused = caddie("log", "undo", "--damaged", typed="n\n")
    assert "shot 2 of 2026-05-03 is left out: it is not as it was written" in refused.out
    assert "Left in." in refused.out
    assert caddie("log", "undo", "--damaged").code == 2
    assert json.loads(caddie("log", "undo", "--damaged", "--json").out) == {"removed": 0, "done": False}
    assert "Left in." in caddie("log", "undo", "--shot", "2", typed="n\n").out
    one = caddie("log", "undo", "--shot", "2", "--yes")
    assert "shot 2 of 2026-05-03 is left out" in one.out
    assert "Taken out." in one.out
    assert "1 row taken out." in caddie("log", "undo", "--damaged", "--yes").out
    assert sentences(five) == ["shot 1", "shot 3", "shot 5"]
    assert caddie("log", "show").err == ""
    assert "Everything in the log can be read." in caddie("log", "undo", "--damaged").out


def test_any_shot_is_taken_out_by_its_number(five, caddie):
    assert "shot 2" in caddie("log", "undo", "--shot", "2", "--yes").out
    assert sentences(five) == ["shot 1", "shot 3", "shot 4", "shot 5"]
    assert "there is no shot 2" in caddie("log", "undo", "--shot", "2", "--yes").err


def test_many_damaged_rows_are_counted(five, full_shot, caddie):
    with Log() as log:
        log.add_all([full_shot] * 20)
    change(five, "UPDATE shots SET cue = 'x'")
    err = caddie("log", "show").err
    assert err.count("is left out:") == 5
    assert "and 20 more are left out" in err
    assert "25 shots left out" in err


def test_a_missing_row_is_missed_and_the_count_can_be_put_right(five, caddie):
    change(five, "DELETE FROM shots WHERE id = 2")
    ended = caddie("log", "show")
    assert "5 shots were written and 4 are there" in ended.err
    assert "shot 3" in ended.out
    assert "taken out" in caddie("log", "undo", "--damaged", "--yes").out
    assert caddie("log", "show").err == ""


def test_what_caddie_does_itself_leaves_no_damage(log, full_shot):
    log.add_all([full_shot] * 6)
    log.amend(2, Result(strike=Strike.THIN))
    log.remove(3)
    note_lesson(log, load_bag(), 4, [])
    note_game(log, "ladder", {"Ash": 3})
    log.forget(player="nobody")
    assert log.damaged() == ([], [])
    log.forget(player=full_shot.player)
    assert log.damaged() == ([], [])
    log.add(full_shot)
    log.forget()
    assert log.damaged() == ([], [])


def test_a_damaged_shot_is_not_added_to(log, full_shot):
    log.add(full_shot)
    log.connection.execute("UPDATE shots SET club = '9'")
    with pytest.raises(CaddieError, match="shot 1 cannot be added to: it is not as it was written"):
        log.amend(1, Result(strike=Strike.THIN))
    assert log.damaged()[0][0].number == 1


def test_the_checksum_is_the_same_on_every_python():
    """Pinned, so that a log written by one version is read by another."""
    row = (7, "2026-05-03", None, 27.4, "“tight” pin", -3, float("inf"), b"\x00\xff")
    assert digest(row).hex() == "f406da55823eccc9efbee4555e1ac969"
    assert digest((sys.intern("a_name"),)) == digest(("".join(["a_", "name"]),))


def test_a_log_from_before_is_sealed_with_its_damage(tmp_path, full_shot):
    """Bytes that are no UTF-8 in an old log stop neither the step nor the other rows."""
    path = tmp_path / "old.sqlite3"
    with Log(path) as log:
        log.add_all([full_shot, full_shot])
    change(
        path,
        "UPDATE shots SET sentence = CAST(x'ff41' AS TEXT) WHERE id = 1",
        "DROP TABLE tally",
        "DROP TABLE holes",
        *(f"ALTER TABLE {table} DROP COLUMN digest" for table in ("shots", "lessons", "games")),
        "ALTER TABLE shots DROP COLUMN figures_digest",
        "CREATE INDEX shots_by_player_and_time ON shots (player, time)",
        "PRAGMA user_version = 3",
    )
    with Log(path) as log:
        assert len(log.entries()) >= 1
        assert len(read_table(log)) == 2


# One byte of the file changed.


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """A log of two players with a lesson and a game, and all that is read of it."""
    path = tmp_path_factory.mktemp("small") / "log.sqlite3"
    draw = random.Random(4)
    bag = load_bag()
    with Log(path) as log:
        for n in range(24):
            log.add(
                Shot(
                    time=f"2026-05-{1 + n:02d}T10:00:00Z", player=PLAYER if n % 3 else "Ash",
                    mode=Mode.RANGE if n % 5 == 0 else Mode.PRACTICE, sentence=f"said {n} " + "x" * (n % 7),
                    situation={"pin_m": draw.uniform(1, 60), "lie": "green" if n % 4 == 0 else "fairway"},
                    advice={"club": "56", "carry_m": draw.uniform(5, 40), "aim_left_m": 0.2}, club="56",
                    swing="hip", result={"carry_m": draw.uniform(5, 40), "side": ["left"]}, down_in=2,
                )
            )  # fmt: skip
        told = Change(
            kind=ChangeKind.CARRY, club="56", swing="hip", before=1, after=2, se=1, shots=3, sentence="x"
        )
        note_lesson(log, bag, 12, [told])
        note_game(log, "ladder", {"Ash": 3.0, PLAYER: 5.0}, "close")
    return path


def all_read(path):
    """Everything read of a log, and whether anything was reported."""
    changed = load_bag().model_copy(update={"trust": {}})
    read = {}
    reported = False

    def take(name, act):
        nonlocal reported
        try:
            with Log(path, read_only=True) as log:
                read[name] = act(log)
                reported = reported or bool(log.left_out or log.missed)
        except CaddieError as error:
            reported = "\n" not in str(error)

    def columns(table):
        return [
            column.tobytes() if column.dtype != object else tuple(column)
            for column in (getattr(table, name) for name in Table.__dataclass_fields__)
        ]

    take("all", lambda log: columns(read_table(log)))
    take("one", lambda log: columns(read_table(log, PLAYER, (Mode.PRACTICE,), after_id=12)))
    take("entries", lambda log: log.entries())
    take("last", lambda log: log.entries(PLAYER, last=5))
    take("count", lambda log: (log.count(PLAYER), log.players()))
    take("taught", lambda log: taught(log, changed))
    take("scores", lambda log: scores(log))
    return read, reported


def test_no_byte_that_changes_changes_a_figure_in_silence(small, tmp_path):
    content = small.read_bytes()
    told, reported = all_read(small)
    assert not reported
    assert told["taught"].up_to == 12
    places = (
        range(len(content)) if FLIPS == 0 else sorted(random.Random(FLIPS).sample(range(len(content)), FLIPS))
    )
    path = tmp_path / "log.sqlite3"
    silent, seen = [], 0
    for place in places:
        flipped = bytearray(content)
        flipped[place] ^= 1 << (place * 7 % 8)
        path.write_bytes(flipped)
        read, reported = all_read(path)
        seen += reported
        if not reported and read != told:
            silent.append(place)
    assert not silent
    assert seen > len(places) // 10, "too few changes hit anything"
