"""Whatever is said, typed or heard: an answer with a plan, a question, or one line."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.log.store import Log
from caddie.notes.notebook import Notebook, read_notes
from caddie.talk.answer import answer
from caddie.talk.conversation import Conversation
from caddie.words import sentences, understand, vocabulary
from caddie.words.note_phrases import Names
from caddie.words.note_sample import sampled_notes

NUMBERS = [
    "0",
    "1",
    "-3",
    "½",
    "6'6\"",
    "1e999",
    "9" * 300,
    "0.0001",
    "140",
    "400",
    "minus",
    "thousand",
    "nan",
]
WORDS = st.sampled_from([*sorted(vocabulary()), *NUMBERS, ",", ".", "yards", "metres", "no"])
SITUATIONS = st.sampled_from(sentences(300, seed=11))
NOTES = st.sampled_from(
    sampled_notes(Names(holes={"dell": 4}, courses=("marram links",), words=("badlands",)), seed=11)
)
anything = st.one_of(
    SITUATIONS,
    NOTES,
    st.tuples(st.one_of(SITUATIONS, NOTES), st.lists(WORDS, max_size=6).map(" ".join)).map(" ".join),
    st.lists(WORDS, max_size=40).map(" ".join),
    st.text(st.characters(), max_size=200),
)


@pytest.fixture(scope="module", autouse=True)
def _loaded(bag):
    answer("seventy yards, fairway", bag)
    answer("twelve foot putt", bag)


@settings(
    max_examples=settings().max_examples * 4 // 5,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(text=anything, speech=st.booleans())
def test_anything_said_is_answered(text, speech, bag, watched):
    def ask():
        answer(text, bag, from_speech=speech).wire()

    watched(ask)


@settings(
    max_examples=settings().max_examples // 10,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
@given(texts=st.lists(anything, min_size=1, max_size=4))
def test_anything_said_in_a_row_is_answered_and_can_be_kept(texts, bag, home, tmp_path, watched):
    with Log(tmp_path / "log.sqlite3") as log:
        conversation = Conversation(bag, log=log, notebook=Notebook())
        for text in [*texts, "finished eight feet past"]:
            watched(lambda text=text: conversation.turn(text).model_dump_json())
        log.shots()
        assert not read_notes().problems


@pytest.mark.parametrize("odd", ["\ud800", "\x00", "\x1b[2J", "\u202e"])
def test_an_odd_letter_costs_nothing(odd, bag, tmp_path):
    said = understand(f"forty yards, light rough {odd}")
    assert said.situation.pin_m == pytest.approx(36.6, abs=0.1)
    with Log(tmp_path / "log.sqlite3") as log:
        conversation = Conversation(bag, log=log)
        conversation.turn(f"forty yards, light rough {odd}")
        assert conversation.turn("finished eight feet past").logged
        assert log.shots()[0].sentence.startswith("forty yards")
