"""A word 4-gram of sentences as sorted arrays: quick to build, to keep on disk and to ask.

Witten & Bell (1991), method C, applied recursively, as in `caddie.voice.language_model`; here the chances of all
words after a history come at once, which is what a search that looks inside words asks for.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from caddie.voice.language_model import END, START

ORDER = 4
"""Words of the longest n-gram; 3 to 5 were alike when measured."""

_UNSEEN = 0.5
"""Added to each word's count, so that none has a chance of 0."""

Chances = NDArray[np.float64]
Words = tuple[str, ...]


class Chancy(Protocol):
    """What gives chances of the next word."""

    words: list[str]
    """Every word and the end of a sentence, in the order of the alphabet."""
    numbers: dict[str, int]
    """Each word's place in ``words``."""

    def after(self, history: Words) -> Chances:
        """Chance of each word after the last words of ``history``, shape (words,)."""


@dataclass(frozen=True)
class _Followers:
    """What followed each history of one length."""

    histories: NDArray[np.int64]
    """One number a history, ascending."""
    starts: NDArray[np.int64]
    """Where each history's followers begin in the arrays below, and where the last one's end."""
    words: NDArray[np.int64]
    counts: NDArray[np.int64]

    def after(self, history: int) -> tuple[NDArray[np.int64], NDArray[np.int64]] | None:
        """The words seen after a history and how often."""
        place = int(np.searchsorted(self.histories, history))
        if place == self.histories.size or self.histories[place] != history:
            return None
        part = slice(int(self.starts[place]), int(self.starts[place + 1]))
        return self.words[part], self.counts[part]


class WordModel:
    """Chances of the next word after up to three words.

    >>> model = WordModel.of(["fifty yards", "forty yards", "fifty feet"])
    >>> chances = dict(zip(model.words, model.after(("<s>",)).round(2).tolist()))
    >>> chances["fifty"], chances["forty"]
    (0.49, 0.25)
    """

    def __init__(
        self, words: Sequence[str], alone: NDArray[np.int64], followers: Sequence[_Followers]
    ) -> None:
        self.words = list(words)
        """Every word and the end of a sentence, in the order of the alphabet."""
        self.numbers = {word: number for number, word in enumerate(self.words)}
        self._alone = alone
        self._followers = tuple(followers)
        counts = alone + _UNSEEN
        self._base: Chances = counts / counts.sum()

    @classmethod
    def of(cls, sentences: Sequence[str]) -> "WordModel":
        """Count sentences of lower-case words separated by blanks."""
        split = [sentence.split() for sentence in sentences]
        words = sorted({word for sentence in split for word in sentence} | {END})
        numbers = {word: number for number, word in enumerate(words)}
        start, end = len(words), numbers[END]
        text = np.array(
            [number for line in split for number in (start, *(numbers[word] for word in line), end)], np.int64
        )
        lengths = np.array([len(line) + 2 for line in split], np.int64)
        # How many words of its own sentence stand before each word.
        before = np.arange(text.size) - np.repeat(np.cumsum(lengths) - lengths, lengths)
        alone = np.bincount(text[text != start], minlength=len(words))
        return cls(words, alone, [_followers(text, before, length, start + 1) for length in range(1, ORDER)])

    @classmethod
    def from_arrays(cls, arrays: Mapping[str, NDArray[np.int64]], words: Sequence[str]) -> "WordModel":
        """What :meth:`arrays` gave."""
        parts = ("histories", "starts", "words", "counts")
        followers = [
            _Followers(*(arrays[f"{part}_{length}"] for part in parts)) for length in range(1, ORDER)
        ]
        return cls(words, arrays["alone"], followers)

    def arrays(self) -> dict[str, NDArray[np.int64]]:
        """The counts as arrays by name."""
        found = {"alone": self._alone}
        for length, followers in enumerate(self._followers, start=1):
            found |= {f"{part}_{length}": array for part, array in vars(followers).items()}
        return found

    def after(self, history: Words) -> Chances:
        """Chance of each word after the last three of ``history``, shape (words,)."""
        history = history[-(ORDER - 1) :]
        if not history:
            return self._base
        shorter = self.after(history[1:])
        found = self._seen_after(history)
        if found is None:
            return shorter
        words, counts = found
        kinds, total = words.size, int(counts.sum())
        chances = shorter * (kinds / (total + kinds))
        chances[words] += counts / (total + kinds)
        return chances

    def has_seen(self, history: Words) -> bool:
        """Whether a sentence has the last three words of ``history`` in a row."""
        return self._seen_after(history[-(ORDER - 1) :]) is not None

    def _seen_after(self, history: Words) -> tuple[NDArray[np.int64], NDArray[np.int64]] | None:
        number = 0
        for word in history:
            found = len(self.words) if word == START else self.numbers.get(word)
            if found is None:
                return None
            number = number * (len(self.words) + 1) + found
        return self._followers[len(history) - 1].after(number)


class Blend:
    """Two models: what is likely now has its share as long as the words so far are among it, and then none.

    So what is said instead of it costs no more at each further word.
    """

    def __init__(self, usual: WordModel, likely: WordModel, share: float) -> None:
        """Put them beside each other.

        Args:
            usual: what may be said at any time.
            likely: what is to be expected now.
            share: that of ``likely``, 0 to 1.
        """
        self.words = sorted({*usual.words, *likely.words})
        self.numbers = {word: number for number, word in enumerate(self.words)}
        self._usual, self._likely, self._share = usual, likely, share
        self._usual_places = np.array([self.numbers[word] for word in usual.words])
        self._likely_places = np.array([self.numbers[word] for word in likely.words])

    def after(self, history: Words) -> Chances:
        """Chance of each word after the last words of ``history``, shape (words,)."""
        share = self._share if self._likely.has_seen(history) else 0.0
        chances = np.zeros(len(self.words))
        chances[self._usual_places] += (1 - share) * self._usual.after(history)
        if share:
            chances[self._likely_places] += share * self._likely.after(history)
        return chances


def _followers(text: NDArray[np.int64], before: NDArray[np.int64], length: int, base: int) -> _Followers:
    """Followers of the histories of ``length`` words; a history's number has its words as digits to ``base``."""
    ends = np.flatnonzero(before >= length)
    grams = np.zeros(ends.size, np.int64)
    for back in range(length, -1, -1):
        grams = grams * base + text[ends - back]
    found, counts = np.unique(grams, return_counts=True)
    histories, starts = np.unique(found // base, return_index=True)
    return _Followers(histories, np.append(starts, found.size), found % base, counts)
