"""One file of notes: entries that stand on their own, so that a damaged one costs no other.

The file is TOML that people edit. It is cut into entries first and each is read alone; what cannot be read is named
and left as it is. A change is on the disk when :meth:`Sheet.put` returns, and the file before it stands beside it
under the name with ``.previous`` behind. One program at a time writes notes; the next waits.
"""

import contextlib
import io
import os
import re
import time
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from caddie.errors import CaddieError
from caddie.keeping import make_folder, open_private, read_bytes, write_atomically
from caddie.places import home
from caddie.range.lock import lock

LARGEST_SHEET_BYTES = 1_000_000
"""Every hole of a hundred courses is a tenth of it."""
LONGEST_NOTE_LINE, MOST_KEY_DOTS, MOST_ENTRIES = 1000, 50, 5000
"""Beyond them reading takes ever longer."""
WAIT_S = 5.0

EntryKey = tuple[str, ...]


@dataclass(frozen=True)
class Entry:
    """An entry as it stands in the file."""

    text: str
    line: int
    key: EntryKey | None = None
    """None when it cannot be read."""
    value: Any = None
    problem: str = ""
    """Why it cannot be read."""


@dataclass(frozen=True)
class Edit:
    """One entry replaced by another; ``None`` is not there."""

    sheet: str
    key: EntryKey
    before: str | None
    after: str | None


class UnreadableEntryError(ValueError):
    """An entry whose content cannot be; the message says why in a few words."""


EntryReader = Callable[[Mapping[str, Any]], tuple[EntryKey, Any]]
"""From an entry's TOML to its key and value; raises :class:`UnreadableEntryError`."""


def folder() -> Path:
    """Where notes are kept; it need not be there yet."""
    return home() / "notes"


@dataclass(frozen=True)
class Sheet:
    """A kind of note and the file it is kept in."""

    name: str
    header: str
    """What a new file begins with: comments, and the table its entries are in."""
    begins: re.Pattern[str]
    """The first line of an entry."""
    reader: EntryReader
    inside: str = ""
    """The table header that an entry is read under."""

    @property
    def path(self) -> Path:
        """The file; it need not be there yet."""
        return folder() / f"{self.name}.toml"

    @property
    def previous(self) -> Path:
        """The file as it was before the last change."""
        return self.path.with_name(f"{self.path.name}.previous")

    def entries(self) -> list[Entry]:
        """Every entry, damaged ones with their problem.

        Raises:
            CaddieError: if the file cannot be read at all.
        """
        return self._cut(self.text())[1]

    def text(self) -> str:
        """The file's text; of a missing one the empty text.

        Raises:
            CaddieError: if it cannot be read or is no text.
        """
        if not os.path.lexists(self.path):
            return ""
        return text_of(self.path)

    def read_text(self, text: str) -> list[Entry]:
        """The entries of a text from elsewhere."""
        return self._cut(text)[1]

    def put(self, key: EntryKey, text: str | None) -> Edit:
        """Put an entry in the place of the one with this key, or take that one out.

        Raises:
            CaddieError: if it cannot be written; the file is then as before.
        """
        return self.put_all({key: text})[0]

    def put_all(self, new: Mapping[EntryKey, str | None]) -> list[Edit]:
        """As :meth:`put`, several in one step.

        Raises:
            CaddieError: if it cannot be written; the file is then as before.
        """
        with alone():
            before = self.text()
            header, entries = self._cut(before)
            there = {each.key: at for at, each in enumerate(entries) if each.key is not None}
            texts: list[str | None] = [each.text for each in entries]
            changes = []
            for key, text in new.items():
                at = there.get(key)
                changes.append(Edit(self.name, key, None if at is None else texts[at], text))
                if at is None:
                    texts.append(text)
                else:
                    texts[at] = text
            if any(change.before != change.after for change in changes):
                self._write(before, header, [text for text in texts if text is not None])
        return changes

    def take_back(self, change: Edit) -> bool:
        """Undo a change unless something has changed the entry since; whether it was undone.

        Raises:
            CaddieError: if it cannot be written.
        """
        now = next((each.text for each in self.entries() if each.key == change.key), None)
        if now != change.after:
            return False
        self.put(change.key, change.before)
        return True

    def step_back(self) -> bool:
        """Put the file before the last change in the place of the one that is there; whether there was one."""
        with alone():
            if not self.previous.exists():
                return False
            now, before = self.text(), text_of(self.previous)
            if now == before:
                return False
            write_atomically(self.path, before)
            write_atomically(self.previous, now)
        return True

    def erase(self, key: EntryKey) -> bool:
        """Take an entry out for good, also of the file before; whether it was there."""
        with alone():
            header, entries = self._cut(self.text())
            kept = [each.text for each in entries if each.key != key]
            if len(kept) == len(entries):
                return False
            write_atomically(self.path, _joined(header, kept))
            self.previous.unlink(missing_ok=True)
        return True

    def erase_all(self) -> None:
        """Take the file and the one before it away for good."""
        with alone():
            for path in (self.previous, self.path):
                with contextlib.suppress(FileNotFoundError):
                    path.unlink()

    def _write(self, before: str, header: str, texts: list[str]) -> None:
        write_atomically(self.previous, before)
        write_atomically(self.path, _joined(header or self.header, texts))

    def _cut(self, text: str) -> tuple[str, list[Entry]]:
        """What stands before the first entry, and the entries; a comment belongs to the entry after it."""
        lines = list(io.StringIO(text))
        starts = [at for at, line in enumerate(lines) if self.begins.match(line)]
        if len(starts) > MOST_ENTRIES:
            raise CaddieError(f"{self.path}: holds more than {MOST_ENTRIES} entries; is it the right file?")
        places = [_with_comments(lines, at) for at in starts]
        header = "".join(lines[: places[0]] if places else lines)
        entries: list[Entry] = []
        seen: dict[EntryKey, int] = {}
        for place, end in zip(places, [*places, len(lines)][1:], strict=True):
            entry = self._entry("".join(lines[place:end]), place + 1)
            if entry.key is not None and entry.key in seen:
                entry = Entry(
                    entry.text,
                    entry.line,
                    problem=f"is there twice; the one of line {seen[entry.key]} counts",
                )
            if entry.key is not None:
                seen[entry.key] = entry.line
            entries.append(entry)
        return header, entries

    def _entry(self, text: str, line: int) -> Entry:
        if any(
            len(each) > LONGEST_NOTE_LINE
            or (each.count(".") > MOST_KEY_DOTS and not each.lstrip().startswith("#"))
            for each in text.split("\n")
        ):
            return Entry(text, line, problem="has a line longer than any of notes")
        try:
            key, value = self.reader(tomllib.loads(f"{self.inside}{text}"))
        except (tomllib.TOMLDecodeError, UnreadableEntryError, RecursionError, ValueError) as error:
            reason = (
                str(error).splitlines()[0] if isinstance(error, UnreadableEntryError) else "is no valid TOML"
            )
            return Entry(text, line, problem=reason)
        return Entry(text, line, key, value)


