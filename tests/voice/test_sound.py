import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile
from scipy.signal import resample_poly

from caddie.errors import CaddieError
from caddie.voice import sound


def tone(pitch_hz: float, rate_hz: int, seconds: float = 0.5, peak: float = 8000.0) -> np.ndarray:
    return np.rint(peak * np.sin(2 * np.pi * pitch_hz * np.arange(int(seconds * rate_hz)) / rate_hz)).astype(
        np.int16
    )


def loudest_hz(samples: np.ndarray, rate_hz: int) -> float:
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(samples.size)))
    return float(spectrum.argmax() * rate_hz / samples.size)


@pytest.mark.parametrize("rate_hz", [8000, 11025, 16000, 22050, 44100, 48000, 96000])
@pytest.mark.parametrize("channels", [1, 2])
def test_every_rate_and_channel_count_is_read_as_16_khz_mono(
    tmp_path: Path, rate_hz: int, channels: int
) -> None:
    """Files written by an independent library (libsndfile)."""
    file = tmp_path / "tone.wav"
    soundfile.write(file, np.column_stack([tone(600, rate_hz)] * channels), rate_hz, subtype="PCM_16")
    samples = sound.read_sound(file)
    assert samples.dtype == np.int16
    assert samples.size == pytest.approx(8000, abs=20)
    assert loudest_hz(samples, 16000) == pytest.approx(600, abs=3)
    assert sound.level_dbfs(samples) == pytest.approx(sound.level_dbfs(tone(600, 16000)), abs=0.5)


@pytest.mark.parametrize(
    ("name", "form", "subtype"),
    [
        ("a.flac", "FLAC", "PCM_16"), ("a.flac", "FLAC", "PCM_24"), ("a.ogg", "OGG", "VORBIS"),
        ("a.mp3", "MP3", "MPEG_LAYER_III"), ("a.wav", "WAV", "PCM_24"), ("a.wav", "WAV", "FLOAT"),
        ("a.wav", "WAV", "PCM_U8"), ("a.wav", "WAV", "ULAW"), ("a.aiff", "AIFF", "PCM_16"),
    ],
)  # fmt: skip
def test_formats_are_told_by_content(tmp_path: Path, name: str, form: str, subtype: str) -> None:
    """Files written by an independent library (libsndfile)."""
    file = tmp_path / name
    soundfile.write(file, tone(600, 44100, 1.0) / 32768, 44100, format=form, subtype=subtype)
    misnamed = file.rename(tmp_path / "speech.bin")
    samples = sound.read_sound(misnamed)
    assert loudest_hz(samples, 16000) == pytest.approx(600, abs=3)
    assert sound.level_dbfs(samples[4000:12000]) == pytest.approx(-15.3, abs=0.7)


def wav(**change: object) -> bytes:
    part = {"form": 1, "channels": 1, "rate": 16000, "bits": 16, "align": 2, "data": b"\x01\x02" * 200}
    part |= change
    size = part.get("size", len(part["data"]))
    return (
        b"RIFF" + struct.pack("<I", (36 + size) & 0xFFFFFFFF) + b"WAVEfmt "
        + struct.pack("<IHHIIHH", 16, part["form"], part["channels"], part["rate"],
                      (part["rate"] * part["align"]) & 0xFFFFFFFF, part["align"], part["bits"])
        + b"data" + struct.pack("<I", size) + part["data"]
    )  # fmt: skip


@pytest.mark.parametrize(
    "broken",
    [
        b"", b"RIFF", b"RIFF\xff\xff\xff\xffWAVEfmt ", wav(rate=0), wav(channels=0), wav(bits=0),
        wav(rate=4_000_000_000), wav(channels=65535), wav(form=99), wav(align=0), wav(data=b""),
        b"fLaC" + bytes(range(256)) * 8, b"OggS" + bytes(range(256)) * 8, b"ID3" + bytes(range(256)) * 8,
        b"fifty yards", wav(rate=1, data=b"\x01\x02" * 5000),
    ],
)  # fmt: skip
def test_a_broken_file_is_told_in_one_line(tmp_path: Path, broken: bytes) -> None:
    file = tmp_path / "broken.wav"
    file.write_bytes(broken)
    with pytest.raises(CaddieError, match=r"broken\.wav") as caught:
        sound.read_sound(file)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("size", [0xFFFFFFF0, 0xFFFFFFFF, 100_000])
def test_a_header_that_promises_too_much_gives_what_is_there(tmp_path: Path, size: int) -> None:
    file = tmp_path / "short.wav"
    file.write_bytes(wav(size=size))
    assert sound.read_sound(file).size == 200


def test_a_missing_file_and_a_folder_are_told(tmp_path: Path) -> None:
    for path in (tmp_path / "none.wav", tmp_path):
        with pytest.raises(CaddieError, match="no such sound file"):
            sound.read_sound(path)


def test_an_endless_file_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "long.wav"
    soundfile.write(file, np.zeros(8000 * 601, np.int16), 8000, subtype="PCM_U8")
    with pytest.raises(CaddieError, match="longer than 10 minutes"):
        sound.read_sound(file)


def test_plain_wav_is_read_without_the_sound_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "miniaudio", None)
    file = tmp_path / "stereo.wav"
    soundfile.write(file, np.column_stack([tone(600, 48000)] * 2), 48000, subtype="PCM_16")
    samples = sound.read_sound(file)
    assert samples.size == 8000
    assert loudest_hz(samples, 16000) == pytest.approx(600, abs=3)
    soundfile.write(tmp_path / "a.flac", tone(600, 48000), 48000)
    with pytest.raises(CaddieError, match="pip install miniaudio"):
        sound.read_sound(tmp_path / "a.flac")


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    samples = tone(300, 16000)
    (tmp_path / "a.wav").write_bytes(sound.wav(samples, 16000))
    assert np.array_equal(sound.read_sound(tmp_path / "a.wav"), samples)


