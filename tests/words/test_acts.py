"""Several things said in one turn; common practice in speech, no source."""

import time

import pytest

from caddie.situation import Situation
from caddie.words import Intent, Understanding, understand, understand_turn
from caddie.words.act_kinds import ActKind, facts_told, kind_of

LONG = (
    "I two-putted from there for a par, so I'm quite happy. Next hole: I'm just off the green in thick rough, about "
    "nine metres to the flag, not much green to work with, and it runs away from me. What would you suggest?"
)
LONGEST_S = 0.2
"""A long turn takes about 20 ms on a quiet machine; ten times that is a fault."""


@pytest.mark.parametrize(
    ("said", "kinds"),
    [
        ("Thinned it over the green. How many putts have I had?", [ActKind.RESULT, ActKind.ASKED]),
        ("how far does it carry, and where do I miss?", [ActKind.ASKED, ActKind.ASKED]),
        ("the flag is at the back, how high does it fly?", [ActKind.TOLD, ActKind.ASKED]),
        ("how high does it fly? the flag is at the back", [ActKind.TOLD, ActKind.ASKED]),
        ("holed it, cheerio", [ActKind.RESULT, ActKind.SAID]),
        ("seventy yards, no, sixty, fairway", [ActKind.TOLD]),
        ("sand left and right, 62 yards, fairway, bunker short", [ActKind.TOLD]),
        ("stimp ten and a half, forty feet on the green", [ActKind.TOLD]),
    ],
)
def test_what_is_said_in_a_turn(said: str, kinds: list[ActKind]) -> None:
    assert [kind_of(part) for part in understand_turn(said)] == kinds


def test_no_fact_is_told_twice_or_lost_where_a_question_follows() -> None:
    told, asked = understand_turn("light rough, wind from the left, how far does it carry?")
    assert facts_told(told) == facts_told(understand("light rough, wind from the left"))
    assert asked.asks[0] == "carry"
    assert asked.situation == Situation()


def test_an_answer_to_the_open_question_is_one_of_the_things_said() -> None:
    soft = Understanding(
        heard="dunno, soft", intent=Intent.SITUATION, situation=understand("soft green").situation
    )
    parts = understand_turn(
        "soft. where do I aim?",
        answered=lambda words: soft if words.startswith("soft") and "aim" not in words else None,
    )
    assert [part.heard for part in parts] == ["dunno, soft", "where do I aim?"]


def test_a_long_turn_is_read_in_little_time() -> None:
    understand_turn(LONG)
    started = time.process_time()
    parts = understand_turn(f"{LONG} ")
    assert time.process_time() - started < LONGEST_S
    assert len(parts) == 3
