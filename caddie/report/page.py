"""The report: one self-contained page for a player, or for a teacher with several players side by side."""

from collections.abc import Sequence
from datetime import datetime
from html import escape
from typing import NamedTuple

import numpy as np

from caddie.bag.models import Bag
from caddie.log.table import Table
from caddie.practice.next import Gain, most_to_gain
from caddie.report.charts import Bars, Row, dots, nine_places, spans, stacked, trend
from caddie.report.figures import Figures, Leave, Mean, Rate, figures_of
from caddie.report.sentences import (
    ends_words,
    leave_unit,
    leave_words,
    mean_words,
    name_of,
    nerve_words,
    period,
    rate_note,
    rate_words,
    reads_words,
    short_length,
    signed,
    trust_words,
    within,
    work_on,
)
from caddie.report.style import HOW, STYLE
from caddie.units import Unit, to_metres

NOTHING_FROM_ELSEWHERE = "default-src 'none'; style-src 'unsafe-inline'"
TYPICAL_HANDICAP = 18.0
"""Taken for a player whose bag is not given."""
SHARES = tuple((share / 100, f"{share}%") for share in (0, 25, 50, 75, 100))


class PlayerShots(NamedTuple):
    """A player's part of the report."""

    name: str
    table: Table
    bag: Bag | None = None


class _Part(NamedTuple):
    figures: Figures
    gains: list[Gain]
    work_on: list[str]
    within: str
    """Half of the shots from off the green end within this."""


def report_page(players: Sequence[PlayerShots], made: datetime, unit: Unit | None = None) -> str:
    """The page as HTML text, with nothing to load from anywhere.

    ``unit`` is that of the first player with a bag when not given, else yards.
    """
    own = next((player.bag.player.distances_in for player in players if player.bag), Unit.YARDS)
    parts = [_part(player, unit or own) for player in players]
    title = "Short game: " + ", ".join(part.figures.player for part in parts)
    compared = _compared(parts) if len(parts) > 1 else ""
    body = "".join(_player(part, alone=len(parts) == 1) for part in parts)
    return (
        "<!DOCTYPE html>\n<html lang='en'><head><meta charset='utf-8'>"
        f'<meta http-equiv="Content-Security-Policy" content="{NOTHING_FROM_ELSEWHERE}">'
        "<meta name='viewport' content='width=device-width, initial-scale=1'>"
        f"<title>{escape(title)}</title><style>{STYLE}</style></head><body>"
        f"<header><p class='made'>Caddie report, {made.day} {made:%B %Y}</p><h1>{escape(title)}</h1></header>"
        f"<main>{compared}{body}</main><footer>{HOW}</footer></body></html>\n"
    )


def _part(player: PlayerShots, unit: Unit) -> _Part:
    figures = figures_of(player.table, player.name, unit, player.bag)
    handicap = player.bag.player.handicap if player.bag else TYPICAL_HANDICAP
    gains = most_to_gain(player.table, handicap, unit)
    off = player.table.where(~player.table.putt)
    return _Part(figures, gains, work_on(player.table, gains), within(off.distance_m, unit))


def _player(part: _Part, alone: bool) -> str:
    figures = part.figures
    head = "" if alone else f"<h2>{escape(figures.player)}</h2>"
    if not figures.shots:
        return f"<section class='player'>{head}<p>No shots from a round in this log yet.</p></section>"
    return (
        f"<section class='player'>{head}<p class='period'>{escape(period(figures))}</p>"
        f"{_glance(part)}{_work_on(part.work_on)}"
        f"<div class='charts'>{''.join(_charts(figures))}</div>"
        f"{_reads(figures)}{_trust(figures)}{_nerve(figures)}</section>"
    )


def _glance(part: _Part) -> str:
    figures = part.figures
    low, high = figures.up_and_down.interval
    known = figures.up_and_down.shots
    tiles = (
        (
            f"{figures.up_and_down.share:.0%}" if known else "–",
            "up and down",
            f"{rate_note(figures.up_and_down)}, likely {low:.0%} to {high:.0%}{_untold(figures)}"
            if known
            else "not known yet",
        ),
        (part.within, "half end within", "from off the green"),
        (
            signed(figures.gained.mean) if figures.gained.shots else "–",
            "strokes a shot",
            "against the published table of tour players",
        ),
        (
            f"{figures.holed}",
            "holed",
            f"of {figures.off_green} from off the green",
        ),
    )
    return (
        "<ul class='glance'>"
        + "".join(
            f"<li><b>{escape(figure)}</b><span>{escape(what)}</span><small>{escape(note)}</small></li>"
            for figure, what, note in tiles
        )
        + "</ul>"
    )


def _untold(figures: Figures) -> str:
    count = figures.up_and_down_unknown
    return f"; {count} more without word of the end" if count else ""


