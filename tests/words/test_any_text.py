"""Properties: no text raises or takes long, and the order of phrases changes no fact."""

import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.situation import Situation
from caddie.words import Intent, sentences, understand, vocabulary

LONGEST_S = 0.05
WORDS = [*sorted(vocabulary()), ",", ".", "70", "-3", "0", "400", "no", "not", "6'6\"", "2%", "½"]


@pytest.fixture(autouse=True, scope="module")
def _loaded() -> None:
    for text in ("70 yards", "bunkr short", *sentences(200, 5)):
        understand(text)


def answered_in_time(text: str, *, speech: bool) -> None:
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        said = understand(text, from_speech=speech)
        taken.append(time.perf_counter() - start)
        assert isinstance(said.intent, Intent)
        if min(taken) < LONGEST_S:
            return
    raise AssertionError(f"{min(taken) * 1000:.0f} ms for {text!r}")


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=700), st.booleans())
def test_any_unicode_text_gets_an_answer(text: str, speech: bool) -> None:
    answered_in_time(text, speech=speech)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=120).map(" ".join), st.booleans())
def test_any_string_of_golf_words_gets_an_answer(text: str, speech: bool) -> None:
    answered_in_time(text, speech=speech)


@pytest.mark.parametrize(
    "text", ["\ud800", "\x00", "１２ yards", "७०", "²", "1e999 yards", "9" * 400, "no " * 190]
)
def test_odd_text_gets_an_answer(text: str) -> None:
    answered_in_time(text, speech=False)


def test_too_long_a_text_is_refused_in_one_line() -> None:
    said = understand("seventy yards " * 60)
    assert said.intent is Intent.OUT_OF_SCOPE
    assert said.problem is not None
    assert "600" in said.problem
    assert said.situation == Situation()


DISTANCES = [
    "70 yards to the flag",
    "it's sixty-two to the pin",
    "45 metres to the stick",
    "I've got 88 to the hole",
]
LIES = [
    "from the fairway",
    "in the first cut",
    "ball's in thick rough",
    "in the greenside bunker",
    "on the fringe",
]
PINS = ["pin at the back", "flag is front left", "the hole's cut on the right", "flag in the middle"]
TROUBLE = [
    "bunker short",
    "water on the left",
    "there's a ridge between me and the flag",
    "trees right",
    "OB long",
]
WINDS = ["into the wind", "10 mph headwind", "light breeze helping", "wind off the left", "no wind"]
GREENS = ["green slopes towards me", "firm greens", "stimp 11", "green breaks left to right", "soft green"]
HEIGHTS = ["elevated green", "green is ten feet above me"]


@settings(max_examples=200, deadline=None)
@given(
    st.tuples(
        st.sampled_from(DISTANCES),
        *(st.one_of(st.none(), st.sampled_from(s)) for s in (LIES, PINS, TROUBLE, WINDS, GREENS, HEIGHTS)),
    ),
    st.integers(0, 10_000),
)
def test_the_order_of_phrases_changes_no_fact(phrases: tuple[str | None, ...], seed: int) -> None:
    said = [phrase for phrase in phrases if phrase is not None]
    shuffled = list(said)
    random.Random(seed).shuffle(shuffled)
    first, second = understand(", ".join(said)), understand(", ".join(shuffled))
    assert first.situation == second.situation, (said, shuffled)
    assert first.intent == second.intent


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 120), st.integers(1, 120))
def test_a_number_taken_back_is_gone(first: int, second: int) -> None:
    plain = understand(f"{second} yards, fairway")
    for joint in (", no, ", ", sorry, ", ", I mean ", ", make that "):
        said = understand(f"{first} yards{joint}{second}, fairway")
        assert said.situation == plain.situation, joint


@settings(max_examples=100, deadline=None)
@given(
    st.sampled_from(["bunker", "water", "trees", "wind", "out of bounds"]), st.sampled_from(["no", "without"])
)
def test_what_is_denied_is_not_there(thing: str, denial: str) -> None:
    said = understand(f"60 yards, fairway, {denial} {thing}").situation
    assert not said.hazards
    assert said.wind.from_ is None
