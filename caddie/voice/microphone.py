"""The microphone: 16 kHz mono blocks of 30 ms from any device, and word of it when the device goes."""

import queue
import threading
from collections.abc import Generator, Iterator
from typing import Any, Protocol

import numpy as np

from caddie.errors import CaddieError
from caddie.voice.devices import DeviceLostError, find_device, load_miniaudio, refuse_silent_backend
from caddie.voice.sound import BLOCK_SAMPLES, SAMPLE_RATE_HZ, Samples

FIRST_BLOCK_WITHIN_S = 5.0
MICROPHONE_LOST_AFTER_S = 1.5
_BUFFER_MS = 30
_MOST_WAITING_BLOCKS = 1000


class Source(Protocol):
    """Where blocks come from: a microphone or something that stands in for it."""

    def open(self) -> None:
        """Begin to listen; CaddieError if there is no device."""

    def read(self) -> Samples | None:
        """The next 480 samples, waited for; None at the end of all; DeviceLostError if the device went."""

    def close(self) -> None:
        """Stop listening."""


class Microphone:
    """A capture device. Rates and channels are converted by the sound library, blocks made here."""

    def __init__(self, name: str | None = None, lost_after_s: float = MICROPHONE_LOST_AFTER_S) -> None:
        """Nothing is opened yet.

        Args:
            name: part of the device's name, or None for the usual one.
            lost_after_s: a device that sends nothing for so long has gone [s].
        """
        self.name = name
        self._lost_after_s = lost_after_s
        self._device: Any = None
        self._heard_any = False
        self._waiting: queue.Queue[Samples | None] = queue.Queue(maxsize=_MOST_WAITING_BLOCKS)

    def __enter__(self) -> "Microphone":
        self.open()
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def open(self) -> None:
        """Begin to listen.

        Raises:
            CaddieError: if there is no such device, or it cannot be used.
        """
        if self._device is not None:
            return
        miniaudio = load_miniaudio("microphone")
        found = find_device("microphone", self.name)
        self._waiting = queue.Queue(maxsize=_MOST_WAITING_BLOCKS)
        self._heard_any = False
        try:
            device = miniaudio.CaptureDevice(
                input_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=SAMPLE_RATE_HZ,
                buffersize_msec=_BUFFER_MS,
                device_id=found["id"] if found else None,
                app_name="caddie",
            )
            refuse_silent_backend(device, "microphone")
            waiting = self._waiting
            device.stop_callback = lambda: _put(waiting, None)
            collector = _collect(waiting)
            next(collector)
            device.start(collector)
        except miniaudio.MiniaudioError as error:
            raise CaddieError(
                f"the microphone{f' {self.name}' if self.name else ''} cannot be used: see that no other "
                "program holds it and that this one may listen"
            ) from error
        self._device = device

    def read(self) -> Samples | None:
        """The next block, shape (480,), int16 at 16 kHz.

        Raises:
            DeviceLostError: if the device has gone.
            CaddieError: if the microphone is not open.
        """
        if self._device is None:
            raise CaddieError("the microphone is not open: open it first")
        try:
            patience_s = self._lost_after_s if self._heard_any else FIRST_BLOCK_WITHIN_S
            block = self._waiting.get(timeout=patience_s)
        except queue.Empty:
            block = None
        if block is None:
            self.close()
            raise DeviceLostError("the microphone has gone: plug it in again")
        self._heard_any = True
        return block

    def skip(self) -> None:
        """Throw away what has been heard but not read."""
        while not self._waiting.empty():
            try:
                block = self._waiting.get_nowait()
            except queue.Empty:
                return
            if block is None:
                _put(self._waiting, None)
                return

    def blocks(self) -> Iterator[Samples]:
        """Blocks for as long as the device lasts."""
        while (block := self.read()) is not None:
            yield block

    def close(self) -> None:
        """Stop listening."""
        device, self._device = self._device, None
        if device is not None:
            device.stop_callback = None
            # A device whose hardware has gone may never finish closing: the talk must not wait for it.
            closing = threading.Thread(target=device.close, daemon=True)
            closing.start()
            closing.join(2.0)


def _collect(waiting: queue.Queue[Samples | None]) -> Generator[None, bytes, None]:
    """Take uneven pieces from the device and hand on even blocks."""
    kept = b""
    size = 2 * BLOCK_SAMPLES
    while True:
        kept += yield
        while len(kept) >= size:
            _put(waiting, np.frombuffer(kept[:size], dtype=np.int16))
            kept = kept[size:]


def _put(waiting: queue.Queue[Samples | None], block: Samples | None) -> None:
    """Queue a block; when nobody reads, the oldest goes first."""
    while True:
        try:
            waiting.put_nowait(block)
            return
        except queue.Full:
            try:
                waiting.get_nowait()
            except queue.Empty:
                continue
