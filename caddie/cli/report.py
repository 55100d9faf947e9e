"""``caddie report``: the page for a player or a teacher."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from caddie.cli.log_reading import log_to_read
from caddie.cli.options import AsJson, BagFile, Yes, bag_at
from caddie.cli.output import output

if TYPE_CHECKING:
    from caddie.bag import Bag
    from caddie.report.page import PlayerShots


def report(
    out: Annotated[Path, typer.Option(help="File to write.")] = Path("caddie-report.html"),
    log_file: Annotated[
        list[Path] | None,
        typer.Option("--log", help="Log file or exported .jsonl; once for each player to lay side by side."),
    ] = None,
    bag: BagFile = None,
    player: Annotated[
        list[str] | None, typer.Option("--player", help="Only this player; may repeat.")
    ] = None,
    demo: Annotated[bool, typer.Option("--demo", help="An invented player's season.")] = False,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Write the report as one page: caddie report --out report.html."""
    import json
    from datetime import datetime

    from caddie.errors import CaddieError
    from caddie.report.page import report_page

    owned = bag_at(bag)
    parts = _demo(owned) if demo else _players(log_file or [None], owned)
    if player:
        parts = [part for part in parts if part.name in player]
    if not parts:
        raise CaddieError("no shots to report on: play some first, or look at --demo")
    names = ", ".join(part.name for part in parts)
    file = output(out, f"the report on {names}", yes, bag, log_file or [])
    file.write(report_page(parts, datetime.now(), owned.player.distances_in))
    if as_json:
        told = {"out": str(out), "written": True, "players": [part.name for part in parts]}
        typer.echo(json.dumps(told, ensure_ascii=False))
    else:
        typer.echo(f"{out}: the report on {names}.")


def _players(files: "list[Path] | list[None] | list[Path | None]", owned: "Bag") -> "list[PlayerShots]":
    from caddie.log.export import read_lines
    from caddie.log.table import read_table, table_of
    from caddie.report.page import PlayerShots

    parts = []
    for file in files:
        if file is not None and file.suffix == ".jsonl":
            table = table_of(read_lines(file))
        else:
            with log_to_read(file) as log:
                table = read_table(log)
        for name in dict.fromkeys(table.player):
            own = owned if name == owned.player.name else None
            parts.append(PlayerShots(str(name), table.where(table.player == name), own))
    return parts


def _demo(owned: "Bag") -> "list[PlayerShots]":
    from caddie.places import shipped

    return _players([shipped("demo_bag/season.jsonl")], owned)
