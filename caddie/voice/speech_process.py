"""The child process that turns text into a sound file; one JSON object a line in, one out.

Speech engines print, hang and end the process they live in; alone in a child they can be watched and
started again. Run with ``python -P speech_process.py``; it imports nothing of the package so that it is
ready at once.
"""

import atexit
import contextlib
import json
import os
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

_LONGEST_DATA_PATH = 150
_DO_NOT_EXIT = 0x8000


def _prepare_espeak() -> None:
    """Let pyttsx3 find the eSpeak NG library and data of the espeakng_loader wheel, where there is one."""
    data = _load_espeak_wheel()
    from pyttsx3.drivers import _espeak

    real, real_set_callback = _espeak.Initialize, _espeak.SetSynthCallback

    def initialize(_output: int, buffer_ms: int) -> Any:
        # Synchronous: pyttsx3 would have sound come from a second thread, and now and then waits for it
        # for ever.
        return real(_espeak.AUDIO_OUTPUT_SYNCHRONOUS, buffer_ms, data, _DO_NOT_EXIT)

    def set_callback(callback: Any) -> None:
        def relay(sound: Any, count: int, events: Any) -> int:
            if not sound:
                # A synchronous engine marks the end by a call without sound; pyttsx3 waits for an event.
                events = (_espeak.EVENT * 2)()
                events[0].type = _espeak.EVENT_MSG_TERMINATED
            return int(callback(sound, count, events))

        real_set_callback(relay if callback is not None else None)

    _espeak.Initialize = initialize
    _espeak.SetSynthCallback = set_callback


def _load_espeak_wheel() -> bytes | None:
    """Load the wheel's library; the place of its data, or None where the system's own is to be used."""
    import ctypes

    try:
        import espeakng_loader

        # Loading it first hands this very copy to pyttsx3: the dynamic linker matches the library's own name.
        ctypes.CDLL(espeakng_loader.get_library_path())
    except (ImportError, OSError):
        return None
    data = str(espeakng_loader.get_data_path())
    if len(data) > _LONGEST_DATA_PATH:
        short = Path(tempfile.mkdtemp(prefix="caddie-")) / "espeak-ng-data"
        atexit.register(_forget_link, short)
        short.symlink_to(data, target_is_directory=True)
        data = str(short)
    return data.encode()


def _forget_link(link: Path) -> None:
    """Remove the link and the folder made for it, and never anything that it leads to."""
    with contextlib.suppress(OSError):
        link.unlink()
        link.parent.rmdir()


def _start_engine() -> Any:
    if sys.platform == "linux":
        _prepare_espeak()
    import pyttsx3

    return pyttsx3.init()


def _render(engine: Any, request: dict[str, Any], finished: list[bool], errors: list[str]) -> None:
    target = Path(request["file"])
    finished.clear()
    errors.clear()
    engine.setProperty("voice", request["voice"])
    for name in ("rate", "volume"):
        if request.get(name) is not None:
            engine.setProperty(name, request[name])
    engine.save_to_file(request["text"], str(target))
    engine.runAndWait()
    deadline = time.monotonic() + float(request.get("engine_wait_s", 10.0))
    if errors:
        raise RuntimeError(errors[0])
    while not (finished and target.exists() and target.stat().st_size > 44):
        if time.monotonic() > deadline:
            raise RuntimeError("the speech engine wrote no sound")
        time.sleep(0.002)


def _voices(engine: Any) -> list[dict[str, str]]:
    return [
        {"id": str(voice.id), "name": str(voice.name), "languages": " ".join(map(str, voice.languages or []))}
        for voice in engine.getProperty("voices")
    ]


def _voice_id(engine: Any, wanted: str) -> str:
    """The engine's id of a voice named by id, name or language; a variant ("+f3") stays behind it."""
    name, plus, variant = wanted.partition("+")
    for voice in _voices(engine):
        if name.casefold() in (
            voice["id"].casefold(),
            voice["name"].casefold(),
            voice["languages"].casefold(),
        ):
            return voice["id"] + plus + variant
    raise ValueError(f"no voice is named {wanted}")


def main() -> None:
    """Serve requests until standard input closes."""
    # What is said is nobody else's to hear.
    os.umask(0o077)
    wire = os.fdopen(os.dup(1), "w", encoding="utf-8", buffering=1)
    os.dup2(2, 1)
    sys.stdout = sys.stderr

    def answer(**fields: Any) -> None:
        wire.write(json.dumps(fields) + "\n")
        wire.flush()

    finished: list[bool] = []
    errors: list[str] = []
    known_voices: dict[str, str] = {}
    try:
        engine = _start_engine()
        engine.connect("finished-utterance", lambda **_: finished.append(True))
        engine.connect("error", lambda exception, **_: errors.append(str(exception)))
        usual_voice = engine.getProperty("voice")
    except Exception as error:
        answer(ready=False, error=f"{type(error).__name__}: {error}".splitlines()[0])
        return
    answer(ready=True)
    for line in sys.stdin:
        request = json.loads(line)
        try:
            if request["do"] == "voices":
                answer(id=request["id"], ok=True, voices=_voices(engine))
            else:
                wanted = request["voice"]
                if wanted and wanted not in known_voices:
                    known_voices[wanted] = _voice_id(engine, wanted)
                request["voice"] = known_voices[wanted] if wanted else usual_voice
                _render(engine, request, finished, errors)
                answer(id=request["id"], ok=True)
        except Exception as error:
            answer(id=request["id"], ok=False, error=f"{type(error).__name__}: {error}".splitlines()[0])


if __name__ == "__main__":
    main()
