"""The neural network as ears: what it hears is weighed against the language that is expected."""

import math
import time
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise
from threading import Event

import numpy as np

from caddie.voice import pocket_model
from caddie.voice.ears import SHORTEST_S, SILENCE_AFTER_PAUSE_S, Heard, HeardWord, Partial
from caddie.voice.neural.files import network_files
from caddie.voice.neural.judge import Candidate, Judge, is_sure, judged, with_address, with_other
from caddie.voice.neural.kept import language_of
from caddie.voice.neural.network import Array, Network
from caddie.voice.neural.ngrams import Words
from caddie.voice.neural.search import Search
from caddie.voice.neural.writing import writings
from caddie.voice.pocket_decoders import StreamDecoder
from caddie.voice.second_ear import SecondEar
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, spoken_part, voice_range_db

BEAM, BEAM_WHERE_SLOW = 16, 8
NEARLY_AS_LIKELY = 1.5
"""Words this little behind may have been said instead [nat]. Where their first number was another one, the number taken
was wrong in 4 of 9 sentences (in 11 of all 130), so a question is worth it; at 3 nat it was in 5 of 21."""

_SLOW = 0.25
"""Processor time a second of sound from which a machine is slow: the reply would wait a second and more."""
_KEPT_AROUND_S = 0.5
_LONGEST_STRETCH_S, _CUT_WITHIN_S, _CUT_FRAME_S = 15.0, 5.0, 0.1
"""Longer speech is taken in pieces, cut at the quietest moment of the last seconds: the network hears short ones."""
_LEAST_RANGE_DB = 7.0
"""Sound that is steadier than this where vowels are is nobody's speech: wind's rumble, a hum, pink or white noise
alone range over 1.5 to 4.6 dB, one word 10 dB above them over 12 to 22."""
_CONFIDENCE_SLOPE = 2.0


@dataclass(frozen=True)
class OffTopic:
    """How talk off the topic, and noise, are told from talk on it."""

    least_ratio: float = -0.7
    """How much likelier a word must be in the expected language than in general English [nat]."""
    whole_sentence: float = 0.5
    """Added when the words are one of the sentences from end to end."""
    answer: float = 1.5
    """Added when they are an answer to what was just asked."""
    doubtful_sound: float = -0.6
    """Mean log chance of a token given the sound below which noise may have been taken for words [nat]."""
    sentences_answer: bool = False
    """Whether each of the sentences is an answer to what is asked each time."""
    sound_weight: float = 6.0
    """What is missing to that counts so much: of noise the network makes "you" or "thank you"."""
    answer_sound_weight: float = 4.0
    """The same of an expected answer, word for word."""
    few_words: int = 3
    """In proportion less where there are more words than this: noise makes no long sentences of those expected."""


OFF_TOPIC_UNASKED = OffTopic()
OFF_TOPIC_WHEN_ASKED = OffTopic(least_ratio=0.5, whole_sentence=2.7, sentences_answer=True)
"""When the player is asked each time, a whole sentence of those expected is an answer, and else little is said."""


@dataclass(frozen=True)
class _Decoding:
    """One stretch of speech as words."""

    words: tuple[HeardWord, ...] = ()
    sound: float = 0.0
    """Mean log chance of a token of its words given the sound [nat]."""
    rivals: tuple[str, ...] = ()
    """What may have been said instead."""


@dataclass(frozen=True)
class _Early:
    """A stretch that is read while its end is still waited for."""

    samples: int
    """Of the utterance when it was begun."""
    decoding: "Future[_Decoding]"
    given_up: Event
    """Set when its words are not wanted any more."""


