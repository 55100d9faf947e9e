"""A bag written into its file's text so that comments, order and untouched numbers stay as they are."""

import math
import re
import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT

from caddie.bag.migrations import migrate
from caddie.bag.models import Bag
from caddie.bag.reading import bag_content, read_bag

_IDENTITY = {"clubs": "id", "swings": "name"}
_SAME_M = 1e-5


def fresh_text(bag: Bag, remarks: Mapping[str, str] | None = None) -> str:
    """A new bag file for ``bag``, with comments on the lofts of some clubs."""
    content = bag_content(bag)
    document = tomlkit.document()
    unit = bag.player.distances_in.value
    document.add(tomlkit.comment(f"The bag of {' '.join(bag.player.name.split())}. Distances are in {unit}."))
    document.add(tomlkit.comment("Each cell: mean carry, spread (one standard deviation), balls measured;"))
    document.add(tomlkit.comment("shots = 0 marks an estimate."))
    document["schema"] = content.pop("schema")
    for key, value in content.items():
        if value not in ({}, []):
            document[key] = _item(key, value)
    for club in document["clubs"]:
        if remark := (remarks or {}).get(club["id"]):
            club["loft_deg"].comment(remark)
    return re.sub(r"\n{3,}", "\n\n", tomlkit.dumps(document))


def edited_text(text: str, bag: Bag) -> str:
    """``text``, a valid bag file, changed only where ``bag`` differs from it.

    Raises:
        ValueError: if ``text`` is no valid bag file.
    """
    document = tomlkit.parse(text)
    migrate(document)
    _merge(document, bag_content(read_bag(document.unwrap())), bag_content(bag))
    changed = tomlkit.dumps(document)
    # A layout that the editor cannot follow must never cost a number: then the file is written anew.
    if not _stands_for(changed, bag):
        return fresh_text(bag)
    return changed


def _stands_for(text: str, bag: Bag) -> bool:
    try:
        return _same(bag_content(read_bag(tomllib.loads(text))), bag_content(bag))
    except ValueError:
        return False


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, float | int) and isinstance(other, float | int):
        return math.isclose(one, other, rel_tol=0, abs_tol=_SAME_M)
    return bool(one == other)


def _merge(table: Any, old: Mapping[str, Any], new: Mapping[str, Any]) -> None:
    """Bring ``table``, which says ``old``, to say ``new``; what is equal is not touched."""
    for key in old:
        if key not in new and key in table:
            del table[key]
    for key, value in new.items():
        if key in old and _same(old[key], value):
            continue
        if key in _IDENTITY and isinstance(table.get(key), AoT):
            _merge_tables(table, key, old[key], value)
        elif isinstance(value, dict) and isinstance(table.get(key), Mapping):
            _merge(table[key], old.get(key, {}), value)
        elif isinstance(value, dict) and isinstance(old.get(key), dict):
            # The file leaves the table to its defaults: only what departs from them is written.
            changed = {name: each for name, each in value.items() if not _same(old[key].get(name), each)}
            table[key] = _item(key, changed)
        else:
            table[key] = _item(key, value)


def _merge_tables(parent: Any, key: str, old: list[Any], new: list[Any]) -> None:
    identity = _IDENTITY[key]
    names = [entry[identity] for entry in new]
    tables = parent[key]
    for index in reversed(range(len(old))):
        if old[index][identity] not in names:
            del tables[index]
    before = {entry[identity]: entry for entry in old}
    for index, entry in enumerate(new):
        name = entry[identity]
        place = next((k for k in range(index, len(tables)) if tables[k][identity] == name), None)
        if place is None:
            tables.insert(index, _table(entry))
        else:
            if place != index:
                tables.insert(index, tables.pop(place))
            _merge(tables[index], before[name], entry)


def _item(key: str, value: Any) -> Any:
    if key in _IDENTITY and value:
        tables = tomlkit.aot()
        for entry in value:
            tables.append(_table(entry))
        return tables
    if isinstance(value, dict):
        return _inline(value) if key not in _TABLES else _table(value)
    return value


_TABLES = ("player", "measured_in", "today", "trust", "carries", "splash", "strikes")


def _table(content: Mapping[str, Any]) -> Any:
    table = tomlkit.table()
    for key, value in content.items():
        if value not in ({}, []):
            table[key] = _item(key, value)
    if "carries" not in table and "splash" not in table:
        table.add(tomlkit.nl())
    return table


def _inline(content: Mapping[str, Any]) -> Any:
    cell = tomlkit.inline_table()
    cell.update(content)
    return cell
