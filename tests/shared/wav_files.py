"""Sound files for the tests to hear."""

from pathlib import Path

from caddie.voice.sound import Samples, wav


def write_wav(path: Path, samples: Samples, rate_hz: int) -> None:
    """Write mono int16 samples as a WAV file."""
    path.write_bytes(wav(samples, rate_hz))
