"""The best ears this machine has."""

from collections.abc import Callable, Sequence
from pathlib import Path

from caddie.errors import CaddieError
from caddie.voice.ears import Recogniser


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
    from caddie.voice.model import find

    if engine not in (None, "vosk", "pocketsphinx"):
        raise CaddieError(f"no recogniser is called {engine}: use vosk or pocketsphinx")
    found = None if engine == "pocketsphinx" else find(model_dir)
    if found is not None:
        from caddie.voice.vosk_ears import VoskEars

        return VoskEars(sentences, found, extra_words)
    if engine == "vosk":
        raise CaddieError(
            "vosk has no model to listen with: run `caddie voice model --fetch`, or give --model DIR"
        )
    from caddie.voice.pocket import ASKED, REJECTION, PocketEars

    return PocketEars(sentences, extra_words, ASKED if asked else REJECTION, on_first_use)
