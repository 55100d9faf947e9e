"""Whole folders replaced and removed: under a checked name, and nowhere but in the data directory.

A new folder is filled beside the old one and put in its place by a rename; nothing is removed before.
"""

import contextlib
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from caddie.errors import CaddieError
from caddie.keeping import PRIVATE_FILE, PRIVATE_FOLDER, make_folder
from caddie.places import home

LONGEST_NAME = 100
_NAME = re.compile(r"(?!\.)[A-Za-z0-9._-]*[A-Za-z0-9_-]")
_DEVICE = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)
"""Windows takes these for devices in any folder, whatever stands behind a dot."""

_BEGUN, _ASIDE = ".caddie-begun-", ".caddie-aside-"
"""What names of folders begin with that are still being filled, or are making way for a new one."""


def checked_name(name: str, source: object) -> str:
    """The name as it is, if a file or folder that came from elsewhere may be kept under it.

    Args:
        name: what the file or folder would be called, without the folders above it.
        source: where the name came from, for the refusal.

    Raises:
        CaddieError: if it is empty, too long, begins or ends with a dot, holds anything but letters, digits,
            ``.``, ``-`` and ``_``, or is a device's on Windows.
    """
    if len(name) > LONGEST_NAME or not _NAME.fullmatch(name) or _DEVICE.fullmatch(name):
        raise CaddieError(
            f"{source}: {name[:LONGEST_NAME]!r} is no name to keep it under: rename it, with at most {LONGEST_NAME} "
            "letters, digits, '.', '-' and '_', no dot at either end, and not as a device is called (con, nul)"
        )
    return name


@contextlib.contextmanager
def workshop(parent: Path) -> Iterator[Path]:
    """A fresh folder in a folder of the data directory, to be filled and given to :func:`replace_folder`.

    One process at a time works in ``parent``; the next waits. What one that was killed left there is put
    right first (where the disk knows no locks, it stays: a live process may be at work on it), and what is
    left of this one at the end is removed.

    Raises:
        CaddieError: if ``parent`` is, or leads, outside the data directory.
        OSError: if a folder cannot be made.
    """
    _must_be_inside(parent)
    make_folder(parent)
    with _alone_in(parent) as alone:
        if alone:
            _sweep(parent)
        work = Path(tempfile.mkdtemp(dir=parent, prefix=_BEGUN))
        try:
            work.chmod(PRIVATE_FOLDER)
            yield work
        finally:
            shutil.rmtree(work, ignore_errors=True)


def replace_folder(place: Path, new: Path) -> None:
    """Put the finished folder ``new`` where ``place`` is; the folder that was there goes when that is done.

    Both are on one disk (:func:`workshop`). On a failure, what was there is there again.

    Raises:
        CaddieError: if ``place`` has no safe name, is a link or a file, or is not within the data directory.
        OSError: if it cannot be done.
    """
    _must_be_replaceable(place)
    aside = place.with_name(_ASIDE + place.name)
    _put_right(aside)
    try:
        if place.exists():
            os.rename(place, aside)
        os.rename(new, place)
    finally:
        _put_right(aside)


def remove_folder(place: Path) -> None:
    """Remove a folder of the data directory, as far as the disk lets it.

    Raises:
        CaddieError: as :func:`replace_folder`.
    """
    _must_be_replaceable(place)
    shutil.rmtree(place, ignore_errors=True)


def _sweep(parent: Path) -> None:
    for left in parent.glob(f"{_ASIDE}*"):
        if _NAME.fullmatch(left.name.removeprefix(_ASIDE)):
            _put_right(left)
    for left in parent.glob(f"{_BEGUN}*"):
        shutil.rmtree(left, ignore_errors=True)


def _put_right(aside: Path) -> None:
    """A folder that made way returns if nothing took its place, or else goes."""
    place = aside.with_name(aside.name.removeprefix(_ASIDE))
    if os.path.lexists(place):
        shutil.rmtree(aside, ignore_errors=True)
    elif aside.is_dir() and not aside.is_symlink():
        os.rename(aside, place)


def _must_be_replaceable(place: Path) -> None:
    checked_name(place.name, place)
    _must_be_inside(place.parent)
    ends = os.path.join(os.path.realpath(place.parent), place.name)
    # On Windows a folder may be a junction, which is no link to `islink`.
    if os.path.islink(place) or os.path.normcase(os.path.realpath(place)) != os.path.normcase(ends):
        raise CaddieError(f"{place}: is a link where a folder belongs; remove it")
    if place.exists() and not place.is_dir():
        raise CaddieError(f"{place}: is a file where a folder belongs; move it away")


def _must_be_inside(folder: Path) -> None:
    if not Path(os.path.realpath(folder)).is_relative_to(os.path.realpath(home())):
        raise CaddieError(f"{folder}: is not in the data directory: nothing is replaced or removed there")


@contextlib.contextmanager
def _alone_in(folder: Path) -> Iterator[bool]:
    """Wait until no other process is in here with this folder; a process that is killed leaves at once.

    False where the disk knows no locks.
    """
    if sys.platform == "win32":
        handle = os.open(folder / ".lock", os.O_CREAT | os.O_RDWR, PRIVATE_FILE)
    else:
        handle = os.open(folder, os.O_RDONLY)
    try:
        yield _locked(handle)
    finally:
        os.close(handle)


def _locked(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_LOCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX)
    except OSError:
        return False
    return True
