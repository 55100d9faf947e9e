"""How the log's file is opened, and what went wrong when it cannot be."""

import sqlite3
import time
from pathlib import Path

from caddie.errors import CaddieError
from caddie.keeping import guarded, make_file
from caddie.log.migrations import MIGRATIONS, check_form, migrate, version_of

LONGEST_VALUE_BYTES = 1_000_000
BUSY_S = 10.0
"""How long a writer waits for another program that is writing."""


def open_to_write(path: Path) -> sqlite3.Connection:
    """The log, made if it is missing and brought up to date."""
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


def open_to_read(path: Path) -> sqlite3.Connection:
    """The log for reading alone; one from an older caddie is brought up to date in memory."""
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
