"""The journal of a range session: one JSON object a line, on the disk before the next ball is called.

A line that a crash cut in half is dropped when the session is taken up again; every whole line counts. One
program at a time writes to a journal.
"""

import contextlib
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from caddie.errors import CaddieError
from caddie.keeping import make_folder, open_private, read_bytes, refused
from caddie.places import home
from caddie.range.lock import lock

LARGEST_BYTES = 5_000_000
"""A bucket of the most balls a session takes is a tenth of it."""
NO_EVENT = "is no event of a range session"


class DamagedJournalError(CaddieError):
    """A journal that cannot be read to its end."""

    def __init__(self, path: Path, line: int, what: str = NO_EVENT) -> None:
        super().__init__(
            f"{path}: line {line}, column 1: {what}; start afresh with 'caddie practice range --new', "
            "which sets this file aside and keeps it"
        )


def journals() -> Path:
    """The folder of the journals; it need not be there yet."""
    return home() / "range"


def unfinished() -> Path | None:
    """The newest journal that does not end with a finish, or whose balls are not kept for the bag yet."""
    for path in sorted(journals().glob("*.jsonl"), reverse=True):
        events = list(read_events(path))
        last = events[-1]["event"] if events else "finish"
        # A session that was over when its program was killed has still to be kept.
        if last not in ("finish", "kept") or (last == "finish" and any("ball" in each for each in events)):
            return path
    return None


def set_aside(path: Path) -> Path:
    """Give a damaged journal a name under which no session is looked for; that name.

    Raises:
        CaddieError: if a session is going on in it, or it cannot be renamed.
    """
    with Journal(path, mend=False):
        number = 1
        while os.path.lexists(aside := path.with_name(f"{path.name}.damaged{f'_{number}' * (number > 1)}")):
            number += 1
    try:
        path.rename(aside)
    except OSError as error:
        raise CaddieError(f"{path}: cannot be renamed ({error.strerror or error})") from None
    return aside


def read_events(path: Path) -> Iterator[dict[str, Any]]:
    """The events of a journal; a torn last line is left out.

    Raises:
        DamagedJournalError: if a whole line is no event, with its line.
        CaddieError: if the file cannot be read.
    """
    # Only a line with its end was acknowledged.
    *lines, _torn = read_bytes(path, LARGEST_BYTES).split(b"\n")
    for number, line in enumerate(lines, start=1):
        try:
            event = json.loads(line)
        except (ValueError, RecursionError):
            event = None
        if not isinstance(event, dict) or not isinstance(event.get("event"), str):
            raise DamagedJournalError(path, number)
        yield event


class Journal:
    """A journal to be added to; each written event is on the disk when :meth:`write` returns.

    From the first event, or at once when the file is there, it is this program's alone until :meth:`close`
    or the end of the program.
    """

    def __init__(self, path: Path, mend: bool = True) -> None:
        """Take the journal; ``mend`` drops a last line that was cut off.

        Raises:
            CaddieError: if another program has it, or it cannot be written.
        """
        self.path = path
        self._handle: int | None = None
        self._end = 0
        try:
            make_folder(path.parent)
            if path.exists():
                self._take(os.O_RDWR)
                if mend:
                    self._drop_torn_line()
        except OSError as error:
            self.close()
            raise CaddieError(refused(path, "cannot be written", error)) from None
        except CaddieError:
            self.close()
            raise

    def __enter__(self) -> "Journal":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let others have the journal."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    def write(self, event: dict[str, Any]) -> None:
        """Append one event.

        Raises:
            CaddieError: if the disk refuses it, or the file is not as this program left it.
        """
        line = (json.dumps(event, ensure_ascii=False, separators=(",", ":")) + "\n").encode("utf-8")
        try:
            if self._handle is None:
                self._take(os.O_RDWR | os.O_CREAT | os.O_EXCL)
                self._sync_folder()
            handle = self._as_left()
            try:
                written = 0
                while written < len(line):
                    written += os.write(handle, line[written:])
                os.fsync(handle)
            except OSError:
                # What was not acknowledged is not to be there later.
                with contextlib.suppress(OSError):
                    os.ftruncate(handle, self._end)
                raise
        except FileExistsError:
            raise CaddieError(f"{self.path}: a session is there already; wait a second, try again") from None
        except OSError as error:
            raise CaddieError(refused(self.path, "cannot be written", error)) from None
        self._end += len(line)

    def _take(self, flags: int) -> None:
        binary: int = getattr(os, "O_BINARY", 0)
        self._handle = open_private(str(self.path), flags | os.O_APPEND | binary)
        if not lock(self._handle):
            raise CaddieError(
                f"{self.path}: another 'caddie practice range' is taking down balls in this session; "
                "go on there, or start one of your own with --new"
            )
        self._end = os.fstat(self._handle).st_size

    def _as_left(self) -> int:
        """The handle, if the file is still the one that was opened and nobody else wrote to it."""
        assert self._handle is not None
        ours = os.fstat(self._handle)
        try:
            same = os.path.samestat(ours, os.stat(self.path))
        except FileNotFoundError:
            same = False
        if not same or ours.st_size != self._end:
            what = "was changed by another program" if same else "was moved or removed"
            raise CaddieError(f"{self.path}: {what} meanwhile; run the same command again to go on")
        return self._handle

    def _drop_torn_line(self) -> None:
        assert self._handle is not None
        raw = read_bytes(self.path, LARGEST_BYTES)
        end = raw.rfind(b"\n") + 1
        if end != len(raw):
            os.ftruncate(self._handle, end)
            os.fsync(self._handle)
        self._end = end

    def _sync_folder(self) -> None:
        if os.name == "nt":
            return
        folder = os.open(self.path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
