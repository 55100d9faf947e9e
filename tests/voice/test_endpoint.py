import numpy as np
import pytest

from caddie.voice import endpoint
from caddie.voice.endpoint import EndOfSpeech, NoiseFloor
from caddie.voice.mouth import Mouth, render_at
from caddie.voice.sound import BLOCK_S, Samples, blocks, level_dbfs

PHRASES = ["yes", "fifty six", "forty yards in the rough with a bunker short of the pin"]


def scene(speech: Samples, noise_dbfs: float, lead_s: float = 2.0, seed: int = 1) -> tuple[Samples, float]:
    """Speech in noise with silence around it, and when its last sound is over [s]."""
    loud = np.nonzero(np.abs(speech) > 0.05 * np.abs(speech).max())[0]
    lead, tail = int(lead_s * 16000), int(1.5 * 16000)
    clip = np.pad(speech[: loud[-1] + 1].astype(float), (lead, tail))
    noise = np.random.default_rng(seed).normal(0, 32768 * 10 ** (noise_dbfs / 20), clip.size)
    return np.clip(clip + noise, -32768, 32767).astype(np.int16), (lead + loud[-1]) / 16000


@pytest.fixture(scope="module")
def spoken(mouth: Mouth) -> list[Samples]:
    return [render_at(mouth, text, 16000) for text in PHRASES]


@pytest.mark.parametrize("noise_dbfs", [-70, -50, -38])
def test_an_utterance_is_one_piece_that_ends_0_6_s_after_its_last_word(
    spoken: list[Samples], noise_dbfs: float
) -> None:
    for speech in spoken:
        clip, over_s = scene(speech, noise_dbfs)
        ends = EndOfSpeech()
        stretches = [ends.feed(block) for block in blocks(clip)]
        assert [s.started for s in stretches].count(True) == 1
        assert [s.ended for s in stretches].count(True) == 1
        ended_s = ([s.ended for s in stretches].index(True) + 1) * BLOCK_S
        assert 0.35 < ended_s - over_s < 0.75
        pauses = [number for number, s in enumerate(stretches) if s.pausing]
        assert pauses
        assert (ended_s - (pauses[-1] + 1) * BLOCK_S) > 0.2


def test_nothing_before_the_first_word_is_lost(spoken: list[Samples]) -> None:
    clip, _ = scene(spoken[2], -60)
    ends = EndOfSpeech()
    pieces = [s.samples for block in blocks(clip) if (s := ends.feed(block)).samples is not None]
    taken = np.concatenate(pieces)
    start = 2 * 16000 + int(np.nonzero(np.abs(spoken[2]) > 0.05 * np.abs(spoken[2]).max())[0][0])
    first = clip[start : start + 1600]
    assert any(np.array_equal(taken[at : at + 1600], first) for at in range(taken.size - 1600))


@pytest.mark.parametrize("noise_dbfs", [-70, -45, -30])
def test_steady_noise_is_no_speech(noise_dbfs: float) -> None:
    noise = np.random.default_rng(3).normal(0, 32768 * 10 ** (noise_dbfs / 20), 16000 * 20)
    ends = EndOfSpeech()
    started = sum(ends.feed(block).started for block in blocks(noise.astype(np.int16)))
    assert started <= (1 if noise_dbfs > -40 else 0)
    assert not ends.in_speech


def test_wind_that_rises_lifts_the_floor_and_speech_does_not(spoken: list[Samples]) -> None:
    ends = EndOfSpeech()
    for block in blocks(np.random.default_rng(3).normal(0, 100, 16000 * 5).astype(np.int16)):
        ends.feed(block)
    calm_dbfs = ends.noise_floor.level_dbfs
    assert calm_dbfs == pytest.approx(20 * np.log10(100 / 32768), abs=2)
    clip, _ = scene(spoken[2], calm_dbfs, lead_s=0.1)
    for block in blocks(clip[: -int(1.4 * 16000)]):
        ends.feed(block)
    assert ends.noise_floor.level_dbfs < calm_dbfs + 3
    for block in blocks(np.random.default_rng(4).normal(0, 1000, 16000 * 12).astype(np.int16)):
        ends.feed(block)
    assert ends.noise_floor.level_dbfs > calm_dbfs + 15


def test_the_floor_falls_at_once() -> None:
    floor = NoiseFloor(-30)
    for _ in range(20):
        floor.follow(-60, in_speech=False)
    assert floor.level_dbfs < -58


@pytest.mark.parametrize(("noise_rms", "pause_s"), [(5, 0.12), (100, 0.12), (600, 0.21)])
def test_in_noise_a_pause_is_longer(
    monkeypatch: pytest.MonkeyPatch, noise_rms: float, pause_s: float
) -> None:
    """Weak last sounds drown in it."""
    monkeypatch.setattr(endpoint, "_voice_detector", lambda: None)
    noise = np.random.default_rng(0).normal(0, noise_rms, 16000 * 4)
    place = np.arange(noise.size)
    vowel = np.where(place // 16000 == 2, (place % 130 / 130 - 0.5) * 9000, 0)
    ends = EndOfSpeech(silence_s=0.8, pause_s=0.12)
    ends.noise_floor = NoiseFloor(level_dbfs(noise.astype(np.int16)))
    stretches = [ends.feed(block) for block in blocks((noise + vowel).astype(np.int16))]
    paused = [number for number, stretch in enumerate(stretches, start=1) if stretch.pausing]
    assert len(paused) == 1
    assert paused[0] * BLOCK_S - 3.0 == pytest.approx(pause_s, abs=2 * BLOCK_S)


def test_endless_talk_is_cut() -> None:
    rng = np.random.default_rng(0)
    vowel = (np.arange(16000 * 6) % 130 / 130 - 0.5) * 12000
    talk = np.concatenate([rng.normal(0, 5, 16000), vowel]).astype(np.int16)
    ends = EndOfSpeech(longest_s=2.0)
    stretches = [ends.feed(block) for block in blocks(talk)]
    lengths = np.diff([number for number, s in enumerate(stretches) if s.ended])
    assert any(s.ended for s in stretches)
    assert all(length * BLOCK_S < 3 for length in lengths)


def test_without_a_voice_detector_the_level_decides(
    spoken: list[Samples], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(endpoint, "_voice_detector", lambda: None)
    clip, over_s = scene(spoken[2], -55)
    ends = EndOfSpeech()
    stretches = [ends.feed(block) for block in blocks(clip)]
    ended = [number for number, s in enumerate(stretches) if s.ended]
    assert len(ended) == 1
    assert 0.35 < (ended[0] + 1) * BLOCK_S - over_s < 0.75
