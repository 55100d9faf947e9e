"""Between a bag file's tables and :class:`Bag`: lengths in the player's unit there, SI here.

All problems of a file are found in one pass, each with its place, so that a player mends a file once.
"""

import difflib
import json
import math
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from caddie.bag.migrations import SCHEMA, migrate
from caddie.bag.models import Bag, Carry, Club, MisfitsError, Player, SwingLength
from caddie.bag.positions import Place
from caddie.situation import Frozen
from caddie.units import Unit, from_metres, to_metres

_LENGTHS = {"carry": "carry_m", "sd": "sd_m", "side_sd": "side_sd_m", "run_bias": "run_bias_m"}
_FILE_KEYS = {long: short for short, long in _LENGTHS.items()}
_CELL_KEYS = tuple(_FILE_KEYS.get(name, name) for name in Carry.model_fields if name != "swing")
_NEEDED = {"carry": 65, "sd": 3, "shots": 12}
_FILE_ACCURACY_M = 1e-6
_CELL_TABLES = ("carries", "splash")
DEEPEST = 8
LONGEST_SHOWN = 60
LONGEST_MESSAGE = 300
_TOO_LARGE = 1e12


class Problem(Frozen):
    """One thing wrong with a bag file."""

    place: tuple[str | int, ...]
    where: str
    """The place as a player reads it: the club by its id."""
    message: str
    line: int | None = None
    """Counted from 1; None when the text was not at hand."""
    column: int | None = None

    def text(self) -> str:
        """The problem on one line, without the file's name."""
        at = f"line {self.line}, column {self.column}: " if self.line else ""
        return f"{at}{self.where + ': ' if self.where else ''}{self.message}"


class BagProblemsError(ValueError):
    """Everything wrong with a bag's content."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__(one_line(problems))
        self.problems = problems


def one_line(problems: tuple[Problem, ...]) -> str:
    """The first problem, and how many follow."""
    rest = len(problems) - 1
    more = f"; {rest} more problem{'s' if rest > 1 else ''} after it (see 'caddie bag check')" if rest else ""
    return problems[0].text() + more


def read_bag(content: Mapping[str, Any]) -> Bag:
    """The bag in a parsed file.

    Raises:
        BagProblemsError: (a ValueError) every problem, each with its field's place.
    """
    content = dict(content)
    for key, value in content.items():
        if _deeper(value, DEEPEST):
            message = f"is nested deeper than any part of a bag ({DEEPEST} levels)"
            raise BagProblemsError((_problem((key,), message, content),))
    try:
        migrate(content)
    except ValueError as error:
        raise BagProblemsError(
            (_problem(("schema",), str(error).removeprefix("schema: "), content),)
        ) from None
    original = dict(content)
    content.pop("schema")
    problems: list[Problem] = []
    unit = _unit_of(content, problems)
    content["clubs"] = _read_clubs(content.get("clubs"), unit, problems, original)
    try:
        # By way of JSON because only there strict reading takes names for enumerations: a word or a yes where
        # a number belongs is a slip, not a number.
        bag = Bag.model_validate_json(json.dumps(content, default=str), strict=True)
    except ValidationError as error:
        known = {problem.place for problem in problems}
        found = [each for detail in error.errors() for each in _explained(detail, content, original, unit)]
        problems += [each for each in found if each.place not in known]
    if problems:
        raise BagProblemsError(tuple(problems))
    return _shortest_first(bag)


def _deeper(value: Any, levels: int) -> bool:
    """Whether tables and arrays stand in each other more than so many levels deep."""
    inner = value.values() if isinstance(value, Mapping) else value if isinstance(value, list) else ()
    return levels < 0 or any(_deeper(each, levels - 1) for each in inner)


def _shown(value: Any) -> str:
    """A value as it stands in a complaint, cut where it gets long."""
    try:
        return _cut(repr(value), LONGEST_SHOWN)
    except ValueError:
        return "a number with thousands of digits"


def _cut(text: str, longest: int) -> str:
    return text if len(text) <= longest else f"{text[:longest]}..."


def _finite(value: float | int) -> float | int:
    """A whole number too large for a length as a large length, which is refused as such."""
    return value if not abs(value) > _TOO_LARGE else _TOO_LARGE if value > 0 else -_TOO_LARGE


def _shortest_first(bag: Bag) -> Bag:
    """The bag with each club's cells in the order of the swings, in whatever order the file has them."""
    share = {swing.name: swing.share for swing in bag.swings}
    clubs = []
    for club in bag.clubs:
        ordered = {
            table: tuple(sorted(getattr(club, table), key=lambda cell: share[cell.swing]))
            for table in _CELL_TABLES
        }
        clubs.append(club.model_copy(update=ordered))
    return bag.model_copy(update={"clubs": tuple(clubs)})


