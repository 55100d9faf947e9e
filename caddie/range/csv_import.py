"""Shots out of any radar's or range's table, and an account of what was understood.

Nothing is written here. Every row ends either as a shot or as a rejected row with its line and the reason.
"""

import re
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

from caddie.bag.club_names import club_named, swing_named
from caddie.bag.models import Bag, Conditions
from caddie.errors import CaddieError
from caddie.printable import cell_text
from caddie.range.columns import (
    LENGTH_COLUMNS,
    LENGTH_UNITS,
    NUMBERS,
    SPEED_UNITS,
    Column,
    match_columns,
    read_heading,
)
from caddie.range.csv_table import CsvTable, decimal_mark, missing, number_reader, read_table, read_text
from caddie.range.shots import FARTHEST_CARRY_M, RangeBall, Session
from caddie.situation import Frozen, Strike
from caddie.units import SpeedUnit, Unit, to_metres, to_metres_per_second

STRIKE_WORDS: Mapping[str, Strike] = {
    **dict.fromkeys(("clean", "good", "pure", "solid", "ok", "fine", "flush"), Strike.CLEAN),
    **dict.fromkeys(("heavy", "fat", "chunk", "chunked", "chunky", "duff", "duffed"), Strike.HEAVY),
    **dict.fromkeys(("thin", "bladed", "blade", "skulled", "skull", "knifed"), Strike.THIN),
    **dict.fromkeys(("topped", "top"), Strike.TOPPED),
    **dict.fromkeys(("shank", "shanked", "hosel", "hoseled"), Strike.SHANK),
}
SAND_WORDS = frozenset({"bunker", "sand", "splash", "greenside bunker", "practice bunker"})
GRASS_WORDS = frozenset({"grass", "fairway", "turf", "fringe", "mat", "range mat", "range", "tee"})
SUMMARY = frozenset({"average", "averages", "avg", "mean", "median", "std", "sd", "std dev", "deviation",
                      "consistency", "total", "totals", "min", "max", "sum"})  # fmt: skip
MOST_REJECTED = 20_000
_LONGEST_NUMBER = 60
_SHOWN = 80
_WITH_UNIT = re.compile(r"^([+-]?[\d.,']+)\s*([a-z/°%]+)$")
_SIDED = re.compile(r"^(l|r|left|right)?\s*([+-]?[\d.,']+)\s*([a-z/]*?)\s*(l|r|left|right)?$")
_ANGLE = re.compile(r"^[+-]?[\d.,]+ ?(?:°|deg)?$")
_BOUNDS: Mapping[Column, tuple[float, float, str]] = {
    Column.CARRY: (0.0, FARTHEST_CARRY_M, "m"),
    Column.TOTAL: (0.0, FARTHEST_CARRY_M, "m"),
    Column.SIDE: (-150.0, 150.0, "m"),
    Column.BALL_SPEED: (0.1, 95.0, "m/s"),
    Column.LAUNCH: (-19.9, 84.9, "degrees"),
    Column.SPIN: (0.0, 16000.0, "rpm"),
}


class Wishes(Frozen):
    """What the person says about a table beyond the table itself."""

    length_unit: Unit | None = None
    speed_unit: SpeedUnit | None = None
    club: str | None = None
    """The club of every row, for a table without a club column."""
    swing: str | None = None
    """The swing of every row, for a table without a swing column."""
    sand: bool = False
    """Every row whose lie no column says was splashed out of a bunker."""
    columns: dict[Column, str] = {}
    """The heading to take for a column."""
    clubs: dict[str, str] = {}
    """The bag's club for a name that only the table knows."""
    conditions: Conditions | None = None


class ColumnUse(Frozen):
    """How one column was understood."""

    column: Column
    heading: str
    unit: str | None = None
    unit_from: str = ""
    """Where the unit was found: heading, line of units, option, carry."""


class Rejected(Frozen):
    """A row that gave no shot."""

    line: int
    cells: tuple[str, ...]
    reason: str


