"""Questions cut from a turn by the words of a clause."""

import pytest

from caddie.units import FOOT_M
from caddie.words.in_kind import asked_in_kind, near_named_m


def always(kind: str, clause: str) -> bool:
    return True


@pytest.mark.parametrize(
    ("said", "at", "kind"),
    [
        ("how often does it end up inside six feet", "shot", "near"),
        ("what are the odds I stiff it", "shot", "near"),
        ("can I get this up and down", "shot", "in_two"),
        ("firm and straight, or soft with a bit of borrow?", "putt", "pace_choice"),
        ("can I just go straight at it and be firm?", "putt", "firm"),
        ("just take the sand out of play", "shot", "out_of_play"),
        ("I mean go long, past the pin", "shot", "past_flag"),
        ("which wedge gives me the best shot at holing one", "shot", "which_wedge"),
    ],
)
def test_what_is_asked_is_known_by_its_words(said: str, at: str, kind: str) -> None:
    found = asked_in_kind(said, at, always)
    assert found is not None and found.kind == kind


@pytest.mark.parametrize(
    "said",
    [
        "will it go past the flag",
        "she hits it miles past me",
        "average firmness, light rough",
        "what would you hit if the green was firm",
        "sandy par. How am I going",
    ],
)
def test_other_words_ask_none_of_it(said: str) -> None:
    assert all(asked_in_kind(said, at, always) is None for at in ("shot", "putt"))


def test_what_stands_before_and_behind_is_kept() -> None:
    found = asked_in_kind(
        "it's in the sand. what are the odds I stiff it, and why the sixty?", "shot", always
    )
    assert found is not None
    assert (found.before, found.behind) == ("it's in the sand.", "and why the sixty?")


def test_a_length_beside_the_hole_is_named_by_figure_or_by_name() -> None:
    assert near_named_m("inside six feet", 0.9) == pytest.approx(6 * FOOT_M)
    assert near_named_m("within a putter's length", 0.9) == pytest.approx(3 * FOOT_M)
    assert near_named_m("on the green", 0.9) is None
