"""PocketSphinx's decoders: one that follows speech, one for a whole utterance when nothing is to come any more."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from caddie.voice import pocket_model
from caddie.voice.ears import HeardWord
from caddie.voice.noise import reduce_noise
from caddie.voice.pocket_model import PocketModel
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, add_noise_floor, spoken_part

_FRAME_S = 0.01
_SMALLEST = 1e-300
# Without a second pass the decoder hands out its scores shifted right by ten bits.
_FIRST_PASS_SCALE = 1024.0

_QUICK = {"beam": 1e-38, "wbeam": 1e-20, "pbeam": 1e-38, "maxhmmpf": 2000, "maxwpf": 10}
"""Less likely paths are given up sooner than usual, which takes two thirds of the time."""


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

    def __init__(self, model: PocketModel) -> None:
        self._decoder = decoder(model, model.mixed_lm, model.mixed_dictionary, second_pass=True)

    def decode(self, samples: Samples) -> Decoding:
        """The words of an utterance of mono int16 samples at 16 kHz."""
        words = _decoded_whole(self._decoder, samples)
        return Decoding(words, round(sum(word.end_s - word.start_s for word in words) / _FRAME_S))


class StreamDecoder:
    """The words so far, while they are spoken."""

    def __init__(self, model: PocketModel, grammar: Path, dictionary: Path, **how: Any) -> None:
        self.decoder = decoder(
            model, grammar, dictionary, **{"second_pass": False, "best_path": False, **how}
        )
        self._hiss = np.random.default_rng(0)
        self._open = False
        self.mean = ""
        """Mean spectrum that the voice is taken to have, as the library writes it; its own when empty."""

    def feed(self, block: Samples) -> str:
        """The words so far when this block has been said too."""
        if not self._open:
            if self.mean:
                self.decoder.set_cmn(self.mean)
            self.decoder.start_utt()
            self._open = True
        # Exact zeros throw the decoder off; a faint hiss does not.
        heard = block if block.any() else self._hiss.integers(-8, 9, block.size, dtype=np.int16)
        self.decoder.process_raw(heard.tobytes(), False, False)
        found = self.decoder.hyp()
        return str(found.hypstr) if found else ""

    def end(self) -> None:
        """Nothing more is said; what comes next begins anew."""
        if self._open:
            self.decoder.end_utt()
            self._open = False

    def finish(self, begun_s: float) -> tuple[HeardWord, ...]:
        """End it, for the words of what was fed since the last end.

        Args:
            begun_s: when it began [s].
        """
        if not self._open:
            return ()
        self.end()
        return tuple(_words(self.decoder, begun_s))

    def score(self) -> float:
        """Score of the whole path of what was ended last [nat], relative to the best sound of each frame."""
        found = self.decoder.hyp()
        return math.log(max(found.score, _SMALLEST)) * _FIRST_PASS_SCALE if found else 0.0


class FollowingDecoder:
    """The words of speech with a confidence in each, worked out while it is spoken: known at once when it pauses.

    A pause ends a stretch, and what is said after it begins another. The voice is taken to have the mean spectrum of
    what was said before; the first stretch, and one of which no word was understood so, is decoded anew with its own.
    """

    def __init__(self, model: PocketModel) -> None:
        """Nothing has been said yet."""
        self._stream = StreamDecoder(model, model.mixed_lm, model.mixed_dictionary, best_path=True, **_QUICK)
        self._words: tuple[HeardWord, ...] = ()
        self._blocks: list[Samples] = []
        self._samples = self._begun = 0

    def feed(self, block: Samples) -> str:
        """The words so far when this block has been said too."""
        self._samples += block.size
        self._blocks.append(block)
        return " ".join([*(word.text for word in self._words), *self._stream.feed(block).split()])

    def pause(self) -> tuple[HeardWord, ...]:
        """The words of all that was said since `reset`, or since what was taken away."""
        begun_s = self._begun / SAMPLE_RATE_HZ
        words = self._stream.finish(begun_s)
        if self._begun < self._samples and not (words and self._stream.mean):
            words = _decoded_whole(self._stream.decoder, np.concatenate(self._blocks), begun_s)
        if words:
            # What has none is silence or noise, and tells nothing of a voice.
            self._stream.mean = self._stream.decoder.get_cmn(False)
        self._words += words
        self._blocks = []
        self._begun = self._samples
        return self._words

    def take(self, until_s: float) -> tuple[HeardWord, ...]:
        """The words that begin before this moment; they are not told again [s]."""
        words = self.pause()
        self._words = tuple(word for word in words if word.start_s >= until_s)
        return words[: len(words) - len(self._words)]

    def reset(self) -> None:
        """What comes next begins anew."""
        self._stream.end()
        self._words, self._blocks = (), []
        self._samples = self._begun = 0


def decoder(
    model: PocketModel,
    grammar: Path,
    dictionary: Path,
    *,
    second_pass: bool,
    best_path: bool = True,
    **limits: float,
) -> Any:
    """A decoder of the library with a language model and a dictionary.

    Args:
        second_pass: whether the sound is searched once more, with the words found in it.
        best_path: whether the words are taken from all paths at the end, which also gives confidences.
        limits: of what is followed, by the library's own names.
    """
    pocketsphinx = pocket_model.load_pocketsphinx()
    return pocketsphinx.Decoder(
        hmm=str(model.acoustic),
        lm=str(grammar),
        dict=str(dictionary),
        samprate=SAMPLE_RATE_HZ,
        fwdflat=second_pass,
        bestpath=best_path,
        # It takes this anew from each decoder.
        loglevel="FATAL",
        **limits,
    )


def _decoded_whole(decoder: Any, samples: Samples, begun_s: float = 0.0) -> tuple[HeardWord, ...]:
    """The words of a stretch, decoded with its own mean spectrum and its steady noise lowered."""
    cleaned = reduce_noise(add_noise_floor(samples))
    # The mean spectrum taken off is that of speech only when silence does not outweigh it.
    spoken = spoken_part(cleaned)
    decoder.start_utt()
    decoder.process_raw(cleaned[spoken].tobytes(), False, True)
    decoder.end_utt()
    return tuple(_words(decoder, begun_s + spoken.start / SAMPLE_RATE_HZ))


def _words(decoder: Any, begun_s: float) -> Iterator[HeardWord]:
    """The words of what a decoder has ended, that began then [s]; unsure of all where it could not compare paths."""
    compared = decoder.get_lattice() is not None
    for segment in decoder.seg() or ():
        text = _plain(segment.word)
        if text:
            start, end = segment.start_frame, segment.end_frame + 1
            confidence = min(1.0, segment.prob) if compared else 0.0
            yield HeardWord(text, begun_s + start * _FRAME_S, begun_s + end * _FRAME_S, confidence)


def _plain(word: str) -> str:
    """A segment's word without its variant number; empty for silence and noise."""
    return "" if word.startswith(("<", "[", "+")) else word.partition("(")[0]
