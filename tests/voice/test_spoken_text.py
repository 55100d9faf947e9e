import doctest

import pytest
from num2words import num2words

from caddie.voice import spoken_text
from caddie.voice.spoken_text import for_the_ear, number_in_words


def test_numbers_agree_with_an_independent_library() -> None:
    """num2words writes British English with commas after thousands, which a caddie does not say."""
    for number in [*range(0, 1300), 2000, 9999, 12345, 100000, 1234567, -7]:
        assert number_in_words(number) == num2words(number).replace(",", "")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("56", "fifty-six"),
        ("PW", "pitching wedge"),
        ("56 degree", "fifty-six degree"),
        ("your 60° wedge", "your sixty degree wedge"),
        ("open it 5°", "open it five degrees"),
        ("9i from 12 ft", "nine iron from twelve feet"),
        ("1 yd short", "one yard short"),
        ("1 ft", "one foot"),
        ("8-10 yds of run", "eight to ten yards of run"),
        ("2.5 m", "two and a half metres"),
        ("0.5 strokes", "half strokes"),
        ("1.25", "one point two five"),
        ("3/4 swing", "three-quarter swing"),
        ("1/2 swing", "half swing"),
        ("15 mph", "fifteen miles an hour"),
        ("72% on the green", "seventy-two percent on the green"),
        ("finish as long as you went back.", "finish as long as you went back."),
        ("a  GW,\nnot the SW", "a gap wedge, not the sand wedge"),
    ],
)
def test_written_forms_are_said_in_full(written: str, said: str) -> None:
    assert for_the_ear(written) == said


def test_no_digit_is_left_for_the_engine_to_guess() -> None:
    assert not any(
        c.isdigit() for c in for_the_ear("56°, 42 yds, 3-4 left, 0.07 strokes, 123456789012 and 7i")
    )


def test_examples_hold() -> None:
    assert doctest.testmod(spoken_text).failed == 0
