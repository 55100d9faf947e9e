"""The template language: what a template says, counted and drawn."""

import random
from collections import Counter
from math import prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.words.templates import (
    Choice,
    Node,
    Sequence,
    Slot,
    Templates,
    Word,
    expansions,
    firsts,
    likely,
    parse,
    reached,
    say,
    words_of,
)

NODES = st.recursive(
    st.sampled_from([Word("deep"), Word("wet"), Slot("flag")]),
    lambda inner: (
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: Sequence(tuple(parts)))
        | st.lists(inner, min_size=1, max_size=3).map(lambda parts: Choice(tuple(parts)))
    ),
    max_leaves=6,
)


def written(node: Node) -> str:
    match node:
        case Word(text):
            return text
        case Slot(name):
            return f"{{{name}}}"
        case Sequence(parts):
            return " ".join(written(part) for part in parts)
        case Choice(options):
            return f"({'|'.join(written(option) for option in options)})"


def ways(node: Node) -> int:
    match node:
        case Choice(options):
            return sum(ways(option) for option in options)
        case Sequence(parts):
            return prod(ways(part) for part in parts)
        case _:
            return 1


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("deep rough", ["deep rough"]),
        ("(deep|thick) rough", ["deep rough", "thick rough"]),
        ("[really] deep", ["deep", "really deep"]),
        ("[really|very] deep", ["deep", "really deep", "very deep"]),
        ("{distance} to [the] {flag}", ["{distance} to {flag}", "{distance} to the {flag}"]),
        ("a (b (c|d)|e)", ["a b c", "a b d", "a e"]),
    ],
)
def test_what_a_template_says(template: str, said: list[str]) -> None:
    assert [" ".join(words) for words in expansions(parse(template))] == said


@given(NODES)
def test_options_add_and_parts_multiply(node: Node) -> None:
    assert len(list(expansions(node))) == ways(node)


@given(NODES)
def test_a_template_written_out_is_read_back(node: Node) -> None:
    assert list(expansions(parse(written(node)))) == list(expansions(node))


@given(NODES, st.integers(0, 1000))
def test_what_is_drawn_is_one_of_the_ways(node: Node, seed: int) -> None:
    drawn = say(node, random.Random(seed), lambda name: f"{{{name}}}")
    assert drawn in {" ".join(words) for words in expansions(node)}


@given(NODES)
def test_words_and_slots_are_all_that_is_said(node: Node) -> None:
    said = {part for words in expansions(node) for part in words}
    assert {part for part in said if not part.startswith("{")} == set(words_of(node))


def test_the_slots_of_templates_are_known_before_they_are_parsed() -> None:
    templates = Templates(["[the] {flag} at {distance}", "(bunker|{trouble}) short"])
    assert templates.slots == {"flag", "distance", "trouble"}
    assert list(templates) == [parse("[the] {flag} at {distance}"), parse("(bunker|{trouble}) short")]


def test_of_several_the_first_is_the_likeliest() -> None:
    """Weights 1, 1/2, 1/3: shares 6, 3 and 2 of 11; five standard errors of 4,000 draws are 0.04."""
    chance = random.Random(1)
    drawn = Counter(likely("abc", chance) for _ in range(4000))
    for letter, share in zip("abc", (6 / 11, 3 / 11, 2 / 11), strict=True):
        assert drawn[letter] / 4000 == pytest.approx(share, abs=0.04)


def test_what_may_be_left_out_is_left_out_two_times_in_three() -> None:
    chance = random.Random(1)
    drawn = [say(parse("[very] deep"), chance, str) for _ in range(3000)]
    assert drawn.count("deep") / 3000 == pytest.approx(2 / 3, abs=0.045)


@given(NODES)
def test_every_way_of_saying_a_template_is_reached_to_its_end_and_begins_with_a_first_word(
    node: Node,
) -> None:
    ways = set(expansions(node))
    begin_with, empty = firsts(node, lambda name: (frozenset({f"{{{name}}}"}), False))
    assert begin_with >= {words[0] for words in ways if words}
    assert empty == (() in ways)
    for words in ways:

        def literal(text: str, at: int, words: tuple[str, ...] = words) -> tuple[int, ...]:
            return (at + 1,) if words[at : at + 1] == (text,) else ()

        ends = set(reached(node, 0, literal, lambda name, at: literal(f"{{{name}}}", at)))
        assert ends == {len(way) for way in ways if words[: len(way)] == way}
