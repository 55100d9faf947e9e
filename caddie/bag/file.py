"""The bag file: TOML that people edit, lengths in the player's own unit.

``Bag`` holds SI; the file holds what the player measured. Saving keeps the file's comments and order, and
the file as it was before under the name of the bag with ``.previous`` behind it.
"""

import contextlib
import os
import re
import tempfile
import tomllib
from pathlib import Path

from pydantic import ValidationError

from caddie.bag.migrations import SCHEMA
from caddie.bag.models import Bag
from caddie.bag.positions import position_of
from caddie.bag.reading import BagProblemsError, Problem, bag_content, one_line, read_bag
from caddie.errors import CaddieError
from caddie.places import home, shipped

__all__ = [
    "DEMO_BAG",
    "SCHEMA",
    "bag_content",
    "bag_problems",
    "explain",
    "load_bag",
    "own_bag",
    "previous",
    "read_bag",
    "save_bag",
    "write_atomically",
]

DEMO_BAG = "demo_bag/bag.toml"

_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")


def own_bag() -> Path:
    """Where the player's own bag lives; it need not be there yet."""
    return home() / "bag.toml"


def previous(path: Path) -> Path:
    """Where the version before the last save of ``path`` is kept."""
    return path.with_name(f"{path.name}.previous")


def load_bag(path: Path | str | None = None) -> Bag:
    """Read a bag file; the shipped demo bag when no path is given.

    Raises:
        CaddieError: in one line, which file and which field is missing or wrong and what it must be.
    """
    path = Path(path) if path else shipped(DEMO_BAG)
    text = _text_of(path)
    try:
        return read_bag(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise CaddieError(f"{path}: {_syntax(error, text).text()}") from None
    except BagProblemsError as error:
        raise CaddieError(f"{path}: {one_line(_placed(error.problems, text))}") from None


def bag_problems(path: Path) -> tuple[Problem, ...]:
    """Everything that keeps a bag file from being read, each problem with its line; empty when it is sound.

    Raises:
        CaddieError: if the file is missing or is no text.
    """
    text = _text_of(path)
    try:
        read_bag(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        return (_syntax(error, text),)
    except BagProblemsError as error:
        return _placed(error.problems, text)
    return ()


def save_bag(bag: Bag, path: Path) -> None:
    """Write the bag in one step, so that a crash leaves the old file or the new one, never half of one.

    A sound file that is already there is edited: its comments, order and equal numbers stay. Whatever was
    there is kept beside it (:func:`previous`).

    Raises:
        CaddieError: if the folder cannot be written; the bag is then as before.
    """
    from caddie.bag.writing import edited_text, fresh_text

    text = fresh_text(bag)
    if path.exists():
        before = _text_of(path)
        with contextlib.suppress(ValueError):
            text = edited_text(before, bag)
        if before != text:
            write_atomically(previous(path), before)
    write_atomically(path, text)


def write_atomically(path: Path, content: str | bytes) -> None:
    """Replace the file's content in one step.

    Raises:
        CaddieError: if the folder cannot be written; the old file is then untouched.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content.encode("utf-8") if isinstance(content, str) else content)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                os.chmod(name, path.stat().st_mode)
            else:
                os.chmod(name, 0o666 & ~_umask())
            os.replace(name, path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise CaddieError(f"{path}: cannot be written ({error.strerror or error})") from None


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
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            return file.read()
    except FileNotFoundError:
        raise CaddieError(f"{path}: no such bag file; give its path with --bag") from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise CaddieError(f"{path}: line {line}: is not UTF-8 text; save the file as UTF-8") from None
    except OSError as error:
        raise CaddieError(f"{path}: cannot be read ({error.strerror or error})") from None


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
    found = []
    for problem in problems:
        line, column = position_of(text, problem.place) or (1, 1)
        found.append(problem.model_copy(update={"line": line, "column": column}))
    return tuple(sorted(found, key=lambda each: (each.line or 0, each.column or 0)))


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
