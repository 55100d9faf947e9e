"""Ten minutes of sound: told in a line as soon as it is too much, within 500 MB, followed on a terminal."""

import sys

import numpy as np
import pytest
from wav_files import write_wav

from caddie.places import shipped
from caddie.voice.ears import Heard, Partial
from caddie.voice.sound import SAMPLE_RATE_HZ, read_sound

MOST_BYTES = 500_000_000
LENGTH_S = 599
HEARD = """
import resource, sys
from pathlib import Path
from caddie.voice.hear import hear_file
from caddie.voice.pocket import PocketEars
ears = PocketEars(["seventy yards fairway flag in the middle bunker short", "ready"])
try:
    print(hear_file(sys.argv[1], ears, 600).reason)
except Exception as error:
    print(error)
status = Path("/proc/self/status")
if status.exists():
    print(int(status.read_text().split("VmHWM:")[1].split()[0]) * 1024)
else:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


@pytest.fixture(scope="module")
def ten_minutes(tmp_path_factory):
    """The demo sentence again and again, and silence."""
    folder = tmp_path_factory.mktemp("long")
    said = read_sound(shipped("demo_bag/seventy_yards.wav"))
    write_wav(folder / "talk.wav", np.resize(said, LENGTH_S * SAMPLE_RATE_HZ), SAMPLE_RATE_HZ)
    write_wav(folder / "silence.wav", np.zeros(LENGTH_S * SAMPLE_RATE_HZ, np.int16), SAMPLE_RATE_HZ)
    return folder


@pytest.mark.parametrize(("name", "told"), [("talk", "over 600 characters"), ("silence", "silence")])
def test_the_ears_stay_within_the_memory(name, told, ten_minutes, child):
    code, out, err = child(str(ten_minutes / f"{name}.wav"), code=HEARD)
    assert code == 0, err
    *lines, peak = out.splitlines()
    assert told in lines[-1]
    assert int(peak) < MOST_BYTES


class Wordy:
    """Ears that understand a word in every block."""

    def __init__(self):
        self.blocks = 0

    def feed(self, block):
        self.blocks += 1
        return Partial("yards " * self.blocks)

    def finish(self):
        return Heard("", reason="silence")

    def expect_end(self):
        pass

    def reset(self):
        pass


@pytest.fixture
def wordy(monkeypatch):
    monkeypatch.setattr("caddie.cli.spoken.ears", lambda *_: Wordy())


def test_too_much_is_one_line(wordy, ten_minutes, caddie):
    code, out, err = caddie("hear", str(ten_minutes / "talk.wav"))
    assert (code, out) == (2, "")
    assert err.startswith("caddie: ")
    assert err.count("\n") == 1
    assert "over 600 characters are said in its first 3 s" in err


@pytest.mark.parametrize("terminal", [True, False])
def test_only_a_terminal_shows_how_far_it_is(terminal, monkeypatch, ten_minutes, caddie, capsys):
    monkeypatch.setattr(
        "caddie.cli.spoken.ears", lambda *_: type("Deaf", (Wordy,), {"feed": lambda *_: None})()
    )
    monkeypatch.setattr(type(sys.stderr), "isatty", lambda _: terminal)
    code, _, err = caddie("hear", str(ten_minutes / "silence.wav"))
    assert code == 2
    assert ("Listened to 599 of 599 s\n" in err) == terminal
    assert ("\r" in err) == terminal
    assert "\x1b" not in err
    assert err.splitlines()[-1].startswith("caddie: no speech was heard")
