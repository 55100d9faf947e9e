"""The trial with the player's own voice: what is taken down, what it is counted as, what is kept of it."""

import json
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

from caddie.cli import app
from caddie.cli.voice_trial import EARS, OTHER_TALK, READ_ALOUD, EarTried, facts, figures
from caddie.errors import CaddieError
from caddie.voice.devices import DeviceLostError
from caddie.voice.ears import Heard
from caddie.voice.own_voice import (
    MOST_LENIENT,
    OwnVoice,
    best_leniency,
    forget_own_voice,
    keep_own_voice,
    own_voice,
    own_voice_file,
)
from caddie.voice.sound import BLOCK_SAMPLES, Samples, read_sound
from caddie.voice.trial import empty_folder, keep_recordings, kept_recordings, take_down
from caddie.words.quantities import first_number


class Tape:
    """A microphone that hears these sounds and then goes."""

    def __init__(self, *sounds: Samples) -> None:
        joined = np.concatenate(sounds)
        self._blocks = list(joined[: joined.size // BLOCK_SAMPLES * BLOCK_SAMPLES].reshape(-1, BLOCK_SAMPLES))

    def open(self) -> None: ...

    def read(self) -> Samples | None:
        return self._blocks.pop(0) if self._blocks else None

    def close(self) -> None: ...


@pytest.fixture
def said(demo_recording: Path) -> Samples:
    return read_sound(demo_recording)


@pytest.fixture
def demo_recording() -> Path:
    from caddie.places import shipped

    return shipped("demo_bag/seventy_yards.wav")


@pytest.fixture
def at_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path


def quiet(seconds: float) -> Samples:
    return np.random.default_rng(0).normal(0, 20, round(seconds * 16000)).astype(np.int16)


def test_each_line_is_taken_down_and_one_not_read_is_passed_over(said: Samples) -> None:
    shown: list[str] = []
    tape = Tape(quiet(1), said, quiet(4.5), said, quiet(1))
    taken = take_down(tape, ["first", "second", "third", "fourth"], lambda _, line: shown.append(line), 3.0)
    assert [samples is not None for samples in taken] == [True, False, True]
    assert shown == ["first", "second", "third", "fourth"]
    for samples in (taken[0], taken[2]):
        assert samples is not None
        assert said.size * 0.5 < samples.size < said.size + 2 * 16000


def test_ctrl_c_keeps_what_was_read(said: Samples) -> None:
    def show(place: int, _: str) -> None:
        if place == 1:
            raise KeyboardInterrupt

    assert len(take_down(Tape(quiet(1), said, quiet(1)), ["first", "second"], show)) == 1


def test_a_microphone_that_goes_keeps_what_was_read(said: Samples) -> None:
    class Gone(Tape):
        def read(self) -> Samples:
            block = super().read()
            if block is None:
                raise DeviceLostError("gone")
            return block

    assert len(take_down(Gone(quiet(1), said, quiet(1)), ["first", "second"], lambda *_: None)) == 1


def test_kept_recordings_are_heard_again_as_they_were(tmp_path: Path, said: Samples) -> None:
    keep_recordings(tmp_path / "mine", [said, None, said[:16000]])
    again = kept_recordings(tmp_path / "mine", 4)
    assert [None if one is None else one.size for one in again] == [said.size, None, 16000, None]
    assert np.abs(again[0].astype(int) - said).max() <= 1  # type: ignore[union-attr]
    with pytest.raises(CaddieError, match="is not empty"):
        empty_folder(tmp_path / "mine")
    with pytest.raises(CaddieError, match=r"holds no recording such as 01\.wav"):
        kept_recordings(tmp_path, 4)


def test_the_lines_say_what_is_counted_and_other_talk_says_nothing() -> None:
    assert len(set(READ_ALOUD)) == 20
    for line in READ_ALOUD:
        assert first_number(line) is not None, line
        assert len(facts(line)) >= 2, line
    assert not any(facts(line) for line in OTHER_TALK)


def test_figures_count_numbers_facts_and_what_was_judged_right() -> None:
    heard: list[Heard | None] = [Heard(line, accepted=True, margin=1.0) for line in READ_ALOUD]
    heard += [Heard(line, reason="off the topic", margin=-1.0) for line in OTHER_TALK]
    perfect = figures("neural", heard)
    assert (perfect.first_numbers, perfect.refused, perfect.other_taken) == (20, 0, 0)
    assert perfect.facts == perfect.facts_right > 40
    assert perfect.leniency == 0
    heard[1] = Heard(READ_ALOUD[1].replace("fifteen", "fifty"), reason="off the topic", margin=-0.2)
    heard[2] = None
    less = figures("neural", heard)
    assert (less.sentences, less.first_numbers, less.refused) == (19, 18, 1)
    assert less.facts_right == less.facts - 1
    assert 0.2 <= less.leniency < 1.0
    assert perfect.worth > less.worth
    unread: list[Heard | None] = [*heard[:20], *([None] * len(OTHER_TALK))]
    assert figures("neural", unread).leniency == 0, "nothing to tell golf from was read"


def test_of_equals_the_first_ear_is_taken() -> None:
    equal = [EarTried(ear, 20, 19, 60, 50, 0, 5, 0, 0.0) for ear in EARS]
    assert max(equal, key=lambda one: one.worth).ear == "neural"


def test_leniency_is_the_smallest_change_that_judges_best() -> None:
    assert best_leniency([], []) == best_leniency([0.1], [-0.1]) == 0
    assert best_leniency([1.0, -0.4], [-0.8]) == pytest.approx(0.6)
    assert best_leniency([1.0], [0.5, -2.0]) == pytest.approx(-0.75)
    assert best_leniency([-5.0], []) == 0, "not more than a trial of a few sentences can tell"
    assert abs(best_leniency([-0.9] * 20, [])) <= MOST_LENIENT


def test_what_was_found_is_kept_and_forgotten(at_home: Path) -> None:
    assert own_voice() is None
    keep_own_voice(OwnVoice(ear="pocketsphinx", leniency=0.25))
    assert own_voice() == OwnVoice(ear="pocketsphinx", leniency=0.25)
    assert forget_own_voice()
    assert not forget_own_voice()
    assert own_voice() is None


@pytest.mark.parametrize("content", ["", "{}", '{"version": 1, "ear": "neural", "leniency": 9}', "\0"])
def test_a_damaged_file_is_told_in_one_line(at_home: Path, content: str) -> None:
    own_voice_file().write_text(content)
    with pytest.raises(CaddieError, match="run `caddie voice try` again") as caught:
        own_voice()
    assert "\n" not in str(caught.value)


class Parrot:
    """An ear that knows every recording by its length, and hears a word less of it the worse it is."""

    def __init__(self, lost: int) -> None:
        self._lost = lost
        self._samples = 0

    def feed(self, block: Samples) -> None:
        self._samples += block.size

    def finish(self) -> Heard:
        place = round(10 * (self._samples / 16000 - 1.4))
        lines = [*READ_ALOUD, *OTHER_TALK]
        line = lines[place] if place < len(lines) else lines[0]
        golf = line in READ_ALOUD
        return Heard(" ".join(line.split()[self._lost :]), accepted=golf, margin=0.5 if golf else -0.5)

    def reset(self) -> None:
        self._samples = 0

    def expect(self, answers: object) -> None: ...

    def expect_end(self) -> None: ...


@pytest.fixture
def recorded(at_home: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Recordings of all lines; the neural ear loses the first three words of each, PocketSphinx none."""
    lost = {"neural": 3, "pocketsphinx": 0}
    monkeypatch.setattr("caddie.cli.spoken.usual_ears", lambda model, ear: Parrot(lost[ear]))
    lengths = range(len(READ_ALOUD) + len(OTHER_TALK))
    rng = np.random.default_rng(1)
    keep_recordings(
        at_home / "mine", [rng.normal(0, 900, 16000 + 1600 * n).astype(np.int16) for n in lengths]
    )
    return at_home / "mine"


def test_the_ear_that_understood_most_is_kept_when_agreed(recorded: Path) -> None:
    refused = CliRunner().invoke(app, ["voice", "try", "--from", str(recorded)], input="n\n")
    assert refused.exit_code == 0, refused.output
    assert "pocketsphinx: first number 20 of 20 (84 to 100 %)" in refused.stdout
    assert "The pocketsphinx ear serves this voice best." in refused.stdout
    assert own_voice() is None
    done = CliRunner().invoke(app, ["voice", "try", "--from", str(recorded), "--yes", "--json"])
    assert done.exit_code == 0
    told = json.loads(done.stdout)
    assert [one["ear"] for one in told["ears"]] == ["neural", "pocketsphinx"]
    assert told["ears"][0]["facts_right"] < told["ears"][1]["facts_right"] == told["ears"][1]["facts"]
    assert own_voice() == OwnVoice(ear="pocketsphinx")
    assert json.loads(CliRunner().invoke(app, ["voice", "try", "--forget", "--json"]).stdout) == {
        "forgotten": True
    }


def test_a_read_trial_keeps_recordings_only_when_asked(
    recorded: Path, monkeypatch: pytest.MonkeyPatch, said: Samples
) -> None:
    class Device(Tape):
        def __init__(self, name: str | None) -> None:
            super().__init__(quiet(1), said, quiet(1.5))

        def __enter__(self) -> "Device":
            return self

        def __exit__(self, *_: object) -> None: ...

    monkeypatch.setattr("caddie.voice.microphone.Microphone", Device)
    there = set(recorded.parent.rglob("*"))
    plain = CliRunner().invoke(app, ["voice", "try", "--yes"])
    assert plain.exit_code == 0, plain.output
    assert "No recording is kept." in plain.stderr
    assert set(recorded.parent.rglob("*")) - there == {own_voice_file()}
    kept = CliRunner().invoke(app, ["voice", "try", "--yes", "--keep", str(recorded.parent / "other")])
    assert kept.exit_code == 0, kept.output
    assert [path.name for path in (recorded.parent / "other").iterdir()] == ["01.wav"]
    again = CliRunner().invoke(app, ["voice", "try", "--yes", "--keep", str(recorded)])
    assert isinstance(again.exception, CaddieError)
    assert "is not empty" in str(again.exception)
