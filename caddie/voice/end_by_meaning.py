"""The end of an utterance by what has been said: a short silence after a whole thing to say, a long one after less.

What is silent for as long as a pause may have ended. So from there on the words are read, answered and the first
sentence of the answer is made, on a thread beside the one that listens; when more is said, it is thrown away.
"""

from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import suppress
from dataclasses import dataclass, replace

from caddie.errors import CaddieError
from caddie.voice.ears import Heard, Recogniser
from caddie.voice.mouth import Mouth
from caddie.voice.topic import Topic

PAUSE_S = 0.12
"""Silence from which on the words so far are read, as speech may have ended [s]. Inside a sentence of the neural voice
so much silence came twice in 40, of the robot 12 times; in noise 10 dB below, where weak sounds drown, 21 and 29."""
FINISHED_SILENCE_S = 0.3
"""Silence that ends an utterance whose words are a whole thing to say [s]."""
UNFINISHED_SILENCE_S = 0.8
"""Silence that ends any other [s]."""

_AT_ONCE_S = 0.01
"""What is found out so soon of words is waited for, and not asked for again a block later [s]."""
_SOON_S = 0.15
"""What takes longer than this to begin is told by a tone first [s]."""
_WORDS_BEFORE = 2


@dataclass(frozen=True)
class _Tried:
    """What is found out of the words up to a pause."""

    words: str
    opening: Future[str]
    """With what the answer begins."""
    enough: Future[bool]
    """Whether they are a whole thing to say."""
    ready: Future[bool]
    """Whether the answer to them has been made ready."""


class EndByMeaning:
    """Asks once in each pause whether the words up to it are a whole thing to say, as soon as they are known."""

    def __init__(
        self,
        recogniser: Recogniser,
        topic: Topic,
        mouth: Mouth | None = None,
        address_word: str | None = None,
    ) -> None:
        """No pause yet.

        Args:
            recogniser: knows the words up to a pause.
            topic: knows whether words, the address word taken away, are a whole thing to say, and the answer.
            mouth: makes the first sentence of the answer.
            address_word: what the player begins with.
        """
        self._recogniser = recogniser
        self._topic = topic
        self._mouth = mouth
        self._address_word = address_word
        self._waiting = False
        self._tried: _Tried | None = None
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="ahead")

    def paused(self) -> None:
        """The player has paused, and the recogniser has been told."""
        self._forget()
        self._waiting = True

    def is_over(self, silent_s: float) -> bool:
        """Whether this much silence ends the utterance [s]."""
        if silent_s < PAUSE_S:
            # With less silence than a pause the player has gone on.
            self._forget()
            return False
        if self._waiting:
            self._look()
        if self._tried is None or silent_s < FINISHED_SILENCE_S:
            return False
        wait([self._tried.enough], _AT_ONCE_S)
        return self._tried.enough.done() and self._tried.enough.result()

    def opening(self, words: str) -> str:
        """The sentence that begins the answer to just these words, known before the rest; empty where it is not soon.

        Where the speech was over before its words were known, they are tried now.
        """
        if self._tried is None or self._tried.words != words:
            self._forget()
            self._try(words)
        assert self._tried is not None
        begins = self._tried.opening
        wait([begins], _SOON_S)
        return begins.result() if begins.done() else ""

    def is_ready(self) -> bool:
        """Whether an answer has been made ready."""
        return self._tried is not None and self._tried.ready.done() and self._tried.ready.result()

    def settle(self) -> None:
        """Wait for what is being found out, as the utterance is over."""
        tried, self._tried, self._waiting = self._tried, None, False
        # What was begun in an earlier pause may be under way still.
        last = tried.ready if tried is not None else self._worker.submit(bool)
        last.result()

    def close(self) -> None:
        """End the thread."""
        self._forget()
        self._worker.shutdown(wait=True)

    def _look(self) -> None:
        words = self._recogniser.so_far()
        if words is None:
            return
        self._waiting = False
        if self._address_word is not None:
            addressed = without_address(Heard(words), self._address_word)
            words = addressed.text if addressed is not None else ""
        if words:
            self._try(words)

    def _try(self, words: str) -> None:
        opening: Future[str] = Future()
        enough = self._worker.submit(self._topic.said_enough, words)
        ready = self._worker.submit(self._make_ready, words, opening)
        self._tried = _Tried(words, opening, enough, ready)

    def _make_ready(self, words: str, opening: Future[str]) -> bool:
        try:
            answer = self._topic.rehearse(words, opening.set_result)
        finally:
            if not opening.done():
                opening.set_result("")
        if answer and self._mouth is not None:
            # A machine that cannot speak is told so when the reply is due.
            with suppress(CaddieError):
                self._mouth.prepare(answer)
        return answer != ""

    def _forget(self) -> None:
        self._waiting = False
        if self._tried is not None:
            self._tried.ready.cancel()
            self._tried = None


def without_address(heard: Heard, address_word: str) -> Heard | None:
    """The utterance after the address word, or None if it was not said.

    The word may come first or after a word or two ("right, caddie, ..."), or at the end. Anywhere else it
    is more often misheard than said.
    """
    address = address_word.casefold().split()
    texts = [word.text.casefold() for word in heard.words] or heard.text.casefold().split()
    meant = _meant(texts, address)
    if meant is None:
        return None
    rivals = [rival.casefold().split() for rival in heard.rivals]
    others = tuple(" ".join(rival[said]) for rival in rivals if (said := _meant(rival, address)))
    return replace(heard, text=" ".join(texts[meant]), words=heard.words[meant], rivals=others)


def _meant(texts: list[str], address: list[str]) -> slice | None:
    """Where what is said to who was addressed stands, or None where nobody was."""
    last = len(texts) - len(address)
    for place in range(last + 1):
        if texts[place : place + len(address)] == address and (place <= _WORDS_BEFORE or place == last):
            after = place + len(address)
            return slice(after, None) if after < len(texts) else slice(0, place)
    return None
