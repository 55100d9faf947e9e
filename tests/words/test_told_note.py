"""What is told to be remembered, as data: tests/corpus/notes/told.toml."""

import tomllib
from typing import Any

import pytest
from utterances import CORPUS

from caddie.units import YARD_M
from caddie.words.told_note import Names, plain_words, read_note, which_of

LINES = tomllib.loads((CORPUS / "notes" / "told.toml").read_text(encoding="utf-8"))["line"]


@pytest.mark.parametrize("line", LINES, ids=lambda line: line["say"])
def test_a_line_is_understood_wholly(line: dict[str, Any]) -> None:
    names = Names(line.get("holes", {}), line.get("courses", ()), line.get("words", ()))
    told = read_note(line["say"], names=names).model_dump(exclude_defaults=True)
    rest = told.pop("rest", "")
    for length in ("depth", "height"):
        if f"{length}_m" in told:
            told[f"{length}_yards"] = round(told.pop(f"{length}_m") / YARD_M, 1)
    assert told == line.get("told", {})
    assert rest == line.get("rest", "")


@pytest.mark.parametrize("number", range(1, 37))
def test_holes_are_named_by_ordinal_and_number(number: int) -> None:
    ends = {1: "st", 2: "nd", 3: "rd"}
    end = "th" if 10 < number < 20 else ends.get(number % 10, "th")
    for named in (f"on the {number}{end}", f"hole {number}"):
        told = read_note(f"{named}, seventy to the flag")
        assert (told.hole, told.rest) == (number, "seventy to the flag")


@pytest.mark.parametrize(
    ("said", "which"),
    [("the new one", "now"), ("what I said before", "before"), ("both", "both"), ("seventy", None)],
)
def test_a_contradiction_is_answered(said: str, which: str | None) -> None:
    assert which_of(said) == which


def test_a_name_is_compared_without_its_article() -> None:
    assert plain_words("The Dell") == "dell"
