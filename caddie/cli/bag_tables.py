"""What ``caddie bag`` prints for people: the wedge matrix, a table as understood, a fit."""

from typing import TYPE_CHECKING

import typer

from caddie.cli.screen import print_whole

if TYPE_CHECKING:
    from caddie.bag.models import Bag
    from caddie.range.csv_import import Imported
    from caddie.range.fit import Fit
    from caddie.range.start_bag import Named

WIDE = 120
"""Columns of a table that is not printed on a terminal."""


def print_imported(read: "Imported") -> None:
    """Print how a table was understood, and its rejected rows."""
    from collections import Counter

    marks = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar", ".": "point"}
    typer.echo(
        f"{read.name}: headings in line {read.heading_line}, columns split by {marks[read.delimiter]}, "
        f"decimal {marks[read.decimal]}"
    )
    for use in read.columns:
        unit = f" in {use.unit} ({use.unit_from})" if use.unit else ""
        typer.echo(f"  {use.column.value}: {use.heading!r}{unit}")
    if read.unused:
        typer.echo(f"  not used: {', '.join(read.unused)}")
    air = read.session.conditions
    typer.echo(
        f"  air: {air.temperature_c:g} °C, {air.altitude_m:g} m"
        if air
        else "  air: not said, taken as the bag's"
    )
    for (club, swing, sand), count in read.counts().items():
        typer.echo(
            f"  {club} {swing}{' out of sand' if sand else ''}: {count} ball{'' if count == 1 else 's'}"
        )
    shown = 10
    for row in read.rejected[:shown]:
        typer.echo(f"  line {row.line} rejected: {row.reason}")
    if len(read.rejected) > shown:
        for reason, count in Counter(row.reason for row in read.rejected[shown:]).most_common(5):
            typer.echo(f"  and {count} more: {reason}")


def print_started(named: "tuple[Named, ...]", handicap: float) -> None:
    """Print the clubs of a first bag, and what of it is an estimate."""
    typer.echo("No bag of your own yet: this table starts it, with the clubs that it names.")
    for each in named:
        known = "" if each.loft_known else " (an estimate: the usual one)"
        typer.echo(f"  {each.club.id}: loft {each.club.loft_deg:g}°{known}")
    typer.echo(f"  putter; handicap taken as {handicap:g}: correct the file where it is wrong.")


def print_table(owned: "Bag") -> None:
    """Print the wedge matrix: carry, spread, interval and balls of every cell."""
    from rich.table import Table

    from caddie.range.gapping import spans
    from caddie.units import from_metres

    unit = owned.player.distances_in
    known = {
        (span.club, span.swing, span.sand): span for sand in (False, True) for span in spans(owned, sand=sand)
    }
    swings = sorted(owned.swings, key=lambda swing: swing.share)
    table = Table(title=f"{owned.player.name}: carry ± spread [interval of the mean] balls, {unit.value}")
    table.add_column("club")
    for swing in swings:
        table.add_column(swing.name, justify="right")
    for sand, club in [(sand, club) for sand in (False, True) for club in owned.clubs if club.cells(sand)]:
        row = [f"{club.id}{' sand' if sand else ''} ({club.loft_deg:g}°)"]
        for swing in swings:
            span = known.get((club.id, swing.name, sand))
            if span is None:
                row.append("")
                continue
            carry, sd = from_metres(span.carry_m, unit), from_metres(span.sd_m, unit)
            if not span.shots:
                row.append(f"~{carry:.0f} ± {sd:.0f}, estimate")
                continue
            interval = ""
            if span.low_m is not None and span.high_m is not None:
                interval = f" [{from_metres(span.low_m, unit):.0f}-{from_metres(span.high_m, unit):.0f}]"
            row.append(f"{carry:.0f} ± {sd:.0f}{interval} {span.shots}")
        table.add_row(*row)
    print_whole(table, WIDE)


def print_fit(fitted: "Fit", owned: "Bag") -> None:
    """Print the fitted cells beside what the bag holds."""
    from rich.table import Table

    from caddie.units import from_metres

    unit = owned.player.distances_in
    held = {(club.id, cell.swing): cell for club in owned.clubs for cell in club.cells(fitted.sand)}
    table = Table(
        title=f"{'Splashes' if fitted.sand else 'Carries'} in {unit.value}, {fitted.confidence:.0%} intervals"
    )
    for heading in ("cell", "carry", "interval", "spread", "clean", "heavy", "thin", "in the bag"):
        table.add_column(heading, justify="left" if heading == "cell" else "right")
    for cell in fitted.cells:
        if not cell.from_sessions:
            continue
        before = held.get((cell.club, cell.swing))
        table.add_row(
            f"{cell.club} {cell.swing}",
            f"{from_metres(cell.carry_m, unit):.1f}",
            f"{from_metres(cell.carry_low_m, unit):.1f} to {from_metres(cell.carry_high_m, unit):.1f}",
            f"{from_metres(cell.sd_m, unit):.1f}",
            str(cell.shots),
            str(cell.heavy),
            str(cell.thin),
            f"{from_metres(before.carry_m, unit):.1f}" if before else "",
        )
    print_whole(table, WIDE)
    typer.echo(f"{fitted.strikes.shots} balls, {fitted.strikes.heavy} heavy and {fitted.strikes.thin} thin.")
