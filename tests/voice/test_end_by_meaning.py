"""A short silence ends what is a whole thing to say, a longer one what is not."""

import numpy as np
import pytest

from caddie.voice.ears import Heard, Partial
from caddie.voice.end_by_meaning import FINISHED_SILENCE_S, PAUSE_S, UNFINISHED_SILENCE_S
from caddie.voice.endpoint import EndOfSpeech, Stretch
from caddie.voice.handsfree import HandsFree
from caddie.voice.sound import BLOCK_S, Samples

SILENCE = np.zeros(480, np.int16)


class CountedEnds(EndOfSpeech):
    """Each block is speech or silence as told; nothing is measured."""

    def __init__(self) -> None:
        super().__init__(silence_s=UNFINISHED_SILENCE_S, pause_s=PAUSE_S)
        self.voiced = False

    def feed(self, block: Samples) -> Stretch:
        self._voiced.append(self.voiced)
        return self._within(block) if self.in_speech else self._before(block)


class Ears:
    """Hears what is given to them; the words so far are known ``slow`` blocks after they were asked for."""

    def __init__(self, slow: int) -> None:
        self.words = ""
        self._slow = self._left = slow
        self.early: list[str] = []

    def feed(self, block: Samples) -> Partial | None:
        return None

    def expect(self, answers: object) -> None: ...

    def expect_end(self) -> None:
        self._left = self._slow
        self.early.append(self.words)

    def so_far(self) -> str | None:
        self._left -= 1
        return self.early[-1] if self._left < 0 else None

    def finish(self) -> Heard:
        return Heard(self.words, accepted=True)

    def reset(self) -> None: ...


class Scene:
    """A talk block by block."""

    def __init__(self, slow: int = 0, address: str | None = None) -> None:
        self.ears, self.ends = Ears(slow), CountedEnds()
        self.heard: list[str] = []
        self.asked: list[str] = []
        self.loop = HandsFree(
            self.ears, self._on_heard, None, address, end_of_speech=self.ends, said_enough=self._whole
        )

    def _on_heard(self, heard: Heard) -> None:
        self.heard.append(heard.text)

    def _whole(self, words: str) -> bool:
        self.asked.append(words)
        return not words.endswith(" and")

    def say(self, words: str) -> "Scene":
        self.ears.words = words
        self.ends.voiced = True
        for _ in range(20):
            self.loop.block(SILENCE)
        return self

    def silence_to_end(self, most_s: float = 2.0) -> float:
        """How long nobody speaks until the utterance is taken for over, or ``most_s``."""
        self.ends.voiced = False
        before = len(self.heard)
        for count in range(1, round(most_s / BLOCK_S) + 1):
            self.loop.block(SILENCE)
            if len(self.heard) > before:
                return count * BLOCK_S
        return most_s


def test_a_whole_thing_to_say_ends_after_a_short_silence() -> None:
    assert Scene().say("seventy yards").silence_to_end() == pytest.approx(FINISHED_SILENCE_S, abs=BLOCK_S)


def test_what_is_not_whole_is_waited_for() -> None:
    scene = Scene().say("seventy yards and")
    assert scene.silence_to_end() == pytest.approx(UNFINISHED_SILENCE_S, abs=3 * BLOCK_S)
    assert scene.asked == ["seventy yards and"], "asked once a pause"


def test_after_a_pause_the_player_may_go_on() -> None:
    scene = Scene().say("seventy yards and")
    assert scene.silence_to_end(0.5) == 0.5
    scene.say("seventy yards and a bunker")
    assert scene.silence_to_end() == pytest.approx(FINISHED_SILENCE_S, abs=BLOCK_S)
    assert scene.heard == ["seventy yards and a bunker"]


def test_words_that_come_late_end_it_as_soon_as_they_are_there() -> None:
    scene = Scene(slow=8).say("seventy yards")
    assert scene.silence_to_end() == pytest.approx(FINISHED_SILENCE_S + 8 * BLOCK_S, abs=BLOCK_S)


def test_words_that_never_come_are_not_waited_for() -> None:
    scene = Scene(slow=1000).say("seventy yards")
    assert scene.silence_to_end() == pytest.approx(UNFINISHED_SILENCE_S, abs=3 * BLOCK_S)


def test_the_address_word_alone_is_no_whole_thing() -> None:
    scene = Scene(address="caddie").say("caddie")
    assert scene.silence_to_end() > FINISHED_SILENCE_S + BLOCK_S
    assert scene.asked == []
    scene = Scene(address="caddie").say("caddie seventy yards")
    assert scene.silence_to_end() == pytest.approx(FINISHED_SILENCE_S, abs=BLOCK_S)
    assert scene.asked == ["seventy yards"]
