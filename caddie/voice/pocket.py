"""PocketSphinx as ears: the recogniser whose model comes with its wheel."""

import math
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from caddie.voice import pocket_model
from caddie.voice.ears import SHORTEST_S, SILENCE_AFTER_PAUSE_S, Heard, Partial
from caddie.voice.pocket_decoders import Decoding, StreamDecoder, WholeDecoder
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples

_CONFIDENCE_SLOPE = 5.0


@dataclass(frozen=True)
class Rejection:
    """How talk off the topic is told from talk on it.

    The whole path of each decoding is scored, sounds and language together: the sounds alone told them
    apart hardly at all (area under the curve 0.63 on synthetic speech, half of it at 20 dB noise), the paths
    do (0.98).
    """

    score_weight: float = 1.0
    """Weight of the path score per frame of the sentences' decoding less that of general speech [nat]."""
    confidence_weight: float = 1.0
    """Weight of the mean confidence of the words."""
    least: float = 0.46
    """The weighted sum below which an utterance is rejected."""
    whole_sentence: float = 0.35
    """Added when the words are one of the sentences from end to end, as "say that again"."""
    longest_word_s: float = 1.0
    """A word held for longer is wind or a hum [s]."""


REJECTION = Rejection()
ASKED = Rejection(whole_sentence=1.2)
"""When the player has just been asked, a whole sentence of those expected is an answer."""


class PocketEars:
    """A recogniser made from sentences: trigrams, a pruned dictionary, and a background to judge against.

    While the player speaks, two decodings run along: one of the sentences (it gives the partials) and one
    of general speech. At the end the whole utterance is decoded once more with its own mean spectrum,
    which a stream cannot know; `expect_end` begins that early.
    """

    def __init__(
        self,
        sentences: Sequence[str],
        extra_words: Sequence[str] = (),
        rejection: Rejection = REJECTION,
        on_first_use: Callable[[], None] | None = None,
    ) -> None:
        """Build or find the models and start the decoders.

        Args:
            sentences: what to expect, lower-case words.
            extra_words: further words to understand.
            rejection: how talk off the topic is told.
            on_first_use: called before models are built, which takes seconds.

        Raises:
            CaddieError: if pocketsphinx is missing or the models cannot be built.
        """
        self.model = pocket_model.build(sentences, extra_words, on_first_use)
        self._rejection = rejection
        self._sentences = frozenset(sentences)
        self._answers: frozenset[str] = frozenset()
        model = self.model
        self._stream = StreamDecoder(model.acoustic, model.strict_lm, model.strict_dictionary)
        self._general = StreamDecoder(model.acoustic, model.general_lm, model.general_dictionary)
        self._whole = WholeDecoder(model.acoustic, model.mixed_lm, model.mixed_dictionary)
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="ears")
        self._blocks: list[Samples] = []
        self._samples = 0
        self._early: tuple[int, Future[Decoding]] | None = None
        self._partial = ""

    def feed(self, block: Samples) -> Partial | None:
        """Take mono int16 samples at 16 kHz; a Partial when the words so far have changed."""
        self._blocks.append(block)
        self._samples += block.size
        text = self._stream.feed(block)
        self._general.feed(block)
        if text == self._partial:
            return None
        self._partial = text
        return Partial(text)

    def expect(self, answers: Sequence[str]) -> None:
        """What would answer the question just asked: it is taken more readily, but not heard better."""
        self._answers = frozenset(answers)

    def expect_end(self) -> None:
        """Begin the last decoding now, because the player has paused and may have finished."""
        if self._blocks:
            samples = np.concatenate(self._blocks)
            self._early = (samples.size, self._worker.submit(self._whole.decode, samples))

    def so_far(self) -> str | None:
        """The words up to the pause last told by `expect_end`; None as long as they are not known."""
        return self._early[1].result().text if self._early and self._early[1].done() else None

    def finish(self) -> Heard:
        """End the utterance and be ready for the next one."""
        if self._samples < SHORTEST_S * SAMPLE_RATE_HZ:
            self.reset()
            return Heard("", reason="silence")
        self._stream.end()
        self._general.end()
        score = self._stream.score() - self._general.score()
        early = self._early
        if early and self._samples - early[0] <= SILENCE_AFTER_PAUSE_S * SAMPLE_RATE_HZ:
            decoding = early[1].result()
        else:
            decoding = self._worker.submit(self._whole.decode, np.concatenate(self._blocks)).result()
        self.reset()
        return self._judge(decoding, score)

    def reset(self) -> None:
        """Forget what was fed since the last `finish`."""
        self._stream.end()
        self._general.end()
        self._blocks, self._samples, self._early, self._partial = [], 0, None, ""

    def close(self) -> None:
        """End the worker thread."""
        self._worker.shutdown(wait=True)

    def _judge(self, decoding: Decoding, score: float) -> Heard:
        words = decoding.words
        if not words:
            return Heard("", reason="silence")
        text = " ".join(word.text for word in words)
        rule = self._rejection
        if max(word.end_s - word.start_s for word in words) > rule.longest_word_s:
            return Heard(text, words, reason="noise")
        margin = rule.score_weight * score / max(decoding.heard_frames, 1) - rule.least
        margin += rule.confidence_weight * sum(word.confidence for word in words) / len(words)
        if text in self._sentences or text in self._answers:
            margin += ASKED.whole_sentence if text in self._answers else rule.whole_sentence
        confidence = 1 / (1 + math.exp(-_CONFIDENCE_SLOPE * max(min(margin, 9.0), -9.0)))
        accepted = margin >= 0
        return Heard(text, words, confidence, accepted, None if accepted else "off the topic", margin)
