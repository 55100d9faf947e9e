"""The one SVG document: well formed whatever a player's name holds, and readable."""

from xml.etree import ElementTree

import pytest

from caddie.reply.svg import (
    BALL,
    CLAY,
    INK,
    PAPER,
    PLUM,
    QUIET,
    SAND,
    SLATE,
    TURF,
    document,
    figure,
    line,
    words,
)

ODD = """<b> & "quoted" 'ed' ]]>"""
SVG = "{http://www.w3.org/2000/svg}"


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, definition "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("make", [document, figure])
def test_any_text_makes_a_well_formed_picture_that_says_it(make) -> None:
    root = ElementTree.fromstring(make(ODD, ODD, 100, 50, [words(1, 2, ODD)]))
    assert root.find(f"{SVG}title").text == root.find(f"{SVG}desc").text == ODD
    assert root.find(f"{SVG}text").text == ODD


def test_what_is_not_given_is_left_out() -> None:
    assert "dash" not in line(0, 0, 1, 1, stroke_dasharray=None)


@pytest.mark.parametrize("colour", [INK, QUIET, BALL, TURF, CLAY, SLATE, PLUM])
def test_text_and_lines_can_be_read_on_paper(colour: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: text at least 4.5 to 1.
    assert contrast(colour, PAPER) >= 4.5


def test_fills_stand_out_from_paper() -> None:
    # WCAG 2.2, success criterion 1.4.11: graphics at least 3 to 1.
    assert contrast(SAND, PAPER) >= 3
