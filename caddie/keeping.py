"""Reading what a player names and writing what must last: every file goes through here.

What is read is an ordinary file of a sensible size. What is written in the data directory is the player's
alone (folders 0700, files 0600, whatever the umask), and a link there that leads out of it is refused: such a
link would carry what is kept to another place, or write over a file that is none of ours. Whole folders are
replaced and removed here only, under a checked name and nowhere but in the data directory.
"""

import contextlib
import os
import re
import shutil
import stat
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from caddie.errors import CaddieError
from caddie.places import NoHomeError, home

_PRIVATE_FOLDER, _PRIVATE_FILE, _OTHERS = 0o700, 0o600, 0o077

LONGEST_NAME = 100
_NAME = re.compile(r"(?!\.)[A-Za-z0-9._-]*[A-Za-z0-9_-]")
_DEVICE = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)
"""Windows takes these for devices in any folder, whatever stands behind a dot."""

_BEGUN, _ASIDE = ".caddie-begun-", ".caddie-aside-"
"""What names of folders begin with that are still being filled, or are making way for a new one."""


def guarded(path: Path) -> Path:
    """The path as it is, if it is outside the data directory or stays in it.

    Raises:
        CaddieError: if a link on the way leads out of the data directory or in a circle, or the path is no
            file name at all.
    """
    if "\0" in str(path):
        raise CaddieError(f"{path}: is no file name")
    if _inside(path):
        ends = os.path.realpath(path)
        if os.path.islink(ends):
            raise CaddieError(f"{path}: is a link that leads in a circle; remove it")
        if not Path(ends).is_relative_to(os.path.realpath(home())):
            raise CaddieError(
                f"{path}: is a link that leads out of the data directory, to {ends}; put the file itself there, "
                "or name the other place on the command line or with CADDIE_HOME"
            )
    return path


def read_bytes(path: Path, most_bytes: int, missing: str = "no such file") -> bytes:
    """The content of an ordinary file.

    Raises:
        CaddieError: if it is missing (told in the words of ``missing``), a folder, a pipe or a device, larger
            than ``most_bytes``, or cannot be read.
    """
    try:
        kind = guarded(path).stat().st_mode
        if stat.S_ISDIR(kind):
            raise CaddieError(f"{path}: is a folder; name a file")
        if not stat.S_ISREG(kind):
            raise CaddieError(f"{path}: is no ordinary file but a pipe or a device; save it as a file first")
        with path.open("rb") as file:
            content = file.read(most_bytes + 1)
    except FileNotFoundError:
        raise CaddieError(f"{path}: {missing}") from None
    except (OSError, ValueError) as error:
        raise CaddieError(refused(path, "cannot be read", error)) from None
    if len(content) > most_bytes:
        raise CaddieError(f"{path}: is larger than {most_bytes / 1e6:g} MB; is it the right file?")
    return content


def write_atomically(path: Path, content: str | bytes, new_folder: bool = False) -> None:
    """Replace the file's content in one step, so that a crash leaves the old file or the new one.

    A missing folder is made in the data directory, elsewhere only with ``new_folder``: there it is more
    likely a slip of the pen.

    Raises:
        CaddieError: if it cannot be written; the old file is then untouched.
    """
    raw = content.encode("utf-8") if isinstance(content, str) else content
    try:
        private = _inside(guarded(path))
        if private or new_folder:
            make_folder(path.parent)
        # A link outside the data directory is the player's own: what it points to is written.
        target = Path(os.path.realpath(path))
        if target.exists() and not target.is_file():
            with target.open("wb") as device:
                device.write(raw)
            return
        if private:
            mode = _PRIVATE_FILE
        else:
            mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o666 & ~_umask()
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".caddie-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(raw)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(name, mode)
            os.replace(name, target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except (OSError, ValueError) as error:
        raise CaddieError(refused(path, "cannot be written", error)) from None


def make_folder(folder: Path) -> None:
    """Make a folder with those above it; in the data directory it is for the player alone.

    Raises:
        CaddieError: if a link leads out of the data directory.
        OSError: if it cannot be made.
    """
    guarded(folder)
    made = [each for each in (folder, *folder.parents) if not each.exists()]
    folder.mkdir(mode=_PRIVATE_FOLDER if _inside(folder) else 0o777, parents=True, exist_ok=True)
    if os.name != "posix":
        return
    for each in made:
        if _inside(each):
            each.chmod(_PRIVATE_FOLDER)
    if _inside(folder):
        found = home().stat()
        shared = found.st_mode & (stat.S_ISVTX | stat.S_ISGID)
        if found.st_uid == os.geteuid() and not shared and found.st_mode & _OTHERS:
            home().chmod(_PRIVATE_FOLDER)


def make_file(path: Path) -> None:
    """See that there is an ordinary file, for the player alone, and its folder.

    Raises:
        CaddieError: if a link leads out of the data directory, or a folder, a pipe or a device is there.
        OSError: if it cannot be made.
    """
    make_folder(path.parent)
    try:
        os.close(open_private(str(path), os.O_CREAT | os.O_EXCL | os.O_RDWR))
    except FileExistsError:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise CaddieError(f"{path}: cannot be opened: it is no ordinary file; name another") from None
        if os.name == "posix" and found.st_uid == os.geteuid() and found.st_mode & _OTHERS:
            path.chmod(_PRIVATE_FILE)
        return
    if os.name == "posix":
        # The file's name must outlive a power cut too.
        handle = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def open_private(path: str, flags: int) -> int:
    """An ``opener`` for :func:`open`: the file is the player's alone from its first byte on.

    Raises:
        CaddieError: if a link leads out of the data directory.
        OSError: as :func:`os.open`.
    """
    handle = os.open(guarded(Path(path)), flags, _PRIVATE_FILE)
    if os.name == "posix":
        # The umask may have taken more away than it should, and an older file may be open to others.
        with contextlib.suppress(PermissionError):
            os.fchmod(handle, _PRIVATE_FILE)
    return handle


def refused(path: Path, done: str, error: Exception) -> str:
    """What the disk refused, in one line; of the data directory, also how to have another one."""
    why = getattr(error, "strerror", None) or str(error)
    other = "; set CADDIE_HOME to a folder that may be read and written" if _inside(path) else ""
    return f"{path}: {done} ({why}){other}"


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
            work.chmod(_PRIVATE_FOLDER)
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
        handle = os.open(folder / ".lock", os.O_CREAT | os.O_RDWR, _PRIVATE_FILE)
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


def _inside(path: Path) -> bool:
    try:
        return Path(os.path.abspath(path)).is_relative_to(os.path.abspath(home()))
    except NoHomeError:
        return False


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
