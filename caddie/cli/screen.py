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


def _nowhere(mode: Literal["r", "w"]) -> TextIO:
    return Path(os.devnull).open(mode, encoding="utf-8")
