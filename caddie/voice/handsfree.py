"""Hands-free talk: always listening, half duplex, woken by an address word or a key."""

import contextlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import Enum
from threading import Event, Thread

from caddie.errors import CaddieError
from caddie.voice.devices import DeviceLostError
from caddie.voice.ears import Heard, Recogniser
from caddie.voice.end_by_meaning import PAUSE_S, UNFINISHED_SILENCE_S, EndByMeaning, without_address
from caddie.voice.endpoint import EndOfSpeech, Stretch
from caddie.voice.microphone import Source
from caddie.voice.mouth import RENDERED_RATE_HZ, Mouth
from caddie.voice.sound import Samples, end_tone, start_tone
from caddie.voice.topic import Topic

TRY_AGAIN_S = 1.0


class State(Enum):
    """What the loop is doing, for the screen."""

    WAITING = "waiting"
    """Waiting for speech (or for the key)."""
    LISTENING = "listening"
    """The player speaks."""
    THINKING = "thinking"
    """The utterance has ended and is being answered."""
    SPEAKING = "speaking"
    """The caddie speaks."""
    MICROPHONE_LOST = "the microphone has gone: plug it in again"
    """The microphone went; the loop waits for it."""
    LOUDSPEAKER_LOST = "the loudspeaker has gone: read the reply here"
    """The reply could not be spoken."""
    ENDED = "ended"
    """The loop is over."""


@dataclass
class Key:
    """Push to talk: the loop listens while it is held."""

    held: Event = field(default_factory=Event)

    def press(self) -> None:
        """Begin to listen."""
        self.held.set()

    def release(self) -> None:
        """The player has finished."""
        self.held.clear()


class HandsFree:
    """The loop's state between blocks; `listen` drives it from a microphone."""

    def __init__(
        self,
        recogniser: Recogniser,
        on_heard: Callable[[Heard], str | None],
        mouth: Mouth | None,
        address_word: str | None = None,
        key: Key | None = None,
        on_partial: Callable[[str], None] | None = None,
        on_state: Callable[[State], None] | None = None,
        end_of_speech: EndOfSpeech | None = None,
        tones: bool = True,
        topic: Topic | None = None,
    ) -> None:
        self._tones = tones
        self._topic = topic
        self._expected: Sequence[str] | None = None
        self._meaning = EndByMeaning(recogniser, topic, mouth, address_word) if topic else None
        self._recogniser = recogniser
        self._on_heard = on_heard
        self._mouth = mouth
        self._address_word = address_word
        self._key = key
        self._on_partial = on_partial
        self._on_state = on_state
        self._ends = end_of_speech or (
            EndOfSpeech(silence_s=UNFINISHED_SILENCE_S, pause_s=PAUSE_S) if topic else EndOfSpeech()
        )
        self._state: State | None = None
        self._pressed = False
        self._reply: Thread | None = None
        self._barged_in = False
        self._loudspeaker_lost = Event()

    def block(self, samples: Samples) -> None:
        """Take the next 30 ms of the microphone."""
        self._report_loudspeaker()
        if self._key is not None:
            self._with_key(samples, self._key.held.is_set())
            return
        if self.speaking:
            self._while_speaking(samples)
            return
        if self._state == State.SPEAKING:
            # What was fed during the reply was the caddie's own voice.
            self._start_anew()
        self._hear(self._ends.feed(samples))

    @property
    def speaking(self) -> bool:
        """Whether a reply sounds now."""
        return self._reply is not None and self._reply.is_alive()

    def _hear(self, stretch: Stretch) -> None:
        if stretch.started:
            self._expect()
            self._show(State.LISTENING)
        if stretch.samples is not None:
            self._feed(stretch.samples)
        if stretch.pausing:
            self._recogniser.expect_end()
            if self._meaning is not None:
                self._meaning.paused()
        if stretch.ended:
            self._answer()
        elif (
            self._meaning is not None and self._ends.in_speech and self._meaning.is_over(self._ends.silent_s)
        ):
            self._ends.reset()
            self._answer()

    def _expect(self) -> None:
        """Tell the ears what would answer the question that is open."""
        if self._topic is None:
            return
        expected = self._topic.expected()
        if expected != self._expected:
            self._expected = expected
            self._recogniser.expect(expected)

    def _feed(self, samples: Samples) -> None:
        partial = self._recogniser.feed(samples)
        if partial is not None and self._on_partial is not None:
            self._on_partial(partial.text)

    def _with_key(self, samples: Samples, held: bool) -> None:
        if held and not self._pressed and self._mouth is not None:
            self._mouth.stop()
        if held:
            if not self._pressed:
                self._recogniser.reset()
                self._expect()
                self._sound(start_tone(RENDERED_RATE_HZ))
                self._show(State.LISTENING)
            self._feed(samples)
        elif self._pressed:
            self._feed(samples)
            self._answer()
        elif not self.speaking:
            self._show(State.WAITING)
        self._pressed = held

    def _while_speaking(self, samples: Samples) -> None:
        """Half duplex: the reply is not heard as input, but the address word cuts it off.

        Without an address word nothing can be told from the caddie's own voice, so nothing is heard.
        """
        if self._address_word is None or self._barged_in:
            return
        stretch = self._ends.feed(samples)
        if stretch.samples is not None:
            partial = self._recogniser.feed(stretch.samples)
            words = partial.text.casefold().split() if partial else []
            address = self._address_word.casefold().split()
            if any(words[at : at + len(address)] == address for at in range(len(words))):
                self._barge_in()
                return
        if stretch.ended:
            self._recogniser.reset()

    def _barge_in(self) -> None:
        self._barged_in = True
        if self._mouth is not None:
            self._mouth.stop()
        if self._reply is not None:
            self._reply.join(1.0)
        self._barged_in = False
        # What follows belongs to the utterance that began with the address word.
        self._show(State.LISTENING)

    def _answer(self) -> None:
        self._show(State.THINKING)
        heard: Heard | None = self._recogniser.finish()
        assert heard is not None
        if self._address_word is not None and self._key is None:
            heard = without_address(heard, self._address_word)
        opening = self._begun_with(heard) if heard is not None else ""
        ready = self._meaning is not None and self._meaning.is_ready()
        meant = heard is not None and (heard.text != "" or heard.reason is None)
        if heard is not None and heard.accepted and not ready and not opening:
            self._sound(end_tone(RENDERED_RATE_HZ))
        if self._meaning is not None:
            self._meaning.settle()
        reply = self._on_heard(heard) if heard is not None and meant else None
        self._expect()
        if reply and self._mouth is not None:
            self._speak(reply.removeprefix(opening).strip() or reply)
        else:
            self._show(State.WAITING)

    def _begun_with(self, heard: Heard) -> str:
        """The sentence with which the reply has begun to sound, while the rest of it is worked out; else nothing."""
        if self._meaning is None or self._topic is None or self._mouth is None or not heard.accepted:
            return ""
        if not heard.text or (heard.rivals and not self._topic.certain(heard.text, heard.rivals)):
            return ""
        opening = self._meaning.opening(heard.text)
        if opening:
            try:
                self._mouth.begin(opening)
            except CaddieError:
                return ""
        return opening

    def _speak(self, reply: str) -> None:
        """Speak a reply, or what is left of one that has begun."""
        assert self._mouth is not None
        mouth = self._mouth
        self._start_anew(show=False)
        self._show(State.SPEAKING)

        def say() -> None:
            try:
                mouth.say(reply)
            except CaddieError:
                self._loudspeaker_lost.set()

        self._reply = Thread(target=say, daemon=True, name="reply")
        self._reply.start()

    def _sound(self, tone: Samples) -> None:
        loudspeaker = self._mouth.loudspeaker if self._tones and self._mouth is not None else None
        if loudspeaker is not None:
            try:
                loudspeaker.play(tone, RENDERED_RATE_HZ)
            except CaddieError:
                self._loudspeaker_lost.set()

    def _start_anew(self, show: bool = True) -> None:
        self._ends.reset()
        self._recogniser.reset()
        if show:
            self._show(State.WAITING)

    def _report_loudspeaker(self) -> None:
        if self._loudspeaker_lost.is_set():
            self._loudspeaker_lost.clear()
            self._show(State.LOUDSPEAKER_LOST)

    def microphone_lost(self) -> None:
        """Forget the utterance that was cut short."""
        self._start_anew(show=False)
        self._pressed = False
        self._show(State.MICROPHONE_LOST)

    def microphone_back(self) -> None:
        """Go on."""
        self._show(State.WAITING)

    def end(self) -> None:
        """Let the last reply finish being cut off and say that the loop is over."""
        if self._reply is not None:
            self._reply.join(20.0)
        if self._meaning is not None:
            self._meaning.close()
        self._report_loudspeaker()
        self._show(State.ENDED)

    def _show(self, state: State) -> None:
        if state != self._state:
            self._state = state
            if self._on_state is not None:
                self._on_state(state)