def _work_on(things: list[str]) -> str:
    if not things:
        return ""
    items = "".join(f"<li>{escape(thing)}</li>" for thing in things)
    return f"<section class='work'><h3>Three things to work on</h3><ol>{items}</ol></section>"


def _charts(figures: Figures) -> list[str]:
    unit = figures.unit
    bad = [row for row in figures.strikes if row.shots]
    charts = [
        _rates("Up and down, by distance", figures.up_and_down_by_band),
        _rates("Up and down, by lie", figures.up_and_down_by_ground),
        _leaves("Distance left, by distance", figures.leaves_by_band, unit),
        _leaves("Distance left, by lie", figures.leaves_by_ground, unit),
        _ends(figures),
        _figure(
            "How it was struck",
            "Share of all shots of the kind; the rest were clean or nothing was said.",
            stacked(
                "How shots were struck, by kind of shot",
                "; ".join(
                    f"{name_of(row.name)}: {row.bad[0]} heavy, {row.bad[1]} thin, {row.bad[2]} topped, "
                    f"{row.bad[3]} shanked of {row.shots}"
                    for row in bad
                ),
                [
                    Bars(
                        name_of(row.name),
                        tuple(count / row.shots for count in row.bad),
                        f"{sum(row.bad)} of {row.shots}",
                    )
                    for row in bad
                ],
                ("heavy", "thin", "topped", "shank"),
            ),
        )
        if bad
        else "",
        _gained("Strokes against the published table", figures.gained_by_kind),
    ]
    if figures.trend:
        charts.append(_trend(figures))
    return charts


def _figure(heading: str, caption: str, picture: str) -> str:
    head = f"<figcaption><h3>{escape(heading)}</h3><p>{escape(caption)}</p></figcaption>"
    return f"<figure>{head}{picture}</figure>"


def _rates(heading: str, rates: list[Rate]) -> str:
    rates = [rate for rate in rates if rate.shots]
    rows = [
        Row(rate.name, rate.share, *rate.interval, f"{rate.share:.0%}  ({rate_note(rate)})") for rate in rates
    ]
    words = "; ".join(map(rate_words, rates))
    return (
        _figure(heading, "Dot: share. Bar: 95% Wilson interval.", dots(heading, words, rows, SHARES))
        if rows
        else ""
    )


def _leaves(heading: str, leaves: list[Leave], unit: Unit) -> str:
    leaves = [leave for leave in leaves if leave.shots]
    if not leaves:
        return ""
    step = 3.0 if unit is Unit.METRES else 10.0
    most = max(leave.three_quarters_m for leave in leaves)
    count = max(int(np.ceil(most / to_metres(step, leave_unit(unit)))), 1)
    stride = 1 if count <= 6 else 2
    name = "m" if unit is Unit.METRES else "ft"
    ticks = [
        (to_metres(step * number, leave_unit(unit)), f"{step * number:g} {name}")
        for number in range(0, count + stride, stride)
    ]
    rows = [
        Row(
            leave.name,
            leave.median_m,
            leave.quarter_m,
            leave.three_quarters_m,
            f"{short_length(leave.median_m, unit)}  ({leave.shots})",
        )
        for leave in leaves
    ]
    words = "; ".join(leave_words(leave, unit) for leave in leaves)
    return _figure(
        heading,
        "Mark: half end nearer. Bar: the middle half of the shots.",
        spans(heading, words, rows, ticks),
    )


def _ends(figures: Figures) -> str:
    by_ground = [(name, grid) for name, grid in figures.ends_by_ground if sum(map(sum, grid))]
    if not by_ground:
        return ""
    every = [("all lies", figures.ends), *by_ground]
    pictures = "".join(
        f"<div><h4>{escape(name)} ({sum(map(sum, grid))})</h4>"
        f"{nine_places(f'Where balls ended, {name}', ends_words(grid), grid)}</div>"
        for name, grid in every
    )
    caption = f"{ends_words(figures.ends, figures.holed)} As the player looks at the flag."
    return _figure("Where balls end", caption, f"<div class='places'>{pictures}</div>")


def _gained(heading: str, means: list[Mean]) -> str:
    means = [mean for mean in means if mean.shots >= 2]
    if not means:
        return ""
    rows = [
        Row(mean.name, mean.mean, *mean.interval, f"{signed(mean.mean)}  ({mean.shots})") for mean in means
    ]
    low = min(-0.5, np.floor(min(mean.mean for mean in means) * 2) / 2)
    high = max(0.25, np.ceil(max(mean.mean for mean in means) * 4) / 4)
    ticks = [(value, signed(value)) for value in np.arange(low, high + 0.01, 0.25).tolist()]
    caption = "Per shot; left of the line costs strokes against tour players. Bar: 95% interval of the mean."
    return _figure(heading, caption, dots(heading, "; ".join(map(mean_words, means)), rows, ticks, zero=0.0))


