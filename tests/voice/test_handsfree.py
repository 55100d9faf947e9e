"""The always-listening loop, driven by a microphone, ears and a mouth that follow a script."""

import threading
import time
from collections.abc import Callable

import numpy as np
import pytest

from caddie.errors import CaddieError
from caddie.voice.devices import DeviceLostError
from caddie.voice.ears import Heard, HeardWord, Partial
from caddie.voice.end_by_meaning import without_address
from caddie.voice.endpoint import EndOfSpeech, Stretch
from caddie.voice.handsfree import Key, State, listen
from caddie.voice.sound import Samples

SILENCE = np.zeros(480, np.int16)


def said(text: str, accepted: bool = True) -> Heard:
    words = tuple(
        HeardWord(word, place * 0.3, place * 0.3 + 0.3, 1.0) for place, word in enumerate(text.split())
    )
    return Heard(text, words, 0.9, accepted, None if accepted else "off the topic")


class ScriptedMicrophone:
    """Each item of the script is an utterance (its text), a wait, or an event such as a pulled plug."""

    def __init__(self, script: list[object], unplugged_for: int = 0) -> None:
        self.script = script
        self.opened = 0
        self._refuse = 0
        self._unplugged_for = unplugged_for

    def open(self) -> None:
        if self._refuse:
            self._refuse -= 1
            raise CaddieError("no microphone")
        self.opened += 1

    def read(self) -> Samples | None:
        while self.script:
            item = self.script.pop(0)
            if item == "unplug":
                self._refuse = self._unplugged_for
                raise DeviceLostError("gone")
            if callable(item):
                item()
                continue
            ScriptedEnds.now = str(item)
            return SILENCE
        return None

    def close(self) -> None:
        pass


class ScriptedEnds(EndOfSpeech):
    """Takes one block as one word of speech; "." ends it, "" is silence, "-" a pause."""

    now = ""

    def __init__(self) -> None:
        super().__init__()

    def feed(self, block: Samples) -> Stretch:
        word, started = ScriptedEnds.now, not self.in_speech
        if word == "":
            return Stretch(None)
        self.in_speech = word != "."
        return Stretch(block, started=started, pausing=word == "-", ended=word == ".")


class ScriptedEars:
    """Hears the words the microphone's script names."""

    def __init__(self) -> None:
        self.words: list[str] = []
        self.paused = 0
        self.resets = 0

    def feed(self, block: Samples) -> Partial | None:
        if ScriptedEnds.now in ("", ".", "-"):
            return None
        self.words.append(ScriptedEnds.now)
        return Partial(" ".join(self.words))

    def expect_end(self) -> None:
        self.paused += 1

    def finish(self) -> Heard:
        text, self.words = " ".join(self.words), []
        return said(text, "football" not in text) if text else Heard("", reason="silence")

    def reset(self) -> None:
        self.words = []
        self.resets += 1


class ScriptedMouth:
    """Speaks until it is stopped or released."""

    loudspeaker = None

    def __init__(self, broken: bool = False) -> None:
        self.said: list[str] = []
        self.stopped = threading.Event()
        self.go_on = threading.Event()
        self._broken = broken

    def say(self, text: str, wait: bool = True) -> bool:
        self.said.append(text)
        if self._broken:
            raise DeviceLostError("the loudspeaker has gone")
        while not (self.stopped.is_set() or self.go_on.is_set()):
            time.sleep(0.001)
        whole = not self.stopped.is_set()
        self.stopped.clear()
        return whole

    def stop(self) -> None:
        self.stopped.set()

    @property
    def speaking(self) -> bool:
        return False


class Talk:
    """One run of the loop and all it reported."""

    def __init__(self, script: list[object], **options: object) -> None:
        self.heard: list[Heard] = []
        self.partials: list[str] = []
        self.states: list[State] = []
        self.mouth = options.pop("mouth", ScriptedMouth())
        self.mouth.go_on.set()
        self.ears = ScriptedEars()
        self.microphone = ScriptedMicrophone(script, options.pop("unplugged_for", 0))
        self._reply = options.pop("reply", lambda heard: f"you said {heard.text}")
        self._options = options

    def run(self) -> "Talk":
        def on_heard(heard: Heard) -> str | None:
            self.heard.append(heard)
            return self._reply(heard)

        listen(
            self.microphone, self.ears, on_heard, self.mouth, on_partial=self.partials.append,
            on_state=self.states.append, end_of_speech=ScriptedEnds(), **self._options,
        )  # fmt: skip
        return self


def settle(mouth: ScriptedMouth) -> Callable[[], None]:
    """Wait until the reply under way has been said."""

    def wait() -> None:
        deadline = time.monotonic() + 2
        while any(thread.name == "reply" for thread in threading.enumerate()) and time.monotonic() < deadline:
            time.sleep(0.001)

    return wait


@pytest.fixture(autouse=True)
def quiet() -> None:
    ScriptedEnds.now = ""


def test_an_utterance_is_heard_answered_and_the_loop_waits_again() -> None:
    mouth = ScriptedMouth()
    talk = Talk(["", "fifty", "yards", "-", ".", settle(mouth), "", ""], mouth=mouth).run()
    assert [heard.text for heard in talk.heard] == ["fifty yards"]
    assert talk.partials == ["fifty", "fifty yards"]
    assert talk.mouth.said == ["you said fifty yards"]
    assert talk.ears.paused == 1
    assert talk.states == [
        State.WAITING, State.LISTENING, State.THINKING, State.SPEAKING, State.WAITING, State.ENDED,
    ]  # fmt: skip


