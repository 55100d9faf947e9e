"""``caddie card``: one page of carries to print or keep on a phone."""

import json
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from caddie.cli.options import Yes, bag_at
from caddie.cli.output import output
from caddie.errors import CaddieError


def card(
    out: Annotated[Path, typer.Argument(help="File to write: .html or .pdf by its ending.")],
    bag: Annotated[Path | None, typer.Option("--bag", help="Bag file; your own when left out.")] = None,
    temperature: Annotated[
        float | None, typer.Option(help="Air temperature of the round, degrees Celsius.")
    ] = None,
    altitude: Annotated[
        float | None, typer.Option(help="Height of the course above the sea, metres.")
    ] = None,
    yes: Yes = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Make the carry card before a round: the wedge matrix, trusted shots, wind and slope.

    Example: caddie card card.pdf.

    Rule 4.3a(3) allows it in competition when it is made before the round; local rules decide.
    """
    from caddie.bag.models import Conditions
    from caddie.range.card import card_html, card_of

    kind = out.suffix.lower()
    if kind not in (".html", ".htm", ".pdf"):
        raise CaddieError(f"{out}: end the name in .html or .pdf")
    owned = bag_at(bag)
    usual = owned.today or owned.measured_in
    try:
        today = Conditions(
            temperature_c=usual.temperature_c if temperature is None else temperature,
            altitude_m=usual.altitude_m if altitude is None else altitude,
        )
    except ValueError:
        raise CaddieError("--temperature must be -20 to 50 and --altitude -400 to 4500") from None
    made = card_of(owned, datetime.now().astimezone(), today)
    if not as_json:
        typer.echo(
            f"{made.player}: {len({row.club for row in made.rows})} clubs, {len(made.swings)} swing lengths."
        )
        typer.echo(f"{made.made_text} {made.rule}")
    file = output(out, "the card", yes, bag)
    if kind == ".pdf":
        from caddie.range.card_pdf import card_pdf

        file.write(card_pdf(made))
    else:
        file.write(card_html(made))
    if as_json:
        done = {"written": str(out), **made.model_dump(mode="json")}
        typer.echo(json.dumps(done, ensure_ascii=False))
    else:
        typer.echo(f"Written: {out}")
