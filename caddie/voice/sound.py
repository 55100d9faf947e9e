"""Sound as arrays: reading and writing files, levels, and the tones that open and close a turn."""

import io
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from caddie.errors import CaddieError

Samples = NDArray[np.int16]

SAMPLE_RATE_HZ = 16_000
BLOCK_SAMPLES = 480
BLOCK_S = BLOCK_SAMPLES / SAMPLE_RATE_HZ
LONGEST_FILE_S = 600.0
LARGEST_FILE_BYTES = 120_000_000
LONGEST_PLAIN_S = 30.0
"""Without miniaudio's resampler a longer file takes longer than anybody waits."""
LOWEST_RATE_HZ, HIGHEST_RATE_HZ = 4000, 48_000
FULL_SCALE = 32768.0
SILENT_DBFS = -120.0

_CHUNK_SAMPLES = 8192
_VOWELS_HZ = (500.0, 3000.0)
_SPEECH_SHARE = 0.3


def read_sound(path: str | Path, rate_hz: int = SAMPLE_RATE_HZ) -> Samples:
    """Read a WAV, AIFF, FLAC, MP3 or OGG file of any rate, mono or stereo, as mono int16.

    Args:
        path: the file.
        rate_hz: sample rate of the result [Hz].

    Returns:
        Samples, shape (n,), int16.

    Raises:
        CaddieError: if the file is missing, is not sound, is empty, or is longer than ten minutes.
    """
    return np.concatenate(list(pieces_of(path, rate_hz)))


def length_s(path: str | Path) -> float:
    """How long a sound file lasts [s], read to its end without being kept.

    Raises:
        CaddieError: as :func:`read_sound`.
    """
    return sum(piece.size for piece in pieces_of(path)) / SAMPLE_RATE_HZ


def pieces_of(path: str | Path, rate_hz: int = SAMPLE_RATE_HZ) -> Iterator[Samples]:
    """As :func:`read_sound`, piece by piece: a long file never stands whole in memory."""
    file = Path(path)
    try:
        size = file.stat().st_size if file.is_file() else None
    except (OSError, ValueError):
        size = None
    if size is None:
        raise CaddieError(f"{file}: no such sound file: check the name")
    if size > LARGEST_FILE_BYTES:
        raise CaddieError(f"{file}: larger than {LARGEST_FILE_BYTES / 1e6:.0f} MB: cut it shorter")
    try:
        import miniaudio
    except ImportError:
        yield _read_plain_wav(file, rate_hz)
        return
    most = int(LONGEST_FILE_S * rate_hz)
    total = 0
    try:
        stream = miniaudio.stream_file(
            str(file),
            output_format=miniaudio.SampleFormat.SIGNED16,
            nchannels=1,
            sample_rate=rate_hz,
            frames_to_read=_CHUNK_SAMPLES,
        )
        for chunk in stream:
            piece = np.array(chunk, dtype=np.int16)
            total += piece.size
            if total > most:
                raise CaddieError(f"{file}: longer than {LONGEST_FILE_S / 60:.0f} minutes: cut it shorter")
            yield piece
    except miniaudio.MiniaudioError as error:
        raise CaddieError(
            f"{file}: not a sound file that can be read: give a WAV, FLAC, MP3 or OGG file"
        ) from error
    if total == 0:
        raise CaddieError(f"{file}: holds no sound: record it again")


