"""What the spoken commands share: ears trained on the grammar, a mouth, and a reply as sound."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from caddie.errors import CaddieError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from caddie.cli.output import Output
    from caddie.notes.notebook import Notebook
    from caddie.voice.choose_ears import Chosen
    from caddie.voice.ears import Heard, Recogniser
    from caddie.voice.mouth import Mouth, MouthSettings
    from caddie.voice.own_voice import OwnVoice

TRAINING_SENTENCES = 20_000
"""Sentences drawn from the grammar to teach the recogniser."""
FURTHER_SENTENCES = 40_000
"""More of them for the neural ear, which learns from them in a second."""

LEARNING = "Learning the words to listen for. This happens once and takes 10 to 20 seconds ..."

USUAL_RATE = 175
"""Words a minute when neither the command line nor the player has set another."""

ModelDir = Annotated[Path | None, typer.Option("--model", help="Folder of a Vosk model.")]
Engine = Annotated[str | None, typer.Option(help="Recogniser to insist on: neural, pocketsphinx or vosk.")]
SpeechRate = Annotated[int, typer.Option(help="Words a minute of the spoken reply.")]
Voice = Annotated[str | None, typer.Option("--voice-name", help="Voice of the speech engine.")]
Volume = Annotated[float, typer.Option(help="Loudness of the reply, 0 to 1.")]
Microphone = Annotated[str | None, typer.Option(help="Part of the microphone's name.")]
Loudspeaker = Annotated[str | None, typer.Option(help="Part of the loudspeaker's name.")]
Say = Annotated[bool, typer.Option("--say", help="Speak the reply.")]
Out = Annotated[Path | None, typer.Option("--out", help="Write the spoken reply to this WAV file.")]


def training() -> list[str]:
    """The sentences the recogniser expects; the same every time, so that what is built from them is kept."""
    from caddie.cli.notes_reading import note_sentences
    from caddie.words import sentences
    from caddie.words.kept import kept
    from caddie.words.sayings_taught import spoken

    return [*kept("expected", lambda: sentences(TRAINING_SENTENCES, seed=0)), *spoken(), *note_sentences()]


def further_training() -> list[str]:
    """More sentences than `training` gives, drawn from the same grammar."""
    from caddie.words import sentences
    from caddie.words.kept import kept

    return kept("expected_too", lambda: sentences(FURTHER_SENTENCES, seed=1))


def ears(model_dir: Path | None, engine: str | None, address_word: str | None = None) -> "Recogniser":
    """A recogniser that expects what the grammar says, with the address word in front when there is one.

    Raises:
        CaddieError: when none can be started.
    """
    from caddie.voice.choose_ears import choose_recogniser

    expected, further = training(), further_training()
    if address_word:
        # As often without it: a word expected before every sentence is heard in other people's talk too.
        expected = [f"{address_word} {sentence}" for sentence in expected] + expected
        further = [f"{address_word} {sentence}" for sentence in further] + further
    words = (address_word or "").split()
    return told(
        choose_recogniser(
            expected, model_dir, engine, words, learning_once, further=further, own=own_voice_or_none()
        )
    )


def usual_ears(model_dir: Path | None, engine: str) -> "Recogniser":
    """A recogniser that expects what the grammar says, as for a voice of which nothing is known.

    Raises:
        CaddieError: when it cannot be started.
    """
    from caddie.voice.choose_ears import choose_recogniser

    chosen = choose_recogniser(
        training(), model_dir, engine, on_first_use=learning_once, further=further_training()
    )
    return chosen.recogniser


def own_voice_or_none() -> "OwnVoice | None":
    """What a trial with the player's own voice found; a line says so where that cannot be read."""
    from caddie.voice.own_voice import own_voice

    try:
        return own_voice()
    except CaddieError as error:
        typer.echo(str(error), err=True)
        return None


def answers_only(
    sentences: "Sequence[str]", model_dir: Path | None = None, engine: str | None = None
) -> "Recogniser":
    """A recogniser for the answers of practice, a word or two each.

    Raises:
        CaddieError: when none can be started.
    """
    from caddie.voice.choose_ears import choose_recogniser

    own = own_voice_or_none()
    return told(
        choose_recogniser(sentences, model_dir, engine, on_first_use=learning_once, asked=True, own=own)
    )


def told(chosen: "Chosen") -> "Recogniser":
    """The recogniser; where it is not the usual one, a line says why."""
    if chosen.lacking:
        typer.echo(chosen.lacking, err=True)
    return chosen.recogniser


def usual_rate(notebook: "Notebook | None") -> int | None:
    """Words a minute that the player has set, or None."""
    return notebook.notes.usual.rate if notebook is not None else None


def learning_once() -> None:
    """Say why it takes a while before it first listens."""
    typer.echo(LEARNING, err=True)


def settings(rate: int, voice: str | None, volume: float) -> "MouthSettings":
    """How the caddie speaks.

    Raises:
        CaddieError: for a speed or loudness out of range.
    """
    from caddie.voice.mouth import MouthSettings

    return MouthSettings(words_per_minute=rate, voice=voice, volume=volume)


def speak_reply(text: str, say: bool, out: "Output | None", how: "MouthSettings") -> None:
    """Speak a reply, write it to a WAV file, or both.

    Raises:
        CaddieError: when there is no speech engine or loudspeaker, or the file cannot be written.
    """
    from caddie.voice.choose_mouth import choose_mouth
    from caddie.voice.sound import wav

    with choose_mouth(how) as mouth:
        if out is not None:
            out.write(wav(*mouth.render(text)))
        if say:
            _say_aloud(mouth, text)


def understood(heard: "Heard") -> str:
    """The words of a recording worth answering.

    Raises:
        CaddieError: when nothing was said or it is not about the game.
    """
    if heard.accepted:
        return heard.text
    if heard.reason == "silence" or not heard.text:
        raise CaddieError("no speech was heard in it: record closer to the microphone")
    raise CaddieError(
        f'what was heard ("{heard.text}") is no talk about a shot: say the distance and the lie'
    )


def _say_aloud(mouth: "Mouth", text: str) -> None:
    from caddie.voice.loudspeaker import Loudspeaker

    with Loudspeaker() as loudspeaker:
        mouth.loudspeaker = loudspeaker
        mouth.say(text)
