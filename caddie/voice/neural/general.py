"""General English, from PocketSphinx's wheel: what talk on the topic is told from, and a share of what is expected."""

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from caddie.voice import pronunciation
from caddie.voice.language_model import END
from caddie.voice.pocket_model import load_pocketsphinx

COMMON_WORDS = 20_000

_BASE = 1.0001
"""Of the library's logarithms."""


class General:
    """Chances of words in general English: by trigram for whole words, by themselves for beginnings of words."""

    def __init__(self, words: Sequence[str] = (), chances: NDArray[np.float64] | None = None) -> None:
        """Open the wheel's language model.

        Args:
            words: its common words in the order of the alphabet, found before; else they are found now.
            chances: their chances, shape (words,), summing to 1.

        Raises:
            CaddieError: if pocketsphinx is not installed.
        """
        pocketsphinx = load_pocketsphinx()
        shipped = Path(pocketsphinx.get_model_path("en-us"))
        self._log_base = math.log(_BASE)
        self._model = pocketsphinx.NGramModel(
            pocketsphinx.Config(), pocketsphinx.LogMath(_BASE), str(shipped / "en-us.lm.bin")
        )
        if chances is None:
            words, chances = self._common(str(shipped / "cmudict-en-us.dict"))
        self.words = list(words)
        self.chances = chances
        self._known = frozenset(words)

    def _common(self, dictionary: str) -> tuple[list[str], NDArray[np.float64]]:
        known = pronunciation.shipped_dictionary(dictionary)
        scored = sorted(
            ((self._model.prob([word]), word) for word in known if word[0].isalpha()), reverse=True
        )
        common = sorted((word, math.exp(score * self._log_base)) for score, word in scored[:COMMON_WORDS])
        chances = np.array([chance for _, chance in common])
        return [word for word, _ in common], chances / chances.sum()

    def chance(self, word: str, history: tuple[str, ...]) -> float:
        """Chance of a word, or of the end, after up to two words; 0 for a word that is not common."""
        if word not in self._known and word != END:
            return 0.0
        score = self._model.prob([word, *(before for before in history[:-3:-1])])
        return math.exp(score * self._log_base)
