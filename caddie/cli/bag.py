"""``caddie bag``: new, show, check, import and fit."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli.bag_tables import print_fit, print_table
from caddie.cli.consent import agreed, answer_to
from caddie.cli.demo import offer_demo_shots, tell_demo
from caddie.cli.options import OneObject, Yes
from caddie.cli.output import output, refuse_kept
from caddie.errors import CaddieError
from caddie.units import SpeedUnit, Unit

if TYPE_CHECKING:
    from caddie.bag.models import Conditions
    from caddie.cli.bag_import import Kept
    from caddie.range.new_bag import BagQuestion

app = typer.Typer(no_args_is_help=True, help="The bag: clubs, swing lengths and measured carries.")

OwnBagFile = Annotated[Path | None, typer.Option("--bag", help="Bag file; your own bag when left out.")]
Temperature = Annotated[float | None, typer.Option(help="Air temperature of that day, degrees Celsius.")]
Altitude = Annotated[float | None, typer.Option(help="Height of the place above the sea, metres.")]


@app.command()
def new(bag: OwnBagFile = None, yes: Yes = False, as_json: OneObject = False) -> None:
    """Make a bag from a short conversation: a handicap and a few carries you know: caddie bag new."""
    from caddie.bag.file import Seen, bag_content, own_bag, previous, save_bag
    from caddie.range.new_bag import Answers, bag_from, next_question
    from caddie.talk.new_bag import answered, goes_back

    path = bag or own_bag()
    kept = f" (the present one stays as {previous(path).name})" if path.exists() else ""
    _refuse_what_is_no_bag(path, yes)
    seen = Seen.of(path)
    given = [Answers()]
    while (question := next_question(given[-1])) is not None:
        said = _said(question)
        if goes_back(said):
            given = given[:-1] or given
            continue
        try:
            given.append(answered(given[-1], said))
        except CaddieError as error:
            typer.echo(f"{error}", err=True)
    made = bag_from(given[-1])
    if not as_json:
        print_table(made)
    written = agreed(f"Write this bag to {path}{kept}?", yes)
    if written:
        save_bag(made, path, seen)
    _done({"written": str(path) if written else None, "bag": bag_content(made)}, as_json, path, written)


def _said(question: "BagQuestion") -> str:
    said = answer_to(lambda: str(typer.prompt(question.text, default=question.usual, err=True)))
    if said is None:
        raise CaddieError("the conversation was cut off, nothing is written")
    return said


@app.command()
def show(
    bag: OwnBagFile = None,
    picture: Annotated[Path | None, typer.Option(help="Draw the carries as SVG into this file.")] = None,
    yes: Yes = False,
    as_json: OneObject = False,
) -> None:
    """Show the carries with their intervals, holes and overlaps, and what to practise: caddie bag show."""
    from caddie.bag.file import load_bag
    from caddie.range.gapping import findings, spans

    path = _readable(bag)
    owned = load_bag(path)
    if picture:
        from caddie.reply.bag_picture import bag_picture

        output(picture, "the picture", yes, path).write(bag_picture(owned))
    found = findings(owned)
    if as_json:
        cells = [span.model_dump(mode="json") for sand in (False, True) for span in spans(owned, sand=sand)]
        told = [finding.model_dump(mode="json") for finding in found]
        _print_json({"bag": str(path), "player": owned.player.name, "cells": cells, "findings": told})
        return
    print_table(owned)
    for finding in found:
        typer.echo(f"- {finding.text}")


@app.command()
def check(bag: OwnBagFile = None, as_json: OneObject = False) -> None:
    """Explain everything that is wrong with a bag file, a line each: caddie bag check --bag mine.toml."""
    from caddie.bag.file import bag_problems, load_bag
    from caddie.bag.slips import bag_notes

    path = _readable(bag)
    problems = bag_problems(path)
    notes = () if problems else bag_notes(load_bag(path))
    if as_json:
        _print_json(
            {
                "bag": str(path),
                "sound": not problems,
                "problems": [problem.model_dump(mode="json") for problem in problems],
                "notes": list(notes),
            }
        )
    else:
        for problem in problems:
            typer.echo(f"{path}: {problem.text()}")
        for note in notes:
            typer.echo(f"note: {note}")
        if not problems:
            owned = load_bag(path)
            cells, splashes = (sum(len(club.cells(sand)) for club in owned.clubs) for sand in (False, True))
            also = f", {splashes} out of sand" if splashes else ""
            typer.echo(f"{path}: sound, {len(owned.clubs)} clubs and {cells} carries{also}")
    raise typer.Exit(2 if problems else 0)


@app.command("import")
def import_(
    file: Annotated[Path, typer.Argument(help="Table of shots (CSV) of any radar or range.")],
    bag: OwnBagFile = None,
    club: Annotated[str | None, typer.Option(help="Club of every row, if no column says it.")] = None,
    swing: Annotated[
        str | None, typer.Option(help="Swing length of every row, if no column says it.")
    ] = None,
    units: Annotated[Unit | None, typer.Option(help="Unit of lengths whose heading does not say.")] = None,
    speed_units: Annotated[
        SpeedUnit | None, typer.Option(help="Unit of the ball speed if its heading does not say.")
    ] = None,
    sand: Annotated[
        bool, typer.Option("--sand", help="Splashed from a bunker, all rows whose lie no column says.")
    ] = False,
    column: Annotated[
        list[str] | None, typer.Option(help="Heading to take for a column: carry=HEADING. Repeatable.")
    ] = None,
    called: Annotated[
        list[str] | None, typer.Option(help="A club the table calls otherwise: NAME=56. Repeatable.")
    ] = None,
    temperature: Temperature = None,
    altitude: Altitude = None,
    fit: Annotated[bool, typer.Option("--fit", help="Fit the bag to all kept sessions afterwards.")] = False,
    yes: Yes = False,
    as_json: OneObject = False,
) -> None:
    """Take in a table of shots: shows what was understood, then keeps the balls beside the bag.

    Example: caddie bag import session.csv.

    Rows that give no shot go to FILE.rejected.csv beside the bag, with their line and the reason. Without a
    bag of your own the table starts one.
    The plain form: a line of headings "club,swing,carry (yd),side (yd),strike,note", then a line a ball such
    as "56,half,63.5,-2,,"; also lie (bunker for a splash), total, ball speed, launch and spin. Lines
    "# temperature_c: 17" and "# altitude_m: 60" may stand above. Side is negative to the left.
    """
    from caddie.bag.file import load_bag, own_bag
    from caddie.cli.bag_import import keep_table
    from caddie.range.csv_import import Wishes

    path = own_bag() if bag is None else _own(bag)
    usual = load_bag(path).measured_in if path.exists() else None
    wishes = Wishes(
        length_unit=units,
        speed_unit=speed_units,
        club=club,
        swing=swing,
        sand=sand,
        columns=_columns(column or []),
        clubs=_pairs(called or [], "--called"),
        conditions=_conditions(temperature, altitude, usual),
    )
    kept = keep_table(file, path, wishes, yes, as_json)
    if fit and kept.bag_is_there and not kept.result["bag_started"]:
        _fit_and_save(path, (), False, "wedges", False, yes, as_json, kept.result)
    elif as_json:
        _print_json(kept.result)
    else:
        _kept_told(kept)


@app.command()
def fit(
    sessions: Annotated[
        list[Path] | None, typer.Argument(help="Session files; all those kept beside the bag when left out.")
    ] = None,
    bag: OwnBagFile = None,
    add: Annotated[
        bool, typer.Option("--add", help="Count the bag's present figures as balls too: for new sessions.")
    ] = False,
    estimates: Annotated[
        str, typer.Option(help="Write estimates of unmeasured cells: none, wedges or all.")
    ] = "wedges",
    strikes: Annotated[
        bool, typer.Option("--strikes", help="Replace the bag's count of heavy and thin pitches.")
    ] = False,
    yes: Yes = False,
    as_json: OneObject = False,
) -> None:
    """Fit the bag to the balls: means, spreads and intervals, mishits told apart: caddie bag fit session.csv."""
    if estimates not in ("none", "wedges", "all"):
        raise CaddieError(f"--estimates {estimates}: say none, wedges or all")
    _fit_and_save(_own(bag), tuple(sessions or ()), add, estimates, strikes, yes, as_json, {})


def _fit_and_save(
    path: Path,
    files: tuple[Path, ...],
    add: bool,
    estimates: Any,
    strikes: bool,
    yes: bool,
    as_json: bool,
    result: dict[str, Any],
) -> None:
    from caddie.bag.file import Seen, load_bag, save_bag
    from caddie.range.sessions import fit_sessions, kept_sessions

    seen = Seen.of(path)
    owned = load_bag(path)
    files = files or kept_sessions(path)
    if not files:
        raise CaddieError(
            f"no session is kept beside {path}: run 'caddie practice range' or 'caddie bag import FILE'"
        )
    after, fits = fit_sessions(files, owned, add, estimates, strikes)
    for fitted in () if as_json else fits:
        print_fit(fitted, owned)
    changed = after != owned
    written = changed and agreed(f"Write these carries to {path} (the present file stays as .previous)?", yes)
    if written:
        save_bag(after, path, seen)
    result |= {
        "sessions": [str(file) for file in files],
        "fit": next((each.model_dump(mode="json") for each in fits if not each.sand), None),
        "splash_fit": next((each.model_dump(mode="json") for each in fits if each.sand), None),
        "bag_written": str(path) if written else None,
    }
    _done(result, as_json, path, written)


def _readable(path: Path | None) -> Path:
    """The bag to read: the one named, the player's own, or the demo bag."""
    from caddie.bag.file import DEMO_BAG, kept_bag
    from caddie.places import shipped

    if found := path or kept_bag():
        return found
    tell_demo(None)
    return shipped(DEMO_BAG)


