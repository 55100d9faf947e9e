"""The mouth: text to speech in a watched child process, played by a loudspeaker that can be cut off."""

import contextlib
import json
import queue
import re
import subprocess
import sys
import tempfile
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from caddie.errors import CaddieError
from caddie.voice.devices import READ_INSTEAD
from caddie.voice.sound import Samples, read_sound, resample
from caddie.voice.spoken_text import for_the_ear

START_PATIENCE_S = 15.0
RENDER_PATIENCE_S = 10.0
RENDERED_RATE_HZ = 22_050

_BETWEEN_SENTENCES = re.compile(r"(?<=[.?!])\s+")
_NO_LOUDSPEAKER = "no loudspeaker was given to speak through: give the mouth one"
_HOW_TO_REPAIR = f"run `caddie voice check`, or {READ_INSTEAD}"


class SoundPlayer(Protocol):
    """What plays sound: a loudspeaker, or something that stands in for it."""

    def play(self, samples: Samples, rate_hz: int) -> None:
        """Begin to play mono int16 samples and return at once; what was playing is cut off."""

    def stop(self) -> None:
        """Cut off what is playing."""

    def wait(self) -> bool:
        """Wait until the sound has been played; False if it was cut off."""

    @property
    def playing(self) -> bool:
        """Whether sound is being played now."""

    def close(self) -> None:
        """Stop and give the device back; playing again opens it again."""


@dataclass(frozen=True)
class MouthSettings:
    """How the caddie speaks."""

    words_per_minute: int = 175
    """Speed of speech."""
    voice: str | None = None
    """Id or name of a voice of the engine (`Mouth.voices`), or None for its usual one."""
    volume: float = 1.0
    """Loudness, 0 to 1."""

    def __post_init__(self) -> None:
        if not 60 <= self.words_per_minute <= 450:
            raise CaddieError(
                f"speech rate {self.words_per_minute} words per minute: choose between 60 and 450"
            )
        if not 0.0 <= self.volume <= 1.0:
            raise CaddieError(f"speech volume {self.volume}: choose between 0 and 1")


@dataclass(frozen=True)
class _Prepared:
    """A sentence made ahead."""

    sentence: str
    settings: MouthSettings
    sound: tuple[Samples, int]


