"""One page for the bag's side pocket: the wedge matrix, the trusted shots, what wind and slope do.

It is made before a round, where Rule 4.3a(3) of the Rules of Golf (January 2023) allows it, and says when.
Wind, height and temperature are worked out with the flight model from the player's own carries; the notes
about sloping stances are common practice, no source.
"""

from collections.abc import Sequence
from datetime import datetime
from html import escape

import numpy as np

from caddie.bag.models import Bag, Carry, Club, ClubKind, Conditions, Family, Handed
from caddie.errors import CaddieError
from caddie.range.shots import carry_in
from caddie.situation import Frozen
from caddie.units import YARD_M, SpeedUnit, Unit, from_metres, to_metres_per_second

_RULE = (
    "Rule 4.3a(3) allows information gathered before the round, this card included. "
    "The committee's local rules decide."
)
_FAMILY_NAMES = {
    Family.PUTT: "putt from off the green",
    Family.CHIP: "chip",
    Family.BUMP_AND_RUN: "bump-and-run",
    Family.PITCH: "pitch",
    Family.LOB: "lob",
    Family.SPLASH: "bunker splash",
}
_TRUSTED = 0.7
_WEATHER_CARRIES_M = (40.0, 65.0, 90.0)
_HEIGHT_M = 5 * YARD_M


class CardRow(Frozen):
    """One club's row of the matrix; a cell is None where nothing is known."""

    club: str
    loft_deg: float
    sand: bool = False
    """Splashes out of a bunker."""
    cells: tuple[str | None, ...]

    @property
    def name(self) -> str:
        """The club as printed before its loft."""
        return f"{self.club} sand" if self.sand else self.club


class Card(Frozen):
    """What stands on the card, ready to be set in any form."""

    player: str
    made: datetime
    unit: str
    swings: tuple[str, ...]
    rows: tuple[CardRow, ...]
    legend: str
    trusted: tuple[str, ...]
    weather_heads: tuple[str, ...]
    """The reference shots that wind and height are worked out for."""
    weather: tuple[tuple[str, tuple[str, ...]], ...]
    """What changes, and by how much for each reference shot."""
    stances: tuple[str, ...]
    rule: str

    @property
    def made_text(self) -> str:
        """When it was made, as printed."""
        return f"Made before the round on {self.made:%d %B %Y at %H:%M}."


def card_of(bag: Bag, made: datetime, today: Conditions | None = None) -> Card:
    """The card of a bag, its carries brought to today's air (the bag's ``today``, else as measured).

    Raises:
        CaddieError: if the bag has no carry to print.
    """
    air_today = today or bag.today or bag.measured_in
    unit = bag.player.distances_in
    clubs = _clubs(bag)
    if not clubs:
        raise CaddieError("the bag has no carry to print: run 'caddie bag new' or 'caddie bag import' first")
    swings = sorted(bag.swings, key=lambda swing: swing.share)
    carried, splashed = (
        {club.id: _carries(club, bag.measured_in, air_today, sand) for club in clubs}
        for sand in (False, True)
    )
    rows = tuple(
        CardRow(
            club=club.id,
            loft_deg=club.loft_deg,
            sand=sand,
            cells=tuple(_cell(club.cells(sand), swing.name, moved[club.id], unit) for swing in swings),
        )
        for sand, moved in ((False, carried), (True, splashed))
        for club in clubs
        if club.cells(sand)
    )
    sandy = " Sand rows: splashes out of a bunker." if any(splashed.values()) else ""
    heads, weather = _weather(clubs, carried, air_today, unit)
    return Card(
        player=bag.player.name,
        made=made,
        unit=unit.value,
        swings=tuple(swing.name for swing in swings),
        rows=rows,
        legend=(
            f"Carry in {unit.value} ± the spread of two balls in three, at "
            f"{air_today.temperature_c:.0f} °C and {air_today.altitude_m:.0f} m; ~ is an estimate.{sandy}"
        ),
        trusted=_trusted(bag),
        weather_heads=heads,
        weather=weather,
        stances=_stances(bag.player.handed),
        rule=_RULE,
    )


def card_html(card: Card) -> str:
    """The card as one HTML page that needs nothing else: black on white, large, printable on one sheet."""
    head = "".join(f'<th scope="col">{escape(swing)}</th>' for swing in card.swings)
    rows = "".join(
        f'<tr><th scope="row">{escape(row.name)} <small>{row.loft_deg:g}°</small></th>'
        + "".join(f"<td>{escape(cell or '')}</td>" for cell in row.cells)
        + "</tr>"
        for row in card.rows
    )
    weather_head = "".join(f'<th scope="col">{escape(each)}</th>' for each in card.weather_heads)
    weather = "".join(
        f'<tr><th scope="row">{escape(name)}</th>'
        + "".join(f"<td>{escape(cell)}</td>" for cell in cells)
        + "</tr>"
        for name, cells in card.weather
    )
    trusted = "".join(f"<li>{escape(line)}</li>" for line in card.trusted)
    stances = "".join(f"<li>{escape(line)}</li>" for line in card.stances)
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Carry card of {escape(card.player)}</title>
<style>
@page {{ size: A5; margin: 9mm }}
body {{ font: 16px/1.3 Helvetica, Arial, sans-serif; color: #000; background: #fff;
  max-width: 34rem; margin: 0 auto; padding: .6rem }}
