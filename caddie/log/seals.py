"""Checksums of the log: a damaged row is found out, and a row that went missing is missed.

Each row holds a digest of all that is in it, with its number; a shot holds one more of what the figures are
worked out from, so that they need not read its documents. The tally holds, for each table, how many rows
there are and the sum of their numbers.
"""

import marshal
import sqlite3
from collections.abc import Iterable
from hashlib import blake2b
from typing import Any

SHOT_COLUMNS = (
    "time", "mode", "player", "sentence", "situation", "advice", "club", "swing", "family", "flight",
    "result", "commitment", "cue", "down_in",
)  # fmt: skip
"""What is written of a shot; the others follow from these."""
STORED_COLUMNS = (
    "pin_m", "lie", "level", "hazards", "as_advised", "advised_share", "advised_carry_m", "advised_run_m",
    "advised_leave_m", "advised_strokes", "distance_m", "side", "strike", "finish", "carry_m", "run_m",
)  # fmt: skip
"""What SQLite works out of a shot's documents when it is written."""
FIGURES = (
    "id, time, mode, player, club, swing, family, flight, pin_m, lie, level, hazards, as_advised, "
    "advised_share, advised_carry_m, advised_run_m, advised_leave_m, advised_strokes, "
    "CASE WHEN lie = 'green' AND json_extract(advice, '$.aim_left_m') IS NOT NULL "
    "THEN printf('%.6f', json_extract(advice, '$.aim_left_m')) END, distance_m, side, "
    "strike, finish, carry_m, run_m, commitment, cue, down_in"
)
"""What the figures are worked out from. The aim is taken from its document here, as text of six decimals: versions
of SQLite may read a decimal otherwise in its last bit, which is no damage."""
WHOLE = {
    "shots": f"id, {', '.join((*SHOT_COLUMNS, *STORED_COLUMNS))}",
    "lessons": "id, time, player, last_shot_id, bag_before, changes",
    "games": "id, time, name, points, detail",
    "holes": "id, time, player, shot_id, course, hole",
}
"""The columns that the digest of a row covers, for each table."""

_DIGEST_BYTES = 16
_FORM = 2
"""The second form of marshal: numbers as they are in memory, text as UTF-8, nothing shared."""


def digest(row: tuple[Any, ...]) -> bytes:
    """The checksum of a row as SQLite hands it out."""
    return blake2b(marshal.dumps(row, _FORM), digest_size=_DIGEST_BYTES).digest()


def lenient_text(raw: bytes) -> str:
    """Text that may hold bytes that are no UTF-8, as a damaged row does."""
    return raw.decode("utf-8", "surrogateescape")


def seal(connection: sqlite3.Connection, table: str, numbers: Iterable[int] | None = None) -> None:
    """Write the checksums of these rows, of all rows when none are named."""
    columns = WHOLE[table]
    strict, connection.text_factory = connection.text_factory, lenient_text
    try:
        if numbers is None:
            numbers = [row[0] for row in connection.execute(f"SELECT id FROM {table}").fetchall()]
        for number in numbers:
            row = connection.execute(f"SELECT {columns} FROM {table} WHERE id = ?", [number]).fetchone()
            sealed = {"digest": digest(row)}
            if table == "shots":
                sealed["figures_digest"] = digest(
                    connection.execute(f"SELECT {FIGURES} FROM shots WHERE id = ?", [number]).fetchone()
                )
            marks = ", ".join(f"{name} = ?" for name in sealed)
            connection.execute(f"UPDATE {table} SET {marks} WHERE id = ?", [*sealed.values(), number])
    finally:
        connection.text_factory = strict


def count_in(connection: sqlite3.Connection, table: str, rows: int, ids: int) -> None:
    """Add to the tally of a table; less than nothing for rows that are taken out."""
    connection.execute("UPDATE tally SET held = held + ?, ids = ids + ? WHERE kind = ?", [rows, ids, table])


def take_hole_out(connection: sqlite3.Connection, shot: int) -> None:
    """Take out on which hole a shot was played, inside the transaction that takes the shot out."""
    for (number,) in connection.execute("SELECT id FROM holes WHERE shot_id = ?", [shot]).fetchall():
        connection.execute("DELETE FROM holes WHERE id = ?", [number])
        count_in(connection, "holes", -1, -number)


def count_anew(connection: sqlite3.Connection) -> None:
    """Put what is there now in the tally."""
    connection.execute("DELETE FROM tally")
    for table in WHOLE:
        connection.execute(
            f"INSERT INTO tally (kind, held, ids) SELECT ?, count(*), coalesce(sum(id), 0) FROM {table}",
            [table],
        )


def missed(connection: sqlite3.Connection, table: str) -> str:
    """What is wrong with the number of rows in a table; empty when nothing is."""
    found, told = (
        connection.execute(query).fetchall()
        for query in (
            f"SELECT count(*), coalesce(sum(id), 0) FROM {table}",
            f"SELECT held, ids FROM tally WHERE kind = '{table}'",
        )
    )
    if found == told:
        return ""
    if len(told) == 1 and isinstance(told[0][0], int) and told[0][0] != found[0][0]:
        return f"{told[0][0]} {table} were written and {found[0][0]} are there"
    return f"the numbers of the {table} are not those that were written"


def seal_all(connection: sqlite3.Connection) -> None:
    """Seal a log from before there were checksums, as it is."""
    for table in WHOLE:
        seal(connection, table)
    count_anew(connection)
