"""What a question chooses between."""

import pytest

from caddie.words.alternatives import alternatives, listed


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("What do I chip with, the 56 or bump an eight iron?", ["the 56", "bump an eight iron"]),
        ("20 paces, bunker, no lip. Sandy or gap?", ["sand wedge", "gap"]),
        ("putter or chip?", ["putter", "chip"]),
        ("60, 56 or 52?", ["60", "56", "52"]),
        ("sideways or have a crack at it?", ["sideways", "have a crack at it"]),
        ("gap wedge versus the wedge", ["gap wedge", "pitching wedge"]),
        ("what about the sixty?", []),
    ],
)
def test_the_things_chosen_between(text: str, named: list[str]) -> None:
    assert alternatives(text) == named


def test_a_list_is_every_part_of_it() -> None:
    assert listed("the sand wedge, and the nine iron") == ["the sand wedge", "", "the nine iron"]
