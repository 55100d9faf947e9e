"""The language the ear expects: that of the given sentences, with a small share of general English."""

import math
from bisect import bisect_left
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from caddie.voice.language_model import END, START
from caddie.voice.neural.general import General
from caddie.voice.neural.ngrams import ORDER, Blend, Chancy, WordModel, Words

ANSWER_SHARE = 0.8
"""Of the answers to what was just asked, while they are expected."""
GENERAL_SHARE = 0.05
"""Of general English in what is expected: 2 to 5 % did best, 15 % worse."""

_LONGEST_HISTORY = ORDER - 1
_SPELLED_OUT = math.log(GENERAL_SHARE) - 9.0
_A_LETTER = 1.2
"""A word that neither language has costs so much, and so much for each of its letters [nat]."""
_IMPOSSIBLE = 1e-30
_NO_END = -30.0
_MOST_KEPT = 300_000


class Language:
    """Log chances [nat] of words, and of beginnings of words, after the words before them."""

    def __init__(self, expected: Chancy, general: General) -> None:
        self._expected = expected
        self._general = general
        self._general_sums = _sums(general.chances)
        self._of_words: dict[tuple[str, Words], float] = {}
        self._of_beginnings: dict[tuple[str, Words], float] = {}
        self._sums_after: dict[Words, NDArray[np.float64]] = {}
        self._ranges: dict[str, tuple[int, int, int, int]] = {}

    def expecting(self, answers: Sequence[str]) -> "Language":
        """The same with these answers to be expected now; what else may be said keeps a share."""
        if not isinstance(self._expected, WordModel):
            raise TypeError("answers are expected beside what may be said at any time")
        return Language(Blend(self._expected, WordModel.of(answers), ANSWER_SHARE), self._general)

    def word(self, word: str, history: Words) -> float:
        """Log chance of a whole word, or of the end of the sentence, after the words before it."""
        history = (START, *history)[-_LONGEST_HISTORY:]
        found = self._of_words.get((word, history))
        if found is None:
            number = self._expected.numbers.get(word)
            chance = 0.0
            if number is not None:
                sums = self._after(history)
                chance = (1 - GENERAL_SHARE) * float(sums[number + 1] - sums[number])
            chance += GENERAL_SHARE * self._general.chance(word, history)
            least = _NO_END if word == END else _floor(word)
            found = self._of_words[word, history] = max(math.log(chance + _IMPOSSIBLE), least)
        return found

    def beginning(self, letters: str, history: Words) -> float:
        """Log chance that the next word begins with these letters."""
        history = (START, *history)[-_LONGEST_HISTORY:]
        found = self._of_beginnings.get((letters, history))
        if found is None:
            first, last, general_first, general_last = self._range(letters)
            sums = self._after(history)
            chance = (1 - GENERAL_SHARE) * (sums[last] - sums[first])
            chance += GENERAL_SHARE * (self._general_sums[general_last] - self._general_sums[general_first])
            found = max(math.log(float(chance) + _IMPOSSIBLE), _floor(letters))
            self._of_beginnings[letters, history] = found
        return found

    def sentence(self, words: Sequence[str]) -> float:
        """Log chance of a whole sentence."""
        return sum(self.word(word, tuple(words[:place])) for place, word in enumerate([*words, END]))

    def ratio(self, words: Sequence[str]) -> float:
        """How much likelier than in general English the words are here, a word [nat]."""
        general = 0.0
        for place, word in enumerate([*words, END]):
            chance = self._general.chance(word, (START, *words[:place]))
            general += max(math.log(chance + _IMPOSSIBLE), _floor(word))
        return (self.sentence(words) - general) / (len(words) + 1)

    def forget_some(self) -> None:
        """Let go of what was worked out, when it is much."""
        if len(self._of_beginnings) + len(self._of_words) > _MOST_KEPT:
            self._of_beginnings.clear()
            self._of_words.clear()
            self._sums_after.clear()

    def _after(self, history: Words) -> NDArray[np.float64]:
        sums = self._sums_after.get(history)
        if sums is None:
            if len(self._sums_after) * len(self._expected.words) > 100 * _MOST_KEPT:
                self._sums_after.clear()
            sums = self._sums_after[history] = _sums(self._expected.after(history))
        return sums

    def _range(self, letters: str) -> tuple[int, int, int, int]:
        """Where the words that begin so stand: from and to among those expected, and in general English."""
        found = self._ranges.get(letters)
        if found is None:
            found = self._ranges[letters] = (
                *_places(self._expected.words, letters),
                *_places(self._general.words, letters),
            )
        return found


def _places(words: Sequence[str], letters: str) -> tuple[int, int]:
    return bisect_left(words, letters), bisect_left(words, letters + "\uffff")


def _sums(chances: NDArray[np.float64]) -> NDArray[np.float64]:
    """Running sums with a 0 before them, so that a stretch of words is a difference."""
    return np.concatenate([[0.0], np.cumsum(chances)])


def _floor(letters: str) -> float:
    return _SPELLED_OUT - _A_LETTER * len(letters)
