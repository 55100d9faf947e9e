"""The journal of a range session: one JSON object a line, on the disk before the next ball is called.

A line that a crash cut in half is dropped when the session is taken up again; every whole line counts.
"""

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from caddie.errors import CaddieError
from caddie.keeping import make_folder, open_private, read_bytes, refused
from caddie.places import home

LARGEST_BYTES = 5_000_000
"""A bucket of the most balls a session takes is a tenth of it."""


def journals() -> Path:
    """The folder of the journals; it need not be there yet."""
    return home() / "range"


def unfinished() -> Path | None:
    """The newest journal that does not end with a finish, if any."""
    for path in sorted(journals().glob("*.jsonl"), reverse=True):
        events = list(read_events(path))
        if events and events[-1].get("event") != "finish":
            return path
    return None


def read_events(path: Path) -> Iterator[dict[str, Any]]:
    """The events of a journal; a torn last line is left out.

    Raises:
        CaddieError: if the file cannot be read or a whole line is no event, with its line.
    """
    raw = read_bytes(path, LARGEST_BYTES)
    *lines, torn = raw.split(b"\n")
    for number, line in enumerate(lines, start=1):
        try:
            event = json.loads(line)
        except (ValueError, RecursionError):
            event = None
        if not isinstance(event, dict) or "event" not in event:
            raise CaddieError(f"{path}: line {number}, column 1: is no event of a range session")
        yield event
    if torn.strip():
        # Only a line with its end was acknowledged.
        return


class Journal:
    """A journal to be added to; each written event is on the disk when :meth:`write` returns.

    The file is opened for each event, so that nothing hangs on how the program ends.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            make_folder(path.parent)
            if path.exists():
                _drop_torn_line(path)
        except OSError as error:
            raise CaddieError(refused(path, "cannot be written", error)) from None

    def write(self, event: dict[str, Any]) -> None:
        """Append one event.

        Raises:
            CaddieError: if the disk refuses it.
        """
        line = json.dumps(event, ensure_ascii=False, separators=(",", ":")) + "\n"
        try:
            fresh = not self.path.exists()
            with open(self.path, "ab", opener=open_private) as file:
                file.write(line.encode("utf-8"))
                file.flush()
                os.fsync(file.fileno())
            if fresh:
                self._sync_folder()
        except OSError as error:
            raise CaddieError(refused(self.path, "cannot be written", error)) from None

    def _sync_folder(self) -> None:
        if os.name == "nt":
            return
        folder = os.open(self.path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _drop_torn_line(path: Path) -> None:
    raw = read_bytes(path, LARGEST_BYTES)
    end = raw.rfind(b"\n") + 1
    if end != len(raw):
        with open(path, "r+b", opener=open_private) as file:
            file.truncate(end)
            file.flush()
            os.fsync(file.fileno())
