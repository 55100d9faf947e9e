"""The best ears this machine has."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from caddie.errors import CaddieError
from caddie.voice.ears import Recogniser

ENGINES = ("neural", "pocketsphinx", "vosk")


@dataclass(frozen=True)
class Chosen:
    """A recogniser, and why it and no other."""

    recogniser: Recogniser
    why: str
    """Half a sentence: "the best without a Vosk model"."""
    lacking: str | None = None
    """What kept the usual ear from being used, in one line; None when nothing did."""


def choose_recogniser(
    sentences: Sequence[str],
    model_dir: str | Path | None = None,
    engine: str | None = None,
    extra_words: Sequence[str] = (),
    on_first_use: Callable[[], None] | None = None,
    asked: bool = False,
    further: Sequence[str] = (),
) -> Chosen:
    """The best recogniser this machine has: Vosk where a model is present, else the neural ear, else PocketSphinx.

    Args:
        sentences: what to expect, lower-case words.
        model_dir: folder of a Vosk model; without it the data directory is searched.
        engine: "neural", "pocketsphinx" or "vosk" to insist on one.
        extra_words: further words to understand, such as an address word.
        asked: whether the player answers a question each time, in a word or two; a whole expected sentence is
            then taken more readily, and PocketSphinx comes before the neural ear.
        on_first_use: called once before PocketSphinx is taught these sentences, which takes seconds.
        further: more sentences of the same kind, for an ear that learns from them in no time.

    Raises:
        CaddieError: for an unknown engine, or one that cannot be started.
    """
    from caddie.voice.model import find

    if engine not in (None, *ENGINES):
        raise CaddieError(f"no recogniser is called {engine}: use {', '.join(ENGINES[:-1])} or {ENGINES[-1]}")
    found = find(model_dir) if engine in (None, "vosk") else None
    if found is not None:
        from caddie.voice.vosk_ears import VoskEars

        return Chosen(VoskEars(sentences, found, extra_words), f"the Vosk model in {found}")
    if engine == "vosk":
        raise CaddieError(
            "vosk has no model to listen with: run `caddie voice model --fetch`, or give --model DIR"
        )
    # The neural ear refuses a word alone, such as "thin".
    short = asked and engine is None
    lacking = None
    if engine != "pocketsphinx" and not short:
        try:
            return Chosen(
                _neural(sentences, extra_words, asked, on_first_use, further),
                _why(engine, "the best one here"),
            )
        except CaddieError as error:
            if engine == "neural":
                raise
            lacking = f"PocketSphinx listens: {error}"
    why = _why(engine, "the surer of short answers" if short else "the neural ear cannot be used here")
    return Chosen(_pocket(sentences, extra_words, asked, on_first_use), why, lacking)


def _why(engine: str | None, otherwise: str) -> str:
    return "asked for by name" if engine else otherwise


def _neural(
    sentences: Sequence[str],
    extra_words: Sequence[str],
    asked: bool,
    on_first_use: Callable[[], None] | None,
    further: Sequence[str],
) -> Recogniser:
    from caddie.voice.neural_ears import OFF_TOPIC_UNASKED, OFF_TOPIC_WHEN_ASKED, NeuralEars

    return NeuralEars(
        sentences, extra_words, OFF_TOPIC_WHEN_ASKED if asked else OFF_TOPIC_UNASKED, on_first_use, further
    )


def _pocket(
    sentences: Sequence[str],
    extra_words: Sequence[str],
    asked: bool,
    on_first_use: Callable[[], None] | None,
) -> Recogniser:
    from caddie.voice.pocket import ASKED, REJECTION, PocketEars

    return PocketEars(sentences, extra_words, ASKED if asked else REJECTION, on_first_use)
