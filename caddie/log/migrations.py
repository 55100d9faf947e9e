"""The log file's form, step by step: a file of any age is brought up to date when it is opened.

``PRAGMA user_version`` counts the steps taken. A step is never changed once released; a new one goes last.
"""

import contextlib
import sqlite3
from collections.abc import Sequence
from functools import lru_cache

from caddie.errors import CaddieError
from caddie.log.seals import seal_all

SHOTS = """
CREATE TABLE shots (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    mode TEXT NOT NULL,
    player TEXT NOT NULL,
    club TEXT,
    swing TEXT,
    family TEXT,
    flight TEXT,
    commitment TEXT,
    cue TEXT,
    down_in INTEGER,
    pin_m REAL AS (json_extract(situation, '$.pin_m')) STORED,
    lie TEXT AS (json_extract(situation, '$.lie')) STORED,
    level INTEGER AS (
        json_extract(situation, '$.stance') IS NULL AND json_extract(situation, '$.wind') IS NULL
        AND coalesce(json_extract(situation, '$.elevation_m'), 0) = 0
    ) STORED,
    hazards TEXT AS (json_extract(situation, '$.hazards')) STORED,
    as_advised INTEGER AS (
        club IS json_extract(advice, '$.club') AND swing IS json_extract(advice, '$.swing')
        AND flight IS json_extract(advice, '$.flight') AND advice IS NOT NULL
    ) STORED,
    advised_share REAL AS (json_extract(advice, '$.share')) STORED,
    advised_carry_m REAL AS (json_extract(advice, '$.carry_m')) STORED,
    advised_run_m REAL AS (json_extract(advice, '$.run_m')) STORED,
    advised_leave_m REAL AS (json_extract(advice, '$.leave_m')) STORED,
    advised_strokes REAL AS (json_extract(advice, '$.strokes')) STORED,
    distance_m REAL AS (json_extract(result, '$.distance_m')) STORED,
    side TEXT AS (json_extract(result, '$.side')) STORED,
    strike TEXT AS (json_extract(result, '$.strike')) STORED,
    finish TEXT AS (json_extract(result, '$.finish')) STORED,
    carry_m REAL AS (json_extract(result, '$.carry_m')) STORED,
    run_m REAL AS (json_extract(result, '$.run_m')) STORED,
    sentence TEXT NOT NULL,
    situation TEXT NOT NULL CHECK (json_valid(situation)),
    result TEXT NOT NULL CHECK (json_valid(result)),
    advice TEXT CHECK (advice IS NULL OR json_valid(advice))
);
CREATE INDEX shots_by_player_and_time ON shots (player, time);
"""
"""The figures are worked out from the stored columns: reading a hundred thousand documents takes seconds.

They stand before the documents, so that a scan does not have to walk over those.
"""

LESSONS = """
CREATE TABLE lessons (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    player TEXT NOT NULL,
    last_shot_id INTEGER NOT NULL,
    bag_before TEXT NOT NULL,
    changes TEXT NOT NULL CHECK (json_valid(changes))
);
"""

GAMES = """
CREATE TABLE games (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    name TEXT NOT NULL,
    points TEXT NOT NULL CHECK (json_valid(points)),
    detail TEXT NOT NULL
);
"""

SEALS = """
DROP INDEX shots_by_player_and_time;
ALTER TABLE shots ADD COLUMN digest BLOB;
ALTER TABLE shots ADD COLUMN figures_digest BLOB;
ALTER TABLE lessons ADD COLUMN digest BLOB;
ALTER TABLE games ADD COLUMN digest BLOB;
CREATE TABLE tally (
    kind TEXT NOT NULL,
    held INTEGER NOT NULL,
    ids INTEGER NOT NULL
);
"""
"""The columns and the table of :mod:`caddie.log.seals`.

Every read goes over the rows themselves, the only place that the checksums cover, so there is no index.
"""

HOLES = """
CREATE TABLE holes (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    player TEXT NOT NULL,
    shot_id INTEGER NOT NULL,
    course TEXT NOT NULL,
    hole INTEGER NOT NULL,
    digest BLOB
);
INSERT INTO tally (kind, held, ids) SELECT 'holes', 0, 0 WHERE EXISTS (SELECT 1 FROM tally);
"""
"""On which hole a shot was played, where that is known; time and player are the shot's, to be erased with it."""

MIGRATIONS: tuple[str, ...] = (SHOTS, LESSONS, GAMES, SEALS, HOLES)
"""In order; the n-th takes a file from version n - 1 to version n."""
_SEALED_SINCE = 4


def version_of(connection: sqlite3.Connection) -> int:
    """How many steps the file has taken."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def check_form(connection: sqlite3.Connection, place: str) -> None:
    """See that a file, of whatever version, has the tables of a log and nothing that acts by itself.

    Raises:
        CaddieError: if it has other tables, a view or a trigger, or a newer caddie wrote it.
    """
    connection.execute("BEGIN")
    try:
        version, found = version_of(connection), _form(connection)
    finally:
        # A full disk ends the transaction by itself.
        if connection.in_transaction:
            connection.execute("COMMIT")
    _refuse_newer(version, place)
    if found != _log_form(max(version, 0)):
        raise CaddieError(f"{place}: is no log of caddie, its tables are other ones; name another with --log")


def _form(connection: sqlite3.Connection) -> set[tuple[str, str, str]]:
    """Kind, name and text of every table, view and trigger."""
    query = (
        "SELECT type, name, sql FROM sqlite_master WHERE type != 'index' AND substr(name, 1, 7) != 'sqlite_'"
    )
    return set(connection.execute(query))


@lru_cache
def _log_form(version: int) -> set[tuple[str, str, str]]:
    with contextlib.closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        _take(connection, MIGRATIONS[:version])
        return _form(connection)


def migrate(connection: sqlite3.Connection, place: str) -> None:
    """Take the steps that the file lacks, each whole or not at all.

    Raises:
        CaddieError: if a newer caddie wrote the file.
    """
    if version_of(connection) == len(MIGRATIONS):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Read again under the lock: another process may have migrated in between.
        version = version_of(connection)
        _refuse_newer(version, place)
        _take(connection, MIGRATIONS[max(version, 0) :])
        if version < _SEALED_SINCE:
            seal_all(connection)
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _refuse_newer(version: int, place: str) -> None:
    if version > len(MIGRATIONS):
        raise CaddieError(
            f"{place}: written by a newer caddie (log version {version}, this one reads up to "
            f"{len(MIGRATIONS)}); install the newer version"
        )


def _take(connection: sqlite3.Connection, steps: Sequence[str]) -> None:
    for step in steps:
        for statement in step.split(";\n"):
            if statement.strip():
                connection.execute(statement)
