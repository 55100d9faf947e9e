"""The typer application and its groups, each imported when it is asked for."""

from collections import UserDict
from importlib import import_module
from typing import Annotated, Any

import typer
import typer.main
from typer.core import TyperGroup

from caddie import __version__

_PARTS = {
    "ask": "ask.ask",
    "understand": "ask.understand",
    "hear": "voice.hear",
    "talk": "talk.talk",
    "card": "card.card",
    "report": "report.report",
    "bag": "bag.app",
    "practice": "practice.app",
    "page": "page.app",
    "log": "log.app",
    "notes": "notes.app",
    "voice": "voice.app",
}
"""Each command or group of commands, in the order in which help lists them, and where it is defined."""


class _Commands(UserDict[str, Any]):
    """The commands by name, each made when first looked at: nobody waits for those not asked for."""

    def __getitem__(self, name: str) -> Any:
        found = self.data[name]
        if isinstance(found, str):
            found = self.data[name] = _made(name, found)
        return found


def _made(name: str, place: str) -> Any:
    module, _, inside = place.partition(".")
    part = getattr(import_module(f"caddie.cli.{module}"), inside)
    # Typer makes a command only inside an application of its own.
    around = typer.Typer(add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None)
    around.callback()(lambda: None)
    if isinstance(part, typer.Typer):
        around.add_typer(part, name=name)
    else:
        around.command(name)(part)
    return typer.main.get_group(around).commands[name]


class _Parts(TyperGroup):
    """The group of all commands."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.commands = _Commands(_PARTS)


app = typer.Typer(
    name="caddie",
    cls=_Parts,
    help="A caddie for the short game: say what you see, get the shot and commit to it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


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