def _own(path: Path | None) -> Path:
    """The bag to write."""
    from caddie.bag.file import own_bag

    path = path or own_bag()
    if not path.exists():
        raise CaddieError(f"{path}: no such bag file; make one with 'caddie bag new' or name one with --bag")
    return path


def _refuse_what_is_no_bag(path: Path, yes: bool) -> None:
    """Ask before the conversation whether a file that is no bag may go, and refuse the tool's other files."""
    from caddie.bag.file import bag_problems, own_bag, previous

    refuse_kept(path, but=own_bag())
    if not path.exists() or not bag_problems(path):
        return
    beside = previous(path)
    if beside.exists() and bag_problems(beside):
        raise CaddieError(
            f"{path}: is no sound bag, and neither is {beside}, which would be lost; move it away"
        )
    if not agreed(f"{path} is no sound bag: replace it (it stays as {beside.name})?", yes):
        raise CaddieError(f"{path}: stays as it is, nothing is written")


def _conditions(
    temperature: float | None, altitude: float | None, usual: "Conditions | None"
) -> "Conditions | None":
    from caddie.bag.models import Conditions

    if temperature is None and altitude is None:
        return None
    usual = usual or Conditions()
    try:
        return Conditions(
            temperature_c=usual.temperature_c if temperature is None else temperature,
            altitude_m=usual.altitude_m if altitude is None else altitude,
        )
    except ValueError:
        raise CaddieError("--temperature must be -20 to 50 and --altitude -400 to 4500") from None


def _columns(pairs: list[str]) -> Any:
    from caddie.range.columns import Column

    named = _pairs(pairs, "--column")
    known = {column.value: column for column in Column}
    for name in named:
        if name not in known:
            raise CaddieError(f"--column {name}: is none of {', '.join(known)}")
    return {known[name]: heading for name, heading in named.items()}


def _pairs(texts: list[str], option: str) -> dict[str, str]:
    pairs = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not name.strip() or not value.strip():
            raise CaddieError(f"{option} {text}: write it as NAME=VALUE")
        pairs[name.strip().lower()] = value.strip()
    return pairs


def _kept_told(kept: "Kept") -> None:
    typer.echo(kept.told)
    if kept.result["bag_started"]:
        offer_demo_shots()


def _done(result: dict[str, Any], as_json: bool, path: Path, written: bool) -> None:
    if as_json:
        _print_json(result)
    else:
        typer.echo(f"Written: {path}" if written else "Nothing written.")
        if written:
            offer_demo_shots()


def _print_json(result: dict[str, Any]) -> None:
    typer.echo(json.dumps(result, ensure_ascii=False))
