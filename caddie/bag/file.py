"""The bag file: TOML that people edit, lengths in the player's own unit.

``Bag`` holds SI; the file holds what the player measured. Only this module knows both.
"""

import os
import tempfile
import tomllib
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.units import Unit, from_metres, to_metres

SCHEMA = 1
DEMO_BAG = "demo_bag/bag.toml"

_LENGTHS = {"carry": "carry_m", "sd": "sd_m", "side_sd": "side_sd_m"}


def load_bag(path: Path | None = None) -> Bag:
    """Read a bag file; the shipped demo bag when no path is given.

    Raises:
        CaddieError: in one line, which file and which field is missing or wrong and what it must be.
    """
    path = path or shipped(DEMO_BAG)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise CaddieError(f"{path}: no such bag file; give its path with --bag") from None
    except (OSError, UnicodeDecodeError) as error:
        raise CaddieError(f"{path}: cannot be read as a text file ({_first_line(error)})") from None
    try:
        return read_bag(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise CaddieError(f"{path}: not valid TOML: {_first_line(error)}") from None
    except ValidationError as error:
        raise CaddieError(f"{path}: {explain(error)}") from None
    except ValueError as error:
        raise CaddieError(f"{path}: {_first_line(error)}") from None


def read_bag(content: dict[str, Any]) -> Bag:
    """The bag in a parsed file.

    Raises:
        ValueError: with the field's name (pydantic's ValidationError is one).
    """
    content = dict(content)
    schema = content.pop("schema", None)
    if schema != SCHEMA:
        raise ValueError(
            f"schema: must be {SCHEMA}, found {schema!r}; write 'schema = {SCHEMA}' on the first line"
        )
    player = content.get("player", {})
    if not isinstance(player, dict):
        raise ValueError("player: must be a table ([player])")
    unit = _unit_of(player)
    clubs = content.get("clubs")
    if not isinstance(clubs, list) or not all(isinstance(club, dict) for club in clubs):
        raise ValueError("clubs: at least one [[clubs]] table is needed")
    content["clubs"] = [_read_club(club, unit, index) for index, club in enumerate(clubs)]
    return Bag.model_validate(content)


def bag_content(bag: Bag) -> dict[str, Any]:
    """The bag as plain tables in the file's own form: the inverse of :func:`read_bag`."""
    content: dict[str, Any] = {"schema": SCHEMA}
    content |= bag.model_dump(mode="json", exclude_none=True)
    unit = bag.player.distances_in
    for club in content["clubs"]:
        club["carries"] = {
            cell.pop("swing"): {
                _file_key(key): round(from_metres(value, unit), 2) if _file_key(key) in _LENGTHS else value
                for key, value in cell.items()
            }
            for cell in club["carries"]
        }
    return content


def save_bag(bag: Bag, path: Path) -> None:
    """Write the bag in one step, so that a crash leaves the old file or the new one, never half of one.

    Raises:
        CaddieError: if the folder cannot be written.
    """
    import tomlkit

    write_atomically(path, tomlkit.dumps(bag_content(bag)))


def write_atomically(path: Path, text: str) -> None:
    """Replace the file's content in one step.

    Raises:
        CaddieError: if the folder cannot be written; the old file is then untouched.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
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


def _unit_of(player: dict[str, Any]) -> Unit:
    said = player.get("distances_in", Unit.YARDS.value)
    if said not in (Unit.YARDS.value, Unit.METRES.value):
        raise ValueError(f"player.distances_in: must be 'yards' or 'metres', found {said!r}")
    return Unit(said)


def _read_club(club: dict[str, Any], unit: Unit, index: int) -> dict[str, Any]:
    cells = club.get("carries", {})
    if not isinstance(cells, dict):
        raise ValueError(f"clubs.{index + 1}.carries: must be a table of swing lengths")
    return {
        **club,
        "carries": tuple(_read_cell(swing, cell, unit, club, index) for swing, cell in cells.items()),
    }


def _read_cell(swing: str, cell: Any, unit: Unit, club: dict[str, Any], index: int) -> dict[str, Any]:
    place = f"club {club.get('id', index + 1)!s}: carries.{swing}"
    if not isinstance(cell, dict):
        raise ValueError(f"{place}: must look like {{carry = 65, sd = 3, shots = 12}}")
    read: dict[str, Any] = {"swing": swing}
    for key, value in cell.items():
        if key in _LENGTHS:
            if isinstance(value, bool) or not isinstance(value, int | float):
                raise ValueError(f"{place}.{key}: must be a number, found {value!r}")
            read[_LENGTHS[key]] = to_metres(value, unit)
        else:
            read[key] = value
    for key in ("carry", "sd", "shots"):
        if _LENGTHS.get(key, key) not in read:
            raise ValueError(f"{place}.{key}: is missing; add it, for example {key} = {_EXAMPLE[key]}")
    return read


_EXAMPLE = {"carry": 65, "sd": 3, "shots": 12}


def _file_key(key: str) -> str:
    return next((short for short, long in _LENGTHS.items() if long == key), key)


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0]