def _trend(figures: Figures) -> str:
    points = [Row(mean.name, mean.mean, *mean.interval, "") for mean in figures.trend]
    most = max(0.5, *(abs(point.value) for point in points))
    end = float(np.ceil(most * 2) / 2)
    ticks = [(value, signed(value)) for value in (-end, -end / 2, 0.0, end / 2, end)]
    words = "; ".join(map(mean_words, figures.trend))
    heading = "Trend"
    caption = (
        "Strokes a shot from off the green against the published table, by round or a few rounds together."
    )
    return _figure(heading, caption, trend("Strokes against the table in time", words, points, ticks))


def _trust(figures: Figures) -> str:
    rows = [
        (
            name_of(row.name),
            f"{row.came_off.share:.0%} ({rate_note(row.came_off)})",
            f"{row.came_off.interval.low:.0%}–{row.came_off.interval.high:.0%}",
            "–" if row.trust is None else f"{row.trust:.0%}",
            trust_words(row),
        )
        for row in sorted(figures.trust, key=lambda row: -row.came_off.share)
    ]
    return _table(
        "Trusted shots",
        ("shot", "came off", "likely", "trust in bag", ""),
        rows,
        "Came off: struck clean, gone through with, out of trouble, within one and a half times the leave "
        "that was advised.",
    )


def _reads(figures: Figures) -> str:
    """What the putts say of break and pace."""
    counts = reads_words(figures.reads)
    if not counts:
        return ""
    found = "".join(f"<p>{escape(sentence)}</p>" for sentence in figures.reads.says)
    return (
        f"<section class='reads'><h3>Reading putts</h3><p class='note'>{escape(counts)}</p>{found}</section>"
    )


def _nerve(figures: Figures) -> str:
    words = "".join(
        f"<p>{escape(nerve_words(nerve))}</p>" for nerve in figures.nerve if nerve.near + nerve.clear
    )
    cues = [
        (row.name.replace("_", " "), f"{row.worked.share:.0%}", rate_note(row.worked), f"{row.weight:.2f}")
        for row in figures.cues
    ]
    if not words and not cues:
        return ""
    table = _table("", ("cue", "worked", "shots", "weight"), cues, "") if cues else ""
    return f"<section class='nerve'><h3>Commitment</h3>{words}{table}</section>"


def _compared(parts: list[_Part]) -> str:
    """The players side by side: one row a figure."""
    first = parts[0].figures
    rows: list[tuple[str, ...]] = [
        ("rounds", *(str(part.figures.rounds) for part in parts)),
        ("shots from off the green", *(str(part.figures.off_green) for part in parts)),
        ("up and down", *(_cell(part.figures.up_and_down) for part in parts)),
    ]
    for number, rate in enumerate(first.up_and_down_by_ground):
        rows.append(
            (f"… from {rate.name}", *(_cell(part.figures.up_and_down_by_ground[number]) for part in parts))
        )
    rows.append(("half end within", *(part.within for part in parts)))
    rows.append(("strokes a shot against the table", *(_strokes(part.figures.gained) for part in parts)))
    rows.append(("heavy or thin", *(_mishits(part.figures) for part in parts)))
    rows.append(
        (
            "work on first",
            *(part.gains[0].kind.name if part.figures.shots and part.gains else "–" for part in parts),
        )
    )
    names = ("", *(part.figures.player for part in parts))
    note = "In brackets: 95% intervals."
    return f"<section class='compared'>{_table('Side by side', names, rows, note)}</section>"


def _cell(rate: Rate) -> str:
    if not rate.shots:
        return "–"
    return f"{rate.share:.0%} ({rate.interval.low:.0%}–{rate.interval.high:.0%})"


def _strokes(mean: Mean) -> str:
    return (
        f"{signed(mean.mean)} ({signed(mean.interval.low)} to {signed(mean.interval.high)})"
        if mean.shots > 1
        else "–"
    )


def _mishits(figures: Figures) -> str:
    shots = sum(row.shots for row in figures.strikes)
    return f"{sum(sum(row.bad[:2]) for row in figures.strikes) / shots:.0%}" if shots else "–"


def _table(heading: str, head: Sequence[str], rows: Sequence[Sequence[str]], note: str) -> str:
    if not rows:
        return ""
    title = f"<h3>{escape(heading)}</h3>" if heading else ""
    top = "".join(f"<th scope='col'>{escape(name)}</th>" for name in head)
    cells = ("".join(f"<td>{escape(cell)}</td>" for cell in row[1:]) for row in rows)
    lines = "".join(
        f"<tr><th scope='row'>{escape(row[0])}</th>{rest}</tr>" for row, rest in zip(rows, cells, strict=True)
    )
    said = f"<p class='note'>{escape(note)}</p>" if note else ""
    return (
        f"<section class='table'>{title}{said}<table><thead><tr>{top}</tr></thead>"
        f"<tbody>{lines}</tbody></table></section>"
    )