def bag_content(bag: Bag) -> dict[str, Any]:
    """The bag as plain tables in the file's own form: the inverse of :func:`read_bag`."""
    content: dict[str, Any] = {"schema": SCHEMA}
    content |= bag.model_dump(mode="json", exclude_none=True)
    unit = bag.player.distances_in
    for club in content["clubs"]:
        for table in _CELL_TABLES:
            club[table] = {
                cell.pop("swing"): {
                    _FILE_KEYS.get(key, key): _in_file(value, unit) if key in _FILE_KEYS else value
                    for key, value in cell.items()
                }
                for cell in club[table]
            }
    return {key: _plain(value) for key, value in content.items()}


def _plain(value: Any) -> Any:
    """Whole numbers without a decimal point, as people write them."""
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _in_file(length_m: float, unit: Unit) -> float | int:
    """The shortest decimal number in the player's unit that stands for the length."""
    exact = from_metres(length_m, unit)
    for digits in range(10):
        short = round(exact, digits)
        if math.isclose(to_metres(short, unit), length_m, rel_tol=0, abs_tol=_FILE_ACCURACY_M):
            return short
    return exact


def _unit_of(content: Mapping[str, Any], problems: list[Problem]) -> Unit:
    player = content.get("player", {})
    said = player.get("distances_in", Unit.YARDS.value) if isinstance(player, Mapping) else Unit.YARDS.value
    if said in (Unit.YARDS.value, Unit.METRES.value):
        return Unit(said)
    message = f"must be 'yards' or 'metres', found {_shown(said)}"
    problems.append(_problem(("player", "distances_in"), message, content))
    return Unit.YARDS


def _read_clubs(clubs: Any, unit: Unit, problems: list[Problem], original: Mapping[str, Any]) -> Any:
    if not isinstance(clubs, list) or not clubs or not all(isinstance(club, Mapping) for club in clubs):
        problems.append(_problem(("clubs",), "at least one [[clubs]] table is needed", original))
        return ()
    read = []
    for index, club in enumerate(clubs):
        tables = {}
        for table in _CELL_TABLES:
            place: Place = ("clubs", index, table)
            cells = club.get(table, {})
            if not isinstance(cells, Mapping):
                problems.append(_problem(place, "must be a table of swing lengths", original))
                cells = {}
            kept = [
                _read_cell((*place, name), cell, unit, problems, original) for name, cell in cells.items()
            ]
            tables[table] = tuple(cell for cell in kept if cell is not None)
        read.append({**club, **tables})
    return read


def _read_cell(
    place: Place, cell: Any, unit: Unit, problems: list[Problem], original: Mapping[str, Any]
) -> dict[str, Any] | None:
    if not isinstance(cell, Mapping):
        problems.append(_problem(place, "must look like {carry = 65, sd = 3, shots = 12}", original))
        return None
    read: dict[str, Any] = {"swing": place[-1]}
    sound = True
    for key, value in cell.items():
        if key in _CELL_KEYS and key not in _LENGTHS:
            read[key] = value
        elif key not in _LENGTHS:
            message = f"is no field of the bag file{_nearest((*place, key))}"
            problems.append(_problem((*place, key), message, original))
            sound = False
        elif isinstance(value, bool) or not isinstance(value, int | float):
            problems.append(_problem((*place, key), f"must be a number, found {_shown(value)}", original))
            sound = False
        else:
            read[_LENGTHS[key]] = to_metres(_finite(value), unit)
    for key, example in _NEEDED.items():
        if key not in cell:
            message = f"is missing; add it, for example {key} = {example}"
            problems.append(_problem((*place, key), message, original))
            sound = False
    return read if sound else None


