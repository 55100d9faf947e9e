"""Every utterance of the corpus is understood wholly, or is a known miss; tests/corpus/README.md tells more."""

from collections import Counter
from enum import StrEnum

import pytest
from utterances import CORPUS, OFF_TOPIC, ORIGINS, SUBJECTS, Line, Miss, Reading, known_misses, lines, read

from caddie.bag.models import Family
from caddie.situation import (
    Fall,
    Finish,
    Firmness,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Sitting,
    Stance,
    Strike,
    WindFrom,
)
from caddie.words import Expecting, Intent

Readings = dict[str, list[Reading]]
MOST_KNOWN_MISSES = 26
"""Lower it with each miss that goes."""
README = (CORPUS / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def readings() -> Readings:
    """Every line of the corpus, read once."""
    return {subject: [read(line) for line in lines(subject)] for subject in SUBJECTS}


@pytest.fixture(scope="session")
def known() -> dict[str, Miss]:
    return {miss.say: miss for miss in known_misses()}


@pytest.fixture(scope="session")
def every_line(readings: Readings) -> list[Line]:
    return [reading.line for subject in SUBJECTS for reading in readings[subject]]


def test_the_files_are_those_listed() -> None:
    there = {path.stem for path in CORPUS.glob("*.toml")}
    assert there == {*SUBJECTS, "known_misses"}
    assert [subject for subject in SUBJECTS if f"| {subject} |" not in README] == []


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_line_is_understood_or_a_known_miss(
    subject: str, readings: Readings, known: dict[str, Miss]
) -> None:
    expected = {say: set(miss.wrong) for say, miss in known.items()}
    missed = [
        str(reading)
        for reading in readings[subject]
        if reading.wrong.keys() - expected.get(reading.line.say, set())
    ]
    assert not missed, "\n" + "\n".join(missed)


@pytest.mark.parametrize("subject", SUBJECTS)
def test_a_known_miss_that_is_understood_goes_from_the_list(
    subject: str, readings: Readings, known: dict[str, Miss]
) -> None:
    mended = [
        f"{reading.line.say!r}: {fact}"
        for reading in readings[subject]
        if reading.line.say in known
        for fact in known[reading.line.say].wrong
        if fact not in reading.wrong
    ]
    assert not mended, "right by now, strike out of known_misses.toml:\n" + "\n".join(mended)


def test_each_known_miss_is_a_line_of_the_corpus_with_a_reason(every_line: list[Line]) -> None:
    said = {line.say for line in every_line}
    misses = known_misses()
    assert len({miss.say for miss in misses}) == len(misses) == MOST_KNOWN_MISSES
    for miss in misses:
        assert miss.say in said, miss.say
        assert miss.wrong, miss.say
        assert len(miss.reason.split()) >= 5, miss.reason


def test_off_topic_is_never_taken_for_golf(readings: Readings) -> None:
    """Not even as a known miss."""
    assert len(readings[OFF_TOPIC]) >= 200
    for reading in readings[OFF_TOPIC]:
        assert reading.got == {"intent": "out_of_scope"}, str(reading)


def test_every_kind_of_question_is_answered_in_many_ways(every_line: list[Line]) -> None:
    answers = Counter(line.expecting for line in every_line if line.expecting is not None)
    assert [asked for asked in Expecting if answers[asked] < 20] == []


def test_no_text_stands_twice(every_line: list[Line]) -> None:
    said = Counter((line.say, line.expecting, line.among) for line in every_line)
    twice = [text for text, times in said.items() if times > 1]
    assert not twice


def test_each_line_tells_where_it_comes_from(every_line: list[Line]) -> None:
    origins = {line.origin for line in every_line}
    assert origins == set(ORIGINS)
    told = {
        name.strip()
        for row in README.splitlines()
        if row.startswith("| ")
        for name in row.split("|")[1].split(",")
    }
    assert origins <= told


@pytest.mark.parametrize(
    ("fact", "values"),
    [
        ("intent", Intent),
        ("lie", Lie),
        ("sitting", Sitting),
        ("stance", Stance),
        ("pin_position", PinPosition),
        ("wind_from", WindFrom),
        ("hazard", HazardKind),
        ("fall", Fall),
        ("firmness", Firmness),
        ("family", Family),
        ("sides", Side),
        ("strike", Strike),
        ("finish", Finish),
    ],
)
def test_every_value_is_said_more_than_once(fact: str, values: type[StrEnum], every_line: list[Line]) -> None:
    said: Counter[str] = Counter()
    for line in every_line:
        for key, value in line.facts.items():
            name, *rest = key.split()
            if name == fact:
                said.update(rest[:1] or (value if isinstance(value, tuple) else [str(value)]))
    assert [str(value) for value in values if said[str(value)] < 3] == []
