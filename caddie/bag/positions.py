"""Where in a TOML text a field stands, so that a complaint can point at it.

The TOML readers at hand give values without places. This scan knows tables, arrays of tables, plain keys
and the keys of inline tables; a field it cannot place gets the place of the nearest table around it.
"""

import re

Place = tuple[str | int, ...]
"""A way into the file: table names and, inside an array of tables, a number counted from 0."""

_HEADER = re.compile(r"^\s*(\[\[?)\s*(.+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""\s*((?:"[^"]*"|'[^']*'|[\w-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[\w-]+))*)\s*=""")
_INLINE_KEY = re.compile(r"""[{,]\s*("[^"]*"|'[^']*'|[\w-]+)\s*=""")
_PART = re.compile(r"""\s*("[^"]*"|'[^']*'|[\w-]+)\s*(?:\.|$)""")


def field_positions(text: str) -> dict[Place, tuple[int, int]]:
    """Line and column, both counted from 1, of each table and key in ``text``.

    >>> field_positions("a = 1\\n[[club]]\\nx = {sd = 2}")[("club", 0, "x", "sd")]
    (3, 6)
    """
    found: dict[Place, tuple[int, int]] = {}
    counts: dict[Place, int] = {}
    table: Place = ()
    fence: str | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if fence is not None:
            fence = None if fence in line else fence
            continue
        if header := _HEADER.match(line):
            table = _resolve(_parts(header[2]), counts, opens=header[1] == "[[")
            found.setdefault(table, (number, header.start(1) + 1))
            if header[1] == "[[":
                found.setdefault(table[:-1], (number, header.start(1) + 1))
            continue
        key = _KEY.match(line)
        if key is None or line.lstrip().startswith("#"):
            continue
        place = table + _parts(key[1])
        found.setdefault(place, (number, key.start(1) + 1))
        for inner in _INLINE_KEY.finditer(line, key.end()):
            found.setdefault((*place, inner[1].strip("\"'")), (number, inner.start(1) + 1))
        fence = next((mark for mark in ('"""', "'''") if line.count(mark) == 1), None)
    return found


def nearest_position(found: dict[Place, tuple[int, int]], place: Place) -> tuple[int, int] | None:
    """Of :func:`field_positions`, line and column of a field or of the nearest thing around it."""
    for length in range(len(place), 0, -1):
        if place[:length] in found:
            return found[place[:length]]
    return None


def _parts(dotted: str) -> Place:
    return tuple(part.strip("\"'") for part in _PART.findall(dotted))


def _resolve(parts: Place, counts: dict[Place, int], opens: bool) -> Place:
    """The table's place with the running number of each array of tables on the way put in."""
    place: Place = ()
    for depth, part in enumerate(parts):
        place = (*place, part)
        if opens and depth == len(parts) - 1:
            counts[place] = counts.get(place, -1) + 1
        if place in counts:
            place = (*place, counts[place])
    return place
