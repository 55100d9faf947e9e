"""A spoken answer by the page beside the same one in the terminal: ``python tests/bench/page_spoken.py``.

The same recordings, in turns, at the pace of a microphone: once to the hands-free loop as the terminal runs it, once
over the page's socket in the blocks that the browser sends. The way ends when the reply's first sample is given to the
loudspeaker, or has come to the browser; a sound card's delay comes on top of both.
"""

import json
import os
import re
import shutil
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from threading import Event, Thread
from typing import Any

import beside  # noqa: F401  finds the server of the page
import numpy as np
from page_server import PageServer
from rows import Row, times_row, values_row
from speech_set import NOISES_DB, Clip, in_noise, padded, voices
from talk_back import MarkedPlayer, Marks, quiet
from websockets.sync.client import ClientConnection, connect

from caddie.bag import load_bag
from caddie.cli.spoken import ears, training
from caddie.page.hearing import ADDRESSED_BY
from caddie.page.shell import shell_files
from caddie.talk.conversation import Conversation
from caddie.talk.spoken_talk import SpokenTalk
from caddie.voice.ears import Heard
from caddie.voice.handsfree import HandsFree
from caddie.voice.mouth import Mouth
from caddie.voice.sound import BLOCK_SAMPLES, SAMPLE_RATE_HZ, Samples
from caddie.words.endings import Endings

ROOT = Path(__file__).parents[2]
SENTENCES = (
    "seventy yards, light rough, bunker short",
    "forty yards, fairway, flag at the back",
    "twenty yards, in the bunker",
    "ninety yards, light rough, into the wind",
    "thirty yards, heavy rough, water short",
    "fifty five yards, fairway, flag in the middle",
    "sixty yards, fairway, downhill lie",
    "eighty yards, light rough, water left",
    "twelve yards, fringe, flag in the middle",
    "one hundred yards, fairway, wind behind",
)
REST_S, LATEST_S = 3.0, 20.0


def browser_block() -> int:
    """Samples that the page's microphone sends at once."""
    found = re.search(r"SAMPLES = (\d+)", shell_files()["microphone.js"].content.decode())
    assert found is not None
    return int(found[1])


