"""``caddie notes``: holes, own words and settings, as they are remembered on this machine."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli.log import wanted
from caddie.cli.notes_reading import unheard
from caddie.cli.options import AsJson, BagFile, Yes, bag_at
from caddie.cli.output import output
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.notes.models import HoleNote
    from caddie.notes.notebook import Notebook

app = typer.Typer(
    name="notes", help="Holes, your own words and settings, remembered on this machine.", no_args_is_help=True
)

Course = Annotated[
    str | None, typer.Option("--course", help="The course as you call it; the one you play when left out.")
]


def opened(bag: Path | None = None) -> "Notebook":
    """The notes, with a line on standard error for each entry that cannot be read.

    Raises:
        CaddieError: if a file cannot be read at all.
    """
    from caddie.notes.notebook import Notebook
    from caddie.units import Unit

    unit = bag_at(bag).player.distances_in
    notebook = Notebook(unit if unit is Unit.METRES else Unit.YARDS)
    for line in notebook.notes.problems:
        typer.echo(f"caddie: {line}; the rest of the notes count", err=True)
    return notebook


@app.command()
def show(as_json: AsJson = False) -> None:
    """Show everything that is remembered about you: caddie notes show."""
    from caddie.notes.page import course_text
    from caddie.notes.told import usual_facts

    book = opened()
    notes = book.notes
    if as_json:
        _say(_content(book))
        return
    if notes.is_empty:
        typer.echo("Nothing is remembered. Say in a talk: remember, the fourth green falls left to right.")
        return
    for course in notes.courses:
        typer.echo(course_text(course, notes.of_course(course), book.day, book.unit))
    for word, meaning in sorted(notes.words.items()):
        typer.echo(f'"{word}" means {meaning}')
    if usual_facts(notes.usual):
        typer.echo(f"Usual: {', '.join(usual_facts(notes.usual))}")
    if notes.today.out:
        typer.echo(f"Not there today: {', '.join(notes.today.out)}")


@app.command()
def hole(
    number: Annotated[int, typer.Argument(min=1, max=36, help="The hole.")],
    course: Course = None,
    tell: Annotated[
        str | None, typer.Option("--tell", help="What to remember: falls left to right, 28 deep.")
    ] = None,
    bag: BagFile = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Show what is remembered of a hole, or tell more of it: caddie notes hole 4 --tell "falls left to right"."""
    from caddie.notes.models import HoleNote
    from caddie.notes.page import hole_line

    book = opened(bag)
    named = book.notes.course_called(course) if course else book.notes.course
    note = book.notes.hole(named, number) or HoleNote(course=named, number=number)
    if tell is not None:
        note = _told(book, note, tell, bag)
        if not as_json:
            typer.echo(hole_line(note, book.day, book.unit))
        if wanted(f"Remember this of {note.title}?", yes, as_json):
            book.keep_hole(note)
    if as_json:
        _say(note.model_dump(mode="json", exclude_none=True))
    elif tell is None:
        typer.echo(f"{note.title}\n{hole_line(note, book.day, book.unit)}")
        if said := _what_shots_say(note, bag):
            typer.echo(f"     {said}")