def _explained(
    detail: Any, read: Mapping[str, Any], original: Mapping[str, Any], unit: Unit
) -> list[Problem]:
    """One entry of pydantic's error list in the words of the file."""
    place = _file_place(detail["loc"], read)
    context = detail.get("ctx", {})
    error = context.get("error")
    if isinstance(error, MisfitsError):
        return [_problem(where, message, original) for where, message in error.problems]
    kind, value, key = detail["type"], detail["input"], place[-1] if place else ""
    if key in _LENGTHS and isinstance(value, int | float):
        value = _in_file(_finite(value), unit)
    found = f", found {_shown(value)}" if isinstance(value, str | int | float | bool) else ""
    bound = next((context[name] for name in ("gt", "ge", "lt", "le") if name in context), None)
    if key in _LENGTHS and isinstance(bound, int | float):
        bound = f"{round(from_metres(bound, unit), 1):g} {unit.value}"
    if kind == "missing":
        message = "is missing; add it"
    elif kind == "extra_forbidden":
        message = f"is no field of the bag file{_nearest(place)}"
    elif kind in _BOUNDS:
        message = f"must be {_BOUNDS[kind]} {bound}{found}"
    elif kind == "enum":
        message = f"must be {context['expected']}{found}"
    else:
        said = detail["msg"].removeprefix("Value error, ").removeprefix("Input should be ")
        message = f"must be {said}{found}" if said != detail["msg"] and error is None else said + found
    return [_problem(place, message, original)]


_BOUNDS = {
    "greater_than": "above",
    "greater_than_equal": "at least",
    "less_than": "below",
    "less_than_equal": "at most",
}


def _nearest(place: Place) -> str:
    """A likely misspelling's cure."""
    key = str(place[-1])
    tables: dict[str, tuple[str, ...]] = {
        "player": tuple(Player.model_fields),
        "clubs": tuple(Club.model_fields),
        **dict.fromkeys(_CELL_TABLES, _CELL_KEYS),
        "swings": tuple(SwingLength.model_fields),
    }
    table = next((part for part in reversed(place[:-1]) if part in tables), None)
    known = tables[str(table)] if table is not None else ("schema", *Bag.model_fields)
    close = difflib.get_close_matches(key, known, n=1)
    return f"; did you mean {close[0]!r}?" if close else f"; remove it (known: {', '.join(known)})"


def _file_place(loc: tuple[int | str, ...], read: Mapping[str, Any]) -> Place:
    """pydantic's place in the model turned into the place in the file: cells are keyed by swing there."""
    place: list[str | int] = []
    for part in loc:
        if len(place) == 3 and place[0] == "clubs" and place[2] in _CELL_TABLES and isinstance(part, int):
            place.append(read["clubs"][place[1]][place[2]][part]["swing"])
        elif part != "[key]":
            place.append(_FILE_KEYS.get(part, part) if isinstance(part, str) else part)
    return tuple(place)


def _problem(place: Place, message: str, content: Mapping[str, Any]) -> Problem:
    where = _cut(_where(place, content), LONGEST_SHOWN)
    return Problem(place=place, where=where, message=_cut(message, LONGEST_MESSAGE))


def _where(place: Place, content: Mapping[str, Any]) -> str:
    if len(place) >= 2 and place[0] in ("clubs", "swings") and isinstance(place[1], int):
        table = content.get(str(place[0]))
        entry = table[place[1]] if isinstance(table, list) and place[1] < len(table) else {}
        name = entry.get("id" if place[0] == "clubs" else "name") if isinstance(entry, Mapping) else None
        noun = "club" if place[0] == "clubs" else "swing"
        head = f"{noun} {name}" if isinstance(name, str) and name else f"{noun} number {place[1] + 1}"
        rest = ".".join(str(part) for part in place[2:])
        return f"{head}: {rest}" if rest else head
    return ".".join(str(part) for part in place)
