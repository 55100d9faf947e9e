"""Log files that another program or a prankster made: refused in one line, and never changed."""

import contextlib
import json
import shutil
import sqlite3
import time

import pytest
from invented import invented_season

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.log.export import Form, exported, read_lines
from caddie.log.lessons import taught
from caddie.log.line import shot_line
from caddie.log.migrations import MIGRATIONS
from caddie.log.seals import seal_all
from caddie.log.store import Log
from caddie.log.table import read_table
from caddie.units import Unit

DOCUMENTS = [
    "null", "1", "[]", "{}", '"x"', '{"pin_m":1e999}', '{"pin_m":"x"}', '{"pin_m":-5}',
    f'{{"pin_m":{"9" * 5000}}}', '{"lie":"moon"}', '{"lie":5}', '{"hazards":5}', '{"hazards":[1]}',
    '{"hazards":[{}]}', '{"hazards":"x"}', '{"side":"x"}', '{"side":5}', '{"side":{"a":1}}',
    '{"distance_m":[1]}', '{"strike":"zz"}', '{"finish":[1]}', '{"club":[1],"carry_m":"abc"}',
    "[" * 900 + "]" * 900, '{"share":' + "[" * 900 + "]" * 900 + "}",
]  # fmt: skip
VALUES = [
    "'x'", "5", "-1e300", "9e999", "x'00ff'", "'2026-13-45T99:99'", "''", "'\x1b[2J'", "zeroblob(9000000)",
    "'9999-12-31T23:59:59.999999+00:00'", "'0001-01-01T00:00:00-23:59'", "'2026-01-01'", "9223372036854775807",
]  # fmt: skip
PLAIN = (
    "time",
    "mode",
    "player",
    "club",
    "swing",
    "family",
    "flight",
    "commitment",
    "cue",
    "down_in",
    "sentence",
)


def change(path, *statements):
    connection = sqlite3.connect(path)
    for statement in statements:
        connection.execute(statement)
    connection.commit()
    connection.close()
    return path


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    path = tmp_path_factory.mktemp("season") / "log.sqlite3"
    with Log(path) as log:
        log.add_all(invented_season(1))
    return path


def shown(path):
    with Log(path, read_only=True) as log:
        entries = list(log.entries())
    "".join(shot_line(entry, Unit.YARDS) for entry in entries)
    for form in Form:
        "".join(exported([entry.shot for entry in entries], form))


def tabled(path, bag: Bag):
    with Log(path, read_only=True) as log:
        taught(log, bag)
        read_table(log)


def sealed(path):
    """The checksums of a file made to fit what is in it."""
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as connection:
        seal_all(connection)
    return path


@pytest.mark.parametrize("checksums", ["wrong", "right"])
@pytest.mark.parametrize("column", ["situation", "result", "advice", *PLAIN])
def test_any_value_in_any_column(column, checksums, season, tmp_path, bag, watched):
    values = VALUES if column in PLAIN else [f"'{document}'" for document in DOCUMENTS]
    for value in values:
        path = shutil.copy(season, tmp_path / "log.sqlite3")
        change(path, f"UPDATE shots SET {column} = {value} WHERE id = 3")
        if checksums == "right":
            sealed(path)
        watched(shown, path)
        watched(tabled, path, bag)


def test_a_lesson_that_is_none(season, tmp_path, bag, watched):
    path = shutil.copy(season, tmp_path / "log.sqlite3")
    columns = "time, player, last_shot_id, bag_before, changes"
    change(path, f"INSERT INTO lessons ({columns}) VALUES ('x', '{bag.player.name}', 9e999, 'x', '[1]')")
    assert "number 1 of the lessons cannot be read: it is not as it was written" in watched(tabled, path, bag)
    sealed(path)
    assert "a lesson in it cannot be read" in watched(tabled, path, bag)


NEWEST = f"PRAGMA user_version = {len(MIGRATIONS)}"
ENDLESS = "WITH RECURSIVE r(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM r) SELECT n AS id, n AS time FROM r"
FOREIGN = {
    "another program's": ["CREATE TABLE moz_places (url)"],
    "another program's shots": ["CREATE TABLE shots (x)"],
    "another program's, with our version": ["CREATE TABLE shots (x)", NEWEST],
    "an endless view": [f"CREATE VIEW shots AS {ENDLESS}", NEWEST],
    "an old version of nothing": ["PRAGMA user_version = 1"],
    "a version of the future": ["PRAGMA user_version = 99"],
    "a version before the first": ["CREATE TABLE t (x)", "PRAGMA user_version = -5"],
}


@pytest.mark.parametrize("statements", FOREIGN.values(), ids=FOREIGN)
def test_a_foreign_file_is_refused_and_stays_as_it_is(statements, tmp_path, watched):
    path = change(tmp_path / "foreign.sqlite3", *statements)
    before = path.read_bytes()
    assert watched(shown, path)
    assert watched(Log, path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("body", ["DELETE FROM shots", "INSERT INTO games (time) SELECT sentence FROM shots"])
def test_a_trigger_is_refused(body, season, tmp_path, watched):
    path = shutil.copy(season, tmp_path / "log.sqlite3")
    change(path, f"CREATE TRIGGER t AFTER DELETE ON shots BEGIN {body}; END")
    for act in (shown, Log):
        assert "its tables are other ones" in watched(act, path)


@pytest.mark.parametrize("content", [b"dear diary\n" * 1000, b"SQLite format 3\0" * 300, b"\0" * 5000])
def test_a_file_that_is_no_database_stays_as_it_is(content, tmp_path, watched):
    path = tmp_path / "diary.txt"
    path.write_bytes(content)
    assert watched(shown, path)
    assert watched(Log, path)
    assert path.read_bytes() == content


@pytest.mark.parametrize(
    "line",
    ["{}" * 2, '{"time": 1e999}', '{"time": "0001-01-01T00:00:00-23:59"}', "[" * 100_000, '"x"', "\ud800",
     '{"advice": ' + '{"a":' * 500 + "1" + "}" * 501, json.dumps({"player": "x" * 10**6, "mode": 5})],
)  # fmt: skip
def test_an_exported_file_that_was_edited(line, tmp_path, watched):
    path = tmp_path / "shots.jsonl"
    path.write_bytes(b"{}\n" + line.encode("utf-8", "surrogatepass") + b"\n")
    assert "line 2" in watched(read_lines, path)


def test_an_exported_file_without_end(tmp_path):
    path = tmp_path / "shots.jsonl"
    path.write_text("{}\n" * 1_000_000)
    begun = time.process_time()
    with pytest.raises(CaddieError, match="more than 120000 lines"):
        read_lines(path)
    assert time.process_time() - begun < 5
