"""The typer application and its groups."""

from typing import Annotated

import typer

from caddie import __version__
from caddie.cli import ask, bag, card, log, practice, report, talk, voice

app = typer.Typer(
    name="caddie",
    help="A caddie for the short game: say what you see, get the shot and commit to it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.command("ask")(ask.ask)
app.command("understand")(ask.understand)
app.command("hear")(voice.hear)
app.command("talk")(talk.talk)
app.add_typer(bag.app, name="bag")
app.add_typer(practice.app, name="practice")
app.add_typer(log.app, name="log")
app.add_typer(voice.app, name="voice")
app.command("card")(card.card)
app.command("report")(report.report)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"caddie {__version__}")
        raise typer.Exit


@app.callback()
def main(
    version: Annotated[
        bool, typer.Option("--version", is_eager=True, callback=_show_version, help="Show the version.")
    ] = False,
) -> None:
    """What holds for every command."""
