"""Sayings: each belongs to one thing, and they stay few beside the sentences a recogniser is taught."""

from itertools import combinations

import pytest

from caddie.cli.spoken import TRAINING_SENTENCES
from caddie.talk.asked import QUESTIONS, asks
from caddie.talk.sayings import _sayings, says, spoken


def test_no_question_about_the_shot_is_also_another_one() -> None:
    ways = {name: _sayings()[name] for name in (*QUESTIONS, "shot", "another", "shorter", "known")}
    shared = {(a, b): ways[a] & ways[b] for a, b in combinations(ways, 2) if ways[a] & ways[b]}
    assert shared == {}


def test_sayings_are_few_beside_the_sentences_of_shots() -> None:
    """More of them would teach the recogniser to hear talk where a shot is told."""
    assert len(spoken()) < 0.15 * TRAINING_SENTENCES


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("Where do I aim?", "where"),
        ("how hard", "how"),
        ("How far will it run?", "run"),
        ("what's the chance I clear it", "odds"),
        ("Give me something safer.", "safer"),
        ("what's my swing thought?", "thought"),
        ("where should I miss", "miss"),
        ("which one is better?", "best"),
        ("seventy yards, fairway", None),
        ("how hard is the green", None),
        ("is the green safe", None),
    ],
)
def test_what_is_asked(text: str, question: str | None) -> None:
    assert asks(text) == question
    assert question is None or says(text, question)
