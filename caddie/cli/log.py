"""``caddie log``: the shots played, and what they teach the bag."""

import json
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli.consent import agreed
from caddie.cli.demo import offer_demo_shots
from caddie.cli.log_reading import log_to_read
from caddie.cli.options import AsJson, BagFile, Yes, bag_at
from caddie.cli.output import output
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.log.store import Log
    from caddie.units import Unit

app = typer.Typer(name="log", help="The shots played, and what they teach the bag.", no_args_is_help=True)

LogFile = Annotated[
    Path | None, typer.Option("--log", help="Log file; the one in the data directory when left out.")
]
OfPlayer = Annotated[str | None, typer.Option("--player", help="Only this player's shots.")]


def wanted(question: str, yes: bool, as_json: bool = False) -> bool:
    """Whether to go on: told so by an option, or asked; a program that reads JSON only gets to look."""
    return yes if as_json else agreed(question, yes)


@app.command()
def show(
    last: Annotated[int, typer.Option(min=1, help="How many, newest last.")] = 20,
    player: OfPlayer = None,
    log_file: LogFile = None,
    as_json: AsJson = False,
) -> None:
    """Show the last shots: caddie log show --last 5."""
    from caddie.log.export import line_of

    with log_to_read(log_file) as log:
        entries = log.entries(player, last=last)
        count = log.count(player)
    if as_json:
        shots = [{"id": entry.id, **json.loads(line_of(entry.shot))} for entry in entries]
        typer.echo(json.dumps({"count": count, "shots": shots}, ensure_ascii=False))
        return
    from caddie.log.line import shot_line

    unit = _players_unit()
    for entry in entries:
        typer.echo(shot_line(entry, unit))
    typer.echo(f"{len(entries)} of {count} shots.")


