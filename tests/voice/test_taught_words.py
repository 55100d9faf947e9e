"""Words of the player's own are heard by the default ear once they are taught, spoken by a neural voice."""

from collections.abc import Iterator
from importlib.util import find_spec

import pytest

from caddie.cli.spoken import further_training, training
from caddie.notes.notebook import Notebook
from caddie.notes.own_words import in_trade_words, teachable
from caddie.voice.choose_ears import choose_recogniser
from caddie.voice.choose_mouth import choose_mouth, natural_is_installed
from caddie.voice.ears import Recogniser
from caddie.voice.hear import hear_samples
from caddie.voice.mouth import Mouth, render_at
from caddie.voice.neural import files
from caddie.voice.sound import SAMPLE_RATE_HZ
from caddie.words import understand

TAUGHT = {
    "jungle": "heavy rough",
    "snowman": "plugged in the bunker",
    "badlands": "heavy rough",
    "carpet": "fringe",
    "grandads garden": "light rough",
    "kitty litter": "bunker",
    "moonscape": "bare lie",
    "cabbage patch": "heavy rough",
    "haystack": "heavy rough",
    "doormat": "fringe",
    "porridge": "light rough",
    "car park": "bare lie",
    "old faithful": "sand wedge",
    "peashooter": "gap wedge",
}
"""Nouns of every day, and what the trade calls what they are taught to mean."""
LIES = ("forty yards in the {word} flag back", "sixty to the flag from the {word}")
CLUBS = ("what about the {word}", "fifty yards i will hit the {word}")
HEARD_AT_LEAST = 0.9


@pytest.fixture
def ear(
    recogniser_files: object, caddie_home: object, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Recogniser]:
    """The ear that listens where no other is asked for, once the words were taught."""
    book = Notebook()
    for name, meaning in TAUGHT.items():
        book.keep_word(*teachable(name, meaning, book.notes.words, sure=True))
    chosen = choose_recogniser(training(), further=further_training())
    yield chosen.recogniser
    chosen.recogniser.close()


@pytest.fixture
def natural() -> Iterator[Mouth]:
    with choose_mouth() as mouth:
        yield mouth


@pytest.mark.rare
@pytest.mark.skipif(not natural_is_installed(), reason="the extra natural is not installed")
@pytest.mark.skipif(find_spec(files.PACKAGE) is None, reason="the neural ear is not installed")
def test_nine_of_ten_taught_words_are_heard(ear: Recogniser, natural: Mouth) -> None:
    missed, said = [], 0
    sentences = [
        frame.format(word=each)
        for word, meaning in TAUGHT.items()
        for frame in (CLUBS if "wedge" in meaning else LIES)
        # The trade's own words are heard beside them as before.
        for each in (word, meaning)
    ]
    for sentence in dict.fromkeys(sentences):
        said += 1
        heard = hear_samples(render_at(natural, sentence, SAMPLE_RATE_HZ), ear)
        meant = understand(in_trade_words(sentence, TAUGHT))
        took = understand(in_trade_words(heard.text, TAUGHT))
        if (took.situation.lie, took.club) != (meant.situation.lie, meant.club) or not heard.accepted:
            missed.append(f"{sentence!r} was heard as {heard.text!r}")
    print(f"{said - len(missed)} of {said} heard", *missed, sep="\n")
    assert natural.has_preferred
    assert len(missed) <= (1 - HEARD_AT_LEAST) * said, "\n".join(missed)
