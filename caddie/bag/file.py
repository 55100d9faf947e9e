"""The bag file: TOML that people edit, lengths in the player's own unit.

``Bag`` holds SI; the file holds what the player measured. Saving keeps the file's comments and order, and
the file as it was before under the name of the bag with ``.previous`` behind it.
"""

import contextlib
import hashlib
import os
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple, Self

from pydantic import ValidationError

from caddie.bag.migrations import SCHEMA
from caddie.bag.models import Bag
from caddie.bag.positions import field_positions, nearest_position
from caddie.bag.reading import BagProblemsError, Problem, bag_content, one_line, read_bag
from caddie.errors import CaddieError
from caddie.keeping import read_bytes, write_atomically
from caddie.places import NoHomeError, home, shipped

__all__ = [
    "DEMO_BAG",
    "SCHEMA",
    "Seen",
    "bag_content",
    "bag_problems",
    "explain",
    "kept_bag",
    "load_bag",
    "own_bag",
    "previous",
    "read_bag",
    "save_bag",
]

DEMO_BAG = "demo_bag/bag.toml"

LARGEST_BAG_BYTES = 120_000
"""A bag with every club and a page of comments on each has a tenth of it."""
LONGEST_BAG_LINE, MOST_DOTS = 1000, 50

_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")


def own_bag() -> Path:
    """Where the player's own bag lives; it need not be there yet."""
    return home() / "bag.toml"


def kept_bag() -> Path | None:
    """The player's own bag, or None where there is none: without a home, or out of reach, there is none."""
    with contextlib.suppress(NoHomeError):
        # `Path.exists` would raise where a folder above may not be entered.
        return own_bag() if os.path.exists(own_bag()) else None
    return None


def previous(path: Path) -> Path:
    """Where the version before the last save of ``path`` is kept."""
    return path.with_name(f"{path.name}.previous")


class Seen(NamedTuple):
    """A bag file as it was when a command began, so that nobody's change since then is lost."""

    path: Path
    digest: str | None
    """None when there was no file."""

    @classmethod
    def of(cls, path: Path) -> Self:
        """The file as it is now.

        Raises:
            CaddieError: if something is there that is no ordinary file.
        """
        there = path.exists()
        return cls(path, hashlib.sha256(read_bytes(path, LARGEST_BAG_BYTES)).hexdigest() if there else None)

    def refuse_changed(self) -> None:
        """Refuse when the file is no longer what it was.

        Raises:
            CaddieError: if it was changed, made or taken away.
        """
        if Seen.of(self.path) != self:
            raise CaddieError(
                f"{self.path}: was changed meanwhile; it stays as it is now, nothing is written: "
                "give the command again"
            )


def load_bag(path: Path | str | None = None) -> Bag:
    """Read a bag file; the shipped demo bag when no path is given.

    Raises:
        CaddieError: in one line, which file and which field is missing or wrong and what it must be.
    """
    path = Path(path) if path else shipped(DEMO_BAG)
    try:
        return _read(_text_of(path))
    except BagProblemsError as error:
        raise CaddieError(f"{path}: {one_line(error.problems)}") from None


def bag_problems(path: Path) -> tuple[Problem, ...]:
    """Everything that keeps a bag file from being read, each problem with its line; empty when it is sound.

    Raises:
        CaddieError: if the file is missing or is no text.
    """
    text = _text_of(path)
    try:
        _read(text)
    except BagProblemsError as error:
        return error.problems
    return ()


def save_bag(
    bag: Bag, path: Path, seen: Seen | None = None, remarks: Mapping[str, str] | None = None
) -> None:
    """Write the bag in one step, so that a crash leaves the old file or the new one, never half of one.

    A sound file that is already there is edited: its comments, order and equal numbers stay. Whatever was
    there is kept beside it (:func:`previous`). ``seen`` is the file that ``bag`` was made from, ``remarks`` are
    comments on the lofts of a new file, by club.

    Raises:
        CaddieError: if the folder cannot be written, or the file was changed since it was seen; the bag is
            then as before.
    """
    from caddie.bag.writing import edited_text, fresh_text

    if seen is not None:
        seen.refuse_changed()
    text = fresh_text(bag, remarks or {})
    if path.exists():
        before = _text_of(path)
        with contextlib.suppress(BagProblemsError):
            _read(before)
            text = edited_text(before, bag)
        if before != text:
            write_atomically(previous(path), before, through_link=False)
    write_atomically(path, text, new_folder=True)


def explain(error: ValidationError) -> str:
    """The first problem of a validation as one line: the field's place and what is wrong with it."""
    first = error.errors()[0]
    place = ".".join(str(part + 1) if isinstance(part, int) else part for part in first["loc"])
    message = first["msg"].removeprefix("Value error, ")
    message = message[:1].lower() + message[1:]
    found = first["input"]
    shown = f" (found {found!r})" if isinstance(found, str | int | float) else ""
    more = f"; {error.error_count() - 1} more problem(s) after it" if error.error_count() > 1 else ""
    return f"{place + ': ' if place else ''}{message}{shown}{more}"


def _text_of(path: Path) -> str:
    raw = read_bytes(path, LARGEST_BAG_BYTES, "no such bag file; give its path with --bag")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise CaddieError(f"{path}: line {line}: is not UTF-8 text; save the file as UTF-8") from None


def _read(text: str) -> Bag:
    """The bag in a file's text.

    Raises:
        BagProblemsError: every problem, each with its line, in the file's order.
    """
    for number, line in enumerate(text.split("\n"), start=1):
        # Over a key of thousands of parts, or thousands of spaces, readers take ever longer.
        if len(line) > LONGEST_BAG_LINE or (
            line.count(".") > MOST_DOTS and not line.lstrip().startswith("#")
        ):
            raise BagProblemsError((_of_the_whole("is longer than any line of a bag", number),))
    try:
        return read_bag(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        problems: tuple[Problem, ...] = (_syntax(error, text),)
    except BagProblemsError as error:
        problems = _placed(error.problems, text)
    except RecursionError:
        problems = (_of_the_whole("is nested far deeper than any bag"),)
    except ValueError:
        # The reader refuses whole numbers that take long to read, of more than some 4000 digits.
        problems = (_of_the_whole("holds a number with thousands of digits"),)
    raise BagProblemsError(problems)


def _of_the_whole(message: str, line: int = 1) -> Problem:
    return Problem(place=(), where="", message=message, line=line, column=1)


def _syntax(error: tomllib.TOMLDecodeError, text: str) -> Problem:
    said = str(error).splitlines()[0]
    place = _TOML_PLACE.search(said)
    message = _TOML_PLACE.sub("", said)
    message = f"not valid TOML: {message[:1].lower()}{message[1:]}"
    if place and place[1]:
        return Problem(place=(), where="", message=message, line=int(place[1]), column=int(place[2]))
    lines = text.splitlines() or [""]
    return Problem(place=(), where="", message=message, line=len(lines), column=len(lines[-1]) + 1)


def _placed(problems: tuple[Problem, ...], text: str) -> tuple[Problem, ...]:
    """The problems with their lines, in the file's order."""
    positions = field_positions(text)
    found = []
    for problem in problems:
        line, column = nearest_position(positions, problem.place) or (1, 1)
        found.append(problem.model_copy(update={"line": line, "column": column}))
    return tuple(sorted(found, key=lambda each: (each.line or 0, each.column or 0)))
