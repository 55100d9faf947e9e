"""Outdoors: golf is heard through wind, other golfers and a cart, and none of them alone is taken for golf.

A machine's neural voice; wind, hum and talk are made. How people fare in real wind is not known.
"""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from caddie.voice.hear import hear_samples
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, read_sound
from caddie.words.quantities import first_number

SPOKEN = Path(__file__).with_name("spoken")
SAID = {
    "rough": "fifty six yards in the rough with a bunker short",
    "fringe": "fifteen yards from the fringe to a back pin",
    "bunker": "twenty yards from the bunker with the pin at the back",
}
OTHERS = ("football", "battery")
Sound = NDArray[np.float64]


def clip(name: str) -> Samples:
    return read_sound(SPOKEN / f"{name}.ogg")


def _shaped(rng: np.random.Generator, count: int, weight: Callable[[Sound], Sound]) -> Sound:
    """White noise with its spectrum weighted by frequency."""
    spectrum = np.fft.rfft(rng.normal(0, 1, count))
    return np.fft.irfft(spectrum * weight(np.fft.rfftfreq(count, 1 / SAMPLE_RATE_HZ)), count)


def rumble(rng: np.random.Generator, count: int) -> Sound:
    """Wind at a microphone: most of it below 100 Hz (common practice, no source)."""
    return _shaped(rng, count, lambda hz: np.maximum(hz, 60.0) ** -1.5)


def gusts(rng: np.random.Generator, count: int) -> Sound:
    """The same, swelling and falling every quarter of a second."""
    levels = np.repeat(rng.uniform(0.2, 1.8, count // 4000 + 1), 4000)[:count]
    return rumble(rng, count) * np.convolve(levels, np.ones(800) / 800, "same")


def pink(rng: np.random.Generator, count: int) -> Sound:
    return _shaped(rng, count, lambda hz: np.maximum(hz, 20.0) ** -0.5)


def white(rng: np.random.Generator, count: int) -> Sound:
    return rng.normal(0, 1, count)


def cart(rng: np.random.Generator, count: int) -> Sound:
    """A motor's hum and its overtones, with a little hiss."""
    at_s = np.arange(count) / SAMPLE_RATE_HZ
    hum = sum(np.sin(2 * np.pi * 95 * n * at_s + n) / n for n in range(1, 9))
    return np.asarray(hum + 0.2 * rng.normal(0, 1, count))


def golfers(rng: np.random.Generator, count: int) -> Sound:
    """Two others talking at once."""
    return np.sum([np.resize(clip(name), count + 4000)[4000:].astype(float) for name in OTHERS], axis=0)


NOISES: dict[str, tuple[Callable[[np.random.Generator, int], Sound], float]] = {
    "rumble as loud as the voice": (rumble, 0.0),
    "gusts as loud as the voice": (gusts, 0.0),
    "pink noise 10 dB below": (pink, 10.0),
    "white noise 10 dB below": (white, 10.0),
    "other golfers 10 dB below": (golfers, 10.0),
    "a cart 5 dB below": (cart, 5.0),
}


def in_noise(said: Samples, noise: str, voice: float = 1.0) -> Samples:
    """The clip with half a second around it, in noise so far below it; ``voice`` 0 leaves the noise alone."""
    make, below_db = NOISES[noise]
    padded = np.pad(said.astype(float), SAMPLE_RATE_HZ // 2)
    sound = make(np.random.default_rng(5), padded.size)
    level = np.sqrt(np.mean(np.square(said.astype(float)))) * 10 ** (-below_db / 20)
    sound *= level / np.sqrt(np.mean(np.square(sound)))
    return np.clip(voice * padded + sound, -32768, 32767).astype(np.int16)


@pytest.mark.parametrize("noise", NOISES)
def test_golf_is_heard_through_it(neural: NeuralEars, noise: str) -> None:
    """A shot is refused or heard with its distance; of three no more than one may be wrong or lost."""
    heard = {name: hear_samples(in_noise(clip(name), noise), neural) for name in SAID}
    right = [first_number(heard[name].text) == first_number(text) for name, text in SAID.items()]
    assert sum(right) >= 2, heard
    assert sum(one.accepted for one in heard.values()) >= 2, heard


@pytest.mark.parametrize("noise", NOISES)
def test_it_alone_is_no_golf(neural: NeuralEars, noise: str) -> None:
    heard = hear_samples(in_noise(clip("rough"), noise, voice=0.0), neural)
    assert not heard.accepted, heard
