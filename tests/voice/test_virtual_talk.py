"""Real devices, end to end, on a sound server of the test's own."""

import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from wav_files import write_wav

from caddie.errors import CaddieError
from caddie.voice.check import check_voice
from caddie.voice.devices import DeviceLostError, find_device
from caddie.voice.ears import Heard
from caddie.voice.endpoint import SILENCE_S
from caddie.voice.handsfree import State, listen
from caddie.voice.hear import hear_samples
from caddie.voice.loudspeaker import Loudspeaker
from caddie.voice.microphone import Microphone
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import Samples, level_dbfs, resample

pytestmark = pytest.mark.system_audio

REPLY = "Sixty-five yards. Sand wedge, hip high. Land it on the front."
SPEAKER_RATE_HZ = 48_000


def tone(seconds: float, rate_hz: int = 16000) -> Samples:
    return np.rint(9000 * np.sin(2 * np.pi * 500 * np.arange(int(seconds * rate_hz)) / rate_hz)).astype(
        np.int16
    )


def sounding(recorded: Samples) -> np.ndarray:
    """Times at which something sounds, in steps of 10 ms [s]."""
    frames = recorded[: recorded.size // 480 * 480].reshape(-1, 480).astype(np.int32)
    return np.nonzero(np.abs(frames).max(axis=1) > 200)[0] * 0.01


def until(true: Callable[[], bool], seconds: float = 10.0) -> bool:
    deadline = time.monotonic() + seconds
    while not true() and time.monotonic() < deadline:
        time.sleep(0.02)
    return true()


@pytest.mark.parametrize(("rate_hz", "channels"), [(8000, 1), (16000, 2), (44100, 1), (48000, 2)])
def test_a_microphone_of_any_rate_gives_even_16_khz_blocks(
    make_virtual_sound: Any, tmp_path: Path, rate_hz: int, channels: int
) -> None:
    sound = make_virtual_sound(microphone_rate_hz=rate_hz, microphone_channels=channels)
    write_wav(tmp_path / "tone.wav", tone(1.5), 16000)
    with Microphone("testmic") as microphone:
        microphone.read()
        speaking = sound.speak(tmp_path / "tone.wav")
        blocks = [microphone.read() for _ in range(90)]
        speaking.wait()
    assert {block.shape for block in blocks} == {(480,)}
    loud = np.concatenate([block for block in blocks if level_dbfs(block) > -30])
    assert loud.size == pytest.approx(24000, abs=2400)
    middle = loud[4000:20000]
    assert np.abs(np.fft.rfft(middle)).argmax() / middle.size * 16000 == pytest.approx(500, abs=2)


def test_a_reply_is_cut_off_within_150_ms(virtual_sound: Any) -> None:
    with Loudspeaker("testspeaker") as loudspeaker:
        loudspeaker.play(tone(0.2), 16000)
        assert loudspeaker.wait()
        late_s = []
        for _ in range(5):
            virtual_sound.record()
            begun = time.monotonic()
            loudspeaker.play(tone(3.0), 16000)
            time.sleep(0.7)
            assert loudspeaker.playing
            stopped_s = time.monotonic() - begun
            loudspeaker.stop()
            assert not loudspeaker.wait()
            time.sleep(0.3)
            times = sounding(virtual_sound.recorded())
            late_s.append(times[-1] - times[0] - stopped_s)
    assert max(late_s) < 0.15, late_s


def test_what_is_played_is_whole(virtual_sound: Any) -> None:
    with Loudspeaker() as loudspeaker:
        virtual_sound.record()
        loudspeaker.play(tone(1.0, 22050), 22050)
        assert loudspeaker.wait()
        times = sounding(virtual_sound.recorded())
    assert times[-1] - times[0] == pytest.approx(1.0, abs=0.03)


def test_devices_are_chosen_by_name(virtual_sound: Any) -> None:
    assert find_device("microphone", "testmic")["name"] == "TestMic"
    assert find_device("loudspeaker", "testspeaker")["name"] == "TestSpeaker"
    with pytest.raises(CaddieError, match=r"this machine has .*TestMic"):
        Microphone("earbuds").open()
    with pytest.raises(CaddieError, match=r"this machine has .*TestSpeaker"):
        Loudspeaker("earbuds").play(tone(0.1), 16000)


def test_a_pulled_plug_is_noticed(virtual_sound: Any) -> None:
    with Microphone() as microphone:
        microphone.read()
        virtual_sound.unplug()
        begun = time.monotonic()
        with pytest.raises(DeviceLostError):
            list(microphone.blocks())
        assert time.monotonic() - begun < 3


def test_a_spoken_situation_is_answered_aloud(virtual_sound: Any, ears: PocketEars, tmp_path: Path) -> None:
    """A WAV spoken into the microphone; club and number of the reply recognised from its recording."""
    heard: list[Heard] = []
    partials: list[str] = []
    states: list[State] = []
    ended_at: list[float] = []
    stop = threading.Event()

    def on_heard(utterance: Heard) -> str:
        ended_at.append(time.monotonic())
        heard.append(utterance)
        return REPLY

    with Mouth(MouthSettings(voice="en-us", words_per_minute=160), Loudspeaker()) as mouth:
        question = render_at(mouth, "caddie sixty five yards in the rough", 16000)
        over_s = np.nonzero(np.abs(question) > 0.05 * np.abs(question).max())[0][-1] / 16000
        write_wav(tmp_path / "question.wav", question, 16000)
        talk = threading.Thread(
            target=listen,
            args=(Microphone(), ears, on_heard, mouth),
            kwargs={
                "address_word": "caddie", "on_partial": partials.append, "on_state": states.append,
                "stop": stop, "tones": False,
            },
        )  # fmt: skip
        talk.start()
        try:
            assert until(lambda: State.WAITING in states)
            time.sleep(2.5)
            virtual_sound.record()
            said_at = time.monotonic()
            virtual_sound.speak(tmp_path / "question.wav").wait()
            assert until(lambda: bool(heard))
            assert until(lambda: State.SPEAKING in states)
            assert until(lambda: states[-1] == State.WAITING, 15)
            recording = virtual_sound.recorded()
            # The reply is over and was not taken for another question.
            time.sleep(1.5)
        finally:
            stop.set()
            talk.join(10)
    assert [utterance.accepted for utterance in heard] == [True]
    assert "sixty five yards" in heard[0].text
    assert any("sixty" in partial for partial in partials)
    assert ended_at[0] - said_at - over_s < SILENCE_S + 2.0
    clip = resample(recording, SPEAKER_RATE_HZ, 16000)
    loud = np.nonzero(np.abs(clip) > 300)[0]
    reply = hear_samples(clip[loud[0] : loud[-1]], ears).text
    assert "sixty five yards" in reply
    assert "sand wedge" in reply


def test_a_talk_goes_on_when_the_microphone_is_back(
    virtual_sound: Any, ears: PocketEars, tmp_path: Path
) -> None:
    states: list[State] = []
    heard: list[str] = []
    stop = threading.Event()
    with Mouth(MouthSettings(voice="en-us", words_per_minute=160)) as mouth:
        write_wav(tmp_path / "q.wav", render_at(mouth, "sixty five yards in the rough", 16000), 16000)
    talk = threading.Thread(
        target=listen,
        args=(Microphone("testmic"), ears, lambda utterance: heard.append(utterance.text), None),
        kwargs={"on_state": states.append, "stop": stop},
    )
    talk.start()
    try:
        assert until(lambda: State.WAITING in states)
        time.sleep(2.5)
        virtual_sound.unplug()
        assert until(lambda: states[-1] == State.MICROPHONE_LOST)
        time.sleep(0.5)
        virtual_sound.plug_in()
        assert until(lambda: states[-1] == State.WAITING)
        time.sleep(2.5)
        virtual_sound.speak(tmp_path / "q.wav").wait()
        assert until(lambda: bool(heard))
    finally:
        stop.set()
        talk.join(10)
    assert "sixty five yards" in heard[0]


def test_the_check_finds_everything_at_work(virtual_sound: Any, sentences: list[str]) -> None:
    findings = {finding.subject: finding for finding in check_voice(sentences)}
    assert findings["recogniser"].works
    assert findings["speech"].works
    assert findings["loudspeaker"].works
    assert not findings["microphone"].works
    assert "sends silence" in findings["microphone"].advice