def _read_plain_wav(file: Path, rate_hz: int) -> Samples:
    """A 16-bit WAV read without miniaudio, for machines that have no wheel of it."""
    try:
        with wave.open(str(file), "rb") as source:
            channels, width, rate = source.getnchannels(), source.getsampwidth(), source.getframerate()
            sensible = LOWEST_RATE_HZ <= rate <= HIGHEST_RATE_HZ
            raw = source.readframes(int(LONGEST_PLAIN_S * rate) + 1) if sensible else b""
    except (wave.Error, EOFError, OSError, RuntimeError) as error:
        raise CaddieError(
            f"{file}: only WAV can be read without miniaudio: pip install miniaudio for FLAC, MP3 and OGG"
        ) from error
    if width != 2 or not raw:
        raise CaddieError(
            f"{file}: only 16-bit WAV of at most {HIGHEST_RATE_HZ} Hz can be read without miniaudio: "
            "pip install miniaudio"
        )
    frame_bytes = width * channels
    if len(raw) > LONGEST_PLAIN_S * rate * frame_bytes:
        raise CaddieError(
            f"{file}: longer than {LONGEST_PLAIN_S:.0f} s: cut it shorter, or pip install miniaudio"
        )
    data = np.frombuffer(raw[: len(raw) // frame_bytes * frame_bytes], dtype="<i2").reshape(-1, channels)
    mono = data.mean(axis=1).round().astype(np.int16)
    return resample(mono, rate, rate_hz)


def wav(samples: Samples, rate_hz: int) -> bytes:
    """Mono int16 samples as the content of a WAV file."""
    content = io.BytesIO()
    with wave.open(content, "wb") as target:
        target.setnchannels(1)
        target.setsampwidth(2)
        target.setframerate(rate_hz)
        target.writeframes(samples.astype("<i2").tobytes())
    return content.getvalue()


def resample(samples: Samples, from_hz: int, to_hz: int) -> Samples:
    """Samples at another rate: a windowed-sinc low-pass evaluated at the new instants.

    The filter (Hann window, 16 zero crossings a side) passes up to 0.9 of the lower Nyquist frequency
    and is the textbook band-limited interpolation of Smith (1984), "A flexible sampling-rate conversion
    method", eq. 3 with its cut-off scaled for lower rates.

    Args:
        samples: shape (n,), int16.
        from_hz: rate of the samples [Hz].
        to_hz: rate wanted [Hz].

    Returns:
        Shape (round(n * to_hz / from_hz),), int16.
    """
    if from_hz == to_hz or samples.size == 0:
        return samples
    cut_off = 0.95 * min(1.0, to_hz / from_hz)
    half_width = int(np.ceil(16 / cut_off))
    count = round(samples.size * to_hz / from_hz)
    padded = np.pad(samples.astype(np.float64), half_width + 1)
    offsets = np.arange(-half_width, half_width + 1)
    result = np.empty(count)
    for start in range(0, count, _CHUNK_SAMPLES):
        instants = np.arange(start, min(start + _CHUNK_SAMPLES, count)) * (from_hz / to_hz)
        nearest = np.floor(instants).astype(np.int64)
        distance = (instants - nearest)[:, None] - offsets
        window = np.where(
            np.abs(distance) <= half_width, 0.5 + 0.5 * np.cos(np.pi * distance / half_width), 0.0
        )
        weights = cut_off * np.sinc(cut_off * distance) * window
        result[start : start + instants.size] = (
            padded[nearest[:, None] + offsets + half_width + 1] * weights
        ).sum(axis=1)
    return np.clip(np.rint(result), -32768, 32767).astype(np.int16)


def level_dbfs(samples: Samples) -> float:
    """Root-mean-square level in decibels of full scale (0 for a full-scale square wave)."""
    if samples.size == 0:
        return SILENT_DBFS
    squares = sum(float(np.square(samples[p].astype(np.float64)).sum()) for p in _stretches(samples.size))
    mean_square = squares / samples.size / FULL_SCALE**2
    return max(SILENT_DBFS, 10 * float(np.log10(mean_square))) if mean_square > 0 else SILENT_DBFS


def add_noise_floor(samples: Samples, below_db: float = 35.0, seed: int = 0) -> Samples:
    """Sound with white noise ``below_db`` under its own level wherever it is digitally silent or nearly so.

    A recogniser trained on microphones decodes badly when a clip has runs of exact zeros around the words.
    The noise is the same for the same seed. Sound that has no such runs is returned as it is.
    """
    if samples.size == 0:
        return samples
    frames = samples[: samples.size // 160 * 160].reshape(-1, 160)
    quiet = (frames.min(axis=1) >= -1) & (frames.max(axis=1) <= 1) if frames.size else np.ones(1, bool)
    if quiet.mean() < 0.02:
        return samples
    loud = samples[(samples < -1) | (samples > 1)]
    noise_dbfs = max(level_dbfs(loud) - below_db, -80.0) if loud.size else -80.0
    scale = FULL_SCALE * 10 ** (noise_dbfs / 20)
    noise = np.random.default_rng(seed)
    filled = np.empty_like(samples)
    for part in _stretches(samples.size):
        hissing = samples[part] + noise.normal(0.0, scale, samples[part].size)
        filled[part] = np.clip(np.rint(hissing), -32768, 32767)
    return filled


def blocks(samples: Samples, size: int = BLOCK_SAMPLES) -> Iterator[Samples]:
    """The samples in blocks of ``size``; the last one is filled up with zeros."""
    for start in range(0, samples.size, size):
        block = samples[start : start + size]
        yield block if block.size == size else np.pad(block, (0, size - block.size))


def _stretches(count: int) -> Iterator[slice]:
    """The indices below ``count``, so many at a time that floating-point copies of them stay small."""
    return (slice(start, start + _CHUNK_SAMPLES) for start in range(0, count, _CHUNK_SAMPLES))


def _powers(frames: NDArray[np.int16]) -> NDArray[np.float64]:
    """Mean square of each row."""
    parts = _stretches(frames.shape[0])
    return np.concatenate([np.square(frames[part].astype(np.float64)).mean(axis=1) for part in parts])


def start_tone(rate_hz: int = SAMPLE_RATE_HZ) -> Samples:
    """A short rising fifth: the caddie listens."""
    return _two_notes(440.0, 660.0, rate_hz)


def end_tone(rate_hz: int = SAMPLE_RATE_HZ) -> Samples:
    """A short falling fifth: the caddie has heard and thinks."""
    return _two_notes(660.0, 440.0, rate_hz)


def _two_notes(first_hz: float, second_hz: float, rate_hz: int) -> Samples:
    note_s, overlap_s, peak = 0.09, 0.03, 0.18
    total = int((2 * note_s - overlap_s) * rate_hz)
    sound = np.zeros(total)
    for start_s, pitch_hz in ((0.0, first_hz), (note_s - overlap_s, second_hz)):
        time_s = np.arange(int(note_s * rate_hz)) / rate_hz
        swell = np.sin(np.pi * time_s / note_s) ** 2
        start = int(start_s * rate_hz)
        note = swell * np.sin(2 * np.pi * pitch_hz * time_s)
        sound[start : start + note.size] += note[: total - start]
    return np.rint(peak * 32767 * sound).astype(np.int16)


def voice_range_db(samples: Samples) -> float:
    """How far the loudest twentieth of frames of 10 ms stands above the quietest tenth where vowels are [dB].

    Only what sounds between 500 and 3,000 Hz counts, without wind's rumble below and hiss above. Frames of zeros do
    not count: they are put there, no microphone gives them.

    Args:
        samples: shape (n,), int16, at 16 kHz.
    """
    frame = SAMPLE_RATE_HZ // 100
    frames = samples[: samples.size // frame * frame].reshape(-1, frame)
    frames = frames[frames.any(axis=1)]
    if frames.shape[0] == 0:
        return 0.0
    spectrum, hz = np.fft.rfft(frames.ravel()), np.fft.rfftfreq(frames.size, 1 / SAMPLE_RATE_HZ)
    spectrum[(hz < _VOWELS_HZ[0]) | (hz > _VOWELS_HZ[1])] = 0
    powers = np.square(np.fft.irfft(spectrum, frames.size)).reshape(frames.shape).mean(axis=1)
    quiet_db, loud_db = np.percentile(10 * np.log10(powers + 1.0), [10, 95])
    return float(loud_db - quiet_db)


def spoken_part(samples: Samples, kept_s: float = 0.12) -> slice:
    """Where speech begins and ends, with ``kept_s`` of what is around it: a weak "f" or "s" must not be cut.

    A frame of 10 ms counts as speech when it stands above the quietest tenth by 30 % of the way to the
    loudest twentieth, in decibels.

    Args:
        samples: shape (n,), int16, at 16 kHz.
        kept_s: silence to keep on either side [s].
    """
    frame = SAMPLE_RATE_HZ // 100
    frames = samples[: samples.size // frame * frame].reshape(-1, frame)
    if frames.shape[0] < 3:
        return slice(0, samples.size)
    power = np.convolve(_powers(frames), np.ones(3) / 3, "same")
    level_db = 10 * np.log10(power + 1e-3)
    quiet_db, loud_db = np.percentile(level_db, [10, 95])
    speech = np.nonzero(level_db > quiet_db + _SPEECH_SHARE * (loud_db - quiet_db))[0]
    if speech.size == 0:
        return slice(0, samples.size)
    kept = round(kept_s * SAMPLE_RATE_HZ)
    start = max(int(speech[0]) * frame - kept, 0)
    return slice(start, min(int(speech[-1] + 1) * frame + kept, samples.size))
