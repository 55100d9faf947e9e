"""The other files of notes: own words, usual settings, and the day."""

import json
import re
from collections.abc import Mapping
from datetime import date
from typing import Any

from pydantic import ValidationError

from caddie.bag.file import explain
from caddie.notes.holes import read_hole, written_hole
from caddie.notes.models import Today, Usual
from caddie.notes.sheet import EntryKey, Sheet, UnreadableEntryError
from caddie.units import Unit

WORDS_HEADER = """\
# Words of your own and what they mean in words of the trade. Edit, add or take out any line.

[joins]
"""
USUAL_HEADER = "# Your usual settings. Take a line out to leave it to your bag.\n\n"
TODAY_HEADER = "# The round being played; it counts on its day alone.\n\n"
LONGEST_WORD = 60
_LINE = re.compile(r"""\s*(?:"(?:[^"\\]|\\.)*"|'[^']*'|[A-Za-z0-9_-]+)\s*=""")


def words_sheet() -> Sheet:
    """Own words: the ``[joins]`` of a grammar file, a word a line."""
    return Sheet("words", WORDS_HEADER, _LINE, _read_word)


def usual_sheet() -> Sheet:
    """Usual settings, one a line."""
    return Sheet("usual", USUAL_HEADER, _LINE, _read_usual)


def today_sheet() -> Sheet:
    """The round being played, in one table that is replaced as a whole."""
    return Sheet("today", TODAY_HEADER, re.compile(r"\s*\[round\]"), _read_today)


TODAY_KEY: EntryKey = ("round",)


def written_word(word: str, meaning: str) -> str:
    """An own word as its line."""
    return f"{json.dumps(word, ensure_ascii=False)} = {json.dumps(meaning, ensure_ascii=False)}\n"


def written_usual(key: str, value: Any) -> str:
    """A setting as its line."""
    return f"{key} = {_toml(getattr(value, 'value', value))}\n"


def written_today(today: Today, unit: Unit) -> str:
    """The round as its table, with tables of holes under it."""
    content = today.model_dump(exclude_none=True, exclude={"before_round"})
    content["out"] = list(content["out"])
    lines = "".join(f"{key} = {_toml(value)}\n" for key, value in content.items())
    holes = (written_hole(note, unit).removeprefix("[[hole]]") for note in today.before_round)
    return f"[round]\n{lines}" + "".join(f"\n[[round.before_round]]{hole.rstrip()}\n" for hole in holes)


def _toml(value: Any) -> str:
    import tomlkit

    return str(tomlkit.item(value).as_string())


def _read_word(content: Mapping[str, Any]) -> tuple[EntryKey, str]:
    (word, meaning), *more = content.items()
    if more or not isinstance(meaning, str) or not meaning.strip():
        raise UnreadableEntryError(f"what {word!r} means must be words in quotes")
    if max(len(word), len(meaning)) > LONGEST_WORD or not word.strip():
        raise UnreadableEntryError(f"a word and its meaning have up to {LONGEST_WORD} letters each")
    return (word,), meaning


def _read_usual(content: Mapping[str, Any]) -> tuple[EntryKey, Any]:
    (key, _), *more = content.items()
    try:
        usual = Usual.model_validate(content)
    except ValidationError as error:
        raise UnreadableEntryError(explain(error)) from None
    if more:
        raise UnreadableEntryError("holds two settings")
    return (key,), getattr(usual, key)


def _read_today(content: Mapping[str, Any]) -> tuple[EntryKey, Today]:
    try:
        table = dict(content["round"])
        notes = tuple(read_hole({"hole": [hole]})[1] for hole in table.get("before_round", ()))
        lists = {"out": tuple(table.get("out", ())), "before_round": notes}
        return TODAY_KEY, Today.model_validate(table | lists)
    except ValidationError as error:
        raise UnreadableEntryError(explain(error)) from None
    except (KeyError, TypeError, ValueError):
        raise UnreadableEntryError("is no round") from None


def round_of(today: Today | None, day: date) -> Today:
    """The round as it stands on a day: of another day, nothing of it holds."""
    return today if today is not None and today.day == day else Today(day=day)
