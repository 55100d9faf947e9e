"""A turn tried on the side, before it is certain that it was said: it may read, and changes nothing."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Never

from caddie.log.shot import Mode
from caddie.notes.notebook import Notebook
from caddie.talk.state import Desk, Known, Turn

_READ = ("unit", "day", "notes")


class WouldChangeError(Exception):
    """What was tried wants to write, or to look where only the turn itself may."""


class _Shut:
    """In the place of the log, which belongs to the thread that opened it."""

    def __getattr__(self, name: str) -> Never:
        raise WouldChangeError(name)


class _OnlyRead:
    """In the place of the notebook: what it holds, and no way to change it."""

    def __init__(self, book: Notebook) -> None:
        self._book = book

    def __getattr__(self, name: str) -> Any:
        if name not in _READ:
            raise WouldChangeError(name)
        return getattr(self._book, name)


def only_read(desk: Desk, opens: Callable[[str], None] | None = None) -> Desk:
    """The desk with a log and a notebook that cannot be changed, and with who is told how the reply begins."""
    log: Any = _Shut() if desk.log is not None else None
    book: Any = _OnlyRead(desk.notebook) if desk.notebook is not None else None
    return replace(desk, log=log, notebook=book, opens=opens)


@dataclass(frozen=True)
class Start:
    """Where a conversation stands: what a turn builds on."""

    desk: Desk
    known: Known
    leaving: int
    notes: Any
    """What is remembered."""

    def is_still(self, now: "Start") -> bool:
        """Whether nothing has become anything else since."""
        return (
            self.desk is now.desk
            and self.known is now.known
            and self.notes is now.notes
            and self.leaving == now.leaving
        )


@dataclass(frozen=True)
class Ahead:
    """A turn that was tried: from where, what was said, and what came of it."""

    start: Start
    text: str
    from_speech: bool
    turn: Turn
    known: Known
    """What is known then."""
    past: deque[Known]
    """What undo would come back to then."""
    leaving: int
    mode: Mode
