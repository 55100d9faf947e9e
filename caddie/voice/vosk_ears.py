"""Vosk as ears: streaming recognition with a phrase list, for machines that have a model."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from caddie.errors import CaddieError
from caddie.voice.ears import Heard, HeardWord, Partial
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples

UNKNOWN = "[unk]"
SURE_ENOUGH = 0.55
MOST_UNKNOWN = 0.34


class VoskEars:
    """A recogniser over a Vosk model and a list of phrases.

    Talk off the topic is told by the words the model itself calls unknown, where it has that word, and by
    low confidence.
    """

    def __init__(self, sentences: Sequence[str], model_dir: Path, extra_words: Sequence[str] = ()) -> None:
        """Load the model and compile the phrase list.

        Args:
            sentences: what to expect, lower-case words.
            model_dir: folder of the model.
            extra_words: further words to understand.

        Raises:
            CaddieError: if vosk is missing, the model cannot be loaded, or it knows none of the words.
        """
        try:
            import vosk
        except (ImportError, OSError) as error:
            raise CaddieError(f"vosk cannot be loaded ({error}): pip install vosk") from error
        vosk.SetLogLevel(-1)
        try:
            self._model = vosk.Model(str(model_dir))
        except Exception as error:
            raise CaddieError(f"{model_dir}: not a model Vosk can load: fetch it again") from error
        self.has_unknown = self._knows(UNKNOWN)
        phrases = self._phrases([*sentences, *extra_words])
        if sentences and not phrases:
            raise CaddieError(f"{model_dir}: this model knows none of the words: it is of another language")
        if self.has_unknown:
            phrases.append(UNKNOWN)
        if phrases:
            grammar = json.dumps(phrases, ensure_ascii=False)
            self._recogniser = vosk.KaldiRecognizer(self._model, SAMPLE_RATE_HZ, grammar)
        else:
            self._recogniser = vosk.KaldiRecognizer(self._model, SAMPLE_RATE_HZ)
        self._recogniser.SetWords(True)
        self._done: list[dict[str, Any]] = []
        self._partial = ""
        self._fed_samples = 0
        self._start_samples = 0

    def _knows(self, word: str) -> bool:
        return bool(self._model.vosk_model_find_word(word) >= 0)

    def _phrases(self, sentences: Sequence[str]) -> list[str]:
        """Sentences made of known words; of the others, their known stretches."""
        phrases: dict[str, None] = {}
        for sentence in sentences:
            stretch: list[str] = []
            for word in [*sentence.split(), ""]:
                if word and self._knows(word):
                    stretch.append(word)
                elif stretch:
                    phrases[" ".join(stretch)] = None
                    stretch = []
        return list(phrases)

    def feed(self, block: Samples) -> Partial | None:
        """Take mono int16 samples at 16 kHz; a Partial when the words so far have changed."""
        self._fed_samples += block.size
        if self._recogniser.AcceptWaveform(block.tobytes()):
            self._done += json.loads(self._recogniser.Result()).get("result", [])
            now = ""
        else:
            now = str(json.loads(self._recogniser.PartialResult()).get("partial", ""))
        text = " ".join([*(str(word["word"]) for word in self._done), *now.split()])
        if text == self._partial:
            return None
        self._partial = text
        return Partial(text)

    def expect(self, answers: Sequence[str]) -> None:
        """Nothing: its phrases are fixed, and an answer is among them."""

    def expect_end(self) -> None:
        """Nothing: what was fed is decoded already."""

    def so_far(self) -> str | None:
        """The words so far, which are decoded as they are fed."""
        return self._partial

    def finish(self) -> Heard:
        """End the utterance and be ready for the next one."""
        if self._fed_samples == self._start_samples:
            return Heard("", reason="silence")
        found = self._done + json.loads(self._recogniser.FinalResult()).get("result", [])
        # The engine counts its times from the first sample of all, not of the utterance.
        from_s = self._start_samples / SAMPLE_RATE_HZ
        self._start_samples = self._fed_samples
        self.reset()
        words = tuple(
            HeardWord(str(w["word"]), float(w["start"]) - from_s, float(w["end"]) - from_s, float(w["conf"]))
            for w in found
        )
        known = tuple(word for word in words if word.text != UNKNOWN)
        text = " ".join(word.text for word in known)
        if not words:
            return Heard("", reason="silence")
        confidence = sum(word.confidence for word in known) / len(words)
        if not known or (len(words) - len(known)) / len(words) > MOST_UNKNOWN:
            return Heard(text, known, confidence, reason="off the topic")
        if confidence < SURE_ENOUGH:
            return Heard(text, known, confidence, reason="unsure")
        return Heard(text, known, confidence, accepted=True)

    def reset(self) -> None:
        """Forget what was fed since the last `finish`."""
        if self._fed_samples > self._start_samples:
            # A reset alone leaves the engine's clock behind and words of the old utterance in the new one.
            self._recogniser.FinalResult()
        self._recogniser.Reset()
        self._done, self._partial = [], ""
        self._start_samples = self._fed_samples
