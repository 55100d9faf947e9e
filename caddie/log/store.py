"""The log file: SQLite with a write-ahead log, one transaction a shot; what is acknowledged is on disk.

``synchronous = FULL`` makes every commit wait for the disk, so a shot whose id was returned survives the
end of the process and of the machine's power. Nothing is ever written over a file that cannot be read.
"""

import json
import sqlite3
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import NamedTuple, Self

from pydantic import ValidationError

from caddie.errors import CaddieError
from caddie.keeping import guarded, make_file, refused
from caddie.log.migrations import MIGRATIONS, check_form, migrate, version_of
from caddie.log.shot import Commitment, Mode, Shot
from caddie.places import home
from caddie.situation import Result

FILE_NAME = "log.sqlite3"
LONGEST_VALUE_BYTES = 1_000_000
BUSY_S = 10.0
"""How long a writer waits for another program that is writing."""

_COLUMNS = (
    "time, mode, player, sentence, situation, advice, club, swing, family, flight, result, commitment, cue, "
    "down_in"
)
_INSERT = f"INSERT INTO shots ({_COLUMNS}) VALUES ({', '.join('?' * 14)})"
_JSON_PARTS = ("situation", "advice", "result")


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
        with self._told("opened"):
            self.connection = _open_to_read(self.path) if read_only else _open_to_write(self.path)

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
            return [int(self.connection.execute(_INSERT, _row(shot)).lastrowid or 0) for shot in shots]

    def entries(
        self,
        player: str | None = None,
        modes: Sequence[Mode] = (),
        after_id: int = 0,
        last: int | None = None,
    ) -> Iterator[Entry]:
        """The shots with their numbers, oldest first: of one player, in some modes, the ``last`` so many.

        Raises:
            CaddieError: if the file is damaged.
        """
        where, values = conditions(player, modes, after_id)
        query = f"SELECT id, {_COLUMNS} FROM shots {where} ORDER BY id DESC"
        if last is not None:
            query, values = query + " LIMIT ?", [*values, last]
        with self._told("read"):
            for row in self.connection.execute(f"SELECT * FROM ({query}) ORDER BY id", values):
                yield Entry(row[0], self._shot(row))

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
        """What a query on the tables of :mod:`caddie.log.migrations` finds.

        Raises:
            CaddieError: if the file is damaged.
        """
        with self._told("read"):
            return self.connection.execute(query, tuple(values)).fetchall()

    def players(self) -> list[str]:
        """Who has shots in the log, in the order of their first one."""
        query = "SELECT player FROM shots GROUP BY player ORDER BY min(id)"
        return [str(row[0]) for row in self.rows(query)]

    def count(self, player: str | None = None) -> int:
        """How many shots there are."""
        where, values = conditions(player)
        found = self.rows(f"SELECT count(*) FROM shots {where}", values)[0][0]
        assert isinstance(found, int)
        return found

    def amend(self, number: int, result: Result, commitment: Commitment | None = None) -> None:
        """Put what was told later of a kept shot in its place; a commitment of None leaves the one it has.

        Raises:
            CaddieError: if the file cannot be written; the shot is then as it was.
        """
        told = {"result": result.model_dump_json(exclude_defaults=True)}
        if commitment is not None:
            told["commitment"] = commitment.value
        with self.transaction("written"):
            for column, value in told.items():
                self.connection.execute(f"UPDATE shots SET {column} = ? WHERE id = ?", [value, number])

    def remove(self, number: int) -> bool:
        """Take the shot with this number out; whether it was there.

        Raises:
            CaddieError: if the file cannot be written.
        """
        with self.transaction("written"):
            return self.connection.execute("DELETE FROM shots WHERE id = ?", [number]).rowcount > 0

    def forget(self, player: str | None = None, before: datetime | None = None) -> int:
        """Erase shots, lessons and games for good, so that nothing of them stays in the file; how many shots.

        Of one ``player``, up to ``before``, or everything. A game goes with any of its players.

        Raises:
            CaddieError: if another program has the log open, or the file cannot be written.
        """
        until = before and utc_text(before)
        with self.transaction("written"):
            gone = 0
            for table in ("shots", "lessons", "games"):
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
                deleted = self.connection.execute(f"DELETE FROM {table}{where}", values).rowcount
                gone += deleted if table == "shots" else 0
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

    def _shot(self, row: Sequence[object]) -> Shot:
        fields = dict(zip(_COLUMNS.split(", "), row[1:], strict=True))
        try:
            for name in _JSON_PARTS:
                part = fields[name]
                fields[name] = json.loads(part) if isinstance(part, str) else None
            return Shot.model_validate(fields)
        except (ValidationError, ValueError) as error:
            first = str(error).splitlines()[-1].strip()
            raise CaddieError(
                f"{self.path}: shot {row[0]} cannot be read ({first}); the others are untouched"
            ) from None


