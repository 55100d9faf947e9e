"""Recordings of any length: heard in pieces, stopped when too much is said, long silence passed over."""

import tracemalloc
import wave

import numpy as np
import pytest
from wav_files import write_wav

from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.voice.ears import Heard, Partial
from caddie.voice.hear import SILENCE_KEPT_S, hear_file, hear_samples
from caddie.voice.noise import reduce_noise
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, length_s, read_sound

LONGEST_FILE_S = 599


class Tape:
    """Ears that keep what they are fed; with ``words`` they understand a word each second."""

    def __init__(self, words: bool = False) -> None:
        self.words = words
        self.fed: list[Samples] = []
        self.resets = 0

    def feed(self, block: Samples) -> Partial | None:
        self.fed.append(block)
        return Partial("yards " * int(self.seconds)) if self.words else None

    def finish(self) -> Heard:
        return Heard("", reason="silence")

    def expect_end(self) -> None:
        raise AssertionError("a recording is heard to its end")

    def reset(self) -> None:
        self.resets += 1

    @property
    def seconds(self) -> float:
        return sum(block.size for block in self.fed) / SAMPLE_RATE_HZ


@pytest.fixture(scope="module")
def said() -> Samples:
    return read_sound(shipped("demo_bag/seventy_yards.wav"))


def quiet(seconds: float) -> Samples:
    hiss = np.random.default_rng(0).normal(0, 20, round(seconds * SAMPLE_RATE_HZ))
    return hiss.astype(np.int16)


@pytest.fixture(scope="module")
def ten_minutes(said, tmp_path_factory):
    """Files of just under ten minutes: the demo sentence again and again, silence, and wind that gusts."""
    folder = tmp_path_factory.mktemp("long")
    count = LONGEST_FILE_S * SAMPLE_RATE_HZ
    gusts = np.repeat(np.random.default_rng(1).uniform(100, 6000, LONGEST_FILE_S * 4), SAMPLE_RATE_HZ // 4)
    wind = np.random.default_rng(2).normal(0, 1, count) * gusts
    sounds = {
        "talk": np.resize(said, count),
        "silence": np.zeros(count, np.int16),
        "wind": wind.astype(np.int16),
    }
    for name, samples in sounds.items():
        write_wav(folder / f"{name}.wav", samples, SAMPLE_RATE_HZ)
    return folder


def test_too_much_said_is_refused_as_soon_as_it_is(ten_minutes):
    ears = Tape(words=True)
    with pytest.raises(CaddieError, match=r"talk\.wav: over 60 characters are said in its first 1\d s"):
        hear_file(ten_minutes / "talk.wav", ears, most_characters=60)
    assert ears.seconds < 13
    assert ears.resets == 2, "nothing of it is left in the ears"


def test_the_rest_of_a_refused_file_is_not_read(ten_minutes):
    heard: list[float] = []
    with pytest.raises(CaddieError):
        hear_file(ten_minutes / "talk.wav", Tape(words=True), most_characters=60, follow=heard.append)
    assert heard[-1] < 13


def test_it_is_followed_to_the_end(ten_minutes):
    heard: list[float] = []
    hear_file(ten_minutes / "silence.wav", Tape(), follow=heard.append)
    assert heard == sorted(heard)
    assert heard[-1] == pytest.approx(LONGEST_FILE_S)
    assert length_s(ten_minutes / "silence.wav") == pytest.approx(LONGEST_FILE_S)


def test_a_short_recording_is_heard_whole_with_a_little_silence_around_it(said):
    ears = Tape()
    hear_samples(said, ears)
    fed = np.concatenate(ears.fed)
    lead = int(0.2 * SAMPLE_RATE_HZ)
    assert not fed[:lead].any()
    assert np.array_equal(fed[lead : lead + said.size], said)
    assert not fed[lead + said.size :].any()


def test_a_file_and_its_samples_are_heard_alike(said, tmp_path):
    write_wav(tmp_path / "said.wav", said, SAMPLE_RATE_HZ)
    from_file, from_samples = Tape(), Tape()
    hear_file(tmp_path / "said.wav", from_file)
    hear_samples(said, from_samples)
    assert np.array_equal(np.concatenate(from_file.fed), np.concatenate(from_samples.fed))


def test_of_long_silence_only_what_is_near_speech_is_heard(said):
    ears = Tape()
    hear_samples(np.concatenate([quiet(120), said, quiet(60), said, quiet(120)]), ears)
    fed = np.concatenate(ears.fed)
    loud = np.abs(said) > 2000
    assert (np.abs(fed) > 2000).sum() == 2 * loud.sum(), "nothing of the speech is lost"
    assert ears.seconds < 2 * said.size / SAMPLE_RATE_HZ + 6 * (SILENCE_KEPT_S + 1)


def test_silence_alone_is_short(ten_minutes):
    ears = Tape()
    hear_file(ten_minutes / "silence.wav", ears)
    assert ears.seconds == pytest.approx(2 * SILENCE_KEPT_S, abs=0.5)


def test_a_pause_of_some_seconds_is_heard_as_it_is(said):
    ears = Tape()
    whole = np.concatenate([said, quiet(8), said])
    hear_samples(whole, ears)
    assert ears.seconds == pytest.approx(whole.size / SAMPLE_RATE_HZ + 0.4, abs=0.05)


def test_taking_out_noise_copies_no_ten_minutes_as_numbers_of_eight_bytes(ten_minutes):
    """Peak of what numpy allocates, by tracemalloc: 600 s as spectra would be 1.2 GB."""
    with wave.open(str(ten_minutes / "wind.wav")) as file:
        wind = np.frombuffer(file.readframes(120 * SAMPLE_RATE_HZ), "<i2")
    tracemalloc.start()
    cleaned = reduce_noise(wind)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert not np.array_equal(cleaned, wind)
    assert peak < 20 * wind.nbytes
