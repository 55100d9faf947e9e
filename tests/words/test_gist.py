"""Gists: what is asked in other words is known by a few of them, and talk of other things has none."""

import pytest
from utterances import lines

from caddie.words import Intent, understand, understand_turn
from caddie.words.gist import gists_of
from caddie.words.talk_files import gist_data

IN_OTHER_WORDS = {
    "aim": "which part of the green should I be aiming at",
    "run": "what would the ball do once it has landed",
    "carry": "how far would you want this one flying",
    "land": "which bit of the green am I landing it on",
    "safer": "is there not some safer way of playing this",
    "gentler": "would you have some gentler swing for this",
    "short_of_it": "I would not dream of going over that pond, I might lay up",
    "best": "may I ask which club you would use yourself",
    "cover": "how much do I need to be over that pond",
    "miss": "which would be the better side to miss on",
    "pardon": "I could not quite hear that over the mower",
    "ready": "I do believe I am ready",
    "stick": "I shall do as you say",
    "missing": "I do not own a lob wedge",
    "worse": "how does it compare",
}
"""Common practice, no source."""
TAKEN_ON_A_COURSE = 0.05
"""Share of other talk that a word or two of the game may be found in, such as "how many clubs can I carry"."""


@pytest.mark.parametrize("name", IN_OTHER_WORDS)
def test_other_words_ask_the_same(name: str) -> None:
    assert gists_of(IN_OTHER_WORDS[name])[:1] == (name,)


def test_other_talk_has_no_gist() -> None:
    other = [line.say for line in lines("off_topic")]
    taken = [say for say in other if gists_of(say)]
    assert len(taken) < TAKEN_ON_A_COURSE * len(other), taken


def test_every_gist_with_an_intent_has_one_that_exists() -> None:
    assert {Intent(said) for said in gist_data()["intent_of"].values()} <= set(Intent)


@pytest.mark.parametrize(
    ("said", "parts"),
    [
        ("say again? The lads were laughing", ["say again? The lads were laughing"]),
        ("Missed it a foot long… next hole", ["Missed it a foot long…", "next hole"]),
        ("Would a nine iron do it?", ["Would a nine iron do it?"]),
        ("I'm in, let's have it", ["I'm in, let's have it"]),
        ("tapped in. Next hole, seventy yards", ["tapped in.", "Next hole,", "seventy yards"]),
        ("the wife has a new car, isn't that grand", ["the wife has a new car, isn't that grand"]),
    ],
)
def test_a_turn_in_parts(said: str, parts: list[str]) -> None:
    assert [part.heard for part in understand_turn(said)] == parts


def test_what_is_asked_gives_the_intent_when_no_fact_does() -> None:
    heard = understand("Grand, I'm ready now")
    assert (heard.intent, heard.asks[0]) == (Intent.READY, "ready")
    assert understand("too many words, keep it shorter").intent is Intent.SHORTER
    assert understand("that'll do me for today, cheerio").intent is Intent.STOP
