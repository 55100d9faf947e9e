"""People, not machines: the recordings of Debian's package pocketsphinx-testdata through the same ears.

Several speakers: short commands and card names (PocketSphinx's own test set) and a reading of a novel
(LibriVox, public domain). The transcripts are the package's.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from caddie.voice.hear import hear_file, hear_samples
from caddie.voice.pocket import PocketEars

pytestmark = pytest.mark.system_audio

DATA = Path("/usr/share/pocketsphinx/test/data")
RANKS = "ace two three four five six seven eight nine ten jack queen king".split()
SUITS = "clubs diamonds hearts spades".split()
COMMANDS = [f"go {way} {count} meters" for way in ("forward", "backward") for count in RANKS[1:10]]


def transcripts(folder: str) -> dict[str, str]:
    files = list((DATA / folder).glob("*transcription"))
    assert files, f"{DATA / folder}: no recordings: apt-get install pocketsphinx-testdata"
    found = re.findall(r"<s> (.+?)\s+</s> \((\S+)\)", files[0].read_text())
    return {name: text for text, name in found}


@pytest.fixture(scope="module")
def card_ears(caddie_home: Path) -> Iterator[PocketEars]:
    cards = [f"{rank} of {suit}" for rank in RANKS for suit in SUITS]
    pairs = [f"{first} {second}" for first in RANKS for second in RANKS]
    one = PocketEars([*cards, *pairs, *COMMANDS, "go somewhere and do something"])
    yield one
    one.close()


def test_cards_read_out_by_a_person(card_ears: PocketEars) -> None:
    wanted = transcripts("cards")
    assert len(wanted) == 5
    right = total = 0
    for name, text in wanted.items():
        heard = hear_file(DATA / "cards" / f"{name}.wav", card_ears)
        assert heard.accepted, (name, heard)
        right += sum(word in heard.text.split() for word in text.split())
        total += len(text.split())
    assert right / total >= 0.9, f"{right} of {total} words"


@pytest.mark.parametrize(
    ("name", "text"), [("goforward", "go forward ten meters"), ("something", "go somewhere and do something")]
)
def test_commands_spoken_by_a_person(card_ears: PocketEars, name: str, text: str) -> None:
    samples = np.frombuffer((DATA / f"{name}.raw").read_bytes(), "<i2")
    heard = hear_samples(samples, card_ears)
    assert heard.text == text
    assert heard.accepted
    assert 0.5 < heard.words[-1].end_s < samples.size / 16000 + 0.3


def test_a_reading_of_a_novel_is_no_talk_of_golf(ears: PocketEars) -> None:
    wanted = transcripts("librivox")
    assert len(wanted) == 5
    accepted = [name for name in wanted if hear_file(DATA / "librivox" / f"{name}.wav", ears).accepted]
    assert accepted == []
