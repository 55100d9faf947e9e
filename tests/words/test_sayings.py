"""Sayings: what may stand around one never matters, each asks one thing, and a recogniser is taught few."""

import pytest

from caddie.cli.spoken import TRAINING_SENTENCES
from caddie.talk.kinds import BY_SAYING
from caddie.talk.lore import meaning_of
from caddie.units import Unit
from caddie.words.golf_talk import unit_said
from caddie.words.sayings import saying_of, sayings_of, written_ways
from caddie.words.sayings_taught import spoken
from caddie.words.talk_files import gist_data, questions_data
from caddie.words.topics import asked_topics

ASKED = {
    "carry": ("how far does that carry", "what number do I have to fly", "how far in the air",
              "what's the number it has to fly"),
    "run": ("how much does it roll out", "will it check", "how far will it release", "how much run is there"),
    "land": ("where does it land", "where do I pitch it", "what's my landing spot", "where am I landing it"),
    "aim": ("where should I aim", "what's the line", "how much break is there", "where do I start it"),
    "swing": ("how big a swing is that", "how far back do I go", "what kind of swing is it"),
    "motion": ("how do I hit it", "how is that played", "where should the ball be in my stance"),
    "sand": ("how much sand", "how far behind it do I hit"),
    "same_club": ("same club", "does that change it", "is it still the same club"),
    "best": ("which would you hit", "what do you recommend", "what would you do",
             "which club would you hit if it was you"),
    "either": ("the fifty-two or the fifty-six", "would you putt it or chip it", "sixty or fifty six"),
    "low": ("run it in", "can I keep it low", "what if I bump it"),
    "high": ("higher", "can I flop it", "throw it up in the air"),
    "bolder": ("something bolder", "can I go at the flag"),
    "safer": ("something safer", "what's the safe shot", "is there something a little safer"),
    "middle": ("middle of the green", "just aim for the fat part of the green"),
    "sideways": ("out sideways", "should I just chip out sideways"),
    "miss": ("where is the miss", "which side is safe", "where do I miss it"),
    "cover": ("how far to carry the bunker", "what does it take to clear the water"),
    "worse": ("how much worse is that", "what's the difference"),
    "odds": ("how sure are you", "what are the odds", "can I get it close"),
    "thought": ("what's my swing thought", "give me one thought"),
    "progress": ("how am I doing", "how is my round going"),
    "practise": ("what should I practise", "what do I need to work on", "where am I losing shots"),
    "meaning": ("what does hands to the hip mean", "what is stimp", "what do you mean by splash"),
    "stick": ("I'll go with yours", "settle for the first one", "stick with the first one"),
    "adopt": ("I'll take that one", "that one then", "let me hit that one"),
    "back": ("back to how it was", "as it was"),
    "missing": ("I left the sixty at home", "I don't have my lob wedge today"),
    "only_have": ("I only have the sand wedge and nine iron", "all I brought is the putter and the 56"),
    "two_putts": ("two putts", "missed it, tapped in"),
    "holed": ("in it went", "holed it", "drained it"),
    "next": ("on to the next hole", "next hole", "that's us on to the next"),
    "bye": ("goodbye", "talk to you later", "that's me done for the day"),
    "ready": ("I'm ready", "let's go", "all set"),
    "pardon": ("sorry", "could you say that again"),
    "thanks": ("thanks", "cheers for that"),
}  # fmt: skip
"""Common practice, no source."""
LEADS = ("and", "so", "well now,", "right,", "ok", "hmm", "wait,")
TAILS = ("now", "then", "here", "mate", "please", "thank you")


@pytest.mark.parametrize("name", ASKED)
def test_each_way_asks_that_one_thing(name: str) -> None:
    known = {*BY_SAYING, *gist_data()["intent_of"]}
    found = {text: [each for each in sayings_of(text) if each in known] for text in ASKED[name]}
    assert {text: names for text, names in found.items() if names[:1] != [name]} == {}


@pytest.mark.parametrize("name", ASKED)
def test_what_stands_around_it_does_not_matter(name: str) -> None:
    around = [f"{lead} {text} {tail}" for text in ASKED[name] for lead in LEADS for tail in TAILS]
    assert [text for text in around if name not in sayings_of(text)] == []


@pytest.mark.parametrize(
    "text",
    [
        "seventy yards, fairway", "how hard is the green", "is the green safe",
        "forty yards, light rough, bunker short",
        "flag in the middle", "what's the weather in Paris", "who won the football", "the dog ate a sock",
    ],
)  # fmt: skip
def test_a_shot_told_and_other_talk_are_no_saying(text: str) -> None:
    assert saying_of(text, BY_SAYING) is None


def test_every_kind_of_turn_has_ways_to_say_it() -> None:
    outright = {*questions_data()["asked"], *questions_data()["told"]}
    topics = {each.kind for each in asked_topics()}
    assert {*BY_SAYING, *gist_data()["intent_of"]} <= {
        *written_ways(),
        *gist_data()["gist"],
        *outright,
        *topics,
    }
    assert outright <= set(BY_SAYING)


def test_sayings_are_few_beside_the_sentences_of_shots() -> None:
    """More of them would teach the recogniser to hear talk where a shot is told."""
    assert len(spoken()) < 0.15 * TRAINING_SENTENCES


def test_meanings_are_short_enough_to_say() -> None:
    from caddie.words.talk_files import glossary_data, lore_data

    assert [term["means"] for term in glossary_data() if len(term["means"].split()) > 30] == []
    told = [text for table in ("practice", "cause") for text in lore_data()[table].values()]
    told += [each["say"] for each in lore_data()["technique"]]
    assert [text for text in told if len(text.split()) > 30] == []
    assert "quarter" in (meaning_of("what does hands to the hip mean") or "")


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("fifty-five metres", Unit.METRES),
        ("55m to the pin", Unit.METRES),
        ("60 yds", Unit.YARDS),
        ("sixty", None),
    ],
)
def test_the_unit_of_a_distance(text: str, unit: Unit | None) -> None:
    assert unit_said(text) is unit
