"""The page's microphone and loudspeaker: the hands-free loop of the terminal, with a browser for its sound device.

Over the socket go blocks of sound and short objects. From the browser: ``{"token", "hands_free", "about"}`` first,
then int16 samples at 16 kHz, and ``{"press"}``, ``{"release"}``, ``{"played": number}``. To it: ``{"state"}``,
``{"partial"}``, ``{"talk"}``, ``{"practice"}``, ``{"error"}``, ``{"hush"}``, and the reply as ``{"sound": number}``
followed by a WAV.
"""

import asyncio
import contextlib
import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from threading import Event
from typing import Any

import numpy as np
from starlette.websockets import WebSocket, WebSocketDisconnect

from caddie.errors import CaddieError
from caddie.page.at_hand import at_hand
from caddie.page.hearing import Hearing, Sound, of_practice, of_talk
from caddie.page.keys import Keys
from caddie.page.limits import LARGEST_SOUND_BYTES
from caddie.page.service import Service
from caddie.voice.ears import Recogniser
from caddie.voice.handsfree import HandsFree, Key, State
from caddie.voice.mouth import Mouth
from caddie.voice.sound import BLOCK_SAMPLES, Samples, wav

MOST_EARS = 3
Hears = Callable[[Service, Sound, bool, Callable[[dict[str, Any]], None]], Hearing]
_REFUSED = 1008
_LATEST_WORD_S = 4.0
"""How long after its end a reply counts as being heard still, when the browser does not say."""


class Wire:
    """What goes to the browser, from any thread."""

    def __init__(self) -> None:
        """Made on the thread of the socket."""
        self._loop = asyncio.get_running_loop()
        self._waiting: asyncio.Queue[str | bytes] = asyncio.Queue()

    def send(self, *parts: dict[str, Any] | bytes) -> None:
        """Send objects and sound, in this order."""
        for part in parts:
            text = part if isinstance(part, bytes) else json.dumps(part)
            # A reply may still be on its way when the server has ended: nobody hears it.
            with contextlib.suppress(RuntimeError):
                self._loop.call_soon_threadsafe(self._waiting.put_nowait, text)

    async def pump(self, socket: WebSocket) -> None:
        """Send what waits until the socket is gone."""
        while True:
            part = await self._waiting.get()
            if isinstance(part, bytes):
                await socket.send_bytes(part)
            else:
                await socket.send_text(part)


class BrowserSpeaker:
    """The browser as the mouth's loudspeaker."""

    def __init__(self, wire: Wire) -> None:
        """Nothing sounds yet."""
        self._wire = wire
        self._over, self._cut = Event(), Event()
        self._number, self._length_s = 0, 0.0
        self._over.set()

    def play(self, samples: Samples, rate_hz: int) -> None:
        """Send the sound; what was playing is cut off there."""
        self.stop()
        self._number += 1
        self._length_s = samples.size / rate_hz
        self._over.clear()
        self._cut.clear()
        self._wire.send({"sound": self._number}, wav(samples, rate_hz))

    def stop(self) -> None:
        """Cut off what sounds."""
        if self.playing:
            self._cut.set()
            self._over.set()
            self._wire.send({"hush": True})

    def wait(self) -> bool:
        """Wait until the browser says that it was played; False if it was cut off."""
        self._over.wait(self._length_s + _LATEST_WORD_S)
        self._over.set()
        return not self._cut.is_set()

    @property
    def playing(self) -> bool:
        """Whether it sounds now, as far as is known."""
        return not self._over.is_set()

    def played(self, number: int) -> None:
        """The browser has played this sound to its end."""
        if number == self._number:
            self._over.set()

    def close(self) -> None:
        """Cut off what sounds; there is no device to give back."""
        self.stop()