class Mouth:
    """Speaks. One reply at a time, sentence by sentence; any thread may call any method.

    The engine lives in a child process that is started at first use, watched, and started again when it
    hangs or dies, so that the next sentence is spoken in any case.
    """

    def __init__(
        self,
        settings: MouthSettings | None = None,
        loudspeaker: SoundPlayer | None = None,
        patience_s: float = RENDER_PATIENCE_S,
        command: list[str] | None = None,
        rather: list[str] | None = None,
    ) -> None:
        """Nothing is started yet.

        Args:
            settings: speed, voice and volume.
            loudspeaker: what plays; without one `say` refuses and `render` works.
            patience_s: longest wait for one sentence before the child is started again [s].
            command: another speech process that speaks the same lines.
            rather: one to be preferred; where it does not start, the other speaks from then on.
        """
        self.settings = settings or MouthSettings()
        self.loudspeaker = loudspeaker
        self._patience_s = patience_s
        self._rather = rather
        self._commands = [*([rather] if rather else []), command or speech_command("robotic")]
        self._child: subprocess.Popen[str] | None = None
        self._answers: queue.Queue[dict[str, Any] | None] = queue.Queue()
        self._lock = threading.Lock()
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._requests = 0
        self._silenced = threading.Event()
        self._prepared: _Prepared | None = None
        self._begun = False

    def __enter__(self) -> "Mouth":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def render(self, text: str) -> tuple[Samples, int]:
        """Text as speech.

        Returns:
            Samples, shape (n,), int16, and their rate [Hz].

        Raises:
            CaddieError: if there is nothing to say or no speech engine works on this machine.
        """
        spoken = for_the_ear(text)
        if not any(character.isalnum() for character in spoken):
            raise CaddieError("nothing to say: give a sentence with words in it")
        settings = self.settings
        with self._lock:
            if self._folder is None:
                self._folder = tempfile.TemporaryDirectory(
                    prefix="caddie-speech-", ignore_cleanup_errors=True
                )
            target = Path(self._folder.name) / f"{self._requests}.wav"
            wait_s = self._patience_s + len(spoken) / 100
            try:
                self._ask(
                    wait_s,
                    do="render",
                    text=spoken,
                    file=str(target),
                    rate=settings.words_per_minute,
                    voice=settings.voice,
                    volume=settings.volume,
                    engine_wait_s=wait_s,
                )
                return read_sound(target, RENDERED_RATE_HZ), RENDERED_RATE_HZ
            finally:
                with contextlib.suppress(OSError):
                    target.unlink(missing_ok=True)

    def prepare(self, text: str) -> None:
        """Make the first sentence now, as the text may be said next.

        Raises:
            CaddieError: if there is nothing to say or no speech engine works on this machine.
        """
        first, settings = sentences_of(text)[0], self.settings
        self._prepared = _Prepared(first, settings, self.render(first))

    def begin(self, sentence: str) -> None:
        """Let a sentence sound and return at once; what `say` is given next follows it.

        Raises:
            CaddieError: if there is no loudspeaker or no speech engine.
        """
        if self.loudspeaker is None:
            raise CaddieError(_NO_LOUDSPEAKER)
        self._silenced.clear()
        self.loudspeaker.play(*self._made(sentence))
        self._begun = True

    def say(self, text: str, wait: bool = True) -> bool:
        """Speak the text through the loudspeaker, after a sentence that was begun.

        Args:
            text: what to say.
            wait: return when it has been said; otherwise as soon as it sounds.

        Returns:
            False if `stop` cut it off before its end (always True when not waiting).

        Raises:
            CaddieError: if there is no loudspeaker or no speech engine.
        """
        if self.loudspeaker is None:
            raise CaddieError(_NO_LOUDSPEAKER)
        follows, self._begun = self._begun, False
        if not follows:
            self._silenced.clear()
        if not wait:
            self.loudspeaker.play(*self.render(text))
            return True
        first, *rest = sentences_of(text)
        ready = self._made(first)
        if follows and not self.loudspeaker.wait():
            return False
        for following in (*rest, None):
            if self._silenced.is_set():
                return False
            self.loudspeaker.play(*ready)
            if following is not None:
                # Made while the one before it sounds.
                ready = self.render(following)
            if not self.loudspeaker.wait():
                return False
        return True

    def _made(self, sentence: str) -> tuple[Samples, int]:
        """A sentence as speech, made now unless it was made ahead."""
        prepared, self._prepared = self._prepared, None
        if prepared is not None and (prepared.sentence, prepared.settings) == (sentence, self.settings):
            return prepared.sound
        return self.render(sentence)

    def get_ready(self) -> None:
        """Start the engine, so that the first reply need not wait for it.

        Raises:
            CaddieError: if no speech engine works on this machine.
        """
        with self._lock:
            self._running_child()

    def stop(self) -> None:
        """Cut off the sentence being spoken."""
        self._silenced.set()
        if self.loudspeaker is not None:
            self.loudspeaker.stop()

    @property
    def speaking(self) -> bool:
        """Whether a sentence sounds now."""
        return self.loudspeaker is not None and self.loudspeaker.playing

    @property
    def has_preferred(self) -> bool:
        """Whether the preferred speech process speaks, as far as is known; it may not have been started yet."""
        return self._rather is not None and self._commands[0] == self._rather

    def voices(self) -> list[dict[str, str]]:
        """The engine's voices: ``id``, ``name`` and ``languages`` of each.

        Raises:
            CaddieError: if no speech engine works on this machine.
        """
        with self._lock:
            voices: list[dict[str, str]] = self._ask(self._patience_s, do="voices")["voices"]
            return voices

    def close(self) -> None:
        """Stop speaking, give the loudspeaker back and end the child process."""
        self.stop()
        if self.loudspeaker is not None:
            # A device left open keeps the whole program from ending.
            self.loudspeaker.close()
        with self._lock:
            self._dismiss_child()
            if self._folder is not None:
                self._folder.cleanup()
                self._folder = None

    def _ask(self, wait_s: float, **request: Any) -> dict[str, Any]:
        """One request to the child; if it hangs or has died it is started again and asked once more."""
        for attempt in (1, 2):
            child = self._running_child()
            self._requests += 1
            request["id"] = self._requests
            try:
                assert child.stdin is not None
                child.stdin.write(json.dumps(request) + "\n")
                child.stdin.flush()
                answer = self._answers.get(timeout=wait_s)
                while answer is not None and answer.get("id") != self._requests:
                    answer = self._answers.get(timeout=wait_s)
            except (OSError, ValueError, queue.Empty):
                answer = None
            if answer is not None and answer.get("ok"):
                return answer
            if answer is not None:
                raise CaddieError(f"the speech engine refused ({answer.get('error')}): {_HOW_TO_REPAIR}")
            self._end_child()
            if attempt == 2:
                break
        raise CaddieError(f"the speech engine does not answer: {_HOW_TO_REPAIR}")

    def _running_child(self) -> subprocess.Popen[str]:
        if self._child is not None and self._child.poll() is None:
            return self._child
        while True:
            try:
                return self._start_child(self._commands[0])
            except CaddieError:
                if len(self._commands) == 1:
                    raise
                del self._commands[0]

    def _start_child(self, command: list[str]) -> subprocess.Popen[str]:
        self._end_child()
        answers: queue.Queue[dict[str, Any] | None] = queue.Queue()
        child = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        threading.Thread(target=_read_answers, args=(child, answers), daemon=True).start()
        self._child, self._answers = child, answers
        try:
            ready = answers.get(timeout=START_PATIENCE_S)
        except queue.Empty:
            ready = None
        if ready is None or not ready.get("ready"):
            self._end_child()
            why = f" ({ready['error']})" if ready and ready.get("error") else ""
            raise CaddieError(f"no speech engine starts on this machine{why}: {_HOW_TO_REPAIR}")
        return child

    def _dismiss_child(self) -> None:
        """Let the child tidy up and go by itself; it is ended if it does not."""
        if self._child is not None and self._child.stdin is not None:
            with contextlib.suppress(OSError, subprocess.TimeoutExpired):
                self._child.stdin.close()
                self._child.wait(1.0)
        self._end_child()

    def _end_child(self) -> None:
        child, self._child = self._child, None
        if child is None:
            return
        child.kill()
        child.wait()
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


def speech_command(engine: str) -> list[str]:
    """What starts a speech process with this engine."""
    return [sys.executable, "-P", str(Path(__file__).with_name("speech_process.py")), engine]


def sentences_of(text: str) -> list[str]:
    """The sentences of a reply, each with something to say; all of it where there is no end of one.

    >>> sentences_of("Fifty yards. Gap wedge, 2.5 ft on! ...")
    ['Fifty yards.', 'Gap wedge, 2.5 ft on!']
    """
    parts = [part for part in _BETWEEN_SENTENCES.split(text) if any(map(str.isalnum, part))]
    return parts or [text]


def _read_answers(child: subprocess.Popen[str], answers: queue.Queue[dict[str, Any] | None]) -> None:
    """Hand the child's lines on; None when it has ended."""
    assert child.stdout is not None
    with contextlib.suppress(OSError, ValueError):
        for line in child.stdout:
            answers.put(json.loads(line))
    answers.put(None)


def render_at(mouth: Mouth, text: str, rate_hz: int) -> Samples:
    """Text as speech at a rate of the caller's choice, for files and recognisers."""
    samples, rendered_hz = mouth.render(text)
    return resample(samples, rendered_hz, rate_hz)