@pytest.mark.parametrize(
    ("from_hz", "to_hz"), [(22050, 16000), (48000, 16000), (8000, 16000), (16000, 48000), (44100, 16000)]
)
def test_resampling_agrees_with_scipy(from_hz: int, to_hz: int) -> None:
    """scipy.signal.resample_poly, an independent polyphase resampler."""
    rng = np.random.default_rng(2)
    time_s = np.arange(from_hz // 2) / from_hz
    passband_hz = 0.75 * min(from_hz, to_hz) / 2
    speech = sum(
        2000 * np.sin(2 * np.pi * pitch * time_s + rng.uniform(0, 6))
        for pitch in np.linspace(100, passband_hz, 7)
    )
    samples = np.rint(speech).astype(np.int16)
    common = np.gcd(from_hz, to_hz)
    expected = resample_poly(samples.astype(float), to_hz // common, from_hz // common)
    ours = sound.resample(samples, from_hz, to_hz)
    assert abs(ours.size - expected.size) <= 1
    middle = slice(400, min(ours.size, expected.size) - 400)
    error = ours[middle] - expected[middle]
    assert np.sqrt(np.mean(error**2)) < 0.01 * np.sqrt(np.mean(expected[middle] ** 2))


def test_what_lies_above_the_new_range_does_not_fold_back() -> None:
    assert sound.level_dbfs(sound.resample(tone(11000, 48000), 48000, 16000)[500:-500]) < -75


def test_levels() -> None:
    assert sound.level_dbfs(np.full(100, 32767, np.int16)) == pytest.approx(0, abs=0.01)
    assert sound.level_dbfs(tone(500, 16000, peak=32767)) == pytest.approx(-3.01, abs=0.02)
    assert sound.level_dbfs(np.zeros(100, np.int16)) == sound.SILENT_DBFS
    assert sound.level_dbfs(np.zeros(0, np.int16)) == sound.SILENT_DBFS


def test_digital_silence_gets_a_noise_floor_and_noise_does_not() -> None:
    clip = np.concatenate([np.zeros(8000, np.int16), tone(500, 16000), np.zeros(8000, np.int16)])
    filled = sound.add_noise_floor(clip)
    assert sound.level_dbfs(filled[:7000]) == pytest.approx(sound.level_dbfs(tone(500, 16000)) - 35, abs=1)
    assert np.array_equal(filled, sound.add_noise_floor(clip))
    recorded = np.random.default_rng(1).normal(0, 50, 16000).astype(np.int16)
    assert np.array_equal(sound.add_noise_floor(recorded), recorded)


def test_blocks_cover_the_sound() -> None:
    samples = tone(500, 16000, 0.1)
    pieces = list(sound.blocks(samples))
    assert {piece.size for piece in pieces} == {480}
    assert np.array_equal(np.concatenate(pieces)[: samples.size], samples)


def test_the_tones_rise_and_fall_and_do_not_click() -> None:
    for made, first_hz, last_hz in ((sound.start_tone, 440, 660), (sound.end_tone, 660, 440)):
        samples = made(16000)
        assert samples.size < 0.2 * 16000
        assert loudest_hz(samples[:900], 16000) == pytest.approx(first_hz, abs=25)
        assert loudest_hz(samples[-900:], 16000) == pytest.approx(last_hz, abs=25)
        assert abs(int(samples[0])) < 50
        assert abs(int(samples[-1])) < 50


@pytest.mark.parametrize("noise", [0.0, 30.0, 300.0])
def test_the_spoken_part_is_found_in_silence_and_noise(noise: float) -> None:
    clip = np.zeros(48_000)
    clip[16_000:32_000] = 6000 * np.sin(np.arange(16_000) * 0.2)
    clip += np.random.default_rng(3).normal(0, noise, clip.size)
    part = sound.spoken_part(np.rint(clip).astype(np.int16), kept_s=0.1)
    assert part.start == pytest.approx(14_400, abs=400)
    assert part.stop == pytest.approx(33_600, abs=400)


@pytest.mark.parametrize("count", [0, 1, 400])
def test_the_spoken_part_of_next_to_nothing_is_all_of_it(count: int) -> None:
    assert sound.spoken_part(np.zeros(count, np.int16)) == slice(0, count)


def test_a_weak_start_of_a_word_is_kept() -> None:
    """An "f" may lie 25 dB below the vowel after it (memory: Fletcher, powers of speech sounds)."""
    rng = np.random.default_rng(3)
    clip = rng.normal(0, 5, 48_000)
    clip[16_000:17_600] += rng.normal(0, 6000 * 10 ** (-25 / 20), 1_600)
    clip[17_600:32_000] += rng.normal(0, 6000, 14_400)
    assert sound.spoken_part(np.rint(clip).astype(np.int16)).start <= 16_000


def test_steady_noise_ranges_over_little_and_talk_over_much() -> None:
    """Of 160 normal numbers 50 are left in 2,500 of 8,000 Hz: their mean square varies by sqrt(2/50), 0.87 dB.

    Of a loud and a quiet half the range is from a fifth of the one to nine tenths of the other: 2.1 times that more.
    """
    noise = np.random.default_rng(1).normal(0, 1000, 32000).astype(np.int16)
    assert sound.voice_range_db(noise) < 3
    assert sound.voice_range_db(np.pad(noise, 3200)) < 3
    assert sound.voice_range_db(np.concatenate([noise, noise // 10])) == pytest.approx(20 + 2.1 * 0.87, abs=1)
    assert sound.voice_range_db(np.zeros(3200, np.int16)) == sound.voice_range_db(noise[:100]) == 0
