"""Steady noise taken out of an utterance: wind, a mower far off, an air conditioner."""

from collections.abc import Iterator

import numpy as np

from caddie.voice.sound import Samples

QUIET_ENOUGH_DB = 24.0
"""Speech that stands so far above the noise is left as it is."""

_WINDOW = 512
_HOP = 160
_QUIETEST_SHARE = 0.1
_LEAST_FRAMES = 30
_TAPER = np.hanning(_WINDOW)
_LEAST_GAIN = 0.25
_MEMORY = 0.98
_FRAMES_AT_ONCE = 1000


def reduce_noise(samples: Samples) -> Samples:
    """The utterance with its steady noise lowered by up to 12 dB, or unchanged where there is little.

    Wiener filter with the decision-directed estimate of Ephraim & Malah (1984), eq. 51, on the spectrum of
    the quietest tenth of the frames.

    Args:
        samples: shape (n,), int16, at 16 kHz.

    Returns:
        Shape (n,), int16.
    """
    count = (samples.size - _WINDOW) // _HOP + 1
    if count < _LEAST_FRAMES:
        return samples
    frames = np.lib.stride_tricks.sliding_window_view(samples, _WINDOW)[::_HOP][:count]
    loudness = np.concatenate([_power(spectra).sum(axis=1) for spectra in _spectra(frames)])
    order = np.argsort(loudness)
    quietest = np.sort(order[: max(int(_QUIETEST_SHARE * count), 5)])
    noise = sum(_power(spectra).sum(axis=0) for spectra in _spectra(frames[quietest])) / quietest.size + 1.0
    above_db = 10 * np.log10(1 + loudness[order[count // 2 :]].mean() / noise.sum())
    if above_db > QUIET_ENOUGH_DB:
        return samples
    # Single precision and few frames at once: ten minutes of wind must not fill the memory.
    cleaned = np.zeros(samples.size, np.float32)
    weight = np.full(samples.size, 1e-3, np.float32)
    earlier = np.ones(_WINDOW // 2 + 1)
    at = 0
    for spectra in _spectra(frames):
        gains, earlier = _gains(_power(spectra) / noise, earlier)
        for piece in np.fft.irfft(gains * spectra, _WINDOW):
            cleaned[at : at + _WINDOW] += _TAPER * piece
            weight[at : at + _WINDOW] += np.square(_TAPER)
            at += _HOP
    np.divide(cleaned, weight, out=cleaned)
    np.clip(np.rint(cleaned, out=cleaned), -32768, 32767, out=cleaned)
    result: Samples = cleaned.astype(np.int16)
    return result


def _spectra(frames: np.ndarray) -> Iterator[np.ndarray]:
    """Tapered spectra of the frames, some of them at a time."""
    for start in range(0, len(frames), _FRAMES_AT_ONCE):
        yield np.fft.rfft(frames[start : start + _FRAMES_AT_ONCE] * _TAPER)


def _power(spectra: np.ndarray) -> np.ndarray:
    power: np.ndarray = np.square(np.abs(spectra))
    return power


def _gains(above_noise: np.ndarray, earlier: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Gain of each frame and frequency from its power over the noise's, shape (frames, frequencies).

    ``earlier`` is what of the frame before was speech, over the noise; the last frame's is returned too.
    """
    gains = np.empty_like(above_noise)
    for number, ratio in enumerate(above_noise):
        speech = _MEMORY * earlier + (1 - _MEMORY) * np.maximum(ratio - 1, 0)
        gains[number] = np.maximum(speech / (1 + speech), _LEAST_GAIN)
        earlier = np.square(gains[number]) * ratio
    return gains, earlier
