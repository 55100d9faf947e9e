"""The search for the words that sound and language together make likeliest.

Each hypothesis is scored by the log chance of its tokens, a share of the log chance of its words, and a bonus a word,
without which sentences would end early.
"""

from dataclasses import dataclass
from threading import Event

import numpy as np

from caddie.voice.language_model import END
from caddie.voice.neural.language import Language
from caddie.voice.neural.network import Array, Memory, Network
from caddie.voice.neural.ngrams import Words
from caddie.voice.neural.tokens import END_TOKEN

LANGUAGE_WEIGHT = 0.3
WORD_BONUS = 1.8
"""Nat a word: about six times the weight of the language."""

_LOOKED_AT = 40
"""Likeliest tokens tried after each hypothesis."""
_UNLIKELY = 9.0
"""A token so far behind the likeliest is not tried [nat]."""
_STOP_GATE = 2.0
"""The end and marks that end a sentence are taken only this near the likeliest token [nat]."""
_BEHIND = 5.0
"""A path so far behind the best one is given up [nat]: at 10 the search took 1.4 times as long and found no more."""
_GIVEN_UP = 8.0
_SETTLED = 2.0
_TOKENS_A_SECOND, _TOKENS_MORE = 6.5, 6
_STEPS_A_SECOND = 41.0
_NEVER = -1e9


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """Words that may have been said."""

    words: Words
    score: float
    """What the search ranks by."""
    sound: float
    """Log chance of the tokens given the sound [nat]."""
    tokens: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Path:
    """A hypothesis not yet at its end."""

    tokens: tuple[int, ...]
    words: Words
    begun: str
    """Letters of a word not yet at its end."""
    sound: float
    language: float
    """Log chance of the whole words."""
    score: float
    came_from: int


class Search:
    """A beam search over a network's tokens."""

    def __init__(self, network: Network, beam: int) -> None:
        """Prepare it.

        Args:
            network: what hears.
            beam: how many hypotheses are followed at a time.
        """
        self._network = network
        self.beam = beam
        tokens = network.tokens
        unsaid = np.array([letters is None for letters in tokens.letters])
        unsaid[END_TOKEN] = False
        self._never = np.where(unsaid, np.float32(_NEVER), np.float32(0.0))
        self._stops = np.array(tokens.stops)

    def best(
        self, chances: Array, memory: Memory, language: Language, given_up: Event | None = None
    ) -> list[Hypothesis]:
        """Hypotheses of different words in the expected language, the likeliest first; none when nothing ends.

        Args:
            chances: log chances of the first token, shape (1, tokens).
            memory: what the network remembers of the sound.
            language: what is expected.
            given_up: once set, nothing more is looked for.
        """
        language.forget_some()
        seconds = memory.features.shape[1] / _STEPS_A_SECOND
        paths = [_Path((), (), "", 0.0, 0.0, 0.0, 0)]
        done: dict[Words, Hypothesis] = {}
        for _ in range(int(seconds * _TOKENS_A_SECOND) + _TOKENS_MORE):
            ends = chances[:, END_TOKEN].copy()
            self._gate(chances, ends)
            for path, end, row in zip(paths, ends, chances, strict=True):
                if path.tokens and end > row.max() - _STOP_GATE:
                    self._finish(path, float(end), done, language)
            paths = self._kept(self._further(paths, chances, language), done)
            if not paths or (given_up is not None and given_up.is_set()):
                break
            memory = memory.keep([path.came_from for path in paths])
            chances, memory = self._network.go_on([path.tokens[-1] for path in paths], memory)
        return sorted(done.values(), key=lambda found: -found.score)

    def _gate(self, chances: Array, ends: Array) -> None:
        """Rule out what is never said, and marks that end a sentence too early."""
        chances += self._never
        best = np.maximum(chances.max(axis=1), ends)[:, None]
        early = chances[:, self._stops] < best - _STOP_GATE
        chances[:, self._stops] = np.where(early, _NEVER, chances[:, self._stops])
        chances[:, END_TOKEN] = _NEVER

    def _finish(self, path: _Path, end: float, done: dict[Words, Hypothesis], language: Language) -> None:
        words, _, told = _spell(path, " ", language)
        told += language.word(END, words)
        sound = path.sound + end
        score = score_of(sound, told, len(words))
        if words not in done or score > done[words].score:
            done[words] = Hypothesis(words, score, sound, path.tokens)

    def _further(self, paths: list[_Path], chances: Array, language: Language) -> list[_Path]:
        """Each path with each token worth trying, the best one for the same letters."""
        found: dict[tuple[Words, str], _Path] = {}
        tried = chances >= chances.max(axis=1, keepdims=True) - _UNLIKELY
        for number, path in enumerate(paths):
            tokens = np.nonzero(tried[number])[0]
            likely = chances[number, tokens]
            if tokens.size > _LOOKED_AT:
                most = np.argpartition(likely, -_LOOKED_AT)[-_LOOKED_AT:]
                tokens, likely = tokens[most], likely[most]
            pairs = zip(tokens.tolist(), likely.tolist(), strict=True)
            for token, chance in pairs:
                step = self._step(path, token, chance, number, language)
                known = found.get((step.words, step.begun))
                if known is None or step.score > known.score:
                    found[step.words, step.begun] = step
        return sorted(found.values(), key=lambda path: -path.score)

    def _step(self, path: _Path, token: int, chance: float, number: int, language: Language) -> _Path:
        letters = self._network.tokens.letters[token]
        words, begun, told = _spell(path, letters or "", language)
        sound = path.sound + chance
        ahead = language.beginning(begun, words) if begun else 0.0
        score = score_of(sound, told + ahead, len(words) + bool(begun))
        return _Path((*path.tokens, token), words, begun, sound, told, score, number)

    def _kept(self, paths: list[_Path], done: dict[Words, Hypothesis]) -> list[_Path]:
        """The paths to follow; none when no path can overtake what is done."""
        kept = [path for path in paths[: self.beam] if path.score > paths[0].score - _BEHIND]
        if not done or not kept:
            return kept
        best = max(found.score for found in done.values())
        if kept[0].score + 2 * WORD_BONUS < best - _SETTLED:
            return []
        return [path for path in kept if path.score > best - _GIVEN_UP] or kept[:1]


def score_of(sound: float, language: float, words: int) -> float:
    """What is ranked by, from the log chances of sound and language [nat] and the number of words."""
    return sound + LANGUAGE_WEIGHT * language + WORD_BONUS * words


def _spell(path: _Path, letters: str, language: Language) -> tuple[Words, str, float]:
    """The path's words, begun word and language score when letters follow."""
    words, begun, told = path.words, path.begun, path.language
    for letter in letters:
        if letter != " ":
            # An apostrophe that begins a word is a quotation mark.
            begun += letter if begun or letter != "'" else ""
        elif begun:
            told += language.word(begun, words)
            words, begun = (*words, begun), ""
    return words, begun, told