class NeuralEars:
    """A recogniser made from a network that writes English and the sentences to expect.

    While the player speaks, the words so far are PocketSphinx's, which costs little; at the end a search through the
    network, which `expect_end` begins early, finds them, and where that is unsure they are weighed against those of a
    second decoding of PocketSphinx's.
    """

    def __init__(
        self,
        sentences: Sequence[str],
        extra_words: Sequence[str] = (),
        rejection: OffTopic = OFF_TOPIC_UNASKED,
        on_first_use: Callable[[], None] | None = None,
        further: Sequence[str] = (),
    ) -> None:
        """Load the network, the language and PocketSphinx for a second opinion.

        Args:
            sentences: what to expect, lower-case words.
            extra_words: further words or phrases, each also likely to be said alone.
            rejection: how talk off the topic is told.
            on_first_use: called before PocketSphinx's models are built, which takes seconds.
            further: more sentences for the language alone.

        Raises:
            CaddieError: if a package or a file is missing or damaged.
        """
        self._network = Network(network_files())
        often = max(1, len(sentences) // 200)
        alone = [word for word in extra_words for _ in range(often)]
        self._usual = language_of([*sentences, *further, *alone])
        model = pocket_model.build(sentences, extra_words, on_first_use)
        self._stream = StreamDecoder(model.acoustic, model.strict_lm, model.strict_dictionary)
        self._second = SecondEar(model)
        self._was_unsure = False
        self._addressed = frozenset(extra_words)
        self._search = Search(self._network, BEAM)
        self._sentences = frozenset(sentences)
        self.expect(())
        self._rejection = rejection
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="ears")
        self._done: list[_Decoding] = []
        self._blocks: list[Samples] = []
        self._samples = self._begun = 0
        self._early: _Early | None = None
        self._partial = ""

    def expect(self, answers: Sequence[str]) -> None:
        """What would answer the question just asked, until told otherwise; nothing when none was asked."""
        self._answers = frozenset(answers)
        self._language = self._usual.expecting(answers) if answers else self._usual

    def feed(self, block: Samples) -> Partial | None:
        """Take mono int16 samples at 16 kHz; a Partial when the words so far have changed."""
        self._blocks.append(block)
        self._samples += block.size
        if self._samples - self._begun > _LONGEST_STRETCH_S * SAMPLE_RATE_HZ:
            self._take_a_stretch()
        text = self._stream.feed(block)
        if text == self._partial:
            return None
        self._partial = text
        return Partial(text)

    def expect_end(self) -> None:
        """Begin the last search now, because the player has paused and may have finished."""
        self._give_up_early()
        if self._blocks:
            self._early = self._begin(self._stretch())

    def so_far(self) -> str | None:
        """The words up to the pause last told by `expect_end`; None as long as they are not known."""
        if self._early is None or not self._early.decoding.done():
            return None
        return _text([*self._done, self._early.decoding.result()])

    def finish(self) -> Heard:
        """End the utterance and be ready for the next one."""
        if self._samples < SHORTEST_S * SAMPLE_RATE_HZ:
            self.reset()
            return Heard("", reason="silence")
        early = self._early
        if early is None or self._samples - early.samples > SILENCE_AFTER_PAUSE_S * SAMPLE_RATE_HZ:
            self._give_up_early()
            early = self._begin(self._stretch())
        decodings = [*self._done, early.decoding.result()]
        self.reset()
        return self._judge(decodings)

    def reset(self) -> None:
        """Forget what was fed since the last `finish`."""
        self._stream.end()
        self._give_up_early()
        self._done, self._blocks = [], []
        self._samples = self._begun = 0
        self._partial = ""

    def close(self) -> None:
        """End the worker thread and the second ear."""
        self._give_up_early()
        self._worker.shutdown(wait=True)
        self._second.close()

    @property
    def _expected_answers(self) -> frozenset[str]:
        return self._answers or (self._sentences if self._rejection.sentences_answer else frozenset())

    def _stretch(self) -> Samples:
        return np.concatenate(self._blocks)

    def _begin(self, samples: Samples) -> _Early:
        given_up = Event()
        decoding = self._worker.submit(
            self._decode, samples, self._begun, tuple(self._partial.split()), given_up
        )
        return _Early(self._samples, decoding, given_up)

    def _give_up_early(self) -> None:
        """What was read at an earlier pause is of no use any more, and what comes next must not wait for it."""
        if self._early is not None:
            self._early.given_up.set()
            self._early.decoding.cancel()
            self._early = None

    def _take_a_stretch(self) -> None:
        """Decide the words up to the quietest moment of late; what follows begins anew."""
        samples = self._stretch()
        frame = int(_CUT_FRAME_S * SAMPLE_RATE_HZ)
        late = samples[-int(_CUT_WITHIN_S * SAMPLE_RATE_HZ) :]
        frames = late[: late.size // frame * frame].reshape(-1, frame).astype(np.float64)
        quietest = int(np.square(frames).mean(axis=1).argmin())
        cut = samples.size - late.size + quietest * frame + frame // 2
        self._give_up_early()
        self._done.append(self._begin(samples[:cut]).decoding.result())
        self._blocks = [samples[cut:]]
        self._begun += cut

    def _decode(self, samples: Samples, begun: int, so_far: Words, given_up: Event) -> _Decoding:
        """The words of a stretch that began so many samples after the utterance.

        Args:
            so_far: what PocketSphinx made of it while it was spoken.
            given_up: set when the words are not wanted any more.
        """
        began_s = time.thread_time()
        # Who was not sure of the voice will hardly be sure now.
        asked = self._second.begin(samples) if self._was_unsure else None
        spoken = spoken_part(samples, _KEPT_AROUND_S)
        sound = samples[spoken]
        if sound.size < SHORTEST_S * SAMPLE_RATE_HZ or voice_range_db(sound) < _LEAST_RANGE_DB:
            return _Decoding()
        chances, memory = self._network.begin(self._network.encode(sound))
        judge = Judge(self._network, memory, self._language, self._expected_answers)
        found = [one.words for one in self._search.best(chances, memory, self._language, given_up)]
        if given_up.is_set():
            return _Decoding()
        candidates = judged(judge, found)
        called = bool(found) and not self._addressed.isdisjoint(found[0])
        self._was_unsure = not is_sure(candidates, so_far)
        if self._was_unsure or (self._addressed and not called):
            second = (asked or self._second.begin(samples)).result()
            other = tuple(second.text.split())
            candidates = with_other(judge, candidates, second.words)
            addressed = with_address(found[0] if found else (), other, self._addressed)
            if addressed:
                candidates = sorted(judge.scored(addressed), key=lambda one: -one.score)
        if time.thread_time() - began_s > _SLOW * sound.size / SAMPLE_RATE_HZ:
            self._search.beam = BEAM_WHERE_SLOW
        if not candidates or not candidates[0].words:
            return _Decoding()
        times = _spread(candidates[0].words, begun + spoken.start, begun + spoken.stop)
        return self._decoding(candidates, times)

    def _decoding(self, candidates: list[Candidate], times: list[tuple[float, float]]) -> _Decoding:
        taken = candidates[0]
        confidences = self._confidences(self._network.tokens.split(writings(taken.words)[0]), taken.chances)
        heard = tuple(
            HeardWord(word, start_s, end_s, confidence)
            for word, (start_s, end_s), confidence in zip(taken.words, times, confidences, strict=True)
        )
        rivals = tuple(
            " ".join(one.words) for one in candidates[1:] if one.score > taken.score - NEARLY_AS_LIKELY
        )
        return _Decoding(heard, taken.sound, rivals)

    def _confidences(self, tokens: list[int], chances: Array) -> list[float]:
        """Of each word the geometric mean of its tokens' chances."""
        by_word: list[list[float]] = []
        inside = False
        for token, chance in zip(tokens, chances.tolist(), strict=True):
            for letter in self._network.tokens.letters[token] or "":
                if letter == " ":
                    inside = False
                elif not inside and letter != "'":
                    by_word.append([])
                    inside = True
            if inside:
                by_word[-1].append(chance)
        return [math.exp(min(0.0, sum(word) / max(len(word), 1))) for word in by_word]

    def _judge(self, decodings: list[_Decoding]) -> Heard:
        words = tuple(word for decoding in decodings for word in decoding.words)
        if not words:
            return Heard("", reason="silence")
        text = _text(decodings)
        rule = self._rejection
        margin = self._language.ratio(text.split()) - rule.least_ratio
        margin += rule.whole_sentence * (text in self._sentences) + rule.answer * (text in self._answers)
        sound = sum(one.sound * len(one.words) for one in decodings) / len(words)
        weight = rule.answer_sound_weight if text in self._expected_answers else rule.sound_weight
        weight *= min(1.0, rule.few_words / len(words))
        doubt = weight * min(sound - rule.doubtful_sound, 0.0)
        confidence = 1 / (1 + math.exp(-_CONFIDENCE_SLOPE * max(min(margin + doubt, 9.0), -9.0)))
        accepted = margin + doubt >= 0
        reason = None if accepted else "off the topic" if margin < 0 else "noise"
        rivals = decodings[0].rivals if len(decodings) == 1 else ()
        return Heard(text, words, confidence, accepted, reason, margin + doubt, rivals)


def _text(decodings: Sequence[_Decoding]) -> str:
    return " ".join(word.text for decoding in decodings for word in decoding.words)


def _spread(words: Sequence[str], start: int, end: int) -> list[tuple[float, float]]:
    """Start and end of each word [s] between two samples, as if every letter took as long: the network tells none."""
    ends = np.cumsum([len(word) + 1 for word in words], dtype=np.float64)
    marks = (start + (end - start) * np.concatenate([[0.0], ends / ends[-1]])) / SAMPLE_RATE_HZ
    return [(float(first), float(last)) for first, last in pairwise(marks)]
