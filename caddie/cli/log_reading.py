"""Reading the log for a command, and saying what of it could not be read."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from caddie.log.store import Log

_SHOWN = 5


@contextmanager
def log_to_read(path: Path | None) -> "Iterator[Log]":
    """The log, for reading alone; at the end standard error tells what was left out.

    Raises:
        CaddieError: if there is no log, or nothing of it can be read.
    """
    from caddie.log.store import Log

    with Log(path, read_only=True) as log:
        yield log
    tell_left_out(log)


def tell_left_out(log: "Log") -> None:
    """Say on standard error which shots were left out, why, and what to do."""
    from caddie.log.store import MEND

    left_out = [log.left_out[number] for number in sorted(log.left_out)]
    lines = [str(each) for each in left_out[:_SHOWN]]
    if len(left_out) > _SHOWN:
        lines.append(f"and {len(left_out) - _SHOWN} more are left out")
    if log.missed:
        lines.append(log.missed)
    for line in lines:
        typer.echo(f"{log.path}: {line}", err=True)
    if lines:
        count = f"{len(left_out)} shot{'' if len(left_out) == 1 else 's'} left out; " if left_out else ""
        typer.echo(f"{count}{MEND}, after asking", err=True)
