"""A short silence ends what is a whole thing to say, a longer one what is not; the answer is made in the pause."""

import time
from collections.abc import Callable, Sequence
from threading import Event

import numpy as np
import pytest

from caddie.voice.ears import Heard, Partial
from caddie.voice.end_by_meaning import FINISHED_SILENCE_S, PAUSE_S, UNFINISHED_SILENCE_S
from caddie.voice.endpoint import EndOfSpeech, Stretch
from caddie.voice.handsfree import HandsFree, State
from caddie.voice.mouth import Mouth
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
        self.rivals: tuple[str, ...] = ()
        self.expected: list[Sequence[str]] = []

    def feed(self, block: Samples) -> Partial | None:
        return None

    def expect(self, answers: Sequence[str]) -> None:
        self.expected.append(answers)

    def expect_end(self) -> None:
        self._left = self._slow
        self.early.append(self.words)

    def so_far(self) -> str | None:
        self._left -= 1
        return self.early[-1] if self._left < 0 else None

    def finish(self) -> Heard:
        return Heard(self.words, accepted=True, rivals=self.rivals)

    def reset(self) -> None: ...


class Talk:
    """Takes what ends in "and" for unfinished, and answers with an echo."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.opens = False
        self.may_end = Event()
        self.may_end.set()
        self.rehearsed: list[str] = []
        self.answers: Sequence[str] = ()
        self.doubts = False

    def certain(self, words: str, rivals: Sequence[str]) -> bool:
        return not (self.doubts and rivals)

    def expected(self) -> Sequence[str]:
        return self.answers

    def said_enough(self, words: str) -> bool:
        self.asked.append(words)
        return not words.endswith(" and")

    def rehearse(self, words: str, opens: Callable[[str], None]) -> str:
        self.rehearsed.append(words)
        if self.opens:
            opens(f"Heard {words}.")
        assert self.may_end.wait(5)
        return f"Heard {words}. More of it."


class Player:
    """A loudspeaker that keeps the lengths of what it played."""

    playing = False

    def __init__(self) -> None:
        self.played: list[int] = []
        self.first: Callable[[], None] | None = None

    def play(self, samples: Samples, rate_hz: int) -> None:
        self.played.append(samples.size)
        if self.first is not None:
            self.first()

    def stop(self) -> None: ...

    def wait(self) -> bool:
        return True

    def close(self) -> None: ...


class CountingMouth(Mouth):
    """Makes a sentence as many samples long as it has letters, and keeps what it was asked for."""

    def __init__(self) -> None:
        super().__init__(loudspeaker=Player())
        self.made: list[str] = []

    def render(self, text: str) -> tuple[Samples, int]:
        self.made.append(text)
        return np.zeros(len(text), np.int16), 22050


class Scene:
    """A talk block by block."""

    def __init__(self, slow: int = 0, address: str | None = None, mouth: Mouth | None = None) -> None:
        self.ears, self.ends, self.talk = Ears(slow), CountedEnds(), Talk()
        self.heard: list[str] = []
        self.reply: str | None = None
        self.states: list[State] = []
        self.loop = HandsFree(
            self.ears, self._on_heard, mouth, address, on_state=self.states.append, end_of_speech=self.ends,
            topic=self.talk,
        )  # fmt: skip

    @property
    def asked(self) -> list[str]:
        return self.talk.asked

    def _on_heard(self, heard: Heard) -> str:
        self.heard.append(heard.text)
        return self.reply or f"Heard {heard.text}. More of it."

    def block(self) -> None:
        """One block, and what it begins beside is over before the next, where it may be."""
        self.loop.block(SILENCE)
        assert self.loop._meaning is not None
        if self.talk.may_end.is_set():
            self.loop._meaning._worker.submit(bool).result()
        else:
            time.sleep(0.01)

    def say(self, words: str) -> "Scene":
        self.ears.words = words
        self.ends.voiced = True
        for _ in range(20):
            self.block()
        return self

    def silence_to_end(self, most_s: float = 2.0) -> float:
        """How long nobody speaks until the utterance is taken for over, or ``most_s``."""
        self.ends.voiced = False
        before = len(self.heard)
        for count in range(1, round(most_s / BLOCK_S) + 1):
            self.block()
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
    scene = Scene(slow=12).say("seventy yards")
    assert scene.silence_to_end() == pytest.approx(PAUSE_S + 12 * BLOCK_S, abs=2 * BLOCK_S)


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


def said(scene: Scene) -> None:
    """Wait until the reply under way has been said."""
    deadline = time.monotonic() + 5
    while scene.loop.speaking and time.monotonic() < deadline:
        time.sleep(0.001)


def test_the_answer_is_made_in_the_pause_and_sounds_without_a_tone() -> None:
    mouth = CountingMouth()
    scene = Scene(mouth=mouth).say("seventy yards")
    assert scene.silence_to_end(PAUSE_S) == PAUSE_S
    assert scene.heard == []
    assert (scene.talk.rehearsed, mouth.made) == (["seventy yards"], ["Heard seventy yards."])
    scene.silence_to_end()
    said(scene)
    assert mouth.made == ["Heard seventy yards.", "More of it."], "the first sentence was made once"
    assert isinstance(mouth.loudspeaker, Player)
    assert mouth.loudspeaker.played == [len("Heard seventy yards."), len("More of it.")]


def test_an_answer_that_takes_a_moment_is_told_by_a_tone() -> None:
    mouth = CountingMouth()
    scene = Scene(slow=1000, mouth=mouth).say("seventy yards")
    scene.talk.may_end.clear()
    player = mouth.loudspeaker
    assert isinstance(player, Player)
    player.first = scene.talk.may_end.set
    scene.silence_to_end()
    said(scene)
    assert len(player.played) == 3, "a tone and two sentences"


def test_what_was_not_known_before_the_end_is_begun_as_soon() -> None:
    mouth = CountingMouth()
    scene = Scene(slow=1000, mouth=mouth).say("seventy yards")
    scene.talk.opens = True
    scene.talk.may_end.clear()
    player = mouth.loudspeaker
    assert isinstance(player, Player)
    player.first = scene.talk.may_end.set
    scene.silence_to_end()
    said(scene)
    assert player.played == [len("Heard seventy yards."), len("More of it.")]


def test_what_was_made_ahead_is_thrown_away_when_more_is_said() -> None:
    mouth = CountingMouth()
    scene = Scene(mouth=mouth).say("seventy yards")
    scene.silence_to_end(PAUSE_S + BLOCK_S)
    scene.say("seventy yards and a bunker").silence_to_end()
    said(scene)
    assert scene.heard == ["seventy yards and a bunker"]
    assert mouth.made[1:] == ["Heard seventy yards and a bunker.", "More of it."]
    assert isinstance(mouth.loudspeaker, Player)
    assert len(mouth.loudspeaker.played) == 2


def test_the_first_sentence_sounds_while_the_rest_is_worked_out() -> None:
    mouth = CountingMouth()
    scene = Scene(mouth=mouth)
    scene.talk.opens = True
    scene.talk.may_end.clear()
    player = mouth.loudspeaker
    assert isinstance(player, Player)
    player.first = scene.talk.may_end.set
    scene.say("seventy yards").silence_to_end()
    said(scene)
    assert player.played == [len("Heard seventy yards."), len("More of it.")], "each once, and no tone"
    assert scene.heard == ["seventy yards"]


def test_a_sentence_is_not_begun_where_another_number_may_have_been_said() -> None:
    mouth = CountingMouth()
    scene = Scene(mouth=mouth)
    scene.talk.opens = scene.talk.doubts = True
    scene.ears.rivals = ("seventeen yards",)
    scene.reply = "Seventy or seventeen?"
    scene.say("seventy yards").silence_to_end()
    said(scene)
    assert isinstance(mouth.loudspeaker, Player)
    assert mouth.loudspeaker.played == [len("Seventy or seventeen?")]


def test_what_is_not_whole_is_answered_ahead_too() -> None:
    scene = Scene().say("seventy yards and")
    scene.silence_to_end()
    assert scene.talk.rehearsed == ["seventy yards and"]


def test_the_ears_are_told_what_would_be_an_answer_when_it_changes() -> None:
    scene = Scene()
    scene.talk.answers = ["fifteen", "fifty"]
    scene.say("fifteen").silence_to_end()
    scene.say("fifty").silence_to_end()
    scene.talk.answers = ()
    scene.say("thanks")
    scene.say("and")
    assert scene.ears.expected == [["fifteen", "fifty"], ()]
