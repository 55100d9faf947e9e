"""A page on a bag and a log of its own, asked as a browser that was let in would ask it."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from starlette.testclient import TestClient

from caddie.page.door import OwnDoor
from caddie.page.guard import Guard
from caddie.page.hearing import Sound
from caddie.page.keys import Keys
from caddie.page.listening import Listening
from caddie.page.server import application
from caddie.page.service import Service, Wanted
from caddie.voice.ears import Heard, Partial
from caddie.words.endings import Endings

ROOT = Path(__file__).parents[2]
PORT = 8418
SELF = f"http://127.0.0.1:{PORT}"
SOCKET = f"ws://127.0.0.1:{PORT}/voice"
ENDINGS = Endings(["seventy yards light rough bunker short", "fifteen yards light rough", "fifty"])


class ScriptedEars:
    """Ears that hear what is given to them whenever there was any sound."""

    def __init__(self) -> None:
        self.next = "seventy yards light rough bunker short"
        self.accepted = True
        self.rivals = ()
        self.expected = []
        self.fed = 0
        self.resets = 0

    def feed(self, block):
        self.fed += block.size
        return Partial(self.next.split()[0])

    def expect(self, answers):
        self.expected = list(answers)

    def expect_end(self):
        pass

    def so_far(self):
        return self.next

    def finish(self):
        reason = None if self.accepted else "unsure"
        return Heard(self.next, accepted=self.accepted, reason=reason, rivals=self.rivals)

    def reset(self):
        self.fed = 0
        self.resets += 1


class ScriptedMouth:
    """A mouth that makes a tone of a tenth of a second of everything."""

    loudspeaker = None

    def __init__(self) -> None:
        self.said = []
        self.prepared = []

    def prepare(self, text):
        self.prepared.append(text)

    def begin(self, sentence):
        self.said.append(sentence)

    def say(self, text, wait=True):
        self.said.append(text)
        self.loudspeaker.play(np.zeros(2205, np.int16), 22_050)
        return self.loudspeaker.wait()

    def stop(self):
        if self.loudspeaker is not None:
            self.loudspeaker.stop()

    def close(self):
        self.stop()


class Browser:
    """A browser with the page open: it holds the cookie and sends origin and token along."""

    def __init__(self, client: TestClient, keys: Keys) -> None:
        self.client, self.keys = client, keys

    def get(self, path, **headers):
        return self.client.get(path, headers=headers)

    def post(self, path, body, **headers):
        return self.client.post(
            path, json=body, headers={"origin": SELF, "x-caddie-token": self.keys.token, **headers}
        )

    def say(self, text, request=""):
        return self.post("/api/say", {"id": request, "text": text}).json()


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A data directory with the demo bag as the player's own."""
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    shutil.copy(ROOT / "demo_bag" / "bag.toml", tmp_path / "bag.toml")
    return tmp_path


@pytest.fixture
def keys():
    return Keys(b"s" * 32, PORT)


@pytest.fixture
def ears():
    return ScriptedEars()


@pytest.fixture
def mouth():
    return ScriptedMouth()


@pytest.fixture
def stranger(home, keys, ears, mouth):
    """A browser that was not let in."""
    service = Service(Wanted())
    service.open()
    listening = Listening(
        service, keys, Sound(lambda _: ears, lambda _: ears, lambda: mouth, lambda: ENDINGS)
    )
    page = Guard(application(service, keys, listening), keys, OwnDoor(keys, PORT, lambda: None))
    with TestClient(page, base_url=SELF, follow_redirects=False) as client:
        yield client
    listening.close()
    service.close()


@pytest.fixture
def browser(stranger, keys):
    stranger.get(f"/?key={keys.once}")
    return Browser(stranger, keys)
