"""Taking in a table of shots: what ``caddie bag import`` reads, asks and keeps."""

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import typer

from caddie.cli.bag_tables import print_imported, print_started
from caddie.cli.consent import agreed, answer_to, ask_one_of
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.bag.models import Bag
    from caddie.range.csv_import import Imported, Wishes
    from caddie.range.start_bag import Named


class Kept(NamedTuple):
    """What became of a table."""

    result: dict[str, Any]
    told: str
    bag_is_there: bool
    """Whether there is a bag now with these balls beside it."""


def keep_table(file: Path, path: Path, wishes: "Wishes", yes: bool, as_json: bool) -> Kept:
    """Show how a table was understood and keep its balls beside the bag at ``path``, started if there is none.

    Raises:
        CaddieError: if it gives no shot, nobody answers, or a place has been taken meanwhile.
    """
    from caddie.bag.file import Seen, load_bag
    from caddie.range.take_in import taken_in

    seen = Seen.of(path)
    named: tuple[Named, ...] = ()
    if seen.digest is None:
        named, owned, read = _started(file, wishes, yes)
    else:
        owned = load_bag(path)
        read = _imported(file, owned, wishes)
    if not as_json:
        if named:
            print_started(named, owned.player.handicap)
        print_imported(read)
    taken = taken_in(read, owned, path, str(file), named)
    place, aside, to_come = taken.place, taken.aside, taken.to_come
    written = False
    if to_come:
        written = agreed(f"Keep {' and '.join(to_come)}?", yes)
    else:
        typer.echo("These balls are kept already; nothing new to write.", err=True)
    if written:
        taken.keep(seen)
    result = {
        **read.model_dump(mode="json", exclude={"session", "headings"}),
        "shots": len(read.session.shots),
        "written": str(place) if written and place else None,
        "rejected_file": str(aside) if written and aside else None,
        "bag_started": _told(named, path) if written and named else None,
    }
    told = "Nothing written."
    if written and named:
        told = f"Kept {place or 'the balls'}; your bag is {path}. Next: caddie bag show"
    elif written:
        told = f"Kept {place or aside}. Next: caddie bag fit"
    return Kept(result, told, written or not to_come)


def _started(file: Path, wishes: "Wishes", yes: bool) -> "tuple[tuple[Named, ...], Bag, Imported]":
    """The clubs of a first bag, that bag without carries, and the table as it reads it."""
    from caddie.range.csv_table import read_text
    from caddie.range.start_bag import bag_for, clubs_in, started_bag, with_lofts
    from caddie.units import Unit

    named = clubs_in(read_text(file), file.name, wishes)
    read = _imported(file, started_bag(named, Unit.YARDS), wishes)
    if not yes:
        named = with_lofts(named, {each.club.id: loft for each in named if (loft := _asked_loft(each))})
    return named, bag_for(named, read), read


def _asked_loft(named: "Named") -> float | None:
    """The loft of a club that the table does not say, or None when it does or the player does not know."""
    from caddie.range.start_bag import LEAST_LOFT_DEG, MOST_LOFT_DEG

    if named.loft_known:
        return None
    club = named.club
    question = f"Loft of your {club.id} in degrees? (Enter: the usual {club.loft_deg:g}, as an estimate)"
    while True:
        answer = answer_to(lambda: str(typer.prompt(question, default="", show_default=False, err=True)))
        if answer is None:
            raise CaddieError("nobody answered, nothing is written; --yes takes the usual lofts")
        said = answer.strip().rstrip("° ")
        if not said:
            return None
        try:
            loft_deg = float(said.replace(",", "."))
        except ValueError:
            loft_deg = 0.0
        if LEAST_LOFT_DEG <= loft_deg <= MOST_LOFT_DEG:
            return loft_deg
        typer.echo(f"{said!r}: say a number from {LEAST_LOFT_DEG:g} to {MOST_LOFT_DEG:g}", err=True)


def _told(named: "tuple[Named, ...]", path: Path) -> dict[str, Any]:
    lofts = [
        {"id": each.club.id, "loft_deg": each.club.loft_deg, "loft_estimated": not each.loft_known}
        for each in named
    ]
    return {"bag": str(path), "clubs": lofts}


def _imported(file: Path, owned: "Bag", wishes: "Wishes") -> "Imported":
    """Read the table, asking for what it leaves open when somebody is there to answer."""
    from caddie.range.csv_import import UnsaidError, import_csv

    while True:
        try:
            return import_csv(file, owned, wishes)
        except UnsaidError as unsaid:
            said = ask_one_of(unsaid.left_open, unsaid.choices)
            if said is None:
                raise
            wishes = type(wishes).model_validate({**dict(wishes), unsaid.wish: said})
