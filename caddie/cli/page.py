"""``caddie page``: the caddie in a browser on this machine."""

from pathlib import Path
from typing import Annotated

import typer

from caddie.cli.options import BagFile, Competition, Seed
from caddie.cli.spoken import USUAL_RATE, Engine, ModelDir, SpeechRate, Voice, Volume

PORT = 8418


def page(
    port: Annotated[int, typer.Option(min=1024, max=65535, help="Port on this machine.")] = PORT,
    no_open: Annotated[
        bool, typer.Option("--no-open", help="Print the address and open no browser.")
    ] = False,
    bag: BagFile = None,
    competition: Competition = False,
    log_file: Annotated[
        Path | None, typer.Option("--log", help="Log file; the one in the data directory when left out.")
    ] = None,
    no_log: Annotated[bool, typer.Option("--no-log", help="Keep nothing.")] = False,
    model: ModelDir = None,
    engine: Engine = None,
    rate: SpeechRate = USUAL_RATE,
    voice_name: Voice = None,
    volume: Volume = 1.0,
    seed: Seed = 1,
) -> None:
    """Talk, bag, practice, shots and report in a browser on this machine: caddie page.

    Only this machine is answered, and only a browser that came in by the address printed here.
    """
    import webbrowser
    from threading import Timer

    from caddie.cli.spoken import ears, settings
    from caddie.page.listening import Sound
    from caddie.page.server import serve
    from caddie.page.service import Wanted
    from caddie.voice.choose_mouth import choose_mouth

    told: list[str] = []

    def tell(address: str) -> None:
        first = not told
        told.append(address)
        typer.echo(f"{'Open' if first else 'For another browser:'} {address}")
        if first:
            typer.echo("Ctrl-C ends it.", err=True)
        if first and not no_open:
            # The server answers a moment after the address is known.
            Timer(0.5, webbrowser.open, (address,)).start()

    wanted = Wanted(bag=bag, log=log_file, no_log=no_log, competition=competition, seed=seed)
    how = settings(rate, voice_name, volume)
    serve(wanted, port, tell, Sound(lambda address: ears(model, engine, address), lambda: choose_mouth(how)))