class Listening:
    """One browser's microphone at a time: a second tab takes it over."""

    def __init__(self, service: Service, keys: Keys, sound: Sound) -> None:
        """Nothing is loaded before somebody talks."""
        self._service, self._keys, self._sound = service, keys, sound
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="ears")
        self._ears: dict[str, Recogniser] = {}
        self._mouth: Mouth | None = None
        self._socket: WebSocket | None = None

    async def serve(self, socket: WebSocket) -> None:
        """Listen to one browser until it goes."""
        await socket.accept()
        hello = await _hello(socket)
        if hello is None or not self._keys.allows(str(hello.get("token"))):
            await socket.close(_REFUSED)
            return
        before, self._socket = self._socket, socket
        if before is not None:
            await _closed(before)
        wire = Wire()
        pump = asyncio.create_task(wire.pump(socket))
        try:
            hears = of_practice if hello.get("about") == "practice" else of_talk
            await self._talk(socket, wire, hello.get("hands_free") is True, hears)
        except (WebSocketDisconnect, RuntimeError):
            # A socket that drops in mid-sentence: what was half said is forgotten, nothing is acted on.
            pass
        finally:
            pump.cancel()
            if self._socket is socket:
                self._socket = None

    def close(self) -> None:
        """End the speech engine."""
        self._thread.shutdown()
        if self._mouth is not None:
            self._mouth.close()

    async def _talk(self, socket: WebSocket, wire: Wire, hands_free: bool, hears: Hears) -> None:
        speaker = BrowserSpeaker(wire)
        key = None if hands_free else Key()
        wire.send({"state": "learning"})
        try:
            loop = await self._on_thread(
                lambda: self._loop(
                    hears(self._service, self._sound, hands_free, wire.send), wire, speaker, key
                )
            )
        except CaddieError as error:
            wire.send({"error": at_hand(str(error))})
            await _said(socket)
            return
        wire.send({"state": State.WAITING.value})
        left = np.zeros(0, np.int16)
        try:
            while True:
                said = await _said(socket)
                if isinstance(said, dict):
                    _steer(said, speaker, key)
                    # A key is looked at with each block, and the last one may have come.
                    sound = np.zeros(BLOCK_SAMPLES, np.int16) if "release" in said else left[:0]
                else:
                    sound = np.frombuffer(said[: len(said) // 2 * 2], np.dtype("<i2")).astype(np.int16)
                left = np.concatenate([left, sound])
                even = left.size // BLOCK_SAMPLES * BLOCK_SAMPLES
                blocks, left = left[:even].reshape(-1, BLOCK_SAMPLES), left[even:]
                if len(blocks):
                    await self._on_thread(partial(_feed, loop, blocks))
        finally:
            speaker.stop()
            loop.end()

    def _loop(self, hearing: Hearing, wire: Wire, speaker: BrowserSpeaker, key: Key | None) -> HandsFree:
        recogniser = self._ears_for(hearing)
        if self._mouth is None:
            self._mouth = self._sound.mouth()
        recogniser.reset()
        self._mouth.loudspeaker = speaker
        return HandsFree(
            recogniser,
            hearing.answer,
            self._mouth,
            address_word=hearing.address,
            key=key,
            on_partial=lambda words: wire.send({"partial": words}),
            on_state=lambda state: wire.send({"state": state.value}),
            tones=False,
            topic=hearing.topic,
        )

    def _ears_for(self, hearing: Hearing) -> Recogniser:
        """Ears for what is listened for; the oldest of more than a few are let go, for each takes memory."""
        ears = self._ears.pop(hearing.ears_key, None) or hearing.make_ears()
        self._ears[hearing.ears_key] = ears
        while len(self._ears) > MOST_EARS:
            self._ears.pop(next(iter(self._ears)))
        return ears

    async def _on_thread(self, act: Callable[[], Any]) -> Any:
        return await asyncio.wrap_future(self._thread.submit(act))


def _feed(loop: HandsFree, blocks: Samples) -> None:
    for block in blocks:
        loop.block(block)


def _steer(said: dict[str, Any], speaker: BrowserSpeaker, key: Key | None) -> None:
    """Take a word about the sound."""
    if isinstance(said.get("played"), int):
        speaker.played(said["played"])
    if key is not None and "press" in said:
        speaker.stop()
        key.press()
    if key is not None and "release" in said:
        key.release()


async def _hello(socket: WebSocket) -> dict[str, Any] | None:
    try:
        async with asyncio.timeout(_LATEST_WORD_S):
            said = await _said(socket)
    except (TimeoutError, WebSocketDisconnect):
        return None
    return said if isinstance(said, dict) else None


async def _said(socket: WebSocket) -> dict[str, Any] | bytes:
    """The next object or sound; what is neither is an empty object.

    Raises:
        WebSocketDisconnect: when the browser has gone, or sent too much at once.
    """
    message = await socket.receive()
    if message["type"] == "websocket.disconnect":
        raise WebSocketDisconnect(message.get("code", 1000))
    sound, text = message.get("bytes"), message.get("text") or ""
    if len(sound or text) > LARGEST_SOUND_BYTES:
        await socket.close(_REFUSED)
        raise WebSocketDisconnect(_REFUSED)
    if sound is not None:
        return bytes(sound)
    try:
        said = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return said if isinstance(said, dict) else {}


async def _closed(socket: WebSocket) -> None:
    try:
        await socket.send_text(json.dumps({"error": "another tab listens now"}))
        await socket.close()
    except (RuntimeError, WebSocketDisconnect):
        return
