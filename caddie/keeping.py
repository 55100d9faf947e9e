"""Reading what a player names and writing what must last: every file goes through here.

What is read is an ordinary file of a sensible size. What is written in the data directory is the player's
alone (folders 0700, files 0600, whatever the umask), and a link there that leads out of it is refused: such a
link would carry what is kept to another place, or write over a file that is none of ours.

A write that was cut off may leave a file of its own behind; the next write in that folder takes it away
(:func:`sweep`). Whole folders are replaced in :mod:`caddie.folders`.
"""

import contextlib
import errno
import os
import re
import select
import stat
import tempfile
import time
from pathlib import Path

from caddie.errors import CaddieError
from caddie.places import NoHomeError, home

PRIVATE_FOLDER, PRIVATE_FILE, _OTHERS = 0o700, 0o600, 0o077
_STALE_S = 600.0
"""No write takes as long: what has not changed since belongs to one that was cut off."""
_SILENT_READER_S = 10.0
_UNFINISHED = re.compile(r"\.caddie-[a-z0-9_]{8}\.part")
_OWN_STREAMS = {"/dev/stdout": 1, "/dev/stderr": 2}


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


def write_atomically(
    path: Path, content: str | bytes, new_folder: bool = False, through_link: bool = True
) -> None:
    """Replace the file's content in one step, so that a crash leaves the old file or the new one.

    A missing folder is made in the data directory, elsewhere only with ``new_folder``: there it is more
    likely a slip of the pen. With ``through_link`` a link outside the data directory is the player's own, and
    what it points to is written; without, no link is.

    Raises:
        CaddieError: if it cannot be written; the old file is then untouched.
    """
    raw = content.encode("utf-8") if isinstance(content, str) else content
    try:
        private = _inside(guarded(path))
        if private or new_folder:
            make_folder(path.parent)
        if not through_link and path.is_symlink():
            raise CaddieError(f"{path}: is a link, and no link is written through; name the file itself")
        target = Path(os.path.realpath(path))
        if target.exists() and not target.is_file():
            write_stream(target, raw)
            return
        sweep(target.parent)
        if private:
            mode = PRIVATE_FILE
        else:
            mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o666 & ~_umask()
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".caddie-", suffix=".part")
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


def write_new(path: Path, content: str | bytes, new_folder: bool = False) -> None:
    """As :func:`write_atomically`, but never over anything.

    Raises:
        CaddieError: if something is there, or it cannot be written.
    """
    if os.path.lexists(path):
        raise CaddieError(f"{path}: has come there meanwhile; it stays, nothing is written")
    write_atomically(path, content, new_folder, through_link=False)


def is_stream(path: Path) -> bool:
    """Whether it is a pipe, a device such as ``/dev/null``, or this program's own output: nothing is replaced."""
    if _own_stream(path) is not None:
        return True
    try:
        kind = path.stat().st_mode
    except OSError:
        return False
    return not path.is_symlink() and (stat.S_ISFIFO(kind) or stat.S_ISCHR(kind))


def write_stream(path: Path, raw: bytes) -> None:
    """Write into a pipe or a device, without waiting for ever for somebody to read.

    Raises:
        CaddieError: if nobody reads, or it is a folder or a disk.
    """
    own = _own_stream(path)
    try:
        if own is not None:
            with os.fdopen(os.dup(own), "wb") as stream:
                stream.write(raw)
            return
        if stat.S_ISBLK(path.stat().st_mode):
            raise CaddieError(f"{path}: is a disk; name a file")
        handle = os.open(path, os.O_WRONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        try:
            left = memoryview(raw)
            while left:
                try:
                    left = left[os.write(handle, left) :]
                except BlockingIOError:
                    if not select.select([], [handle], [], _SILENT_READER_S)[1]:
                        raise CaddieError(f"{path}: nobody reads what is written into it") from None
        finally:
            os.close(handle)
    except OSError as error:
        nobody = path.is_fifo() and error.errno == errno.ENXIO
        why = "it is a pipe that nobody reads" if nobody else _why(error)
        raise CaddieError(f"{path}: cannot be written ({why})") from None


def sweep(folder: Path) -> None:
    """Take away files that writes which were cut off have left in a folder; what cannot be taken away stays."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if _UNFINISHED.fullmatch(entry.name):
                with contextlib.suppress(OSError):
                    _take_away_if_stale(Path(entry.path))


def _take_away_if_stale(path: Path) -> None:
    found = path.lstat()
    ours = os.name != "posix" or found.st_uid == os.geteuid()
    if ours and stat.S_ISREG(found.st_mode) and time.time() - found.st_mtime >= _STALE_S:
        path.unlink()


def make_folder(folder: Path) -> None:
    """Make a folder with those above it; in the data directory it is for the player alone.

    Raises:
        CaddieError: if a link leads out of the data directory.
        OSError: if it cannot be made.
    """
    guarded(folder)
    made = [each for each in (folder, *folder.parents) if not each.exists()]
    folder.mkdir(mode=PRIVATE_FOLDER if _inside(folder) else 0o777, parents=True, exist_ok=True)
    if _inside(folder):
        sweep(folder)
    if os.name != "posix":
        return
    for each in made:
        if _inside(each):
            each.chmod(PRIVATE_FOLDER)
    if _inside(folder):
        found = home().stat()
        shared = found.st_mode & (stat.S_ISVTX | stat.S_ISGID)
        if found.st_uid == os.geteuid() and not shared and found.st_mode & _OTHERS:
            home().chmod(PRIVATE_FOLDER)


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
            path.chmod(PRIVATE_FILE)
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
    handle = os.open(guarded(Path(path)), flags, PRIVATE_FILE)
    if os.name == "posix":
        # The umask may have taken more away than it should, and an older file may be open to others.
        with contextlib.suppress(PermissionError):
            os.fchmod(handle, PRIVATE_FILE)
    return handle


def refused(path: Path, done: str, error: Exception) -> str:
    """What the disk refused, in one line; of the data directory, also how to have another one."""
    why = getattr(error, "strerror", None) or str(error)
    other = "; set CADDIE_HOME to a folder that may be read and written" if _inside(path) else ""
    return f"{path}: {done} ({why}){other}"


def _inside(path: Path) -> bool:
    try:
        return Path(os.path.abspath(path)).is_relative_to(os.path.abspath(home()))
    except NoHomeError:
        return False


def _own_stream(path: Path) -> int | None:
    """The number of this program's stream that a path stands for.

    A stream led into a file must not be opened by its name: it would be written from the start again.
    """
    folder, name = os.path.split(os.path.abspath(path))
    if folder in ("/dev/fd", "/proc/self/fd") and name.isdecimal():
        return int(name)
    return _OWN_STREAMS.get(os.path.join(folder, name))


def _why(error: OSError | ValueError) -> str:
    return getattr(error, "strerror", None) or str(error)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
