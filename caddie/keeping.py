"""Reading what a player names and writing what must last: every file goes through here.

What is read is an ordinary file of a sensible size. What is written in the data directory is the player's
alone (folders 0700, files 0600, whatever the umask), and a link there that leads out of it is refused: such a
link would carry what is kept to another place, or write over a file that is none of ours.
"""

import contextlib
import os
import stat
import tempfile
from pathlib import Path

from caddie.errors import CaddieError
from caddie.places import home

_PRIVATE_FOLDER, _PRIVATE_FILE, _OTHERS = 0o700, 0o600, 0o077


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
        raise CaddieError(f"{path}: cannot be read ({_why(error)})") from None
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
        raise CaddieError(f"{path}: cannot be written ({_why(error)})") from None


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


def _inside(path: Path) -> bool:
    return Path(os.path.abspath(path)).is_relative_to(os.path.abspath(home()))


def _why(error: OSError | ValueError) -> str:
    return getattr(error, "strerror", None) or str(error)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
