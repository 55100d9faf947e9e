"""What of a log cannot be read, said in plain words."""

import json
import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from pydantic import ValidationError

from caddie.log.shot import Shot

CHANGED = "it is not as it was written, so the file was damaged or changed by another program"
_DOCUMENTS = ("situation", "result", "advice")
_LONGEST = 40
_DATE = re.compile(r"\d{4}-\d\d-\d\d")


class LeftOut(NamedTuple):
    """A row that is in the log and cannot be read."""

    number: int
    date: str
    """The day as in ``2026-05-03``, empty when that cannot be read either."""
    reason: str
    table: str = "shots"

    def __str__(self) -> str:
        return f"{self.table[:-1]} {self.number}{f' of {self.date}' if self.date else ''} is left out: {self.reason}"


class UnreadableError(Exception):
    """Why a row gives no shot."""


def left_out(number: int, time: object, reason: str, table: str = "shots") -> LeftOut:
    """The report on a row with whatever stands in its columns."""
    day = time[:10] if isinstance(time, str) else ""
    return LeftOut(number, day if _DATE.fullmatch(day) else "", reason, table)


def shot_from(columns: Mapping[str, Any]) -> Shot:
    """The shot of a row.

    Raises:
        UnreadableError: with the field and what is wrong with it.
    """
    fields = dict(columns)
    for name in _DOCUMENTS:
        part = fields[name]
        try:
            fields[name] = json.loads(part) if isinstance(part, str) else None
        except (ValueError, RecursionError):
            raise UnreadableError(f"its {name} is not readable") from None
    try:
        return Shot.model_validate(fields)
    except ValidationError as error:
        raise UnreadableError(in_words(error)) from None


def in_words(error: ValidationError) -> str:
    """The first field that is wrong, what stands there and what should."""
    first = error.errors(include_url=False, include_context=False)[0]
    field = ".".join(str(part) for part in first["loc"]) or "the shot"
    found = repr(first["input"])
    found = found if len(found) <= _LONGEST else f"{found[: _LONGEST - 3]}..."
    words = first["msg"].removeprefix("Value error, ")
    words = words[:1].lower() + words[1:]
    return f"{field} is {found}; {words.replace('input should be', 'it must be')}"
