"""Sound devices by name, and what to say when one is missing or has gone."""

import contextlib
import ctypes
from functools import cache
from typing import Any, Literal

from caddie.errors import CaddieError

Direction = Literal["microphone", "loudspeaker"]
READ_INSTEAD = "read the replies, as with `caddie talk --quiet`"
"""What to do without a loudspeaker or a voice, whichever command speaks."""


class DeviceLostError(CaddieError):
    """A sound device went away while it was in use."""


def load_miniaudio(direction: Direction) -> Any:
    """The sound library.

    Raises:
        CaddieError: if it is not installed.
    """
    try:
        import miniaudio
    except (ImportError, OSError) as error:
        raise CaddieError(
            f"no {direction}: the sound library is missing: pip install miniaudio, or type instead"
        ) from error
    _hush_alsa()
    return miniaudio


@cache
def _hush_alsa() -> object:
    """Keep the Linux sound library from printing its own lines where a machine has no card.

    Returns the handler, which must live as long as the library may call it.
    """
    handler = ctypes.CFUNCTYPE(
        None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p
    )(lambda *_: None)
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL("libasound.so.2").snd_lib_error_set_handler(handler)
    return handler


def find_device(direction: Direction, name: str | None) -> dict[str, Any] | None:
    """The device whose name holds ``name`` (any case), or None for the usual device.

    Raises:
        CaddieError: if no device is called so.
    """
    if name is None:
        return None
    devices = _devices(direction)
    wanted = name.casefold()
    exact = [device for device in devices if str(device["name"]).casefold() == wanted]
    for device in exact + [device for device in devices if wanted in str(device["name"]).casefold()]:
        return device
    known = ", ".join(str(device["name"]) for device in devices) or "none at all"
    raise CaddieError(f"no {direction} is called {name!r}: this machine has {known}")


def _devices(direction: Direction) -> list[dict[str, Any]]:
    miniaudio = load_miniaudio(direction)
    try:
        context = miniaudio.Devices()
        if context.backend == "Null":
            return []
        found = context.get_captures() if direction == "microphone" else context.get_playbacks()
    except miniaudio.MiniaudioError as error:
        raise CaddieError(
            f"no {direction}: the machine's sound system does not answer: type instead"
        ) from error
    return list(found)


def refuse_silent_backend(device: Any, direction: Direction) -> None:
    """Close a device that leads nowhere.

    Raises:
        CaddieError: if the sound library fell back to a device that neither hears nor sounds.
    """
    if device.backend == "Null":
        device.close()
        raise CaddieError(
            f"no {direction} on this machine: plug one in and run `caddie voice check`, or type instead"
        )
