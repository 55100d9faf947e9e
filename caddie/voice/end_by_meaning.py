"""The end of an utterance by what has been said: a short silence after a whole thing to say, a long one after less."""

from collections.abc import Callable

from caddie.voice.ears import Heard, Recogniser

PAUSE_S = 0.21
"""Silence from which on the words so far are read, as speech may have ended [s]."""
FINISHED_SILENCE_S = 0.3
"""Silence that ends an utterance whose words are a whole thing to say [s]."""
UNFINISHED_SILENCE_S = 0.8
"""Silence that ends any other [s]."""

_WORDS_BEFORE = 2


class EndByMeaning:
    """Asks once in each pause whether the words up to it are a whole thing to say, as soon as they are known."""

    def __init__(
        self, recogniser: Recogniser, said_enough: Callable[[str], bool], address_word: str | None = None
    ) -> None:
        """No pause yet.

        Args:
            recogniser: knows the words up to a pause.
            said_enough: whether words, the address word taken away, are a whole thing to say.
            address_word: what the player begins with.
        """
        self._recogniser = recogniser
        self._said_enough = said_enough
        self._address_word = address_word
        self._waiting = False

    def paused(self) -> None:
        """The player has paused, and the recogniser has been told."""
        self._waiting = True

    def is_over(self, silent_s: float) -> bool:
        """Whether this much silence ends the utterance [s]."""
        if not self._waiting or silent_s < FINISHED_SILENCE_S:
            # With less silence than a pause the player has gone on.
            self._waiting = self._waiting and silent_s >= PAUSE_S
            return False
        words = self._recogniser.so_far()
        if words is None:
            return False
        self._waiting = False
        if self._address_word is not None:
            addressed = without_address(Heard(words), self._address_word)
            words = addressed.text if addressed is not None else ""
        return words != "" and self._said_enough(words)


def without_address(heard: Heard, address_word: str) -> Heard | None:
    """The utterance after the address word, or None if it was not said.

    The word may come first or after a word or two ("right, caddie, ..."), or at the end. Anywhere else it
    is more often misheard than said.
    """
    address = address_word.casefold().split()
    texts = [word.text.casefold() for word in heard.words] or heard.text.casefold().split()
    last = len(texts) - len(address)
    for place in range(last + 1):
        if texts[place : place + len(address)] == address and (place <= _WORDS_BEFORE or place == last):
            after = place + len(address)
            rest = texts[after:] if after < len(texts) else texts[:place]
            words = heard.words[after:] if after < len(texts) else heard.words[:place]
            return Heard(" ".join(rest), words, heard.confidence, heard.accepted, heard.reason)
    return None
