"""Steady noise taken out of an utterance: wind, a mower far off, an air conditioner."""

import numpy as np

from caddie.voice.sound import Samples

QUIET_ENOUGH_DB = 24.0
"""Speech that stands so far above the noise is left as it is."""

_WINDOW = 512
_HOP = 160
_QUIETEST_SHARE = 0.1
_LEAST_FRAMES = 30
_LEAST_GAIN = 0.25
_MEMORY = 0.98


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
    window = np.hanning(_WINDOW)
    frames = np.lib.stride_tricks.sliding_window_view(samples.astype(np.float64), _WINDOW)[::_HOP][:count]
    spectra = np.fft.rfft(frames * window)
    power = np.square(np.abs(spectra))
    loudness = power.sum(axis=1)
    order = np.argsort(loudness)
    quietest = order[: max(int(_QUIETEST_SHARE * count), 5)]
    noise = power[quietest].mean(axis=0) + 1.0
    above_db = 10 * np.log10(1 + loudness[order[count // 2 :]].mean() / noise.sum())
    if above_db > QUIET_ENOUGH_DB:
        return samples
    gains = _gains(power / noise)
    cleaned, weight = np.zeros(samples.size), np.full(samples.size, 1e-3)
    for number, piece in enumerate(np.fft.irfft(gains * spectra, _WINDOW)):
        place = slice(number * _HOP, number * _HOP + _WINDOW)
        cleaned[place] += window * piece
        weight[place] += np.square(window)
    result: Samples = np.clip(np.rint(cleaned / weight), -32768, 32767).astype(np.int16)
    return result


def _gains(above_noise: np.ndarray) -> np.ndarray:
    """Gain of each frame and frequency from its power over the noise's, shape (frames, frequencies)."""
    gains = np.empty_like(above_noise)
    earlier = np.ones(above_noise.shape[1])
    for number, ratio in enumerate(above_noise):
        speech = _MEMORY * earlier + (1 - _MEMORY) * np.maximum(ratio - 1, 0)
        gains[number] = np.maximum(speech / (1 + speech), _LEAST_GAIN)
        earlier = np.square(gains[number]) * ratio
    return gains
