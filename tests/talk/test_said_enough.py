"""Whether what was said so far is a whole thing to say."""

import pytest

from caddie import load_bag
from caddie.talk.said_enough import said_enough
from caddie.talk.state import Known, Question
from caddie.words import sentences
from caddie.words.endings import Endings


@pytest.fixture(scope="module")
def endings():
    # Of fewer, a pair of words is met too seldom for its share of ends to tell.
    return Endings(sentences(16000, seed=0))


@pytest.fixture
def enough(endings):
    def ask(text, known=None):
        return said_enough(text, known or Known(), load_bag().player, endings)

    return ask


WHOLE = (
    "seventy yards from light rough", "forty yards in the bunker pin at the back", "what about the gap wedge",
    "finished six feet short", "twelve foot putt uphill", "fifty yards bunker short",
)  # fmt: skip


@pytest.mark.parametrize("text", WHOLE)
def test_a_situation_with_a_fact_beside_its_distance_or_a_question_is_whole(enough, text):
    assert enough(text)


@pytest.mark.parametrize("text", WHOLE)
@pytest.mark.parametrize("joint", ["and", "and the", "from", "with a"])
def test_what_ends_in_the_middle_is_not(enough, text, joint):
    assert not enough(f"{text} {joint}")


@pytest.mark.parametrize(
    "text", ["seventy", "seventy yards", "no", "from the", "the pin is", "my phone is dead", ""]
)
def test_what_is_waited_for(enough, text):
    assert not enough(text)


def test_an_answer_to_the_open_question_is_whole(enough):
    asked = Known(question=Question("pin_m", "How far?"))
    assert enough("seventy", asked)
    assert enough("seventy yards", asked)
    assert not enough("well let me see", asked)