@app.command()
def course(
    name: Annotated[str | None, typer.Argument(help="The course; the one you play when left out.")] = None,
    out: Annotated[
        Path | None, typer.Option(help="Write a page to print (.html); shown as text when left out.")
    ] = None,
    bag: BagFile = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Show a course, or write a page to print before the round: caddie notes course --out course.html."""
    from caddie.notes.page import course_page, course_text

    book = opened(bag)
    named = book.notes.course_called(name) if name else book.notes.course
    holes = book.notes.of_course(named)
    if not holes:
        raise CaddieError(
            f"{named}: no hole of it is noted; noted are {', '.join(book.notes.courses) or 'none'}"
        )
    if out is not None:
        if out.suffix.lower() not in (".html", ".htm"):
            raise CaddieError(f"{out}: end the name in .html")
        page = output(out, f"the page of {named}", yes)
        say = {note.number: _what_shots_say(note, bag, enough=True) for note in holes}
        page.write(course_page(named, holes, book.day, book.unit, say))
    if as_json:
        _say({"course": named, "holes": [_plain(each) for each in holes], "written": out and str(out)})
    else:
        typer.echo(course_text(named, holes, book.day, book.unit) if out is None else f"Written: {out}")


@app.command()
def words(
    teach: Annotated[
        str | None, typer.Option("--teach", help="A word of yours and what it means: badlands=heavy rough.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="Write them to this file, as the grammar's files are.")
    ] = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Show your own words, teach one, or export them: caddie notes words --teach "badlands=heavy rough"."""
    from caddie.notes.own_words import TradeWordError, teachable
    from caddie.notes.small_sheets import words_sheet

    book = opened()
    if teach is not None:
        name, _, meaning = teach.partition("=")
        try:
            word, meaning = teachable(name, meaning, book.notes.words)
        except TradeWordError as asked:
            if not wanted(str(asked), yes, as_json):
                raise CaddieError("nothing is remembered") from None
            word, meaning = teachable(name, meaning, book.notes.words, sure=True)
        book.keep_word(word, meaning)
        if silent := unheard(word):
            typer.echo(
                f"Typed it is understood; spoken it is not: nobody taught me the sound of {', '.join(silent)}.",
                err=True,
            )
    if out is not None:
        output(out, f"{len(book.notes.words)} words", yes).write(words_sheet().text())
    if as_json:
        _say({"words": dict(book.notes.words)})
        return
    for word, meaning in sorted(book.notes.words.items()):
        typer.echo(f'"{word}" means {meaning}')
    typer.echo(f"{len(book.notes.words)} words of your own{f', written to {out}' if out else ''}.")


@app.command()
def settings(
    greens: Annotated[
        float | None, typer.Option("--greens", min=3, max=16, help="Speed of the greens at home, stimp feet.")
    ] = None,
    firmness: Annotated[str | None, typer.Option(help="Greens at home: soft, medium or firm.")] = None,
    unit: Annotated[str | None, typer.Option(help="What you count in: yards or metres.")] = None,
    aloud: Annotated[str | None, typer.Option(help="What is said aloud: club, or everything.")] = None,
    rate: Annotated[int | None, typer.Option(min=80, max=300, help="Words a minute of the voice.")] = None,
    reset: Annotated[bool, typer.Option("--reset", help="Leave all of it to the bag again.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show or change your usual settings: caddie notes settings --greens 10.5 --firmness firm."""
    from pydantic import ValidationError

    from caddie.bag.file import explain
    from caddie.notes.models import Usual
    from caddie.notes.told import usual_facts

    book = opened()
    if aloud not in (None, "club", "everything"):
        raise CaddieError(f"--aloud {aloud}: choose club or everything")
    brief = None if aloud is None else aloud == "club"
    given = {"stimp_ft": greens, "firmness": firmness, "unit": unit, "brief": brief, "rate": rate}
    try:
        wanted = Usual.model_validate(given)
    except ValidationError as error:
        raise CaddieError(f"settings: {explain(error)}") from None
    for key, value in given.items():
        if value is not None or reset:
            book.keep_usual(key, getattr(wanted, key))
    if as_json:
        _say(book.notes.usual.model_dump(mode="json"))
    else:
        typer.echo(f"Usual: {', '.join(usual_facts(book.notes.usual)) or 'left to your bag'}.")


@app.command(name="import")
def import_(
    file: Annotated[Path, typer.Argument(help="Holes as TOML, as export writes them.")],
    course: Annotated[str | None, typer.Option("--course", help="Another name for the course.")] = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Take in holes from a file, shown first: caddie notes import demo_bag/marram_links.toml."""
    from caddie.notes.holes import holes_sheet, notes_in
    from caddie.notes.models import HoleNote, of_course
    from caddie.notes.page import hole_line
    from caddie.notes.sheet import text_of

    book = opened()
    entries = holes_sheet().read_text(text_of(file))
    for each in entries:
        if each.problem:
            typer.echo(f"caddie: {file}: line {each.line}: {each.problem}; the rest is taken", err=True)
    holes = notes_in(entries)
    if course is not None:
        holes = [HoleNote.model_validate(each.model_dump() | {"course": course}) for each in holes]
    if not holes:
        raise CaddieError(f"{file}: holds no hole that can be read")
    new = [each for each in holes if book.notes.hole(each.course, each.number) != each]
    if not as_json:
        for note in new:
            typer.echo(f"{hole_line(note, book.day, book.unit)}{_replaces(book, note)}")
    where = f"{len(new)} hole{'' if len(new) == 1 else 's'} {of_course(holes[0].course)}"
    done = bool(new) and wanted(f"Take in {where}?", yes, as_json)
    if done:
        book.keep_holes(new)
    told = f"{where} taken in." if done else "Nothing taken in."
    _told_or({"taken": len(new) if done else 0, "course": holes[0].course}, told, as_json)


@app.command()
def export(
    course: Course = None,
    out: Annotated[Path | None, typer.Option(help="File to write; standard output when left out.")] = None,
    yes: Yes = False,
) -> None:
    """Write the holes of a course as TOML for another player: caddie notes export --out course.toml."""
    from caddie.notes.holes import HEADER, written_hole

    book = opened()
    named = book.notes.course_called(course) if course else book.notes.course
    holes = book.notes.of_course(named)
    if not holes:
        raise CaddieError(f"{named}: no hole of it is noted")
    text = HEADER + "".join(written_hole(each, book.unit) for each in holes)
    if out is None:
        typer.echo(text, nl=False)
        return
    output(out, f"{len(holes)} holes", yes).write(text)
    typer.echo(f"{out}: {len(holes)} holes of {named}.")


@app.command()
def forget(
    hole: Annotated[int | None, typer.Option("--hole", min=1, max=36, help="Only this hole.")] = None,
    course: Course = None,
    word: Annotated[str | None, typer.Option("--word", help="Only this word of yours.")] = None,
    everything: Annotated[bool, typer.Option("--all", help="Everything that is remembered.")] = False,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Erase notes for good: caddie notes forget --word badlands."""
    from caddie.notes.models import of_course
    from caddie.words.told_note import plain_words

    if sum((hole is not None or course is not None, word is not None, everything)) != 1:
        raise CaddieError("say what to forget: --hole NUMBER, --course NAME, --word WORD, or --all")
    book = opened()
    named = book.notes.course_called(course) if course else book.notes.course
    if everything:
        what = "everything that is remembered"
    elif word is not None:
        what = f'the word "{word}"'
    else:
        what = f"{f'hole {hole}' if hole is not None else 'every hole'} {of_course(named)}"
    done = wanted(f"Erase {what} for good?", yes, as_json)
    gone: int = 0
    if done and everything:
        book.erase_all()
        gone = 1
    elif done and word is not None:
        gone = book.erase_word(plain_words(word))
    elif done:
        gone = book.erase_hole(named, hole) if hole is not None else book.erase_course(named)
    _told_or({"erased": int(gone)}, "Erased." if gone else "Nothing erased.", as_json)


@app.command()
def undo(yes: Yes = False, as_json: AsJson = False) -> None:
    """Take the last change of the notes back; once more brings it back: caddie notes undo."""
    from caddie.notes.notebook import step_back

    done = step_back() if wanted("Take the last change of the notes back?", yes, as_json) else None
    told = f"Taken back: {done} as before." if done else "Nothing to take back."
    _told_or({"undone": done}, told, as_json)


def _told(book: "Notebook", note: "HoleNote", text: str, bag: Path | None) -> "HoleNote":
    """The note with what is told on the command line laid over it; what it says otherwise is replaced.

    Raises:
        CaddieError: when nothing of it was understood.
    """
    from caddie.notes.learn import note_with

    player = bag_at(bag).player
    after, clashes = note_with(note, text, player.distances_in, player.pace_m, book.day)
    for clash in clashes:
        typer.echo(f"The note says {clash.before}; it will say {clash.now}.", err=True)
    return after


def _what_shots_say(note: "HoleNote", bag: Path | None, enough: bool = False) -> str:
    """How the player's shots on the hole ended; empty where no log is kept, or, when asked, where they are too few."""
    from caddie.log.holes import OnHole, shots_on
    from caddie.log.shot import ROUNDS
    from caddie.log.store import FILE_NAME, Log
    from caddie.notes.misses import misses_of, misses_told
    from caddie.places import home

    if not (home() / FILE_NAME).exists():
        return ""
    with Log(read_only=True) as log:
        shots = shots_on(log, bag_at(bag).player.name, OnHole(note.course, note.number), ROUNDS)
    found = misses_of(shots)
    return "" if enough and not found.shares else misses_told(found)


def _replaces(book: "Notebook", note: "HoleNote") -> str:
    return "  (replaces yours)" if book.notes.hole(note.course, note.number) is not None else ""


def _content(book: "Notebook") -> dict[str, Any]:
    notes = book.notes
    return {
        "holes": [_plain(each) for each in notes.holes],
        "words": dict(notes.words),
        "usual": notes.usual.model_dump(mode="json"),
        "today": notes.today.model_dump(mode="json"),
        "problems": list(notes.problems),
    }


def _plain(note: "HoleNote") -> dict[str, Any]:
    return note.model_dump(mode="json", exclude_none=True)


def _told_or(found: dict[str, Any], line: str, as_json: bool) -> None:
    typer.echo(json.dumps(found, ensure_ascii=False) if as_json else line)


def _say(found: dict[str, Any]) -> None:
    typer.echo(json.dumps(found, ensure_ascii=False))