def test_rejected_talk_is_handed_on_as_such_and_silence_is_not() -> None:
    talk = Talk(["football", ".", "-", ".", "fifty", "."], reply=lambda heard: None).run()
    assert [(heard.text, heard.accepted) for heard in talk.heard] == [("football", False), ("fifty", True)]
    assert talk.mouth.said == []


def test_only_addressed_talk_is_taken_and_the_word_taken_away() -> None:
    talk = Talk(
        ["fifty", "yards", ".", "", "caddie", "forty", "yards", ".", "thirty", "caddie", ".", "caddie", "."],
        address_word="caddie", reply=lambda heard: None,
    ).run()  # fmt: skip
    assert [heard.text for heard in talk.heard] == ["forty yards", "thirty", ""]


@pytest.mark.parametrize(
    ("utterance", "address", "rest"),
    [
        ("caddie fifty yards", "Caddie", "fifty yards"),
        ("right caddie fifty yards", "caddie", "fifty yards"),
        ("fifty yards caddie", "caddie", "fifty yards"),
        ("hey bag man forty", "bag man", "forty"),
        ("fifty yards", "caddie", None),
        ("bag fifty man", "bag man", None),
        ("well hey caddie fifty yards", "caddie", "fifty yards"),
        ("fifty yards make it caddie rough", "caddie", None),
        ("what about the bag man", "bag man", "what about the"),
    ],
)
def test_the_address_word_is_the_players_choice(utterance: str, address: str, rest: str | None) -> None:
    found = without_address(said(utterance), address)
    assert (found.text if found else None) == rest
    if found:
        assert " ".join(word.text for word in found.words) == rest


def test_its_own_reply_is_not_heard() -> None:
    mouth = ScriptedMouth()
    talk = Talk([], mouth=mouth)
    talk.microphone.script = [
        "fifty", ".", mouth.go_on.clear, "land", "it", "short", ".", "more", mouth.go_on.set, settle(mouth),
        "", "forty", ".",
    ]  # fmt: skip
    mouth.go_on.clear()
    talk.run()
    assert [heard.text for heard in talk.heard] == ["fifty", "forty"]


def test_the_address_word_breaks_into_a_reply() -> None:
    mouth = ScriptedMouth()
    talk = Talk([], mouth=mouth, address_word="caddie")
    talk.microphone.script = [
        "caddie", "fifty", ".", "land", "it", ".", "caddie", "make", "that", "sixty", ".", mouth.go_on.set,
    ]  # fmt: skip
    mouth.go_on.clear()
    talk.run()
    assert [heard.text for heard in talk.heard] == ["fifty", "make that sixty"]
    assert mouth.said == ["you said fifty", "you said make that sixty"]
    speaking = talk.states.index(State.SPEAKING)
    assert talk.states[speaking + 1] == State.LISTENING


def test_push_to_talk_listens_while_the_key_is_held_and_cuts_a_reply_off() -> None:
    key, mouth = Key(), ScriptedMouth()
    talk = Talk([], mouth=mouth, key=key, address_word="caddie")
    talk.microphone.script = [
        "ignored", key.press, "fifty", "yards", key.release, "", "land", "it", key.press, "forty",
        key.release, "", mouth.go_on.set,
    ]  # fmt: skip
    mouth.go_on.clear()
    talk.run()
    assert [heard.text for heard in talk.heard] == ["fifty yards", "forty"]
    assert mouth.said == ["you said fifty yards", "you said forty"]


def test_a_pulled_plug_is_told_waited_for_and_gone_on_with(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("caddie.voice.handsfree.TRY_AGAIN_S", 0.01)
    talk = Talk(["fifty", "unplug", "forty", "."], unplugged_for=3, reply=lambda heard: None).run()
    assert [heard.text for heard in talk.heard] == ["forty"]
    assert talk.states[:5] == [
        State.WAITING, State.LISTENING, State.MICROPHONE_LOST, State.WAITING, State.LISTENING,
    ]  # fmt: skip
    assert talk.microphone.opened == 2


def test_a_lost_loudspeaker_is_told_and_the_talk_goes_on() -> None:
    mouth = ScriptedMouth(broken=True)
    talk = Talk(["fifty", ".", settle(mouth), "", "forty", ".", settle(mouth), ""], mouth=mouth).run()
    assert [heard.text for heard in talk.heard] == ["fifty", "forty"]
    assert State.LOUDSPEAKER_LOST in talk.states


def test_without_a_microphone_it_does_not_begin() -> None:
    microphone = ScriptedMicrophone([])
    microphone._refuse = 1
    with pytest.raises(CaddieError, match="no microphone"):
        listen(microphone, ScriptedEars(), lambda heard: None, None)


def test_it_ends_when_told() -> None:
    stop = threading.Event()
    talk = Talk(["fifty", stop.set, "yards", "."], stop=stop).run()
    assert talk.heard == []
    assert talk.states[-1] == State.ENDED


def test_a_silent_caddie_listens_too() -> None:
    heard: list[str] = []

    def on_heard(utterance: Heard) -> str:
        heard.append(utterance.text)
        return "not spoken"

    ends = ScriptedEnds()
    listen(ScriptedMicrophone(["fifty", "."]), ScriptedEars(), on_heard, None, end_of_speech=ends)
    assert heard == ["fifty"]


def test_what_may_have_been_said_instead_is_kept_without_the_address_word() -> None:
    heard = Heard("caddie fifteen yards", accepted=True, rivals=("caddie fifty yards", "fifty yards"))
    found = without_address(heard, "caddie")
    assert found is not None
    assert (found.text, found.rivals) == ("fifteen yards", ("fifty yards",)), (
        "a rival without it is not said to anyone"
    )
