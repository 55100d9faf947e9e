"""Numbers in words, checked against num2words."""

import pytest
from num2words import num2words

from caddie.units import YARD_M
from caddie.words import understand
from caddie.words.numbers import read_number, spoken_forms, twin


def said_forms(value: int) -> set[str]:
    """Every form from num2words (0.5.14), British and American, and the short ones players use."""
    british = num2words(value).replace("-", " ")
    forms = {british, british.replace(" and ", " "), str(value)}
    if value >= 100:
        forms |= {form.replace("one hundred", "a hundred", 1) for form in forms}
        rest = value % 100
        head = num2words(value // 100)
        if rest >= 10:
            forms.add(f"{head} {num2words(rest)}".replace("-", " "))
        elif rest:
            forms.add(f"{head} oh {num2words(rest)}")
    return forms


@pytest.mark.parametrize("value", range(401))
def test_every_said_form_reads_back(value: int) -> None:
    for form in said_forms(value) | set(spoken_forms(value)):
        words = form.split()
        number = read_number(words)
        assert number is not None, form
        assert (number.value, number.words) == (value, len(words)), form


@pytest.mark.parametrize("value", range(1, 121))
def test_every_distance_inside_the_game_is_taken(value: int) -> None:
    for form in said_forms(value) - {"a hundred and one", "one"}:
        said = understand(f"{form} yards to the flag").situation.pin_m
        assert said == pytest.approx(value * YARD_M), form


@pytest.mark.parametrize("value", [121, 150, 200, 317, 400])
def test_every_distance_outside_is_refused_in_one_line(value: int) -> None:
    for form in said_forms(value):
        said = understand(f"{form} yards to the flag")
        assert said.situation.pin_m is None, form
        assert said.problem is not None
        assert f"{value} yards" in said.problem
        assert "\n" not in said.problem


@pytest.mark.parametrize(
    ("form", "value"),
    [
        ("forty five and a half", 45.5),
        ("one and a half", 1.5),
        ("a couple of", 2),
        ("half dozen", 6),
        ("a dozen", 12),
        ("seven zero", 70),
        ("one five", 15),
        ("one one five", 115),
        ("thirty seven point five", 37.5),
        ("four hundred", 400),
        ("a thousand", 1000),
    ],
)
def test_odd_forms(form: str, value: float) -> None:
    number = read_number(form.split())
    assert number is not None
    assert (number.value, number.words) == (value, len(form.split()))


@pytest.mark.parametrize("words", ["to the flag", "and a half", "oh dear", "the", "hundredweight", ""])
def test_what_is_no_number(words: str) -> None:
    assert read_number(words.split()) is None


def test_numbers_that_sound_alike() -> None:
    pairs = {13: 30, 14: 40, 15: 50, 16: 60, 17: 70, 18: 80, 19: 90}
    for teen, ten in pairs.items():
        assert (twin(teen), twin(ten)) == (ten, teen)
    assert twin(12) is None
    assert twin(65) is None


def test_speech_points_at_the_other_number_and_typing_does_not() -> None:
    heard = understand("fifteen yards to the pin", from_speech=True)
    assert heard.sounds_like_m == pytest.approx(50 * YARD_M)
    assert understand("fifteen yards to the pin").sounds_like_m is None
    assert understand("sixty five yards", from_speech=True).sounds_like_m is None
