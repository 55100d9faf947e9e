"""On a known hole half of the words bring the same shot."""

from typing import Any

import pytest

from caddie.situation import Situation

HOLES = """
[[hole]]
course = "Marram Links"
number = 4
depth_yards = 28
side_fall = "left_to_right"
trouble = [{kind = "bunker", side = "short"}, {kind = "water", side = "right"}]
[[hole]]
course = "Marram Links"
number = 5
depth_yards = 22
fall = "away"
height_feet = 10
trouble = [{kind = "out_of_bounds", side = "long"}]
[[hole]]
course = "Marram Links"
number = 9
fall = "toward"
side_fall = "right_to_left"
trouble = [{kind = "bunker", side = "left"}, {kind = "bunker", side = "right"}]
[[hole]]
course = "Marram Links"
number = 11
fall_slope = 0.0
height_feet = -8
trouble = [{kind = "water", side = "short"}, {kind = "trees", side = "long"}]
[[hole]]
course = "Marram Links"
number = 14
name = "Dell"
depth_yards = 30
side_fall = "right_to_left"
trouble = [{kind = "bunker", side = "long"}, {kind = "run_off", side = "left"}]
[[hole]]
course = "Marram Links"
number = 17
fall = "away"
trouble = [{kind = "bunker", side = "short"}, {kind = "out_of_bounds", side = "right"}]
"""
SHOTS = [
    (
        "on the fourth, seventy to the flag, back",
        "seventy to the flag, flag back, twenty-three yards of green in front of it, green falls left to right, "
        "bunker short, water right",
    ),
    (
        "on the fourth, forty, light rough, flag front",
        "forty, light rough, flag front, five yards of green in front of it, green falls left to right, bunker short, "
        "water right",
    ),
    (
        "on the fifth, eighty, flag in the middle",
        "eighty, flag in the middle, eleven yards of green in front of it, green falls away from me, out of bounds "
        "long, green ten feet above me",
    ),
    (
        "on the ninth, sixty, fairway",
        "sixty, fairway, green falls toward me and right to left, bunker left, bunker right",
    ),
    (
        "on the eleventh, fifty, light rough",
        "fifty, light rough, the green is flat, green eight feet below me, water short, trees long",
    ),
    (
        "on the Dell, ninety, flag back",
        "ninety, flag back, twenty-five yards of green in front of it, green falls right to left, bunker long, "
        "run off left",
    ),
    (
        "on the seventeenth, forty-five, bare lie",
        "forty-five, bare lie, green falls away from me, bunker short, out of bounds right",
    ),
]


def facts(situation: Situation) -> dict[str, Any]:
    """What is known, trouble in any order, lengths to a millimetre."""
    found = situation.model_dump(mode="json", exclude={"hazards"}, exclude_defaults=True)
    hazards = sorted((each.kind.value, str(each.side)) for each in situation.hazards)
    return {key: round(value, 3) if isinstance(value, float) else value for key, value in found.items()} | {
        "hazards": hazards
    }


@pytest.mark.parametrize(("known", "whole"), SHOTS, ids=[known for known, _ in SHOTS])
def test_with_notes_half_of_the_words_bring_the_same_shot(
    known: str, whole: str, start: Any, notebook: Any
) -> None:
    with_notes = start(notebook=notebook(HOLES)).turn(known)
    without = start().turn(whole)
    assert len(known.split()) <= len(whole.split()) / 2
    assert with_notes.situation is not None and without.situation is not None
    assert facts(with_notes.situation) == facts(without.situation)
    assert with_notes.advice is not None and without.advice is not None
    for name in ("club", "swing", "flight", "carry_m"):
        assert with_notes.advice[name] == without.advice[name]
    assert with_notes.advice["strokes"] == pytest.approx(without.advice["strokes"], abs=0.001)