@app.command()
def undo(
    player: OfPlayer = None,
    shot: Annotated[int | None, typer.Option("--shot", min=1, help="The shot with this number.")] = None,
    damaged: Annotated[
        bool, typer.Option("--damaged", help="Everything in the log that cannot be read.")
    ] = False,
    log_file: LogFile = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Take the last shot out again, or another: caddie log undo --shot 12."""
    from caddie.log.store import Log

    if damaged:
        if shot is not None or player is not None:
            raise CaddieError("--damaged takes out all that cannot be read; leave out --shot and --player")
        _mend(log_file, yes, as_json)
        return
    with Log(log_file, read_only=True) as log:
        number, line = _to_take_out(log, player, shot)
    if not as_json:
        typer.echo(line)
    done = wanted("Take this shot out of the log?", yes, as_json)
    if done:
        with Log(log_file) as log:
            done = log.remove(number)
    _told(as_json, {"id": number, "removed": done}, "Taken out." if done else "Left in.")


def _to_take_out(log: "Log", player: str | None, shot: int | None) -> tuple[int, str]:
    """The number of a shot, the last when none is named, and a line that shows it."""
    entries = log.entries(player, last=1 if shot is None else None)
    found = next((entry for entry in reversed(entries) if shot in (None, entry.id)), None)
    if found is not None:
        from caddie.log.line import shot_line

        return found.id, shot_line(found, _players_unit())
    if shot is not None and shot in log.left_out:
        return shot, str(log.left_out[shot])
    raise CaddieError("there is no shot to take out" if shot is None else f"there is no shot {shot}")


def _mend(log_file: Path | None, yes: bool, as_json: bool) -> None:
    from caddie.log.store import Log

    with Log(log_file, read_only=True) as log:
        rows, missing = log.damaged()
    for line in (*map(str, rows), *missing):
        typer.echo(line, err=as_json)
    if not rows and not missing:
        _told(as_json, {"removed": 0, "done": False}, "Everything in the log can be read.")
        return
    many = f"{len(rows)} row{'' if len(rows) == 1 else 's'}"
    done = wanted(f"Take {many} out of the log, and count what is there as all there is?", yes, as_json)
    if done:
        with Log(log_file) as log:
            log.mend(rows)
    found = {"removed": len(rows) if done else 0, "done": done}
    _told(as_json, found, f"{many} taken out." if done else "Left in.")


@app.command()
def export(
    form: Annotated[str, typer.Option("--form", help="csv, json, or jsonl: one shot a line.")] = "csv",
    out: Annotated[Path | None, typer.Option(help="File to write; standard output when left out.")] = None,
    player: OfPlayer = None,
    log_file: LogFile = None,
    yes: Yes = False,
) -> None:
    """Write the shots for another program: caddie log export --form csv --out shots.csv."""
    from caddie.log.export import Form, exported

    if form not in list(Form):
        raise CaddieError(f"--form {form}: choose {', '.join(Form)}")
    with log_to_read(log_file) as log:
        shots = log.shots(player)
        pieces, count = exported(shots, Form(form)), len(shots)
        if out is None:
            for piece in pieces:
                typer.echo(piece, nl=False)
            return
        file = output(out, f"{count} shots", yes, read=[log_file])
        file.write("".join(pieces))
    typer.echo(f"{out}: {count} shots.")


@app.command()
def teach(bag: BagFile = None, log_file: LogFile = None, yes: Yes = False, as_json: AsJson = False) -> None:
    """Show what the shots since the last lesson teach the bag, then ask: caddie log teach."""
    from caddie.bag.file import Seen, own_bag, save_bag
    from caddie.log.lessons import note_lesson, taught
    from caddie.log.store import Log
    from caddie.log.table import read_table
    from caddie.log.teach import teach as lesson_from

    path = bag or own_bag()
    if bag is None and not path.exists():
        raise CaddieError(
            "you have no bag of your own to teach: make one with 'caddie bag new', or name one with --bag"
        )
    seen = Seen.of(path)
    owned = bag_at(path)
    with log_to_read(log_file) as log:
        known = taught(log, owned)
        table = read_table(log, owned.player.name, after_id=known.up_to)
    lesson = lesson_from(owned, table, known.changes)
    told: dict[str, Any] = {
        "player": owned.player.name,
        "bag": str(path),
        "shots": len(table),
        "changes": [change.model_dump(mode="json") for change in lesson.changes],
        "written": False,
    }
    if not lesson.changes:
        _told(as_json, told, f"{owned.player.name}: no new shots that teach anything.")
        if not len(table) and not as_json:
            offer_demo_shots(log_file)
        return
    if not as_json:
        typer.echo(f"{len(table)} shots of {owned.player.name} since the last lesson:")
        for change in lesson.changes:
            typer.echo(f"  {change.sentence}")
    if wanted(f"Write this to {path}?", yes, as_json):
        seen.refuse_changed()
        with Log(log_file) as log:
            note_lesson(log, owned, int(table.id.max()), lesson.changes)
        save_bag(lesson.bag, path, seen)
        told["written"] = True
    _told(as_json, told, f"{path}: taught." if told["written"] else "Nothing written.")


@app.command(name="take-over")
def take_over(
    giver: Annotated[
        str | None,
        typer.Option("--from", help="The name the shots are logged under; the demo bag's when left out."),
    ] = None,
    bag: BagFile = None,
    log_file: LogFile = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Make shots logged under another name yours, such as those of the demo bag: caddie log take-over.

    Their numbers and times, what was said and what was advised stay as they are.
    """
    from caddie.bag.file import kept_bag
    from caddie.cli.demo import demo_player
    from caddie.log.store import Log
    from caddie.log.take_over import take_over as taken_over

    if bag is None and kept_bag() is None:
        raise CaddieError(
            "you have no bag of your own whose player could take shots over: 'caddie bag new' makes one"
        )
    giver, taker = giver or demo_player(), bag_at(bag).player.name
    with Log(log_file, read_only=True) as log:
        path, count = log.path, log.count(giver)
    if not count or giver == taker:
        told = {"from": giver, "to": taker, "shots": 0, "done": False}
        _told(as_json, told, f"{path}: no shots of {giver} for {taker} to take over.")
        return
    done = wanted(f"Make {count} shots of {giver} in {path} those of {taker}?", yes, as_json)
    if done:
        with Log(log_file) as log:
            count = taken_over(log, giver, taker)
    told = {"from": giver, "to": taker, "shots": count if done else 0, "done": done}
    _told(as_json, told, f"{count} shots are {taker}'s now." if done else "Left as they are.")


@app.command()
def forget(
    player: OfPlayer = None,
    before: Annotated[
        datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Only what is older, such as 2026-01-31.")
    ] = None,
    everything: Annotated[bool, typer.Option("--all", help="Everything in the log.")] = False,
    log_file: LogFile = None,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Erase shots for good, nothing of them stays in the file: caddie log forget --before 2026-01-01."""
    from caddie.log.store import Log

    if not (player or before or everything):
        raise CaddieError("say what to forget: --player NAME, --before DATE, or --all")
    what = f"shots{f' of {player}' if player else ''}{f' before {before:%Y-%m-%d}' if before else ''}"
    with Log(log_file, read_only=True) as log:
        path = log.path
    done = wanted(f"Erase all {what} in {path}, with lessons and games, for good?", yes, as_json)
    gone = 0
    if done:
        with Log(log_file) as log:
            gone = log.forget(player, before.astimezone() if before else None)
    _told(as_json, {"forgotten": gone, "done": done}, f"{gone} shots erased." if done else "Nothing erased.")


def _players_unit() -> "Unit":
    """The unit of the player's own bag; yards when it cannot be read, which no list of shots has to wait for."""
    from caddie.units import Unit

    with suppress(CaddieError):
        return bag_at(None).player.distances_in
    return Unit.YARDS


def _told(as_json: bool, found: dict[str, Any], line: str) -> None:
    typer.echo(json.dumps(found, ensure_ascii=False) if as_json else line)
