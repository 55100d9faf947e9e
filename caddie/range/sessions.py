"""The sessions kept beside a bag: one file each in the project's own form, read by every fit."""

import re
from pathlib import Path

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.keeping import read_bytes, write_atomically
from caddie.range.csv_import import Imported, UnsaidError, import_csv
from caddie.range.csv_table import LARGEST_BYTES
from caddie.range.shots import Session, session_text


def sessions_folder(bag_path: Path) -> Path:
    """Where the sessions of the bag at ``bag_path`` are kept; it need not be there yet."""
    return bag_path.parent / "sessions"


def kept_sessions(bag_path: Path) -> tuple[Path, ...]:
    """The kept session files, oldest name first."""
    return tuple(sorted(sessions_folder(bag_path).glob("*.csv")))


def session_place(bag_path: Path, session: Session, name: str, bag: Bag) -> Path | None:
    """Where a session would be kept; None when the same balls are kept already."""
    text = session_text(session, bag.player.distances_in)
    for path in kept_sessions(bag_path):
        if read_bytes(path, LARGEST_BYTES) == text.encode("utf-8"):
            return None
    stem = re.sub(r"[^\w-]+", "_", f"{session.date}_{name}" if session.date else name).strip("_") or "session"
    folder = sessions_folder(bag_path)
    number = 1
    while (path := folder / f"{stem}{f'_{number}' if number > 1 else ''}.csv").exists():
        number += 1
    return path


def keep_session(path: Path, session: Session, bag: Bag) -> None:
    """Write the session.

    Raises:
        CaddieError: if the folder cannot be written.
    """
    write_atomically(path, session_text(session, bag.player.distances_in), new_folder=True)


def read_session(path: Path, bag: Bag) -> Imported:
    """A kept session, or one of the same form elsewhere.

    Raises:
        CaddieError: if it is no such file, or any row of it gives no shot, with its line.
    """
    try:
        read = import_csv(path, bag)
    except UnsaidError as unsaid:
        raise CaddieError(f"{unsaid.left_open} (take it in with 'caddie bag import {path}' first)") from None
    if read.rejected:
        first = read.rejected[0]
        rest = len(read.rejected) - 1
        more = f"; {rest} more row{'s' if rest > 1 else ''} after it" if rest else ""
        raise CaddieError(f"{path}: line {first.line}, column 1: {first.reason}{more}")
    return read
