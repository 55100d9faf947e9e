"""A number in a form nobody writes is refused by name; no part of it is ever taken for the whole.

The plain forms are those of the trade's own speech and of any keyboard (common practice, no source).
"""

import re
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.units import FOOT_M, YARD_M
from caddie.words import Expecting, understand
from caddie.words.odd_numbers import odd_number

ODD = [
    "1_000", "7_0", "70.0.0.0", "70.0.0", "70..5", ".5", "1e308", "1e2", "7e+1", "0x10", "0b1", "5x10", "70*2",
    "70+5", "7,0", "70,5", "1,00", "60-65-70", "60/65/70", "seventy.five", "three.five", "1'000", "70²", "②",
    "7o", "o7", "0000000000070", "7" * 400,
]  # fmt: skip


@pytest.mark.parametrize("form", ODD)
@pytest.mark.parametrize(
    "sentence", ["{}", "{} yards", "fairway, {} yards to the flag.", "flag at {}, 20 long"]
)
def test_an_odd_number_is_named_and_no_part_of_it_is_used(form, sentence):
    heard = understand(sentence.format(form))
    assert heard.problem is not None
    assert heard.problem.startswith(f'"{form}" is no number')
    assert "\n" not in heard.problem
    assert heard.situation == type(heard.situation)()


@pytest.mark.parametrize("form", ["1_0", "1e1", "5.5.5", "1x2", "ten.five"])
def test_nor_in_what_is_said_of_a_ball_on_the_range_or_of_strokes(form):
    ball = understand(f"{form} left", expecting=Expecting.CARRY)
    assert (ball.ball, ball.command) == (None, None)
    assert understand(form, expecting=Expecting.STROKES).strokes is None


def test_a_decimal_comma_is_read_on_the_range():
    ball = understand("63,5 left", expecting=Expecting.CARRY).ball
    assert ball is not None
    assert ball.number == 63.5


@pytest.mark.parametrize(
    ("text", "pin_m"),
    [
        ("70", 70 * YARD_M), ("70.5", 70.5 * YARD_M), ("70yds", 70 * YARD_M), ("70-yard pitch", 70 * YARD_M),
        ("60-70 yards", 65 * YARD_M), ("12' putt", 12 * FOOT_M), ("12ft6 putt", 12.5 * FOOT_M),
        ("30% slope, 40 yards", 40 * YARD_M), ("1.5m putt", 1.5), ("wind from 3:00, 40 yards", 40 * YARD_M),
        ("4-5 paces", 4.5 * YARD_M), ("par-4, 80 yards", 80 * YARD_M), ("７０ yards", 70 * YARD_M),
        ("٧٠ yards", 70 * YARD_M), ("70½ yards", 70.5 * YARD_M), ("12'6\" putt", 12.5 * FOOT_M),
        ("70.Fairway", 70 * YARD_M), ("seventy.Fairway", 70 * YARD_M), ("h2o short, 40 yards", 40 * YARD_M),
        ("1/2 swing 40 yards", 40 * YARD_M), ("70/80 yards", 75 * YARD_M), ("um...50 yards", 50 * YARD_M),
        ("3o'clock wind, 40 yards", 40 * YARD_M), ("pin 70,bunker 50", 70 * YARD_M),
    ],
)  # fmt: skip
def test_ordinary_forms_are_read(text, pin_m):
    heard = understand(text)
    assert heard.problem is None
    assert heard.situation.pin_m == pytest.approx(pin_m)


def test_a_thousand_is_read_as_one():
    assert "1000 yards is outside" in (understand("1,000 yards to the flag").problem or "")


def test_less_than_nothing_is_told():
    assert (understand("-70 yards").problem or "").startswith("-70 yards is less than nothing")


@given(st.from_regex(r"[0-9]{1,3}[0-9._,exo'*+-]{0,6}[0-9]", fullmatch=True))
def test_the_flag_is_never_at_a_part_of_a_number(form):
    """Any mixture of digits and signs is read as Python reads the number, as a range, or refused."""
    heard = understand(f"{form} yards to the flag")
    if heard.problem is not None or heard.situation.pin_m is None or re.search(r"[-']", form):
        return
    whole = form.replace(",", "")
    assert set(whole) <= {*string.digits, "."}
    assert heard.situation.pin_m == pytest.approx(float(whole) * YARD_M)


@given(st.text(max_size=60))
def test_any_text_is_searched(text):
    found = odd_number(text)
    assert found is None or found
