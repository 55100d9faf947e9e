"""The files that a command writes for the player: agreed on before the work, written after it, all by one rule.

A new file needs no question, and a file that is there is replaced only when told so. Never a target are the
tool's own files in the data directory, the bag, log or recording of the same command line, and a link. A pipe
or a device is written into.
"""

import os
import stat
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from caddie.cli.consent import agreed
from caddie.errors import CaddieError
from caddie.keeping import guarded, is_stream, write_atomically, write_new, write_stream
from caddie.places import home

_BESIDE = ("", ".previous", "-wal", "-shm", "-journal")
"""What stands with a bag or a log under its name."""


class Output:
    """A file that may be written."""

    def __init__(self, path: Path, replaces: bool) -> None:
        """Made by :func:`output`; ``replaces`` when the player agreed to lose the file that is there."""
        self.path = path
        self._replaces = replaces

    def write(self, content: str | bytes) -> None:
        """Write the file in one step; a second time it replaces the first.

        Raises:
            CaddieError: if it cannot be written, or a file has come there since it was agreed on.
        """
        if is_stream(self.path):
            sys.stdout.flush()
            write_stream(self.path, content.encode("utf-8") if isinstance(content, str) else content)
            return
        if self._replaces:
            write_atomically(self.path, content, through_link=False)
        else:
            write_new(self.path, content)
        self._replaces = True


def output(
    path: Path,
    what: str,
    yes: bool,
    bag: Path | None = None,
    read: Iterable[Path | None] = (),
    can_ask: bool = True,
) -> Output:
    """The file, once it is clear that it may be written; ask for it before any long work.

    Args:
        path: where to write.
        what: what it is, as in "replace it by the card".
        yes: whether the player said so on the command line.
        bag: the bag of the same command line.
        read: the log, the recording and the other output of that line.
        can_ask: False when standard input is read for something else.

    Raises:
        CaddieError: if it may not be written, cannot be, or the player does not agree; nothing is written then.
    """
    _refuse_what_is_no_target(path, [bag, *read], bag)
    if is_stream(path) or not os.path.lexists(path):
        return Output(path, replaces=False)
    if not (yes or can_ask):
        raise CaddieError(f"{path}: is there already; add --yes to replace it, or name another")
    if not agreed(f"{path} is there already: replace it by {what}?", yes):
        raise CaddieError(f"{path}: stays as it is, nothing is written")
    return Output(path, replaces=True)


def refuse_kept(path: Path, but: Path | None = None) -> None:
    """Refuse a path that is one of the tool's own files or in a folder of them, unless it is ``but``.

    Raises:
        CaddieError: in one line.
    """
    from caddie.bag.file import own_bag
    from caddie.log.store import FILE_NAME

    own = (own_bag(), home() / FILE_NAME)
    inside = any(_same(folder, kept) for kept in _kept_folders() for folder in _folders_of(path))
    named = any(_same(path, each) for each in _with_those_beside(own) if each != but)
    if inside or named or _is_second_name(path, but):
        raise CaddieError(f"{path}: is where caddie keeps its own files; name another")


def _refuse_what_is_no_target(path: Path, read: list[Path | None], bag: Path | None) -> None:
    guarded(path)
    if is_stream(path):
        return
    if path.is_symlink():
        raise CaddieError(f"{path}: is a link, and no link is written through; name the file itself")
    refuse_kept(path)
    if any(_same(path, each) for each in _with_those_beside(one for one in read if one is not None)):
        raise CaddieError(f"{path}: is named on the same command line for something else; name another")
    if bag is not None and any(_same(folder, bag.parent / "sessions") for folder in _folders_of(path)):
        raise CaddieError(f"{path}: is where the sessions of {bag} are kept; name another")
    if path.is_dir():
        raise CaddieError(f"{path}: is a folder; name a file")
    if path.exists() and not path.is_file():
        raise CaddieError(f"{path}: is no ordinary file; name another")
    if not path.parent.is_dir() and not _in_data_directory(path):
        raise CaddieError(f"{path}: cannot be written (there is no folder {path.parent})")


def _with_those_beside(paths: Iterable[Path]) -> Iterator[Path]:
    return (path.with_name(path.name + ending) for path in paths if path.name for ending in _BESIDE)


def _kept_folders() -> tuple[Path, ...]:
    from caddie.bag.file import own_bag
    from caddie.page.keys import key_folder
    from caddie.range.journal import journals
    from caddie.range.sessions import sessions_folder
    from caddie.voice.model import models_directory

    return (
        sessions_folder(own_bag()),
        journals(),
        models_directory(),
        key_folder(),
        home() / "cache",
        home() / "notes",
    )


def _folders_of(path: Path) -> tuple[Path, ...]:
    return tuple(Path(os.path.realpath(path)).parents)


def _same(one: Path, other: Path) -> bool:
    """Whether two names are of one file, however they are written."""
    if os.path.realpath(one) == os.path.realpath(other):
        return True
    try:
        return os.path.samefile(one, other)
    except OSError:
        return False


def _is_second_name(path: Path, but: Path | None) -> bool:
    """Whether the file has a second name among the tool's own files."""
    try:
        found = os.stat(path)
        if found.st_nlink < 2 or not stat.S_ISREG(found.st_mode):
            return False
        kept = (file for folder in _kept_folders() for file in folder.rglob("*"))
        return any(_same(path, each) for each in kept if each != but)
    except OSError:
        return False


def _in_data_directory(path: Path) -> bool:
    return Path(os.path.realpath(path)).is_relative_to(os.path.realpath(home()))
