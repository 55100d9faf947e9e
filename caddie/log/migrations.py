"""The log file's form, step by step: a file of any age is brought up to date when it is opened.

``PRAGMA user_version`` counts the steps taken. A step is never changed once released; a new one goes last.
"""

import sqlite3

from caddie.errors import CaddieError

SHOTS = """
CREATE TABLE shots (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    mode TEXT NOT NULL,
    player TEXT NOT NULL,
    sentence TEXT NOT NULL,
    situation TEXT NOT NULL CHECK (json_valid(situation)),
    advice TEXT CHECK (advice IS NULL OR json_valid(advice)),
    club TEXT,
    swing TEXT,
    family TEXT,
    flight TEXT,
    result TEXT NOT NULL CHECK (json_valid(result))
);
CREATE INDEX shots_by_player_and_time ON shots (player, time);
"""

COMMITMENT = """
ALTER TABLE shots ADD COLUMN commitment TEXT;
ALTER TABLE shots ADD COLUMN cue TEXT;
ALTER TABLE shots ADD COLUMN down_in INTEGER;
"""

LESSONS = """
CREATE TABLE lessons (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    time TEXT NOT NULL,
    player TEXT NOT NULL,
    last_shot_id INTEGER NOT NULL,
    bag_before TEXT NOT NULL,
    bag_after TEXT NOT NULL,
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

MIGRATIONS: tuple[str, ...] = (SHOTS, COMMITMENT, LESSONS, GAMES)
"""In order; the n-th takes a file from version n - 1 to version n."""


def version_of(connection: sqlite3.Connection) -> int:
    """How many steps the file has taken."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


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
        if version > len(MIGRATIONS):
            raise CaddieError(
                f"{place}: written by a newer caddie (log version {version}, this one reads up to "
                f"{len(MIGRATIONS)}); install the newer version"
            )
        for step in MIGRATIONS[version:]:
            for statement in step.split(";\n"):
                if statement.strip():
                    connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
