"""The sessions kept beside a bag: one file each in the project's own form, read by every fit."""

import csv
import io
import os
import re
from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import count
from pathlib import Path

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.keeping import read_bytes, write_new
from caddie.printable import table_cell
from caddie.range.csv_import import Imported, UnsaidError, import_csv
from caddie.range.csv_table import LARGEST_TABLE_BYTES
from caddie.range.fit import Estimates, Fit, fit_carries, with_fit
from caddie.range.session import RangeSession
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
        if read_bytes(path, LARGEST_TABLE_BYTES) == text.encode("utf-8"):
            return None
    stem = re.sub(r"[^\w-]+", "_", f"{session.date}_{name}" if session.date else name).strip("_") or "session"
    folder = sessions_folder(bag_path)
    return next(path for path in _numbered(folder / stem, ".csv") if not os.path.lexists(path))


def rejected_place(bag_path: Path, name: str, text: str) -> Path:
    """Where the rejected rows of the table ``name`` stand beside the bag, or would be put: never over others."""
    places = _numbered(bag_path.parent / f"{name}.rejected", ".csv")
    return next(path for path in places if holds(path, text) or not os.path.lexists(path))


def holds(path: Path, text: str) -> bool:
    """Whether a file has just this content."""
    raw = text.encode("utf-8")
    return path.is_file() and path.stat().st_size == len(raw) and path.read_bytes() == raw


def rejected_text(read: Imported) -> str:
    """The rejected rows as a table, each with its line and the reason."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(["line", "reason", *map(table_cell, read.headings)])
    rows.writerows([row.line, table_cell(row.reason), *map(table_cell, row.cells)] for row in read.rejected)
    return text.getvalue()


def _numbered(stem: Path, ending: str) -> Iterator[Path]:
    yield stem.with_name(stem.name + ending)
    yield from (stem.with_name(f"{stem.name}_{number}{ending}") for number in count(2))


def keep_session(path: Path, session: Session, bag: Bag) -> None:
    """Write the session.

    Raises:
        CaddieError: if the folder cannot be written, or something has come to that place.
    """
    write_new(path, session_text(session, bag.player.distances_in), new_folder=True)


def keep_range(ended: RangeSession, bag_path: Path, bag: Bag, now: datetime) -> Path | None:
    """Keep the balls of a session that is over beside the bag; None when there are none, or they are kept already.

    Raises:
        CaddieError: if they cannot be written.
    """
    place = None
    if ended.shots:
        place = session_place(bag_path, ended.session(), "bunker" if ended.plan.sand else "range", bag)
    if place is not None:
        keep_session(place, ended.session(), bag)
    ended.note_kept(now)
    return place


def fit_sessions(
    files: Iterable[Path], bag: Bag, add: bool = False, estimates: Estimates = "wedges", strikes: bool = False
) -> tuple[Bag, tuple[Fit, ...]]:
    """The bag fitted to the balls of these files, and the fits: of carries, of splashes, or of both.

    Raises:
        CaddieError: if a file cannot be read, or a row of it gives no shot.
    """
    balls = [read_session(file, bag).session for file in files]
    lies = {shot.sand for session in balls for shot in session.shots}
    fits = tuple(fit_carries(balls, bag, add=add, sand=sand) for sand in sorted(lies or {False}))
    for fitted in fits:
        bag = with_fit(bag, fitted, estimates=estimates, replace_strikes=strikes)
    return bag, fits


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