class Imported(Frozen):
    """A table as it was understood."""

    name: str
    delimiter: str
    decimal: str
    heading_line: int
    headings: tuple[str, ...]
    columns: tuple[ColumnUse, ...]
    unused: tuple[str, ...]
    session: Session
    rejected: tuple[Rejected, ...]

    def counts(self) -> dict[tuple[str, str, bool], int]:
        """Shots by club, swing and whether out of sand."""
        return dict(Counter((shot.club, shot.swing, shot.sand) for shot in self.session.shots))


class UnsaidError(CaddieError):
    """A table leaves something open that has to be asked; ``wish`` is the field of :class:`Wishes`.

    ``left_open`` is what a person is asked; the error's own line also names the option that says it.
    """

    def __init__(self, left_open: str, say: str, wish: str, choices: tuple[str, ...]) -> None:
        super().__init__(f"{left_open}{'' if left_open.endswith('?') else ';'} {say}")
        self.left_open = left_open
        self.wish = wish
        self.choices = choices


def import_csv(path: Path, bag: Bag, wishes: Wishes | None = None) -> Imported:
    """Read the shots of a table for the clubs and swings of ``bag``.

    Raises:
        UnsaidError: (a CaddieError) if the unit, the club or the swing has to be said.
        CaddieError: if the file is no table with a carry column.
    """
    return import_text(read_text(path), path.name, bag, wishes)


def import_text(text: str, name: str, bag: Bag, wishes: Wishes | None = None) -> Imported:
    """As :func:`import_csv`, from text; ``name`` stands in the messages."""
    wishes = wishes or Wishes()
    table = read_table(text, name, wishes.columns)
    at = match_columns(table.headings, wishes.columns)
    _check_said(at, name, bag, wishes)
    uses, scales = _units(table, at, name, wishes)
    sample = [
        row[i].strip() for c, i in at.items() if c in NUMBERS for _, row in table.rows[:2000] if i < len(row)
    ]
    mark = decimal_mark(sample)
    reader = _RowReader(at, scales, number_reader(mark), bag, wishes)
    shots: list[RangeBall] = []
    rejected: list[Rejected] = []
    for line, row in table.rows:
        try:
            shots.append(reader.read(line, row))
        except ValueError as error:
            rejected.append(Rejected(line=line, cells=tuple(row), reason=str(error)))
            if len(rejected) > MOST_REJECTED:
                first = rejected[0]
                raise CaddieError(
                    f"{name}: more than {MOST_REJECTED} lines give no shot, first line {first.line}: "
                    f"{first.reason}; is it a table of this bag's clubs?"
                ) from None
    used = set(at.values())
    return Imported(
        name=name,
        delimiter=table.delimiter,
        decimal=mark,
        heading_line=table.heading_line,
        headings=table.headings,
        columns=uses,
        unused=tuple(h.strip() for i, h in enumerate(table.headings) if i not in used and h.strip()),
        session=Session(
            shots=tuple(shots),
            conditions=wishes.conditions or _conditions(table.facts, name),
            date=table.facts.get("date"),
        ),
        rejected=tuple(rejected),
    )


def _check_said(at: Mapping[Column, int], name: str, bag: Bag, wishes: Wishes) -> None:
    if Column.CLUB not in at and wishes.club is None:
        raise UnsaidError(
            f"{name}: no heading says club",
            f"say it with --club, for example --club {bag.clubs[0].id}",
            "club",
            tuple(club.id for club in bag.clubs if club.carries or club.kind.value != "putter"),
        )
    if wishes.club is not None and club_named(bag, wishes.club) is None:
        raise CaddieError(f"--club {wishes.club}: is not in the bag ({', '.join(c.id for c in bag.clubs)})")
    swings = ", ".join(swing.name for swing in bag.swings)
    if Column.SWING not in at and wishes.swing is None:
        raise UnsaidError(
            f"{name}: no heading says swing",
            f"say it with --swing, one of {swings}",
            "swing",
            tuple(swing.name for swing in bag.swings),
        )
    if wishes.swing is not None and swing_named(bag, wishes.swing) is None:
        raise CaddieError(f"--swing {wishes.swing}: is none of {swings}")


