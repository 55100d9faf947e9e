"""Hands-free practice, end to end: a player who is spoken to and speaks, on a sound server of the test's own."""

import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from wav_files import write_wav

from caddie.bag.file import load_bag
from caddie.log.store import Log
from caddie.places import shipped
from caddie.range.sessions import read_session
from caddie.situation import Finish, Lie, Strike
from caddie.units import FOOT_M, YARD_M
from caddie.voice.hear import hear_samples
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import Samples, resample
from caddie.voice.spoken_text import for_the_ear

pytestmark = pytest.mark.system_audio

SPEAKER_RATE_HZ = 48_000
# Between two of its lines the caddie renders the next one, which a busy machine may take a second for.
QUIET_FOR_S = 2.5
ANSWER_WITHIN_S = 80.0
# The command asks its player to say again what gets no answer, as a word lost on a busy machine's sound does.
SAID_AGAIN_AFTER_S = 20.0


class Player:
    """Waits until the caddie has said its piece, then speaks, and again while no answer comes; keeps the calls."""

    def __init__(self, sound: Any, folder: Path, arguments: Sequence[str]) -> None:
        self._sound = sound
        self._folder = folder
        self._speech = Mouth(MouthSettings(voice="en-us", words_per_minute=150))
        self._heard_to = 0
        self._last_said: Path | None = None
        self.calls: list[Samples] = []
        sound.record()
        self._screen = (folder / "screen.txt").open("w+")
        self.command = subprocess.Popen(
            [sys.executable, "-c", "from caddie.cli import run; run()", "practice", *arguments, "--voice"],
            stdout=self._screen,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
            env={**os.environ, "CADDIE_HOME": str(folder)},
        )

    @property
    def screen(self) -> str:
        return (self._folder / "screen.txt").read_text()

    def listen(self) -> Samples:
        """What the caddie says next, to its end."""
        began = spoken_at = time.monotonic()
        while time.monotonic() < began + ANSWER_WITHIN_S:
            time.sleep(0.1)
            raw = (self._sound.folder / "recorded.raw").read_bytes()
            new = np.frombuffer(raw[: len(raw) // 2 * 2], np.int16)[self._heard_to :]
            loud = np.nonzero(np.abs(new.astype(np.int32)) > 200)[0]
            if loud.size and new.size - loud[-1] > QUIET_FOR_S * SPEAKER_RATE_HZ:
                self._heard_to += new.size
                call = resample(new[loud[0] : loud[-1] + 1], SPEAKER_RATE_HZ, 16_000)
                self.calls.append(call)
                return call
            assert loud.size or self.command.poll() is None, self.screen
            if self._last_said and not loud.size and time.monotonic() > spoken_at + SAID_AGAIN_AFTER_S:
                self._speak()
                spoken_at = time.monotonic()
        raise AssertionError(f"the caddie says nothing, or never ends: {self.screen}")

    def say(self, text: str) -> None:
        """Speak into the microphone once the caddie is quiet."""
        self.listen()
        self._last_said = self._folder / f"said-{len(self.calls)}.wav"
        speech = render_at(self._speech, text, 16_000)
        write_wav(self._last_said, np.pad(speech, (4_800, 8_000)), 16_000)
        self._speak()

    def _speak(self) -> None:
        self._sound.speak(self._last_said).wait()

    def ends(self) -> str:
        """The screen, once the command is over."""
        code = self.command.wait(ANSWER_WITHIN_S)
        assert code == 0, self.screen
        return self.screen

    def close(self) -> None:
        self._speech.close()
        if self.command.poll() is None:
            self.command.kill()
            self.command.wait()
        self._screen.close()


@pytest.fixture
def bag(tmp_path: Path) -> Path:
    path = tmp_path / "bag.toml"
    path.write_text(shipped("demo_bag/bag.toml").read_text(encoding="utf-8"), encoding="utf-8")
    return path


@pytest.fixture
def players() -> Iterator[list[Player]]:
    started: list[Player] = []
    yield started
    for one in started:
        one.close()


def plain(line: str) -> str:
    """A line as a recogniser writes it."""
    return " ".join(re.sub(r"[^a-z' ]", " ", for_the_ear(line).lower()).split())


def objects(screen: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in screen.splitlines() if line.startswith("{")]


def test_a_bucket_is_called_and_taken_down_by_voice(
    virtual_sound: Any, tmp_path: Path, bag: Path, players: list[Player]
) -> None:
    player = Player(
        virtual_sound, tmp_path,
        ["range", "--bag", str(bag), "--clubs", "56", "--swings", "chest", "--balls", "10", "--yes"],
    )  # fmt: skip
    players.append(player)
    for said in (
        "sixty three, left",
        "sixty eight",
        "sixty one, five right",
        "thin",
        "scratch that",
        "finish",
    ):
        player.say(said)
    player.listen()
    screen = player.ends()
    kept = Path(re.search(r"Kept (\S+)\.\s+Next", " ".join(screen.split()))[1])  # type: ignore[index]
    shots = read_session(kept, load_bag(bag)).session.shots
    assert [round(shot.carry_m / YARD_M) for shot in shots if shot.carry_m] == [63, 68, 61]
    assert [shot.strike for shot in shots] == [None, None, None]
    assert shots[0].note == "left"
    assert shots[1].note == ""
    assert shots[2].side_m == pytest.approx(5 * YARD_M, abs=0.01)
    # Every club, swing and ball it might have called, so that only what was said can be recognised.
    calls = [
        plain(f"{club}, {swing}. Ball {ball} of 10.")
        for club in (52, 56, 60)
        for swing in ("chest", "full", "hip", "shoulder")
        for ball in range(1, 11)
    ]
    ears = PocketEars(calls)
    heard = hear_samples(player.calls[0], ears)
    ears.close()
    assert heard.text == "fifty six chest ball one of ten"


def test_a_rehearsal_is_read_out_and_its_results_kept_by_voice(
    virtual_sound: Any, tmp_path: Path, bag: Path, players: list[Player]
) -> None:
    player = Player(virtual_sound, tmp_path, ["rehearse", "--balls", "2", "--bag", str(bag), "--json"])
    players.append(player)
    player.say("six feet short")
    player.say("caught it thin, finished in the bunker")
    player.listen()
    lines = objects(player.ends())
    prompts = [line["prompt"] for line in lines if "prompt" in line]
    assert len(prompts) == 2
    with Log(tmp_path / "log.sqlite3", read_only=True) as log:
        shots = log.shots(None)
    assert len(shots) == 2
    assert shots[0].result.distance_m == pytest.approx(6 * FOOT_M, abs=0.01)
    assert [side.value for side in shots[0].result.side] == ["short"]
    assert shots[1].result.strike is Strike.THIN
    assert shots[1].result.finish is Finish.BUNKER
    # Whatever distance and lie it might have read out, so that what was said must be recognised.
    sentences = [
        plain(f"Ball {ball} of two: {yards} yards, {lie.value.replace('_', ' ')}.")
        for ball in ("one", "two")
        for yards in range(5, 101)
        for lie in Lie
    ]
    readers = PocketEars(sentences)
    for prompt, call in zip(prompts, (player.calls[0], player.calls[1]), strict=True):
        said = plain(prompt).split()
        heard = hear_samples(call, readers).text.split()
        assert sum(word in heard for word in said) >= 0.7 * len(said), (prompt, " ".join(heard))
    readers.close()


def test_a_game_is_played_and_counted_by_voice(
    virtual_sound: Any, tmp_path: Path, bag: Path, players: list[Player]
) -> None:
    player = Player(virtual_sound, tmp_path, ["game", "down_in_two", "--bag", str(bag), "--json"])
    players.append(player)
    for strokes in ("two", "three", "down in two", "stop"):
        player.say(strokes)
    player.listen()
    points = [line["points"] for line in objects(player.ends()) if "said" in line]
    assert [list(each.values()) for each in points] == [[2.0], [2.0], [4.0]]