def listen(
    microphone: Source,
    recogniser: Recogniser,
    on_heard: Callable[[Heard], str | None],
    mouth: Mouth | None,
    address_word: str | None = None,
    on_partial: Callable[[str], None] | None = None,
    on_state: Callable[[State], None] | None = None,
    key: Key | None = None,
    stop: Event | None = None,
    end_of_speech: EndOfSpeech | None = None,
    tones: bool = True,
    topic: Topic | None = None,
) -> None:
    """Listen and answer until the microphone ends or ``stop`` is set.

    Args:
        microphone: where blocks come from.
        recogniser: the ears; address words of the caller's choice must be among its words.
        on_heard: called with each utterance (also rejected ones: see `Heard.accepted`); what it returns is
            spoken, None or "" is not. With an address word it is called only for what was addressed, with
            the word itself taken away.
        mouth: what speaks, or None for a silent caddie.
        address_word: what the player begins with, or None to take every utterance.
        on_partial, on_state: called with the words so far, and when the loop does something else than before.
        key: push to talk instead of always listening.
        stop: set it from another thread to end the loop.
        end_of_speech: another rule for where utterances end.
        tones: a short rising tone when the key is pressed, a falling one when talk has been understood and the
            answer takes a moment.
        topic: what the ears are told of the talk: answers are expected, a shorter silence ends what is whole, and what
            is said is answered ahead.

    Raises:
        CaddieError: if there is no microphone to begin with. One that goes later is waited for.
    """
    loop = HandsFree(
        recogniser, on_heard, mouth, address_word, key, on_partial, on_state,
        end_of_speech=end_of_speech, tones=tones, topic=topic,
    )  # fmt: skip
    ended = stop or Event()
    microphone.open()
    loop.microphone_back()
    try:
        while not ended.is_set():
            try:
                block = microphone.read()
            except DeviceLostError:
                loop.microphone_lost()
                _wait_for(microphone, ended)
                if not ended.is_set():
                    loop.microphone_back()
                continue
            if block is None:
                break
            loop.block(block)
    finally:
        microphone.close()
        loop.end()


def _wait_for(microphone: Source, ended: Event) -> None:
    while not ended.is_set():
        with contextlib.suppress(CaddieError):
            microphone.close()
            microphone.open()
            return
        ended.wait(TRY_AGAIN_S)
