"""The notes as commands read them that go on without them: for the talk, and for the ears."""

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from caddie.errors import CaddieError
from caddie.places import home

if TYPE_CHECKING:
    from caddie.bag import Bag
    from caddie.notes.notebook import Notebook, Notes


def note_sentences() -> list[str]:
    """What is said of notes, with the player's own names and words, for a recogniser to expect."""
    from caddie.notes.notebook import read_notes
    from caddie.words.note_sample import sampled_notes
    from caddie.words.told_note import NO_NAMES

    names = NO_NAMES
    with contextlib.suppress(CaddieError):
        notes = read_notes()
        names = notes.names(notes.course)
    return sampled_notes(names)


def notes_or_none() -> "Notes | None":
    """What is remembered, or None where nothing is kept or it cannot be read, which is told in one line."""
    if not _is_kept():
        return None
    from caddie.notes.notebook import read_notes

    try:
        notes = read_notes()
    except CaddieError as error:
        typer.echo(f"caddie: {error}; nothing of it counts here", err=True)
        return None
    for line in notes.problems:
        typer.echo(f"caddie: {line}; the rest of the notes count", err=True)
    return notes


def _is_kept() -> bool:
    """Whether there is a folder of notes: reading none costs a command nothing."""
    with contextlib.suppress(CaddieError, OSError):
        return (home() / "notes").is_dir()
    return False


def unheard(word: str) -> list[str]:
    """The parts of a word whose sound no ear here knows: none where the neural ear is, which spells what it hears."""
    from caddie.voice.neural.files import network_files
    from caddie.voice.pocket_model import load_pocketsphinx
    from caddie.voice.pronunciation import missing_words, shipped_dictionary

    with contextlib.suppress(CaddieError):
        network_files()
        return []
    with contextlib.suppress(CaddieError):
        shipped = Path(load_pocketsphinx().get_model_path("en-us"))
        return missing_words([word], shipped_dictionary(str(shipped / "cmudict-en-us.dict")))
    return []


def notebook_or_none(bag: "Bag", told: str | None = None) -> "Notebook | None":
    """What is remembered, or None with one line that tells why: the talk goes on without it.

    ``told`` is the reason why nothing is kept, where the user has read it already: it is not told again.
    """
    from caddie.notes.notebook import Notebook
    from caddie.units import Unit

    unit = bag.player.distances_in
    try:
        notebook = Notebook(unit if unit is Unit.METRES else Unit.YARDS)
    except CaddieError as error:
        if str(error) != told:
            typer.echo(f"caddie: {error}; this talk remembers nothing", err=True)
        return None
    for line in notebook.notes.problems:
        typer.echo(f"caddie: {line}; the rest of the notes count", err=True)
    return notebook
