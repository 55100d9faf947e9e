"""The log in other forms: CSV for a spreadsheet, JSON for a program, one shot a line for both ways."""

import csv
import io
import json
from collections.abc import Iterable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from caddie.errors import CaddieError
from caddie.keeping import read_bytes
from caddie.log.shot import Shot
from caddie.printable import table_cell

LARGEST_COPY_BYTES = 60_000_000
MOST_COPY_LINES = 120_000
"""A lifetime of shots with their advice."""


class Form(StrEnum):
    """How the shots are written."""

    CSV = "csv"
    JSON = "json"
    """One array."""
    LINES = "jsonl"
    """One object a line; the form that :func:`read_lines` reads back."""


CSV_COLUMNS = (
    "time", "mode", "player", "sentence", "pin_m", "lie", "sitting", "stance", "pin_position", "hazards",
    "advised_club", "advised_swing", "advised_strokes", "club", "swing", "family", "flight", "distance_m",
    "side", "strike", "finish", "carry_m", "run_m", "holed", "commitment", "cue", "down_in",
)  # fmt: skip


def exported(shots: Iterable[Shot], form: Form) -> Iterator[str]:
    """The text of the export in pieces; lengths in metres.

    CSV has a header and one row a shot; JSON has everything.
    """
    if form is Form.CSV:
        yield _csv_text(CSV_COLUMNS)
        for shot in shots:
            yield _csv_text(_csv_row(shot))
    elif form is Form.LINES:
        for shot in shots:
            yield line_of(shot) + "\n"
    else:
        mark = "[\n"
        for shot in shots:
            yield mark + line_of(shot)
            mark = ",\n"
        yield ("[" if mark == "[\n" else "\n") + "]\n"


def line_of(shot: Shot) -> str:
    """A shot as one line of JSON, without what was not said.

    Fields equal to their default stay out, but the moment, the mode and the player are always there.
    """
    content = shot.model_dump(mode="json", exclude_defaults=True)
    always = shot.model_dump(mode="json", include={"time", "mode", "player"})
    return json.dumps(always | content, ensure_ascii=False)


def read_lines(path: Path) -> list[Shot]:
    """The shots of a file of lines.

    Raises:
        CaddieError: with the file, the line and what is wrong in it.
    """
    shots: list[Shot] = []
    number = 0
    content = io.BytesIO(read_bytes(path, LARGEST_COPY_BYTES))
    try:
        for line in content:
            number += 1
            if number > MOST_COPY_LINES:
                raise CaddieError(f"{path}: has more than {MOST_COPY_LINES} lines; split it by years")
            if line.strip():
                shots.append(Shot.model_validate_json(line))
    except ValidationError as error:
        first = error.errors()[0]
        place = "".join(f"{part}: " for part in first["loc"])
        raise CaddieError(f"{path}: line {number}: {place}{first['msg'].lower()}") from None
    return shots


def _csv_row(shot: Shot) -> tuple[Any, ...]:
    situation, result, advice = shot.situation, shot.result, shot.advice or {}
    return (
        shot.time.isoformat(), shot.mode, shot.player, shot.sentence, situation.pin_m, situation.lie,
        situation.sitting, " ".join(situation.stance), situation.pin_position,
        " ".join(hazard.kind for hazard in situation.hazards), advice.get("club"), advice.get("swing"),
        advice.get("strokes"), shot.club, shot.swing, shot.family, shot.flight, result.distance_m,
        " ".join(result.side), result.strike, result.finish, result.carry_m, result.run_m,
        "yes" if result.holed else "no", shot.commitment, shot.cue, shot.down_in,
    )  # fmt: skip


def _csv_text(row: Iterable[Any]) -> str:
    text = io.StringIO()
    csv.writer(text).writerow([table_cell(value) if isinstance(value, str) else value for value in row])
    return text.getvalue()
