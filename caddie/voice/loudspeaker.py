"""The loudspeaker: plays mono sound at any rate and can be cut off at once."""

import threading
import time
from collections.abc import Generator
from typing import Any

import numpy as np

from caddie.errors import CaddieError
from caddie.voice.devices import (
    READ_INSTEAD,
    DeviceLostError,
    find_device,
    load_miniaudio,
    refuse_silent_backend,
)
from caddie.voice.sound import Samples

FIRST_TAKEN_WITHIN_S = 5.0
LOUDSPEAKER_LOST_AFTER_S = 2.0
_BUFFER_MS = 40
_FADE_S = 0.005


class Loudspeaker:
    """A playback device, kept open between sounds so that the next one starts at once."""

    def __init__(self, name: str | None = None, lost_after_s: float = LOUDSPEAKER_LOST_AFTER_S) -> None:
        """Nothing is opened yet.

        Args:
            name: part of the device's name, or None for the usual one.
            lost_after_s: a device that takes nothing for so long has gone [s].
        """
        self.name = name
        self._lost_after_s = lost_after_s
        self._device: Any = None
        self._rate_hz = 0
        self._lock = threading.Condition()
        self._sound: Samples = np.zeros(0, np.int16)
        self._place = 0
        self._cut = False
        self._last_taken_s = 0.0
        self._taken_any = False
        self._gone = False

    def __enter__(self) -> "Loudspeaker":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def play(self, samples: Samples, rate_hz: int) -> None:
        """Begin to play and return at once; what was playing is cut off.

        Args:
            samples: shape (n,), int16.
            rate_hz: their rate [Hz].

        Raises:
            CaddieError: if there is no such device, or it cannot be used.
        """
        if self._device is None or self._rate_hz != rate_hz or self._gone:
            self.close()
            self._open(rate_hz)
        with self._lock:
            self._sound, self._place, self._cut = np.ascontiguousarray(samples, np.int16), 0, False
            self._last_taken_s = time.monotonic()

    def stop(self) -> None:
        """Cut off what is playing; silence follows within the device's buffer (under 0.1 s)."""
        with self._lock:
            if self._place < self._sound.size:
                self._cut = True
                fade = int(_FADE_S * self._rate_hz)
                rest = self._sound[self._place : self._place + fade].astype(np.float64)
                self._sound = np.rint(rest * np.linspace(1, 0, rest.size)).astype(np.int16)
                self._place = 0
            self._lock.notify_all()

    @property
    def playing(self) -> bool:
        """Whether sound is left to be played by a device that takes it."""
        with self._lock:
            return self._place < self._sound.size and not self._has_stalled()

    def wait(self) -> bool:
        """Wait for the end of the sound.

        Returns:
            False if it was cut off.

        Raises:
            DeviceLostError: if the device went away.
        """
        with self._lock:
            while self._place < self._sound.size:
                self._lock.wait(0.1)
                if self._has_stalled():
                    self._gone = True
                    self._place = self._sound.size
                    raise DeviceLostError("the loudspeaker has gone: plug it in again")
            whole = not self._cut
        if whole:
            # What was handed over last still has to pass through the device's own buffer.
            time.sleep(2 * _BUFFER_MS / 1000)
        return whole

    def close(self) -> None:
        """Stop and give the device back."""
        self.stop()
        device, self._device = self._device, None
        if device is not None:
            device.stop_callback = None
            closing = threading.Thread(target=device.close, daemon=True)
            closing.start()
            closing.join(2.0)
        with self._lock:
            self._place = self._sound.size
            self._gone = False

    def _open(self, rate_hz: int) -> None:
        miniaudio = load_miniaudio("loudspeaker")
        self._taken_any = False
        found = find_device("loudspeaker", self.name)
        try:
            device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=rate_hz,
                buffersize_msec=_BUFFER_MS,
                device_id=found["id"] if found else None,
                app_name="caddie",
            )
            refuse_silent_backend(device, "loudspeaker")
            device.stop_callback = self._has_gone
            feeder = self._feed()
            next(feeder)
            device.start(feeder)
        except miniaudio.MiniaudioError as error:
            raise CaddieError(
                f"the loudspeaker{f' {self.name}' if self.name else ''} cannot be used: see that no other "
                f"program holds it, or {READ_INSTEAD}"
            ) from error
        self._device, self._rate_hz = device, rate_hz

    def _has_stalled(self) -> bool:
        """Whether the device has gone or takes no more sound; a device just opened may take its time."""
        patience_s = self._lost_after_s if self._taken_any else FIRST_TAKEN_WITHIN_S
        return self._gone or time.monotonic() - self._last_taken_s > patience_s

    def _has_gone(self) -> None:
        with self._lock:
            self._gone = True
            self._lock.notify_all()

    def _feed(self) -> Generator[bytes, int, None]:
        """Give the device as many frames as it asks for, silence when there is nothing to play."""
        count = yield b""
        while True:
            with self._lock:
                piece = self._sound[self._place : self._place + count]
                self._place += piece.size
                self._last_taken_s = time.monotonic()
                self._taken_any = True
                if self._place >= self._sound.size:
                    self._lock.notify_all()
            silence = count - piece.size
            count = yield piece.tobytes() + bytes(2 * silence)
