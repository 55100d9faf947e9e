"""Notes of holes as they are kept: ``holes.toml``, a table a hole, every length with its unit in its name.

```toml
[[hole]]
course = "Marram Links"
number = 4
depth_yards = 28
side_fall = "left_to_right"
trouble = [
  { kind = "bunker", side = "short" },
]
noted = 2026-05-02
```
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import ValidationError

from caddie.bag.file import explain
from caddie.notes.models import HoleNote
from caddie.notes.sheet import Entry, EntryKey, Sheet, UnreadableEntryError
from caddie.units import Unit, from_metres, to_metres

HEADER = """\
# Holes as your caddie remembers them: edit, add or take out any table. As seen from the fairway.
# Lengths end in _yards, _feet or _metres. Flag and wind are of the day and are not kept.

"""
_LENGTHS = ("depth", "height", "before_green")
_UNITS = (Unit.YARDS, Unit.FEET, Unit.METRES)
_PLACES = 2
"""Digits of a length behind the point: a centimetre."""


def holes_sheet() -> Sheet:
    """The file of every hole."""
    return Sheet("holes", HEADER, re.compile(r"\s*\[\[\s*hole\s*\]\]"), read_hole)


def read_hole(content: Mapping[str, Any]) -> tuple[EntryKey, HoleNote]:
    """A hole from its table.

    Raises:
        UnreadableEntryError: in a few words, which field is wrong.
    """
    tables = content.get("hole")
    if not isinstance(tables, list) or len(tables) != 1 or set(content) != {"hole"}:
        raise UnreadableEntryError("holds something beside one hole")
    table = _in_metres(dict(tables[0]))
    trouble = table.get("trouble", [])
    if not isinstance(trouble, list) or not all(isinstance(each, dict) for each in trouble):
        raise UnreadableEntryError("trouble must be a list of tables")
    table["trouble"] = [_in_metres(each) for each in trouble]
    try:
        note = HoleNote.model_validate(table)
    except ValidationError as error:
        raise UnreadableEntryError(explain(error)) from None
    return note.key, note


def written_hole(note: HoleNote, unit: Unit, before: str | None = None) -> str:
    """A hole as its entry in the file; what stood there before keeps its comments and the order of its lines.

    Args:
        note: the hole.
        unit: what its lengths are written in, yards or metres; heights go in feet beside yards.
        before: the entry that it takes the place of.
    """
    wanted = _table(note, unit)
    if before is not None:
        import tomlkit

        document = tomlkit.parse(before)
        tables = document["hole"]
        table = tables[0]
        for key in [key for key in table if key not in wanted]:
            del table[key]
        for key, value in wanted.items():
            if key not in table or _plain(table[key]) != value:
                table[key] = _item(value)
        text = tomlkit.dumps(document)
        if read_hole(tomlkit.parse(text).unwrap())[1] == read_hole({"hole": [wanted]})[1]:
            return text
    lines = [f"{key} = {_item(value).as_string()}\n" for key, value in wanted.items()]
    return "[[hole]]\n" + "".join(lines) + "\n"


def notes_in(entries: Iterable[Entry]) -> list[HoleNote]:
    """The holes that can be read, by course and number."""
    found = [each.value for each in entries if each.key is not None]
    return sorted(found, key=lambda note: (note.key[0], note.number))


def _in_metres(table: dict[str, Any]) -> dict[str, Any]:
    """A table with its lengths in metres under the names of the model."""
    for name in _LENGTHS:
        given = [unit for unit in _UNITS if f"{name}_{unit.value}" in table]
        if len(given) > 1:
            raise UnreadableEntryError(f"{name} is given in {given[0].value} and in {given[1].value}")
        if not given:
            continue
        key = f"{name}_{given[0].value}"
        value = table.pop(key)
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise UnreadableEntryError(f"{key} must be a number")
        table[f"{name}_m"] = to_metres(float(value), given[0])
    return table


def _table(note: HoleNote, unit: Unit) -> dict[str, Any]:
    """The note as it is written: only what is known."""
    small = Unit.METRES if unit is Unit.METRES else Unit.FEET
    table: dict[str, Any] = {}
    for key, value in note.model_dump(mode="python", exclude_none=True).items():
        if key == "trouble":
            if value:
                table[key] = [_trouble(each, unit, small) for each in value]
        elif key.endswith("_m"):
            table |= _length(key, value, small if key == "height_m" else unit)
        else:
            table[key] = getattr(value, "value", value)
    return table


def _trouble(each: Mapping[str, Any], unit: Unit, small: Unit) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in each.items():
        if key.endswith("_m"):
            found |= _length(key, value, small if key == "height_m" else unit)
        else:
            found[key] = getattr(value, "value", value)
    return found


def _length(key: str, value_m: float, unit: Unit) -> dict[str, float | int]:
    value = round(from_metres(value_m, unit), _PLACES)
    return {f"{key.removesuffix('_m')}_{unit.value}": int(value) if value == int(value) else value}


def _item(value: Any) -> Any:
    import tomlkit
    from tomlkit.items import Array

    if isinstance(value, list):
        rows = Array([], tomlkit.items.Trivia(), multiline=True)
        for each in value:
            row = tomlkit.inline_table()
            row.update(each)
            rows.append(row)
        return rows
    return tomlkit.item(value)


def _plain(item: Any) -> Any:
    return item.unwrap() if hasattr(item, "unwrap") else item
