"""The log file: SQLite with a write-ahead log, one transaction a shot; what is acknowledged is on disk.

``synchronous = FULL`` makes every commit wait for the disk, so a shot whose id was returned survives the
end of the process and of the machine's power. Nothing is ever written over a file that cannot be read.
"""

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Any, NamedTuple, Self, Unpack

from caddie.errors import CaddieError
from caddie.keeping import refused
from caddie.log.damage import CHANGED, LeftOut, UnreadableError, left_out, shot_from
from caddie.log.opening import explain, open_to_read, open_to_write
from caddie.log.seals import (
    FIGURES,
    SHOT_COLUMNS,
    WHOLE,
    count_anew,
    count_in,
    digest,
    lenient_text,
    missed,
    seal,
    take_hole_out,
)
from caddie.log.shot import Mode, Shot, ToldLater, columns_of
from caddie.places import home
from caddie.situation import Result

FILE_NAME = "log.sqlite3"
MEND = "'caddie log undo --damaged' takes out what cannot be read"

_SHOT_FIELDS = slice(1, 1 + len(SHOT_COLUMNS))


class Entry(NamedTuple):
    """A shot and its number in the log."""

    id: int
    shot: Shot


class Log:
    """The log in one file, for one thread; several processes may have it open at once."""

    def __init__(self, path: Path | None = None, read_only: bool = False) -> None:
        """Open the log, ``log.sqlite3`` in the player's data directory when no path is given.

        A missing file is made unless ``read_only``. Raises `CaddieError` when the file or its folder cannot
        be used, in one line that says why and what to do.
        """
        self.path = path or home() / FILE_NAME
        self.left_out: dict[int, LeftOut] = {}
        """The shots that were to be read and cannot be, by number."""
        self.missed = ""
        """What is wrong with the number of shots, when they were last read; empty when nothing is."""
        with self._told("opened"):
            self.connection = open_to_read(self.path) if read_only else open_to_write(self.path)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.connection.close()

    def add(self, shot: Shot) -> int:
        """Keep a shot; its number in the log is returned once it is on disk.

        Raises:
            CaddieError: if it could not be kept; the shots before it are.
        """
        return self.add_all([shot])[0]

    def add_all(self, shots: Sequence[Shot]) -> list[int]:
        """Keep several shots in one transaction, all or none; their numbers once they are on disk.

        Raises:
            CaddieError: if they could not be kept.
        """
        with self.transaction("written"):
            return [self.keep("shots", shot_fields(shot)) for shot in shots]

    def keep(self, table: str, fields: dict[str, object]) -> int:
        """Add a row and its checksum inside a :meth:`transaction`; its number."""
        marks = ", ".join("?" * len(fields))
        query = f"INSERT INTO {table} ({', '.join(fields)}) VALUES ({marks})"
        number = int(self.connection.execute(query, list(fields.values())).lastrowid or 0)
        seal(self.connection, table, [number])
        count_in(self.connection, table, 1, number)
        return number

    def entries(
        self,
        player: str | None = None,
        modes: Sequence[Mode] = (),
        after_id: int = 0,
        last: int | None = None,
    ) -> list[Entry]:
        """The shots with their numbers, oldest first: of one player, in some modes, the ``last`` so many.

        A shot that cannot be read is left out, and is in :attr:`left_out`.

        Raises:
            CaddieError: if the file is damaged so that nothing of it can be read.
        """
        found: list[Entry] = []
        for number, row, reason in self._newest_first("shots", WHOLE["shots"], "digest"):
            if len(found) == last:
                break
            try:
                shot = self._shot(row, reason)
            except UnreadableError:
                continue
            if number <= after_id:
                break
            if (player is None or shot.player == player) and (not modes or shot.mode in modes):
                found.append(Entry(number, shot))
        return found[::-1]

    def figure_rows(
        self, player: str | None = None, modes: Sequence[Mode] = (), after_id: int = 0
    ) -> list[tuple[Any, ...]]:
        """The columns :data:`caddie.log.seals.FIGURES` of the shots that :meth:`entries` would give.

        Raises:
            CaddieError: if the file is damaged so that nothing of it can be read.
        """
        found: list[tuple[Any, ...]] = []
        for number, row, reason in self._newest_first("shots", FIGURES, "figures_digest"):
            if reason:
                self.leave_out(number, reason)
            elif number <= after_id:
                break
            elif (player is None or row[3] == player) and (not modes or row[2] in modes):
                found.append(row)
        return found[::-1]

    def leave_out(self, number: int, reason: str) -> None:
        """Put a shot that cannot be read among those left out, with the field that is wrong if one is."""
        query = f"SELECT {WHOLE['shots']} FROM shots WHERE id = ?"
        with self._told("read"):
            self.connection.text_factory = lenient_text
            row = self.connection.execute(query, [number]).fetchone()
        if row is None:
            self.left_out[number] = left_out(number, None, reason)
            return
        try:
            self._shot(row, reason)
        except UnreadableError:
            return

    def kept(self, table: str) -> list[tuple[Any, ...]]:
        """The rows of ``lessons``, ``games`` or ``holes``, oldest first, with the columns of ``WHOLE``.

        Raises:
            CaddieError: if one of them is not as it was written, or one is missing.
        """
        found: list[tuple[Any, ...]] = []
        for number, row, reason in self._newest_first(table, WHOLE[table], "digest"):
            if reason:
                raise CaddieError(
                    f"{self.path}: number {number} of the {table} cannot be read: {reason}; {MEND}"
                )
            found.append(row)
        with self._told("read"):
            wrong = missed(self.connection, table)
        if wrong:
            raise CaddieError(f"{self.path}: {wrong}; {MEND}")
        return found[::-1]

    def _newest_first(
        self, table: str, columns: str, checksum: str
    ) -> Iterator[tuple[int, tuple[Any, ...], str]]:
        """Number, row, and what is wrong with it, if anything.

        Nothing is looked up by number or name: a damaged one would be passed over in silence.
        """
        query = f"SELECT {columns}, {checksum} FROM {table} NOT INDEXED ORDER BY id DESC"
        before: int | None = None
        given = 0
        with self._told("read"):
            if table == "shots":
                self.missed = missed(self.connection, table)
            # Reading bytes that are no text as such takes its time, so it waits until there are some.
            for self.connection.text_factory in (str, lenient_text):
                try:
                    for row in islice(self.connection.execute(query), given, None):
                        sound = row[-1] == digest(row[:-1]) and (before is None or row[0] < before)
                        before = row[0] if sound else before
                        given += 1
                        yield row[0], row[:-1], "" if sound else CHANGED
                    return
                except sqlite3.OperationalError:
                    if self.connection.text_factory is lenient_text:
                        raise

    def shots(
        self,
        player: str | None = None,
        modes: Sequence[Mode] = (),
        after_id: int = 0,
        last: int | None = None,
    ) -> list[Shot]:
        """The shots of :meth:`entries` without their numbers."""
        return [entry.shot for entry in self.entries(player, modes, after_id, last)]

    def rows(self, query: str, values: Iterable[object] = ()) -> list[tuple[object, ...]]:
        """What a query on the tables of :mod:`caddie.log.migrations` finds, unchecked.

        Raises:
            CaddieError: if the file is damaged.
        """
        with self._told("read"):
            return self.connection.execute(query, tuple(values)).fetchall()

    def players(self) -> list[str]:
        """Who has shots in the log, in the order of their first one."""
        return list(dict.fromkeys(str(row[3]) for row in self.figure_rows()))

    def count(self, player: str | None = None) -> int:
        """How many shots there are that can be counted."""
        return len(self.figure_rows(player))

    def amend(self, number: int, result: Result, **later: Unpack[ToldLater]) -> None:
        """Put what was told later of a kept shot in its place; what is None stays as it is.

        Raises:
            CaddieError: if the file cannot be written; the shot is then as it was.
        """
        told = {"result": result.model_dump_json(exclude_defaults=True), **columns_of(later)}
        with self.transaction("written"):
            query = f"SELECT {WHOLE['shots']}, digest FROM shots WHERE id = ?"
            row = self.connection.execute(query, [number]).fetchone()
            if row is None or row[-1] != digest(row[:-1]):
                raise CaddieError(f"{self.path}: shot {number} cannot be added to: {CHANGED}")
            for column, value in told.items():
                self.connection.execute(f"UPDATE shots SET {column} = ? WHERE id = ?", [value, number])
            seal(self.connection, "shots", [number])

    def remove(self, number: int) -> bool:
        """Take the shot with this number out; whether it was there.

        Raises:
            CaddieError: if the file cannot be written.
        """
        with self.transaction("written"):
            gone = self.connection.execute("DELETE FROM shots WHERE id = ?", [number]).rowcount
            if gone:
                count_in(self.connection, "shots", -gone, -gone * number)
                take_hole_out(self.connection, number)
            return gone > 0

    def damaged(self) -> tuple[list[LeftOut], list[str]]:
        """The rows that cannot be read, of shots, lessons and games, and what is wrong with their numbers.

        Raises:
            CaddieError: if the file is damaged so that nothing of it can be read.
        """
        found: list[LeftOut] = []
        self.entries()
        for number, _, reason in self._newest_first("shots", FIGURES, "figures_digest"):
            if reason and number not in self.left_out:
                self.leave_out(number, reason)
        for table in ("lessons", "games", "holes"):
            for number, row, reason in self._newest_first(table, WHOLE[table], "digest"):
                if reason:
                    found.append(left_out(number, row[1], reason, table))
        with self._told("read"):
            counts = [missed(self.connection, table) for table in WHOLE]
        return [*self.left_out.values(), *found], [each for each in counts if each]

    def mend(self, rows: Sequence[LeftOut]) -> None:
        """Take these rows out, and count what is there as what was written.

        Raises:
            CaddieError: if the file cannot be written.
        """
        with self.transaction("written"):
            for row in rows:
                # The sign keeps SQLite from looking the number up where it should be.
                self.connection.execute(f"DELETE FROM {row.table} WHERE +id = ?", [row.number])
            count_anew(self.connection)
        self.left_out.clear()

    def forget(self, player: str | None = None, before: datetime | None = None) -> int:
        """Erase shots, lessons and games for good, so that nothing of them stays in the file; how many shots.

        Of one ``player``, up to ``before``, or everything. A game goes with any of its players.

        Raises:
            CaddieError: if another program has the log open, or the file cannot be written.
        """
        until = before and utc_text(before)
        with self.transaction("written"):
            gone = 0
            for table in ("shots", "lessons", "games", "holes"):
                terms: list[str] = []
                values: list[object] = []
                if player is not None:
                    terms.append(
                        "EXISTS (SELECT 1 FROM json_each(points) WHERE key = ?)"
                        if table == "games"
                        else "player = ?"
                    )
                    values.append(player)
                if until is not None:
                    terms.append("time < ?")
                    values.append(until)
                where = f" WHERE {' AND '.join(terms)}" if terms else ""
                sums = f"SELECT count(*), coalesce(sum(id), 0) FROM {table}{where}"
                held, ids = self.connection.execute(sums, values).fetchone()
                count_in(self.connection, table, -held, -ids)
                deleted = self.connection.execute(f"DELETE FROM {table}{where}", values).rowcount
                gone += deleted if table == "shots" else 0
            if player is None and before is None:
                count_anew(self.connection)
        with self._told("erased"):
            self.connection.execute("VACUUM")
            busy = self.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
        if busy:
            raise CaddieError(
                f"{self.path}: forgotten, but another program has the log open, so traces stay in the file; "
                "close it and run forget again"
            )
        return gone

    @contextmanager
    def transaction(self, done: str) -> Iterator[None]:
        """All of what is written inside, or nothing; on disk when it ends. ``done`` names it in an error."""
        with self._told(done):
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                yield
                self.connection.execute("COMMIT")
            except BaseException:
                if self.connection.in_transaction:
                    self.connection.execute("ROLLBACK")
                raise

    @contextmanager
    def _told(self, done: str) -> Iterator[None]:
        try:
            yield
        except (sqlite3.Error, UnicodeDecodeError) as error:
            raise CaddieError(explain(self.path, done, error)) from error
        except OSError as error:
            raise CaddieError(refused(self.path, f"the log cannot be {done}", error)) from error

    def _shot(self, row: Sequence[Any], reason: str) -> Shot:
        """The shot of a row; one that is none, or was changed, goes among those left out."""
        fields = dict(zip(SHOT_COLUMNS, row[_SHOT_FIELDS], strict=True))
        try:
            shot = shot_from(fields)
            if reason:
                raise UnreadableError(reason)
        except UnreadableError as error:
            self.left_out[row[0]] = left_out(row[0], fields["time"], str(error))
            raise
        return shot


def utc_text(moment: datetime) -> str:
    """A moment in the one form that the log keeps, whose order as text is its order in time."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def shot_fields(shot: Shot) -> dict[str, object]:
    """A shot as the columns of its row."""
    values = (
        utc_text(shot.time),
        shot.mode,
        shot.player,
        shot.sentence,
        shot.situation.model_dump_json(exclude_defaults=True),
        None if shot.advice is None else json.dumps(shot.advice, ensure_ascii=False, separators=(",", ":")),
        shot.club,
        shot.swing,
        shot.family,
        shot.flight,
        shot.result.model_dump_json(exclude_defaults=True),
        shot.commitment,
        shot.cue,
        shot.down_in,
    )
    return dict(zip(SHOT_COLUMNS, values, strict=True))
