"""``caddie page``: the caddie in a browser, on this machine or a phone beside it."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from caddie.cli.consent import agreed
from caddie.cli.options import BagFile, Competition, OneObject, Seed, Yes
from caddie.cli.spoken import USUAL_RATE, Engine, ModelDir, SpeechRate, Voice, Volume
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.page.certificate import Certificate
    from caddie.page.door import LanDoor
    from caddie.page.server import Announced

PORT = 8418

app = typer.Typer(name="page", invoke_without_command=True)


@app.callback()
def page(
    context: typer.Context,
    port: Annotated[int, typer.Option(min=1024, max=65535, help="Port on this machine.")] = PORT,
    no_open: Annotated[
        bool, typer.Option("--no-open", help="Print the address and open no browser.")
    ] = False,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let a phone beside this machine in, by a code shown here.")
    ] = False,
    address: Annotated[
        str | None, typer.Option(help="With --lan: which of this machine's addresses phones reach.")
    ] = None,
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

    Only this machine is answered, and only a browser that came in by the address printed here; with --lan also
    phones in the same network that came in by its code.
    """
    if context.invoked_subcommand is not None:
        return
    from functools import cache

    from caddie.cli.spoken import answers_only, ears, settings, training
    from caddie.page.certificate import local_address
    from caddie.page.hearing import Sound
    from caddie.page.server import serve
    from caddie.page.service import Wanted
    from caddie.voice.choose_mouth import choose_mouth
    from caddie.words.endings import Endings

    if address is not None and not lan:
        raise CaddieError("--address is for --lan: without it this machine alone is answered")
    wanted = Wanted(bag=bag, log=log_file, no_log=no_log, competition=competition, seed=seed)
    how = settings(rate, voice_name, volume)
    sound = Sound(
        lambda word: ears(model, engine, word),
        lambda sentences: answers_only(sentences, model, engine),
        lambda: choose_mouth(how),
        cache(lambda: Endings(training())),
    )
    serve(wanted, port, _told(no_open), sound, local_address(address) if lan else None)


@app.command()
def devices(
    remove: Annotated[
        str | None, typer.Option("--remove", help="Let this device in no longer: its mark in the list.")
    ] = None,
    yes: Yes = False,
    as_json: OneObject = False,
) -> None:
    """List the phones that were let in, or remove one: caddie page devices."""
    from caddie.page.devices import Devices

    known = Devices()
    if remove is not None:
        named = next((each for each in known.all() if each.id == remove), None)
        if named is None:
            raise CaddieError(f"{remove}: no such device; 'caddie page devices' lists them")
        if not agreed(f"Let {named.name or remove} in no longer?", yes or as_json):
            typer.echo("Nothing removed.", err=True)
            raise typer.Exit(1)
        known.remove(remove)
    left = known.all()
    if as_json:
        rows = [
            {
                "id": each.id,
                "name": each.name,
                "let_in": each.let_in.isoformat(),
                "seen": each.seen.isoformat(),
            }
            for each in left
        ]
        typer.echo(json.dumps({"devices": rows}, ensure_ascii=False))
        return
    for each in left:
        seen = each.seen.astimezone()
        typer.echo(
            f"{each.id}  let in {each.let_in.astimezone():%d %b %Y}, seen {seen:%d %b %Y}  {each.name}"
        )
    if not left:
        typer.echo("No device is let in: caddie page --lan shows how one comes in.")


def _told(no_open: bool) -> "Announced":
    """What is printed when somebody may come in; the first address is opened in a browser."""
    import webbrowser
    from threading import Timer

    from caddie.page.server import Announced

    said: list[str] = []

    def own(address: str) -> None:
        first = not said
        said.append(address)
        typer.echo(f"{'Open' if first else 'For another browser:'} {address}")
        if first:
            typer.echo("Ctrl-C ends it.", err=True)
        if first and not no_open:
            # The server answers a moment after the address is known.
            Timer(0.5, webbrowser.open, (address,)).start()

    return Announced(own, _lan_told)


def _lan_told(door: "LanDoor", certificate: "Certificate") -> None:
    import sys

    import segno

    from caddie.page.door import code_shown

    typer.echo(f"On a phone in this network: {door.site} with the code {code_shown(door.code)}")
    if sys.stdout.isatty():
        segno.make(door.address, error="l").terminal(compact=True)
    typer.echo(
        f"The phone warns, for the certificate is this machine's own. Its SHA-256: {certificate.fingerprint}"
    )
