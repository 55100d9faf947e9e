"""A table in a text file whose delimiter, decimal mark, encoding and first lines nobody told us."""

import codecs
import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from caddie.errors import CaddieError
from caddie.keeping import read_bytes
from caddie.range.columns import UNIT_WORDS, Column, match_columns

DELIMITERS = (",", ";", "\t", "|")
LARGEST_TABLE_BYTES = 12_000_000
MOST_TABLE_LINES = 100_100
LONGEST_TABLE_LINE = 100_000
_LONGEST_FACT = 300
_LOOK_AT = 40
_FACT = re.compile(r"^#?\s*([A-Za-z][\w ]*?)\s*[:=]\s*(.+?)\s*$")
_MISSING = frozenset({"", "-", "--", "—", "n/a", "na", "nan", "null", "none"})


@dataclass(frozen=True)
class CsvTable:
    """The rows below the headings, each with its line in the file (counted from 1)."""

    headings: tuple[str, ...]
    heading_line: int
    rows: tuple[tuple[int, list[str]], ...]
    delimiter: str
    facts: dict[str, str]
    """Lines ``# name: value`` above the headings, names lower case."""
    units: dict[int, str]
    """Units by column from a line of units under the headings."""


def read_text(path: Path) -> str:
    """The file's text, whatever of UTF-8, UTF-16 (with its mark) or Windows-1252 it is in.

    Raises:
        CaddieError: if it is missing, too large or no text.
    """
    return decoded(read_bytes(path, LARGEST_TABLE_BYTES), str(path))


def decoded(raw: bytes, name: str) -> str:
    """As :func:`read_text`, from the bytes of a file; ``name`` stands in the messages."""
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encoding = "utf-16"
    elif b"\0" in raw:
        raise CaddieError(f"{name}: is no text file; export the shots as CSV")
    else:
        encoding = "utf-8-sig"
    try:
        return raw.decode(encoding)
    except UnicodeDecodeError:
        if encoding == "utf-16":
            raise CaddieError(f"{name}: begins as UTF-16 text and is none; export the shots again") from None
        return raw.decode("cp1252", errors="replace")


def read_table(text: str, name: str, wished: dict[Column, str] | None = None) -> CsvTable:
    """Find the delimiter and the line of headings, and split the rows.

    Of all delimiters and of the first lines, those are taken that name the most columns.

    Raises:
        CaddieError: if no line names a carry column, with the headings that were seen.
    """
    text = text.removeprefix("\ufeff")
    delimiter, at, before = _find_headings(text, name, wished)
    reader = csv.reader(_lines(text), delimiter=delimiter)
    rows: list[tuple[int, list[str]]] = []
    headings: tuple[str, ...] = ()
    line = 0
    odd_marks = text.count('"') % 2
    try:
        for count, row in enumerate(reader):
            if count > MOST_TABLE_LINES:
                raise CaddieError(f"{name}: has more than {MOST_TABLE_LINES} lines; split it by days")
            if count == at:
                headings = tuple(row)
                heading_line = reader.line_num
            elif count > at and any(map(str.strip, row)):
                # A mark that is never closed would swallow the rows after it without a word.
                if reader.line_num - line > 1 and (len(row) != len(headings) or odd_marks):
                    raise CaddieError(
                        f"{name}: line {line + 1}, column {_quote_column(text, line)}: "
                        "a quotation mark is opened and not closed"
                    )
                rows.append((reader.line_num, row))
            line = reader.line_num
    except csv.Error as error:
        raise CaddieError(f"{name}: line {reader.line_num}: {error}") from None
    units = _unit_row(rows)
    return CsvTable(headings, heading_line, tuple(rows[1:] if units else rows), delimiter, before, units)


def decimal_mark(cells: Sequence[str]) -> str:
    """``","`` or ``"."``: what these numbers put before their decimals.

    A mark that twice stands in one number, or only ever before three digits beside the other mark, groups
    thousands.
    """
    commas = [cell for cell in cells if "," in cell]
    if not commas:
        return "."
    dots = [cell for cell in cells if "." in cell]
    if both := next((cell for cell in commas if "." in cell), None):
        return "," if both.rindex(",") > both.rindex(".") else "."
    groups = re.compile(r"\d{1,3}(?:[.,]\d{3})+(?!\d)")
    if any(not groups.search(cell) for cell in commas):
        return ","
    if dots and all(groups.search(cell) for cell in dots):
        return ","
    # Only groups of three after every comma: thousands, unless the numbers would be absurd as a distance.
    return "."


def missing(cell: str) -> bool:
    """Whether a cell says nothing."""
    return cell.strip().lower() in _MISSING


def number_reader(mark: str) -> Callable[[str], float]:
    """A function that reads a number written with this decimal mark; it raises ValueError."""
    other = "." if mark == "," else ","

    def read(cell: str) -> float:
        if other in cell or "'" in cell:
            cell = cell.replace(other, "").replace("'", "")
        return float(cell.replace(",", "."))

    return read


def _lines(text: str) -> Iterator[str]:
    """Lines as the csv module wants them."""
    return iter(io.StringIO(text, newline=""))


def _find_headings(text: str, name: str, wished: dict[Column, str] | None) -> tuple[str, int, dict[str, str]]:
    head = [line for _, line in zip(range(_LOOK_AT), _lines(text), strict=False)]
    for number, line in enumerate(head, start=1):
        if len(line) > LONGEST_TABLE_LINE:
            raise CaddieError(f"{name}: line {number} is longer than any line of a shot table")
    best: tuple[int, int, str, int] | None = None
    for rank, delimiter in enumerate(DELIMITERS):
        for index, row in enumerate(_split(head, delimiter)):
            if row and row[0].lstrip().startswith("#"):
                continue
            try:
                found = match_columns(row, wished)
            except CaddieError:
                continue
            if Column.CARRY in found and (best is None or (len(found), -rank) > best[:2]):
                best = (len(found), -rank, delimiter, index)
    if best is None:
        first = next((line.strip() for line in head if line.strip() and not line.startswith("#")), "")
        if wished:
            match_columns(_likely(first), wished)
        raise CaddieError(
            f"{name}: line 1, column 1: no heading says carry (found {first[:80]!r}); "
            "name it: caddie bag import FILE --column carry=HEADING"
            if first
            else f"{name}: is empty; a shot table has a line of headings and a line a ball"
        )
    facts = {}
    for line in head[: best[3]]:
        if len(line) <= _LONGEST_FACT and (fact := _FACT.match(line.strip().strip('"'))):
            facts[fact[1].lower()] = fact[2]
    return best[2], best[3], facts


def _quote_column(text: str, line: int) -> int:
    """Where the quotation mark of the line with this index stands, counted from 1."""
    return next(islice(_lines(text), line, None)).rfind('"') + 1


def _split(lines: Sequence[str], delimiter: str) -> list[list[str]]:
    try:
        return list(csv.reader(lines, delimiter=delimiter))
    except csv.Error:
        return []


def _likely(line: str) -> list[str]:
    return max((_split([line], each)[0] for each in DELIMITERS), key=len)


def _unit_row(rows: Sequence[tuple[int, list[str]]]) -> dict[int, str]:
    if not rows:
        return {}
    cells = {i: cell.strip().strip("[]()").lower() for i, cell in enumerate(rows[0][1]) if cell.strip()}
    return cells if cells and all(cell in UNIT_WORDS for cell in cells.values()) else {}