def _units(
    table: CsvTable, at: Mapping[Column, int], name: str, wishes: Wishes
) -> tuple[tuple[ColumnUse, ...], dict[Column, float]]:
    """How each column is used, and the factor that turns its numbers into SI."""
    uses, scales = [], {}
    carry_unit: Unit | None = None
    for column in sorted(at, key=list(Column).index):
        heading = table.headings[at[column]]
        said = read_heading(heading).unit
        source = "heading" if said else "line of units"
        said = said or table.units.get(at[column])
        unit: str | None = None
        if column in LENGTH_COLUMNS:
            length = LENGTH_UNITS.get(said or "") or wishes.length_unit
            source = source if said in LENGTH_UNITS else "option"
            if length is None and carry_unit is not None:
                length, source = carry_unit, "carry"
            if length is None:
                raise UnsaidError(
                    f"{name}: in which unit is {heading.strip()[:_SHOWN]!r}?",
                    "say --units yards, metres or feet",
                    "length_unit",
                    (Unit.YARDS.value, Unit.METRES.value, Unit.FEET.value),
                )
            carry_unit = length if column is Column.CARRY else carry_unit
            unit, scales[column] = length.value, to_metres(1.0, length)
        elif column is Column.BALL_SPEED:
            speed = SPEED_UNITS.get(said or "") or wishes.speed_unit
            source = source if said in SPEED_UNITS else "option"
            if speed is None:
                raise UnsaidError(
                    f"{name}: in which unit is {heading.strip()[:_SHOWN]!r}?",
                    "say --speed-units mph, km/h or m/s",
                    "speed_unit",
                    (SpeedUnit.MPH.value, SpeedUnit.KMH.value, SpeedUnit.M_S.value),
                )
            unit, scales[column] = speed.value, to_metres_per_second(1.0, speed)
        elif column in NUMBERS:
            unit, scales[column] = "degrees" if column is Column.LAUNCH else "rpm", 1.0
            source = source if said else "usual"
        uses.append(
            ColumnUse(column=column, heading=heading.strip(), unit=unit, unit_from=source if unit else "")
        )
    return tuple(uses), scales


class _RowReader:
    """Reads the rows of one table as balls; what a club or a swing is called is looked up once."""

    def __init__(
        self,
        at: Mapping[Column, int],
        scales: Mapping[Column, float],
        number: Callable[[str], float],
        bag: Bag,
        wishes: Wishes,
    ) -> None:
        self._at, self._number, self._bag, self._wishes = at, number, bag, wishes
        self._width = max(at.values()) + 1
        self._numeric = [
            (column, _FIELDS[column], at[column], scales[column], *_BOUNDS[column])
            for column in NUMBERS
            if column in at
        ]
        self._asked = {name.lower(): club for name, club in wishes.clubs.items()}
        self._clubs: dict[str, str] = {}
        self._swings: dict[str, str] = {}

    def read(self, line: int, row: list[str]) -> RangeBall:
        """The ball of a row.

        Raises:
            ValueError: with the reason, when there is none.
        """
        if row[0].strip().lower() in SUMMARY and (len(row) < self._width or Column.CLUB not in self._at):
            raise ValueError("a line of averages, not a shot")
        if len(row) < self._width:
            row = row + [""] * (self._width - len(row))
        fields: dict[str, object] = {
            "club": self._club(self._cell(row, Column.CLUB)),
            "swing": self._swing(self._cell(row, Column.SWING)),
            "sand": _in_sand(self._cell(row, Column.LIE), self._wishes),
            "line": line,
            **self._numbers(row),
        }
        said = self._cell(row, Column.STRIKE).strip()
        strike = STRIKE_WORDS.get(said.lower())
        if strike is not None:
            fields["strike"] = strike
        if note := self._cell(row, Column.NOTE).strip():
            fields["note"] = cell_text(note)
        elif said and strike is None:
            fields["note"] = said
        if "carry_m" not in fields and strike in (None, Strike.CLEAN):
            raise ValueError("no carry")
        return RangeBall.model_validate(fields)

    def _cell(self, row: list[str], column: Column) -> str:
        """What the row says in a column; nothing where the table has no such column."""
        place = self._at.get(column)
        return "" if place is None else row[place]

    def _club(self, cell: str) -> str:
        if cell not in self._clubs:
            said = cell_text(cell.strip())
            name = self._asked.get(said.lower(), said)
            if name.lower() in SUMMARY:
                raise ValueError("a line of averages, not a shot")
            wished = name or self._wishes.club
            found = club_named(self._bag, wished) if wished else None
            if found is None:
                raise ValueError(f"club {name[:_SHOWN]!r} is not in the bag" if name else "no club")
            self._clubs[cell] = found.id
        return self._clubs[cell]

    def _swing(self, cell: str) -> str:
        if cell not in self._swings:
            said = cell.strip()
            wished = cell_text(said) if said else self._wishes.swing
            found = swing_named(self._bag, wished) if wished else None
            if found is None:
                raise ValueError(
                    f"swing {said[:_SHOWN]!r} is none of the bag's" if said else "no swing length"
                )
            self._swings[cell] = found.name
        return self._swings[cell]

    def _numbers(self, row: list[str]) -> dict[str, float]:
        """The numbers of a row, each in the unit of its field."""
        found: dict[str, float] = {}
        number = self._number
        for column, field, place, scale, low, high, unit in self._numeric:
            cell = row[place]
            if len(cell) > _LONGEST_NUMBER:
                raise ValueError(f"{column.value} {cell.strip()[:_LONGEST_NUMBER]!r}... is no number")
            try:
                value: float | None = number(cell) * scale
            except ValueError:
                value = _number_in(cell, column, number, scale)
            if value is not None:
                if not low <= value <= high:
                    raise ValueError(f"{column.value} {cell.strip()} is outside {low:g} to {high:g} {unit}")
                found[field] = value
        return found