h1 {{ font-size: 1.3rem; margin: 0 }}
h2 {{ font-size: 1rem; margin: .8rem 0 .2rem; border-bottom: 3px solid #000 }}
table {{ border-collapse: collapse; width: 100% }}
th, td {{ border: 1px solid #000; padding: .15rem .3rem; text-align: center }}
th[scope=row] {{ text-align: left }}
.matrix td {{ font-size: 1.15rem; font-weight: 700 }}
ul {{ margin: .2rem 0; padding-left: 1.1rem }}
small, .note {{ font-size: .8rem; font-weight: 400 }}
@media print {{ body {{ font-size: 11px; padding: 0 }} }}
</style>
</head>
<body>
<h1>{escape(card.player)}: carries</h1>
<p class="note">{escape(card.made_text)} {escape(card.rule)}</p>
<table class="matrix"><tr><th scope="col">club</th>{head}</tr>{rows}</table>
<p class="note">{escape(card.legend)}</p>
<h2>Shots to trust</h2>
<ul>{trusted}</ul>
<h2>Wind and height</h2>
<table><tr><th scope="col">change of carry, {escape(card.unit)}</th>{weather_head}</tr>{weather}</table>
<h2>Sloping stances</h2>
<ul>{stances}</ul>
</body>
</html>
"""


def _clubs(bag: Bag) -> list[Club]:
    clubs = [club for club in bag.clubs if club.carries and club.kind is not ClubKind.PUTTER]
    return sorted(clubs, key=lambda club: -club.loft_deg)


def _carries(club: Club, measured_in: Conditions, today: Conditions, sand: bool) -> dict[str, float]:
    cells = club.cells(sand)
    moved = carry_in([cell.carry_m for cell in cells], club.loft_deg, measured_in, today, splash=sand)
    return {cell.swing: float(carry) for cell, carry in zip(cells, moved, strict=True)}


def _cell(cells: tuple[Carry, ...], swing: str, carried: dict[str, float], unit: Unit) -> str | None:
    cell = next((each for each in cells if each.swing == swing), None)
    if cell is None:
        return None
    carry, sd = from_metres(carried[swing], unit), from_metres(cell.sd_m, unit)
    return f"{carry:.0f} ± {sd:.0f}" if cell.measured else f"~{carry:.0f}"


def _trusted(bag: Bag) -> tuple[str, ...]:
    ordered = sorted(bag.trust.items(), key=lambda item: -item[1])
    lines = [f"{_FAMILY_NAMES[family]}: {share:.0%}" for family, share in ordered if share >= _TRUSTED]
    doubtful = [_FAMILY_NAMES[family] for family, share in ordered if share < 0.5]
    if doubtful:
        lines.append(f"only when nothing else does: {', '.join(doubtful)}")
    return tuple(lines) or ("none noted: write [trust] into the bag",)


def _weather(
    clubs: Sequence[Club], carried: dict[str, dict[str, float]], today: Conditions, unit: Unit
) -> tuple[tuple[str, ...], tuple[tuple[str, tuple[str, ...]], ...]]:
    """What wind and height do to a short, a middle and a long wedge shot."""
    from caddie.ball import air, fly, launch_for, speed_for_carry

    wedges = [club for club in clubs if club.kind is ClubKind.WEDGE] or list(clubs)
    shots = sorted(
        (carry, club.id, swing, club.loft_deg) for club in wedges for swing, carry in carried[club.id].items()
    )
    near = {min(shots, key=lambda shot: abs(shot[0] - wanted)) for wanted in _WEATHER_CARRIES_M}
    picked = sorted(near)
    carry = np.array([shot[0] for shot in picked])
    loft_rad = np.radians([shot[3] for shot in picked])
    still = air(today.temperature_c, today.altitude_m)
    launch = launch_for(loft_rad, speed_for_carry(carry, loft_rad, still))

    def change(along_mph: float = 0.0, across_mph: float = 0.0, height_m: float = 0.0) -> tuple[str, ...]:
        along, across = (to_metres_per_second(mph, SpeedUnit.MPH) for mph in (along_mph, across_mph))
        blown = air(today.temperature_c, today.altitude_m, wind_along_m_s=along, wind_across_m_s=across)
        landing = fly(launch, blown, landing_height_m=height_m)
        moved = np.abs(landing.y_m) if across else landing.x_m - carry
        return tuple(
            "too low" if height_m > apex else _change(from_metres(float(each), unit), signed=not across)
            for each, apex in zip(moved, landing.apex_m, strict=True)
        )

    height = f"{from_metres(_HEIGHT_M, unit):.0f} {unit.value}"
    rows = (
        ("10 mph ahead", change(along_mph=-10.0)),
        ("10 mph behind", change(along_mph=10.0)),
        ("10 mph across: sideways", change(across_mph=10.0)),
        (f"green {height} above", change(height_m=_HEIGHT_M)),
        (f"green {height} below", change(height_m=-_HEIGHT_M)),
    )
    return tuple(f"{club} {swing}" for _, club, swing, _ in picked), rows


def _change(count: float, signed: bool) -> str:
    whole = round(count)
    return f"{whole:+d}" if signed and whole else f"{whole:d}"


def _stances(handed: Handed) -> tuple[str, ...]:
    pull, push = ("left", "right") if handed is Handed.RIGHT else ("right", "left")
    return (
        f"uphill: flies higher and shorter, tends {pull}; more club",
        f"downhill: flies lower and runs, tends {push}; less club, land it short",
        f"ball above the feet: tends {pull}; grip down",
        f"ball below the feet: tends {push}; stay down through it",
    )
