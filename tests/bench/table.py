"""The rows as one table: for the eye, for RESULTS.md, or as an object."""

from dataclasses import asdict
from typing import Any

from rows import Row, shown

HEADINGS = ("what", "figure", "unit", "of", "spread")
NOT_MEASURED = "not measured"
Named = list[tuple[str, Row | None]]
"""Every name asked for, in order, with its row; none where this run did not measure it."""


def cells(name: str, row: Row | None) -> tuple[str, ...]:
    if row is None:
        return (name, "–", "", "", NOT_MEASURED)
    figure = percent(row.figure) if row.unit == "%" else shown(row.figure)
    return (name, figure, row.unit, f"{row.count:,} {row.of}", row.spread)


def percent(share: float) -> str:
    """A share in percent: what is not all of it is not shown as all of it, nor some as none."""
    return f"{share:.2f}" if 0 < share < 1 or 99 < share < 100 else f"{share:.1f}"


def plain(head: dict[str, str], rows: Named) -> str:
    lines = [HEADINGS, *(cells(*each) for each in rows if each[1])]
    left_out = sum(row is None for _, row in rows)
    widths = [max(len(line[column]) for line in lines) for column in range(len(HEADINGS))]
    texts = [
        "  ".join(
            cell.rjust(width) if column == 1 else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in lines
    ]
    if left_out:
        texts.append(f"{left_out} rows were {NOT_MEASURED} in this run")
    return "\n".join([*(f"{key}: {value}" for key, value in head.items()), "", *texts])


def markdown(head: dict[str, str], rows: Named) -> str:
    lines = [HEADINGS, ("---",) * len(HEADINGS), *(cells(*each) for each in rows)]
    told = "; ".join(f"{key} {value}" for key, value in head.items())
    return "\n".join([f"{told[0].upper()}{told[1:]}.", "", *(f"| {' | '.join(line)} |" for line in lines)])


def as_object(head: dict[str, str], rows: Named) -> dict[str, Any]:
    figures = [asdict(row) if row else {"name": name, "figure": None} for name, row in rows]
    for row in figures:
        # JSON has no "not a number".
        row["figure"] = None if row["figure"] != row["figure"] else row["figure"]
    return {**head, "rows": figures}
