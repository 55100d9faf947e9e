"""What every recogniser speaks: blocks of sound in, partial and final words out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol, runtime_checkable

from caddie.errors import CaddieError
from caddie.voice.sound import Samples


@dataclass(frozen=True)
class HeardWord:
    """One recognised word and where in the utterance it was said."""

    text: str
    """The word, lower case."""
    start_s: float
    """Its start after the first sample of the utterance [s]."""
    end_s: float
    """Its end [s]."""
    confidence: float
    """The engine's own figure between 0 and 1; compare it only within one engine."""


@dataclass(frozen=True)
class Partial:
    """What has been understood so far; later words may change it."""

    text: str
    """Lower-case words."""


@dataclass(frozen=True)
class Heard:
    """The end of an utterance: what was said, and whether it is worth acting on."""

    text: str
    """Lower-case words, empty if nothing was understood."""
    words: tuple[HeardWord, ...] = field(default=())
    """The words with times and confidences."""
    confidence: float = 0.0
    """How sure the recogniser is of the utterance as a whole, 0 to 1."""
    accepted: bool = False
    """Whether it is talk that the recogniser was trained for."""
    reason: str | None = None
    """Why it was not accepted: "silence", "noise", "off the topic" or "unsure"."""


@runtime_checkable
class Recogniser(Protocol):
    """Ears: feed blocks while the player speaks, then finish."""

    def feed(self, block: Samples) -> Partial | None:
        """Take mono int16 samples at 16 kHz, any number; a Partial when the words so far have changed."""

    def finish(self) -> Heard:
        """End the utterance and be ready for the next one."""

    def reset(self) -> None:
        """Forget what was fed since the last `finish`."""


def choose_recogniser(
    sentences: Sequence[str],
    model_dir: str | Path | None = None,
    engine: str | None = None,
    extra_words: Sequence[str] = (),
    on_first_use: Callable[[], None] | None = None,
    asked: bool = False,
) -> Recogniser:
    """The best recogniser this machine has: Vosk where a model is present, else PocketSphinx.

    Args:
        sentences: what to expect, lower-case words.
        model_dir: folder of a Vosk model; without it the data directory is searched.
        engine: "vosk" or "pocketsphinx" to insist on one.
        extra_words: further words to understand, such as an address word.
        asked: whether the player answers a question each time; a whole expected sentence is then taken more
            readily.
        on_first_use: called once before PocketSphinx is taught these sentences, which takes seconds.

    Raises:
        CaddieError: for an unknown engine, or one that cannot be started.
    """
    from caddie.voice import model

    if engine not in (None, "vosk", "pocketsphinx"):
        raise CaddieError(f"no recogniser is called {engine}: use vosk or pocketsphinx")
    found = None if engine == "pocketsphinx" else model.find(model_dir)
    if found is not None:
        from caddie.voice.vosk_ears import VoskEars

        return VoskEars(sentences, found, extra_words)
    if engine == "vosk":
        raise CaddieError(
            "vosk has no model to listen with: run `caddie voice model --fetch`, or give --model DIR"
        )
    from caddie.voice.pocket import ASKED, REJECTION, PocketEars

    return PocketEars(sentences, extra_words, ASKED if asked else REJECTION, on_first_use)
