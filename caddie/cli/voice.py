"""``caddie hear`` and ``caddie voice``: recordings, the check of the devices, speech models."""

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer

from caddie.cli.consent import agreed
from caddie.cli.notes_reading import notes_or_none
from caddie.cli.options import AsJson, BagFile, Competition, Seed, Yes, bag_at
from caddie.cli.output import output
from caddie.cli.spoken import (
    USUAL_RATE,
    Engine,
    Loudspeaker,
    Microphone,
    ModelDir,
    Out,
    Say,
    SpeechRate,
    Voice,
    Volume,
)
from caddie.cli.voice_trial import try_voice
from caddie.errors import CaddieError

app = typer.Typer(
    name="voice", help="Microphone, recogniser, loudspeaker and speech models.", no_args_is_help=True
)
app.command(name="try")(try_voice)

SMALL_ENGLISH_MODEL = "https://alphacephei.com/vosk/models/vosk-model-small-en-us-0.15.zip"
TRIED = "seventy yards to the flag from the fairway"
"""Spoken to the recogniser by the check."""
MEGABYTE = 1_000_000
LONG_S = 20.0
"""A recording from which on a terminal shows how far it has been listened to."""
SHOWN_EVERY_S = 2.0


def hear(
    recording: Annotated[Path, typer.Argument(help="WAV, FLAC, MP3 or OGG file of what was said.")],
    bag: BagFile = None,
    as_json: AsJson = False,
    model: ModelDir = None,
    engine: Engine = None,
    say: Say = False,
    out: Out = None,
    rate: SpeechRate = USUAL_RATE,
    voice: Voice = None,
    volume: Volume = 1.0,
    seed: Seed = 1,
    competition: Competition = False,
    yes: Yes = False,
) -> None:
    """Answer a recording as ask answers a sentence: caddie hear shot.wav --out reply.wav."""
    from caddie.cli.spoken import ears, settings, speak_reply, understood
    from caddie.talk.answer import answer
    from caddie.voice.hear import hear_file
    from caddie.voice.sound import length_s
    from caddie.words import LONGEST_TEXT

    how = settings(rate, voice, volume)
    owned = bag_at(bag)
    whole_s = length_s(recording)
    sound = output(out, "the spoken reply", yes, bag, [recording]) if out else None
    listener = ears(model, engine)
    with _listening(whole_s) as follow:
        heard = hear_file(recording, listener, LONGEST_TEXT, follow)
    text = understood(heard)
    found = answer(text, owned, seed=seed, competition=competition, from_speech=True, notes=notes_or_none())
    spoken = found.advice["spoken"] if found.advice else found.question or found.note or ""
    if say or sound:
        speak_reply(spoken, say, sound, how)
    if as_json:
        typer.echo(json.dumps(found.wire(), ensure_ascii=False))
    else:
        typer.echo(f"Heard: {text}\n{found.advice['written'] if found.advice else spoken}")
        if found.advice:
            typer.echo(f"\n{spoken}")
    raise typer.Exit(1 if found.question else 0)


@app.command()
def check(
    as_json: AsJson = False,
    model: ModelDir = None,
    engine: Engine = None,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
) -> None:
    """Try recogniser, loudspeaker and microphone, and say what to do about each: caddie voice check."""
    from caddie.cli.spoken import further_training, own_voice_or_none, training
    from caddie.voice.check import check_voice

    findings = check_voice(
        [TRIED, *training()],
        model,
        engine,
        microphone,
        loudspeaker,
        further=further_training(),
        own=own_voice_or_none(),
        tell=None if as_json else lambda line: typer.echo(f"... {line}"),
    )
    if as_json:
        typer.echo(json.dumps({"findings": [vars(finding) for finding in findings]}))
    else:
        for finding in findings:
            mark = "works" if finding.works else "fails"
            typer.echo(f"{finding.subject:<13} {mark}: {finding.what}")
            if finding.advice:
                typer.echo(f"{'':<13} {finding.advice}")
    raise typer.Exit(0 if all(finding.works for finding in findings) else 2)


@app.command()
def model(
    from_zip: Annotated[Path | None, typer.Option("--from", help="ZIP archive of a Vosk model.")] = None,
    fetch: Annotated[
        bool, typer.Option("--fetch", help="Fetch one over the network: the only command that uses it.")
    ] = False,
    address: Annotated[str, typer.Option(help="Where --fetch finds the ZIP archive.")] = SMALL_ENGLISH_MODEL,
    sha256: Annotated[str | None, typer.Option(help="Its checksum, where known.")] = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Show, fetch or install a Vosk speech model: caddie voice model --from model.zip."""
    from caddie.voice.model import fetch as fetch_archive
    from caddie.voice.model import find, install, models_directory

    if fetch and from_zip:
        raise CaddieError("give --fetch or --from, not both")
    if not fetch and from_zip is None:
        _show_model(find(), as_json)
        return
    source = address if fetch else str(from_zip)
    if not agreed(f"Install the model in {source} into {models_directory()}?", yes):
        raise CaddieError("nothing was installed")
    archive = fetch_archive(address, sha256, progress=_progress(as_json)) if fetch else from_zip
    assert archive is not None
    _show_model(install(archive, progress=_progress(as_json)), as_json)


def _show_model(found: Path | None, as_json: bool) -> None:
    if as_json:
        typer.echo(json.dumps({"model": str(found) if found else None}))
    elif found is None:
        typer.echo(
            "No Vosk model: the neural ear listens, or PocketSphinx. 'caddie voice model --fetch' gets one."
        )
    else:
        typer.echo(f"Vosk model: {found}")


@contextmanager
def _listening(whole_s: float) -> Iterator[Callable[[float], None] | None]:
    """A line on a terminal's standard error that follows a long recording; None where none is wanted."""
    if whole_s < LONG_S or not sys.stderr.isatty():
        yield None
        return
    shown_s = 0.0

    def follow(heard_s: float) -> None:
        nonlocal shown_s
        if heard_s - shown_s >= SHOWN_EVERY_S or heard_s >= whole_s:
            shown_s = heard_s
            typer.echo(f"\rListened to {heard_s:.0f} of {whole_s:.0f} s", nl=False, err=True)

    try:
        yield follow
    finally:
        typer.echo(err=True)


def _progress(quiet: bool) -> Callable[[int, int | None], None] | None:
    """A line on standard error that follows the bytes; None when the output is for a program."""
    if quiet:
        return None

    def follow(so_far: int, total: int | None) -> None:
        of = f" of {total / MEGABYTE:.0f}" if total else ""
        end = "\n" if total is not None and so_far >= total else ""
        typer.echo(f"\r{so_far / MEGABYTE:.0f}{of} MB{end}", nl=False, err=True)

    return follow
