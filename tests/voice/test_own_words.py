"""A word of the player's own, taught once, is heard nine times of ten by the usual ears on the neural voice."""

from pathlib import Path

import pytest

from caddie.notes.notebook import Notebook
from caddie.notes.own_words import teachable

BENCH = Path(__file__).parents[1] / "bench"
WORDS = {
    "badlands": "heavy rough",
    "porridge": "plugged in the bunker",
    "snowman": "plugged in the bunker",
    "briar patch": "heavy rough",
    "kettle": "heavy rough",
    "grandad's carpet": "fringe",
    "gubbins": "heavy rough",
    "soup bowl": "plugged in the bunker",
    "wee dunt": "bump and run",
}
"""Invented; some are in no dictionary."""
LIES = (
    "forty five yards, in the {word}, flag at the back",
    "it is sitting in the {word} with sixty to the pin",
    "my ball ran through into the {word}, thirty yards left",
)
SHOTS = ("thirty yards, can i play the {word}", "twenty five yards off the fringe, what about the {word}")
"""None is a sentence that the ears were taught."""


@pytest.mark.rare
def test_nine_of_ten_are_heard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("piper")
    monkeypatch.syspath_prepend(str(BENCH))
    import speech_set

    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    book = Notebook()
    for word, meaning in WORDS.items():
        book.keep_word(*teachable(word, meaning, book.notes.words))
    ((_, speak),) = speech_set.voices(["neural"])
    ears = speech_set.usual_ears()
    missed = []
    said = [
        (word, frame.format(word=word))
        for word, meaning in book.notes.words.items()
        for frame in (SHOTS if "run" in meaning else LIES)
    ]
    for word, text in said:
        samples = speak(text)
        for start in range(0, samples.size, 1600):
            ears.feed(samples[start : start + 1600])
        heard = ears.finish().text
        ears.reset()
        missed += [] if word in heard else [f"{text}: {heard}"]
    ears.close()
    assert len(missed) <= len(said) / 10, missed