def paced(samples: Samples, size: int, until: Event) -> Iterator[Samples]:
    """Blocks when a microphone would have them, until the reply sounds."""
    begun = time.perf_counter()
    for number in range(samples.size // size):
        time.sleep(max(0.0, begun + (number + 1) * size / SAMPLE_RATE_HZ - time.perf_counter()))
        if until.is_set():
            return
        yield samples[number * size : (number + 1) * size]


def heard_sound(clip: Clip, seed: int) -> tuple[Samples, float]:
    """A quiet room, the clip and silence; with when its last word is over [s]."""
    before = quiet().ravel()
    rest = np.zeros(round(REST_S * SAMPLE_RATE_HZ), np.int16)
    sound = np.concatenate([before, in_noise(clip, NOISES_DB["clean"], seed), rest])
    return sound, before.size / SAMPLE_RATE_HZ + clip.over_s


class Terminal:
    """The loop of ``caddie talk --voice`` without its devices."""

    def __init__(self, bag: Path) -> None:
        self._ears, self._mouth = ears(None, None, ADDRESSED_BY), Mouth()
        self._mouth.get_ready()
        self._talk = Conversation(load_bag(bag))
        self._topic = SpokenTalk(self._talk, Endings(training()))

    def answer_s(self, clip: Clip, seed: int) -> float:
        """From the last word to the reply's first sample [s]; not a number when none comes."""
        marks = Marks()
        self._mouth.loudspeaker = player = MarkedPlayer(marks)
        self._ears.reset()
        loop = HandsFree(
            self._ears, self._reply, self._mouth, address_word=ADDRESSED_BY, topic=self._topic, tones=False
        )
        sound, over_s = heard_sound(clip, seed)
        marks.last_word_s = time.perf_counter() + over_s
        for block in paced(sound, BLOCK_SAMPLES, player.played):
            loop.block(block)
        player.played.wait(LATEST_S)
        loop.end()
        return marks.at_s.get("sounds", float("nan"))

    def close(self) -> None:
        self._mouth.close()

    def _reply(self, heard: Heard) -> str | None:
        taken = self._topic.taken(heard.text, heard.rivals) if heard.accepted else "?"
        return self._talk.turn(taken, from_speech=True).spoken if isinstance(taken, str) else taken.question


class Page:
    """A browser's side of the page's socket."""

    def __init__(self, server: PageServer) -> None:
        self._site, self._block = server.site, browser_block()
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        opener.open(server.address)
        (jar,) = (each for each in opener.handlers if isinstance(each, urllib.request.HTTPCookieProcessor))
        self._cookie = "; ".join(f"{each.name}={each.value}" for each in jar.cookiejar)
        self._token = json.loads(opener.open(f"{server.site}/api/talk").read())["token"]

    def answer_s(self, clip: Clip, seed: int) -> float:
        """From the last word to the reply's coming [s]; not a number when none comes."""
        came: list[float] = []
        sounded = Event()
        with connect(
            f"{self._site.replace('http', 'ws')}/voice",
            origin=self._site,
            additional_headers={"Cookie": self._cookie},
            max_size=None,
        ) as socket:
            socket.send(json.dumps({"token": self._token, "hands_free": True, "about": "talk"}))
            while json.loads(socket.recv(timeout=60)).get("state") != "waiting":
                pass
            listener = Thread(target=_wait_for_sound, args=(socket, came, sounded))
            listener.start()
            sound, over_s = heard_sound(clip, seed)
            last_word = time.perf_counter() + over_s
            for block in paced(sound, self._block, sounded):
                socket.send(block.tobytes())
            listener.join(LATEST_S)
        return came[0] - last_word if came else float("nan")


def _wait_for_sound(socket: ClientConnection, came: list[float], sounded: Event) -> None:
    try:
        while not isinstance(socket.recv(timeout=LATEST_S), bytes):
            pass
    except TimeoutError:
        return
    came.append(time.perf_counter())
    sounded.set()


def compared(sentences: tuple[str, ...] = SENTENCES) -> tuple[list[float], list[float]]:
    """The times of the page and of the terminal, sentence by sentence; the first of each warms up."""
    (_, speak), *_ = voices(["us"])
    clips = [padded("spoken", text, speak(f"{ADDRESSED_BY}, {text}")) for text in sentences]
    took: tuple[list[float], list[float]] = [], []
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        shutil.copy(ROOT / "demo_bag" / "bag.toml", home / "bag.toml")
        os.environ["CADDIE_HOME"] = folder
        server = PageServer(home)
        terminal = Terminal(home / "bag.toml")
        server.start()
        try:
            page = Page(server)
            ways: list[Any] = [page, terminal]
            for seed, clip in enumerate([clips[0], *clips]):
                # Who goes first takes turns, too.
                for way in ways if seed % 2 else ways[::-1]:
                    seconds = way.answer_s(clip, seed)
                    if seed:
                        took[way is terminal].append(seconds)
        finally:
            server.kill()
            terminal.close()
    return took


def measure() -> list[Row]:
    """The rows of one run."""
    page, terminal = compared()
    both = [
        (one, other)
        for one, other in zip(page, terminal, strict=True)
        if not np.isnan(one) and not np.isnan(other)
    ]
    return [
        times_row("spoken answer in the page", [one for one, _ in both], "s", "sentences"),
        times_row("the same in the terminal", [other for _, other in both], "s", "sentences"),
        values_row(
            "the page later than the terminal", [one - other for one, other in both], "s", "sentences"
        ),
    ]


if __name__ == "__main__":
    for row in measure():
        print(f"{row.name}: {row.figure:.3g} {row.unit} ({row.count} {row.of}; {row.spread})")