def problems(sheet: Sheet, entries: list[Entry]) -> list[str]:
    """One line for each damaged entry: the file, the line, what is wrong."""
    return [f"{sheet.path}: line {each.line}: {each.problem}" for each in entries if each.problem]


def text_of(path: Path) -> str:
    """The text of a file of notes.

    Raises:
        CaddieError: if it cannot be read or is no text.
    """
    raw = read_bytes(path, LARGEST_SHEET_BYTES)
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise CaddieError(f"{path}: line {line}: is not UTF-8 text; save the file as UTF-8") from None


@contextlib.contextmanager
def alone() -> Iterator[None]:
    """Wait until no other program writes notes.

    Raises:
        CaddieError: if another does for too long, or the folder cannot be made.
    """
    place = folder() / ".lock"
    try:
        make_folder(folder())
        handle = open_private(str(place), os.O_CREAT | os.O_RDWR)
    except OSError as error:
        raise CaddieError(f"{place}: cannot be written ({error.strerror or error})") from None
    try:
        give_up = time.monotonic() + WAIT_S
        while not lock(handle):
            if time.monotonic() > give_up:
                raise CaddieError(
                    f"{folder()}: another program is writing notes; try again when it has ended"
                )
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)


def _joined(header: str, texts: list[str]) -> str:
    parts = [header, *texts]
    return "".join(part if part.endswith("\n") or not part else f"{part}\n" for part in parts)


def _with_comments(lines: list[str], at: int) -> int:
    while at > 0 and lines[at - 1].lstrip().startswith("#") and not _is_header(lines, at - 1):
        at -= 1
    return at


def _is_header(lines: list[str], at: int) -> bool:
    """Whether a comment belongs to the first lines of the file, which no entry takes with it."""
    return all(line.startswith("#") for line in lines[: at + 1])
