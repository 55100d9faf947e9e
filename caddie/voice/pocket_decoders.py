"""PocketSphinx's decoders: one that follows speech, one for a whole utterance when nothing is to come any more."""

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from caddie.voice import pocket_model
from caddie.voice.ears import HeardWord
from caddie.voice.noise import reduce_noise
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, add_noise_floor, spoken_part

_FRAME_S = 0.01
_SMALLEST = 1e-300
# Without a second pass the decoder hands out its scores shifted right by ten bits.
_FIRST_PASS_SCALE = 1024.0


@dataclass(frozen=True)
class Decoding:
    """The words of an utterance."""

    words: tuple[HeardWord, ...]
    heard_frames: int
    """Frames of 10 ms that are words."""

    @property
    def text(self) -> str:
        """The words with a blank between two."""
        return " ".join(word.text for word in self.words)

    @property
    def confidence(self) -> float:
        """The mean of the words' confidences, 0 to 1; it falls with noise."""
        return sum(word.confidence for word in self.words) / max(len(self.words), 1)


class WholeDecoder:
    """Decodes with the mean spectrum of the whole, which a stream cannot know."""

    def __init__(self, acoustic: Path, lm: Path, dictionary: Path, *, quick: bool = False) -> None:
        """Prepare it.

        Args:
            acoustic: the wheel's acoustic model.
            lm: what is read out.
            dictionary: how its words sound.
            quick: without the second pass through the sound, which takes a third of the time. As a second opinion it
                was worth nothing: 314 of 360 first numbers of two machine voices in three noises without it, 313 with.
        """
        self._decoder = decoder(acoustic, lm, dictionary, second_pass=not quick)

    def decode(self, samples: Samples) -> Decoding:
        """The words of an utterance of mono int16 samples at 16 kHz."""
        self._decoder.start_utt()
        cleaned = reduce_noise(add_noise_floor(samples))
        # The mean spectrum taken off is that of speech only when silence does not outweigh it.
        spoken = spoken_part(cleaned)
        begun = spoken.start / SAMPLE_RATE_HZ
        self._decoder.process_raw(cleaned[spoken].tobytes(), False, True)
        self._decoder.end_utt()
        words = []
        frames = 0
        for segment in self._decoder.seg() or ():
            text = _plain(segment.word)
            if text:
                confidence = min(1.0, segment.prob)
                start, end = segment.start_frame, segment.end_frame + 1
                frames += end - start
                words.append(HeardWord(text, begun + start * _FRAME_S, begun + end * _FRAME_S, confidence))
        return Decoding(tuple(words), frames)


class StreamDecoder:
    """The words so far, while they are spoken."""

    def __init__(self, acoustic: Path, grammar: Path, dictionary: Path) -> None:
        self._decoder = decoder(acoustic, grammar, dictionary, second_pass=False, best_path=False)
        self._hiss = np.random.default_rng(0)
        self._open = False

    def feed(self, block: Samples) -> str:
        """The words so far when this block has been said too."""
        if not self._open:
            self._decoder.start_utt()
            self._open = True
        # Exact zeros throw the decoder off; a faint hiss does not.
        heard = block if block.any() else self._hiss.integers(-8, 9, block.size, dtype=np.int16)
        self._decoder.process_raw(heard.tobytes(), False, False)
        found = self._decoder.hyp()
        return str(found.hypstr) if found else ""

    def end(self) -> None:
        """Nothing more is said; what comes next begins anew."""
        if self._open:
            self._decoder.end_utt()
            self._open = False

    def score(self) -> float:
        """Score of the whole path of what was ended last [nat], relative to the best sound of each frame."""
        found = self._decoder.hyp()
        return math.log(max(found.score, _SMALLEST)) * _FIRST_PASS_SCALE if found else 0.0


def decoder(
    acoustic: Path, grammar: Path, dictionary: Path, *, second_pass: bool, best_path: bool = True
) -> Any:
    """A decoder of the library with a language model and a dictionary.

    Args:
        second_pass: whether the sound is searched once more, with the words found in it.
        best_path: whether the words are taken from all paths at the end, which also gives confidences.
    """
    pocketsphinx = pocket_model.load_pocketsphinx()
    return pocketsphinx.Decoder(
        hmm=str(acoustic),
        lm=str(grammar),
        dict=str(dictionary),
        samprate=SAMPLE_RATE_HZ,
        fwdflat=second_pass,
        bestpath=best_path,
    )


def _plain(word: str) -> str:
    """A segment's word without its variant number; empty for silence and noise."""
    return "" if word.startswith(("<", "[", "+")) else word.partition("(")[0]
