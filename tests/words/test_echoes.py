"""A figure of the last reply that is said back, and what is none."""

import pytest

from caddie.words.echoes import CHANCE, Figure, echo_in

PUTT = "Twenty feet, downhill. Start it three feet left of the hole. Roll it as a fifteen-footer."
SAND = "Eight paces. Sixty, open face. Lip stops four in ten; or out sideways."


@pytest.mark.parametrize(
    ("text", "reply", "figure"),
    [
        ("Three feet, Lord save us", PUTT, Figure(3.0, "feet")),
        ("three?", PUTT, Figure(3.0, None)),
        ("Four in ten, that's mad odds", SAND, Figure(0.4, CHANCE)),
        ("forty percent? no way", SAND, Figure(0.4, CHANCE)),
    ],
)
def test_a_figure_said_back_is_known(text: str, reply: str, figure: Figure) -> None:
    echo = echo_in(text, reply, asked=False, swung=False)
    assert echo is not None
    assert echo.figure == figure
    assert echo.rest == ""


@pytest.mark.parametrize(
    "text", ["three feet past!", "no, three feet", "four feet, wow", "three feet", "holed it!"]
)
def test_a_fact_or_a_result_is_no_echo(text: str) -> None:
    assert echo_in(text, PUTT, asked=False, swung=False) is None


def test_an_answer_is_no_echo() -> None:
    assert echo_in("three feet, really", PUTT, asked=True, swung=False) is None


def test_what_is_said_behind_it_is_kept() -> None:
    echo = echo_in("Three feet! That's a lot. What's the pace?", PUTT, asked=False, swung=False)
    assert echo is not None
    assert echo.rest == "What's the pace?"