def conditions(
    player: str | None = None, modes: Sequence[Mode] = (), after_id: int = 0
) -> tuple[str, list[object]]:
    """The WHERE clause, and its values, that picks shots."""
    terms: list[str] = []
    values: list[object] = []
    if player is not None:
        terms.append("player = ?")
        values.append(player)
    if modes:
        terms.append(f"mode IN ({', '.join('?' * len(modes))})")
        values.extend(modes)
    if after_id:
        terms.append("id > ?")
        values.append(after_id)
    return (f"WHERE {' AND '.join(terms)}" if terms else ""), values


def utc_text(moment: datetime) -> str:
    """A moment in the one form that the log keeps, whose order as text is its order in time."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def explain(path: Path, done: str, error: Exception) -> str:
    """What went wrong with the file, and what to do, in one line."""
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB")) or isinstance(error, UnicodeDecodeError):
        return (
            f"{path}: is damaged or is no log ({error}); it was left as it is: move it aside and caddie "
            "starts a new one, and the command-line tool sqlite3 reads what can be saved with .recover"
        )
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return (
            f"{path}: another program has been writing to the log for {BUSY_S:.0f} s; close it and try again"
        )
    if name.startswith(("SQLITE_FULL", "SQLITE_IOERR")):
        return (
            f"{path}: the log cannot be {done}: the disk is full or failing ({error}); every shot "
            "acknowledged before is safe; free some space and try again"
        )
    if name.startswith("SQLITE_READONLY"):
        return f"{path}: the log cannot be {done}: the file or its folder is read-only; make it writable"
    if name.startswith("SQLITE_CANTOPEN"):
        return f"{path}: the log cannot be opened; check that its folder may be read and written"
    return f"{path}: the log cannot be {done} ({error})"


def _row(shot: Shot) -> tuple[object, ...]:
    return (
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


def _open_to_write(path: Path) -> sqlite3.Connection:
    make_file(path)
    connection = _connect(f"{path.absolute().as_uri()}?mode=rw")
    try:
        check_form(connection, str(path))
        _use_write_ahead_log(connection)
        connection.execute("PRAGMA synchronous = FULL")
        # What is taken out must not stay in the file's free space.
        connection.execute("PRAGMA secure_delete = ON")
        # On macOS a plain fsync leaves the data in the drive's own cache.
        connection.execute("PRAGMA fullfsync = ON")
        connection.execute("PRAGMA wal_autocheckpoint = 256")
        migrate(connection, str(path))
    except BaseException:
        connection.close()
        raise
    return connection


def _open_to_read(path: Path) -> sqlite3.Connection:
    if not guarded(path).is_file():
        raise CaddieError(
            f"{path}: there is no log yet; it begins with the first shot, or name one with --log"
        )
    place = path.absolute().as_uri()
    connection = _connect(f"{place}?mode=ro")
    try:
        version = version_of(connection)
    except sqlite3.OperationalError:
        connection.close()
        waiting = path.with_name(path.name + "-wal")
        if waiting.exists() and waiting.stat().st_size:
            raise
        # A folder that cannot be written has no room for the shared index, and with nothing waiting in a
        # write-ahead log none is needed.
        connection = _connect(f"{place}?mode=ro&immutable=1")
        version = version_of(connection)
    check_form(connection, str(path))
    if version != len(MIGRATIONS):
        memory = _connect(":memory:")
        connection.backup(memory)
        connection.close()
        migrate(memory, str(path))
        connection = memory
    return connection


def _connect(place: str) -> sqlite3.Connection:
    connection = sqlite3.connect(place, timeout=BUSY_S, isolation_level=None, uri=True)
    # A file from elsewhere may hold anything: no value of it takes all the memory.
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LONGEST_VALUE_BYTES)
    return connection


def _use_write_ahead_log(connection: sqlite3.Connection) -> None:
    """Changing the journal does not wait for another program, so wait here."""
    give_up = time.monotonic() + BUSY_S
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL").fetchone()
            return
        except sqlite3.OperationalError as error:
            busy = getattr(error, "sqlite_errorname", "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))
            if not busy or time.monotonic() > give_up:
                raise
            time.sleep(0.01)
