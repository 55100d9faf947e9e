"""Input and output that can be trusted: nothing printed steers the terminal or fails on a letter.

File names, logged sentences and names in files come from anywhere. Colours and the clearing of a line, which
the program itself uses, pass; every other control sequence is shown instead of done.
"""

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TextIO

from caddie.printable import printable

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

_ANY_WIDTH = 10_000
_OURS = re.compile(r"(\x1b\[(?:K|[\d;]*m)|[\n\r\t])")


class Screen:
    """A stream that shows control characters instead of obeying them."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write the text, safe to print; its length as given."""
        parts = _OURS.split(text)
        self._stream.write("".join(part if odd % 2 else printable(part) for odd, part in enumerate(parts)))
        return len(text)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@contextmanager
def safe_output() -> Iterator[None]:
    """Standard output and error as :class:`Screen` while inside."""
    if sys.stdin is None:
        sys.stdin = _nowhere("r")
    before = sys.stdout or _nowhere("w"), sys.stderr or _nowhere("w")
    # A terminal that knows no ± gets its escape, and a byte that is no letter a mark: neither ends the program.
    for stream, odd in (
        (before[0], "backslashreplace"),
        (before[1], "backslashreplace"),
        (sys.stdin, "replace"),
    ):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=odd)
    sys.stdout, sys.stderr = (Screen(stream) for stream in before)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def literal_console(*, stderr: bool = False, width_in_file: int | None = None) -> "Console":
    """The console for tables and styled lines: a name such as ``[red]`` or ``:flag:`` is printed as it is.

    Args:
        stderr: print on standard error.
        width_in_file: columns when it is no terminal that is printed on.
    """
    from rich.console import Console

    console = Console(stderr=stderr, markup=False, emoji=False, highlight=False)
    if width_in_file and not console.is_terminal:
        console.width = width_in_file
    return console


def print_whole(table: "Table", width_in_file: int | None = None) -> None:
    """Print a table, a block of lines for each row where the columns do not fit: no number is cut.

    Args:
        table: the table; its first column names the row.
        width_in_file: columns when it is no terminal that is printed on.
    """
    console = literal_console(width_in_file=width_in_file)
    wide = console.options.update(max_width=_ANY_WIDTH)
    for column in table.columns:
        least = max(console.measure(cell, options=wide).minimum for cell in (column.header, *column.cells))
        column.min_width, column.overflow = least, "fold"
    if console.measure(table, options=wide).minimum <= console.width:
        console.print(table)
        return
    if table.title:
        console.print(table.title)
    names, *others = table.columns
    rows = zip(*(column.cells for column in others), strict=True)
    for name, row in zip(names.cells, rows, strict=True):
        console.print(name, style="bold")
        for column, cell in zip(others, row, strict=True):
            if cell:
                console.print(f"  {column.header}: {cell}")


def _nowhere(mode: Literal["r", "w"]) -> TextIO:
    return Path(os.devnull).open(mode, encoding="utf-8")
