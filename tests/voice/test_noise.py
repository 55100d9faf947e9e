import numpy as np
import pytest

from caddie.voice.mouth import Mouth, render_at
from caddie.voice.noise import reduce_noise
from caddie.voice.sound import Samples


@pytest.fixture(scope="module")
def speech(mouth: Mouth) -> Samples:
    return np.pad(render_at(mouth, "forty yards in the rough with a bunker short", 16000), 8000)


def noise_for(speech: Samples, below_db: float, colour: str) -> np.ndarray:
    level = np.sqrt(np.mean(speech[speech != 0].astype(float) ** 2)) * 10 ** (-below_db / 20)
    white = np.random.default_rng(2).normal(0, 1, speech.size)
    if colour == "wind":
        white = np.convolve(white, np.ones(40) / 40, "same")
    return level * white / white.std()


@pytest.mark.parametrize("colour", ["white", "wind"])
@pytest.mark.parametrize("below_db", [5.0, 10.0, 15.0])
def test_speech_stands_out_further_than_before(speech: Samples, below_db: float, colour: str) -> None:
    noise = noise_for(speech, below_db, colour)
    noisy = np.clip(speech + noise, -32768, 32767).astype(np.int16)
    cleaned = reduce_noise(noisy)
    assert cleaned.shape == noisy.shape
    assert cleaned.dtype == np.int16

    def error(heard: np.ndarray) -> float:
        return float(np.mean((heard.astype(float) - speech) ** 2))

    assert error(cleaned) < 0.7 * error(noisy)
    silent = slice(800, 7000)
    quieter_db = 10 * np.log10(np.mean(noise[silent] ** 2) / np.mean(cleaned[silent].astype(float) ** 2))
    assert 6 < quieter_db < 12.5


def test_clear_speech_is_left_alone(speech: Samples) -> None:
    noisy = (speech + noise_for(speech, 35, "white")).astype(np.int16)
    assert np.array_equal(reduce_noise(noisy), noisy)


@pytest.mark.parametrize("count", [0, 1, 511, 3000])
def test_sound_too_short_to_judge_is_left_alone(count: int) -> None:
    clip = np.random.default_rng(0).normal(0, 500, count).astype(np.int16)
    assert np.array_equal(reduce_noise(clip), clip)


def test_silence_stays_silent() -> None:
    assert not reduce_noise(np.zeros(16000, np.int16)).any()
