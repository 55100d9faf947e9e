"""The best ears this machine has."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from caddie.errors import CaddieError
from caddie.voice.ears import Recogniser
from caddie.voice.own_voice import OwnVoice

ENGINES = ("neural", "pocketsphinx", "vosk")


@dataclass(frozen=True)
class Chosen:
    """A recogniser, and why it and no other."""

    recogniser: Recogniser
    why: str
    """Half a sentence: "the best without a Vosk model"."""
    lacking: str | None = None
    """What kept the usual ear from being used, in one line; None when nothing did."""


@dataclass(frozen=True)
class ToListenFor:
    """What ears are to listen for."""

    sentences: Sequence[str]
    """What to expect, lower-case words."""
    extra_words: Sequence[str] = ()
    """Further words to understand, such as an address word."""
    further: Sequence[str] = ()
    """More sentences of the same kind, for an ear that learns from them in no time."""
    asked: bool = False
    """Whether the player answers a question each time, in a word or two: a whole expected sentence is then taken
    more readily."""
    leniency: float = 0.0
    """How much less talk must pass to be taken [nat]."""
    on_first_use: Callable[[], None] | None = None
    """Called once before PocketSphinx is taught these sentences, which takes seconds."""


def choose_recogniser(
    sentences: Sequence[str],
    model_dir: str | Path | None = None,
    engine: str | None = None,
    extra_words: Sequence[str] = (),
    on_first_use: Callable[[], None] | None = None,
    asked: bool = False,
    further: Sequence[str] = (),
    own: OwnVoice | None = None,
) -> Chosen:
    """The best recogniser this machine has.

    That is the one a trial of the player's own voice found, else Vosk where a model is present, else the neural ear,
    else PocketSphinx.

    Args:
        sentences: what to expect, lower-case words.
        model_dir: folder of a Vosk model; without it the data directory is searched.
        engine: "neural", "pocketsphinx" or "vosk" to insist on one.
        extra_words: further words to understand, such as an address word.
        asked: whether the player answers a question each time, in a word or two; a whole expected sentence is
            then taken more readily.
        on_first_use: called once before PocketSphinx is taught these sentences, which takes seconds.
        further: more sentences of the same kind, for an ear that learns from them in no time.
        own: what a trial with the player's own voice found.

    Raises:
        CaddieError: for an unknown engine, or one that cannot be started.
    """
    if engine not in (None, *ENGINES):
        raise CaddieError(f"no recogniser is called {engine}: use {', '.join(ENGINES[:-1])} or {ENGINES[-1]}")
    wanted = ToListenFor(sentences, extra_words, further, asked, on_first_use=on_first_use)
    if engine is not None:
        lenient = replace(wanted, leniency=own.leniency) if own and own.ear == engine else wanted
        return Chosen(_started(engine, lenient, model_dir), "asked for by name")
    lacking = None
    if own is not None and model_dir is None:
        try:
            recogniser = _started(own.ear, replace(wanted, leniency=own.leniency), model_dir)
            return Chosen(recogniser, "the best for your voice")
        except CaddieError as error:
            lacking = f"the ear that heard your voice best is not there: {error}"
    return _usual(wanted, model_dir, lacking)


def _usual(wanted: ToListenFor, model_dir: str | Path | None, lacking: str | None) -> Chosen:
    """The best one when nothing is known of the voice."""
    from caddie.voice.model import find

    found = find(model_dir)
    if found is not None:
        return Chosen(_vosk(wanted, found), f"the Vosk model in {found}", lacking)
    try:
        return Chosen(_neural(wanted), "the best one here", lacking)
    except CaddieError as error:
        lacking = lacking or f"PocketSphinx listens: {error}"
    return Chosen(_pocket(wanted), "the neural ear cannot be used here", lacking)


def _started(engine: str, wanted: ToListenFor, model_dir: str | Path | None) -> Recogniser:
    """The ear of this name.

    Raises:
        CaddieError: if it cannot be started.
    """
    from caddie.voice.model import find

    if engine == "neural":
        return _neural(wanted)
    if engine == "pocketsphinx":
        return _pocket(wanted)
    found = find(model_dir)
    if found is None:
        raise CaddieError(
            "vosk has no model to listen with: run `caddie voice model --fetch`, or give --model DIR"
        )
    return _vosk(wanted, found)


def _vosk(wanted: ToListenFor, model: Path) -> Recogniser:
    from caddie.voice.vosk_ears import VoskEars

    return VoskEars(wanted.sentences, model, wanted.extra_words)


def _neural(wanted: ToListenFor) -> Recogniser:
    from caddie.voice.neural_ears import OFF_TOPIC_UNASKED, OFF_TOPIC_WHEN_ASKED, NeuralEars

    rule = OFF_TOPIC_WHEN_ASKED if wanted.asked else OFF_TOPIC_UNASKED
    rule = replace(rule, least_ratio=rule.least_ratio - wanted.leniency)
    return NeuralEars(wanted.sentences, wanted.extra_words, rule, wanted.on_first_use, wanted.further)


def _pocket(wanted: ToListenFor) -> Recogniser:
    from caddie.voice.pocket import ASKED, REJECTION, PocketEars

    rule = ASKED if wanted.asked else REJECTION
    rule = replace(rule, least=rule.least - wanted.leniency)
    return PocketEars(wanted.sentences, wanted.extra_words, rule, wanted.on_first_use)