def _in_sand(cell: str, wishes: Wishes) -> bool:
    """Whether the ball lay in sand; from any lie but a clean one a carry says nothing of the swing."""
    said = " ".join(cell.lower().replace("_", " ").split())
    # A bare number in such a column is the angle of the club's sole.
    if not said or missing(cell) or _ANGLE.match(said):
        return wishes.sand
    if said in SAND_WORDS:
        return True
    if said in GRASS_WORDS:
        return False
    raise ValueError(f"lie {cell.strip()!r} is neither fairway nor bunker; only clean lies tell a carry")


_FIELDS = {
    Column.CARRY: "carry_m",
    Column.TOTAL: "total_m",
    Column.SIDE: "side_m",
    Column.BALL_SPEED: "ball_speed_m_s",
    Column.LAUNCH: "launch_deg",
    Column.SPIN: "spin_rpm",
}


def _number_in(cell: str, column: Column, number: Callable[[str], float], scale: float) -> float | None:
    """A number that is not a bare one: missing, with its unit, or with a side letter."""
    if missing(cell):
        return None
    said = cell.strip().lower()
    sided = _SIDED.match(said) if column is Column.SIDE else None
    if sided and (sided[1] or sided[4]) and (not sided[3] or sided[3] in LENGTH_UNITS):
        size = number(sided[2]) * (to_metres(1.0, LENGTH_UNITS[sided[3]]) if sided[3] else scale)
        return -abs(size) if (sided[1] or sided[4])[0] == "l" else abs(size)
    if with_unit := _WITH_UNIT.match(said):
        unit = with_unit[2]
        try:
            if column in LENGTH_COLUMNS and unit in LENGTH_UNITS:
                return number(with_unit[1]) * to_metres(1.0, LENGTH_UNITS[unit])
            if column is Column.BALL_SPEED and unit in SPEED_UNITS:
                return number(with_unit[1]) * to_metres_per_second(1.0, SPEED_UNITS[unit])
            if column not in LENGTH_COLUMNS and column is not Column.BALL_SPEED:
                return number(with_unit[1])
        except ValueError:
            pass
    raise ValueError(f"{column.value} {cell.strip()!r} is no number")


def _conditions(facts: Mapping[str, str], name: str) -> Conditions | None:
    known = {key: facts[key] for key in ("temperature_c", "altitude_m") if key in facts}
    if not known:
        return None
    try:
        return Conditions.model_validate(known)
    except ValueError:
        raise CaddieError(
            f"{name}: temperature_c must be -20 to 50 and altitude_m -400 to 4500, "
            f"found {', '.join(f'{key}: {value[:_SHOWN]}' for key, value in known.items())}"
        ) from None
