"""The notes as commands read them: those that go on without them, and those that show them."""

from typing import TYPE_CHECKING

import typer

from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.bag import Bag
    from caddie.notes.notebook import Notebook


def notebook_or_none(bag: "Bag") -> "Notebook | None":
    """What is remembered, or None with one line that tells why: the talk goes on without it."""
    from caddie.notes.notebook import Notebook
    from caddie.units import Unit

    unit = bag.player.distances_in
    try:
        notebook = Notebook(unit if unit is Unit.METRES else Unit.YARDS)
    except CaddieError as error:
        typer.echo(f"caddie: {error}; this talk remembers nothing", err=True)
        return None
    for line in notebook.notes.problems:
        typer.echo(f"caddie: {line}; the rest of the notes count", err=True)
    return notebook
