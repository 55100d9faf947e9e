"""``caddie talk``: the conversation, typed or spoken."""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from caddie.cli.demo import tell_demo
from caddie.cli.notes_reading import notebook_or_none
from caddie.cli.options import AsJson, BagFile, Competition, Seed, bag_at
from caddie.cli.spoken import (
    USUAL_RATE,
    Engine,
    Loudspeaker,
    Microphone,
    ModelDir,
    SpeechRate,
    Voice,
    Volume,
    settings,
    usual_rate,
)
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.log.store import Log
    from caddie.talk.state import Turn

ADDRESS_WORD = "caddie"


def talk(
    bag: BagFile = None,
    as_json: AsJson = False,
    competition: Competition = False,
    log_file: Annotated[
        Path | None, typer.Option("--log", help="Log file; the one in the data directory when left out.")
    ] = None,
    no_log: Annotated[bool, typer.Option("--no-log", help="Keep nothing, and remember nothing.")] = False,
    voice: Annotated[bool, typer.Option("--voice", help="Spoken, hands-free.")] = False,
    address: Annotated[
        str, typer.Option(help='The word you begin with; "" listens to everything.')
    ] = ADDRESS_WORD,
    push: Annotated[bool, typer.Option("--push", help="Listen only between two presses of Enter.")] = False,
    quiet: Annotated[
        bool, typer.Option("--quiet", help="Print the replies instead of speaking them.")
    ] = False,
    model: ModelDir = None,
    engine: Engine = None,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
    rate: SpeechRate = USUAL_RATE,
    voice_name: Voice = None,
    volume: Volume = 1.0,
    seed: Seed = 1,
) -> None:
    """Say what you see and talk the shot through, turn by turn: caddie talk."""
    from caddie.log.shot import Mode
    from caddie.talk.conversation import Conversation

    owned = bag_at(bag)
    log, problem = (None, None) if no_log else _opened(log_file)
    tell_demo(bag, as_json or problem is not None)
    mode = Mode.COMPETITION if competition else Mode.PRACTICE
    notebook = None if no_log else notebook_or_none(owned, problem)
    conversation = Conversation(owned, mode=mode, seed=seed, log=log, log_problem=problem, notebook=notebook)

    def show(turn: "Turn") -> None:
        if as_json:
            typer.echo(turn.model_dump_json())
        else:
            typer.echo(turn.written if turn.spoken in turn.written else f"{turn.written}\n\n{turn.spoken}")

    try:
        if voice or push:
            from caddie.cli.talk_aloud import Aloud, talk_aloud

            how = settings((rate == USUAL_RATE and usual_rate(notebook)) or rate, voice_name, volume)
            word = None if push else address.strip().lower() or None
            talk_aloud(
                conversation, Aloud(how, word, push, quiet, model, engine, microphone, loudspeaker), show
            )
            return
        for sentence in _sentences(prompt=not as_json and sys.stdin.isatty()):
            turn = conversation.turn(sentence)
            show(turn)
            if turn.over:
                break
    finally:
        if log is not None:
            log.close()


def _opened(path: Path | None) -> "tuple[Log | None, str | None]":
    """The log, or why there is none: the talk goes on without it."""
    from caddie.log.store import Log

    try:
        return Log(path), None
    except CaddieError as error:
        typer.echo(f"caddie: {error}; this talk keeps nothing", err=True)
        return None, str(error)


def _sentences(prompt: bool) -> Iterator[str]:
    """Lines as they are typed; an empty one is passed over."""
    while True:
        if prompt:
            typer.echo("> ", nl=False)
        line = sys.stdin.readline()
        if not line:
            return
        if line.strip():
            yield line.strip()
