"""A first bag out of a table of shots: its clubs by their names, their carries from the balls.

"PW" with its usual loft, "56°" with the loft in its name, anything with a column of lofts beside it. What the
table does not say of a loft is open, until the player says it or the usual one is taken as an estimate.
"""

import re
from collections.abc import Mapping
from typing import NamedTuple

from caddie.bag.club_names import IRON, LETTERS, LOFT, spelled
from caddie.bag.models import Bag, Club, Player
from caddie.errors import CaddieError
from caddie.printable import cell_text, printable
from caddie.range.columns import Column, match_columns
from caddie.range.csv_import import SUMMARY, Imported, Wishes
from caddie.range.csv_table import read_table
from caddie.range.fit import estimate_carries, fit_carries, with_fit
from caddie.range.new_bag import PUTTER, USUAL_LOFT, told_apart, usual_club
from caddie.range.shots import Session
from caddie.units import Unit

MOST_CLUBS = 30
LEAST_WEDGE_DEG, MOST_LOFT_DEG = 43.0, 72.0
LEAST_LOFT_DEG = 14.0
MOST_NAME = 80
"""Letters of a name that a bag takes."""
_SAME_DEG = 1.0
"""Lofts of one club that differ by more are those of its swings, not the club's."""
_LETTER_OF = {name: letters for letters, name in LETTERS.items()}
_LOFT_IN_NAME = re.compile(r"(?<![\d.])(\d\d(?:\.\d)?)(?: ?(?:°|deg|degs|degrees?))?(?![\d.])")
_NUMBER = re.compile(r"(\d\d?(?:[.,]\d+)?)\s*(?:°|deg|degs|degrees?)?")
_MOST_NAMES = 20


class Named(NamedTuple):
    """A club that a table names."""

    club: Club
    loft_known: bool
    """Whether the table says its loft; otherwise it is the usual one of such a club."""


def clubs_in(text: str, table_name: str, wishes: Wishes) -> tuple[Named, ...]:
    """The clubs that a table names, highest loft first.

    Raises:
        CaddieError: if it is no table with a carry column, or names no club that is understood.
    """
    table = read_table(text, table_name, wishes.columns)
    at = match_columns(table.headings, wishes.columns)
    if Column.CLUB not in at and wishes.club is None:
        raise CaddieError(
            f"{table_name}: no heading says club, and there is no bag yet: say it with --club, for example "
            "--club 56, or make a bag first with 'caddie bag new'"
        )
    lofts: dict[str, list[float]] = {}
    for _, row in table.rows:
        name, loft = (_cell(row, at.get(column)) for column in (Column.CLUB, Column.LOFT))
        name = wishes.clubs.get(name.lower(), name) or wishes.club or ""
        if name and name.lower() not in SUMMARY:
            said = lofts.setdefault(spelled(name), [])
            if number := _NUMBER.fullmatch(loft.strip()):
                said.append(float(number[1].replace(",", ".")))
    found: dict[str, Named] = {}
    for name, said in lofts.items():
        if named := named_club(name, _one_loft(said)):
            known = found.get(named.club.id)
            found[named.club.id] = _also_called(known, name) if known else named
    if not found:
        names = ", ".join(repr(printable(name[:40])) for name in list(lofts)[:5])
        raise CaddieError(
            f"{table_name}: no club in it is understood ({names or 'no row names one'}): say which it is with "
            "--called, for example --called 'wedge 1=56'"
        )
    if len(found) > MOST_CLUBS:
        raise CaddieError(f"{table_name}: names {len(found)} clubs; is it the table of one player?")
    return tuple(sorted(found.values(), key=lambda each: -each.club.loft_deg))


def named_club(name: str, loft_deg: float | None = None) -> Named | None:
    """The club of that name, with the loft that a table says; None when it is none for the short game.

    >>> named_club("pw").club.loft_deg, named_club("pw").loft_known, named_club("sw 54").club.loft_deg
    (46.0, False, 54.0)
    """
    if len(name) > MOST_NAME:
        return None
    club, known = _by_name(name), False
    if club is not None:
        known = LOFT.match(name) is not None
    elif (number := _LOFT_IN_NAME.search(name)) and _is_wedge(float(number[1])):
        rest = " ".join(name.replace(number[0], " ").split())
        club, known = _by_name(rest), True
        club = club and club.model_copy(update={"loft_deg": float(number[1])})
    if club is None and loft_deg is not None and _is_wedge(loft_deg):
        club = usual_club(f"{loft_deg:g}").model_copy(update={"id": name})
    if club is None:
        return None
    if loft_deg is not None and LEAST_LOFT_DEG <= loft_deg <= MOST_LOFT_DEG:
        club, known = club.model_copy(update={"loft_deg": loft_deg}), True
    return _also_called(Named(club, known), name)


def with_lofts(named: tuple[Named, ...], said: Mapping[str, float]) -> tuple[Named, ...]:
    """The clubs with the lofts that the player said, by club; those are known then."""
    return tuple(
        Named(each.club.model_copy(update={"loft_deg": said[each.club.id]}), True)
        if each.club.id in said
        else each
        for each in named
    )


def started_bag(named: tuple[Named, ...], unit: Unit) -> Bag:
    """A bag of these clubs and a putter, without carries.

    Raises:
        CaddieError: if they are no bag.
    """
    clubs = told_apart(sorted((each.club for each in named), key=lambda club: -club.loft_deg))
    thinks_in = Unit.METRES if unit is Unit.METRES else Unit.YARDS
    try:
        return Bag(player=Player(distances_in=thinks_in), clubs=(*clubs, PUTTER))
    except ValueError as error:
        raise CaddieError(
            f"the clubs of the table make no bag: {str(error).splitlines()[-1].strip()}"
        ) from None


def bag_for(named: tuple[Named, ...], read: Imported) -> Bag:
    """A bag of these clubs without carries, in the unit that their table counts carries in.

    Raises:
        CaddieError: if they are no bag.
    """
    unit = next((use.unit for use in read.columns if use.column is Column.CARRY), None)
    return started_bag(named, Unit(unit or Unit.YARDS))


def measured_bag(bag: Bag, session: Session) -> Bag:
    """A started bag with the carries of its first balls, the other cells estimated from them."""
    grass = any(not shot.sand for shot in session.shots)
    bag = with_fit(bag, fit_carries([session], bag) if grass else estimate_carries(bag), estimates="all")
    if any(shot.sand for shot in session.shots):
        bag = with_fit(bag, fit_carries([session], bag, sand=True))
    return bag


def loft_remarks(named: tuple[Named, ...]) -> dict[str, str]:
    """What the bag file says beside a loft that nobody measured, by club."""
    return {each.club.id: f"estimate: usual for a {each.club.id}" for each in named if not each.loft_known}


def _by_name(name: str) -> Club | None:
    letters = _LETTER_OF.get(name, name)
    if letters in USUAL_LOFT:
        return usual_club(letters)
    word = name
    if iron := IRON.match(name):
        word = f"{iron[1]}i"
    elif loft := LOFT.match(name):
        word = loft[1]
    try:
        return usual_club(word)
    except CaddieError:
        return None


def _also_called(named: Named, name: str) -> Named:
    club = named.club
    # Its usual name may yet be changed, when another club has it too.
    if name == club.id.lower() or name in club.said or len(club.said) >= _MOST_NAMES:
        return named
    return Named(club.model_copy(update={"said": (*club.said, name)}), named.loft_known)


def _is_wedge(loft_deg: float) -> bool:
    return LEAST_WEDGE_DEG <= loft_deg <= MOST_LOFT_DEG


def _one_loft(said: list[float]) -> float | None:
    if not said or max(said) - min(said) > _SAME_DEG or not LEAST_LOFT_DEG <= said[0] <= MOST_LOFT_DEG:
        return None
    return said[0]


def _cell(row: list[str], index: int | None) -> str:
    return printable(cell_text(row[index].strip())) if index is not None and index < len(row) else ""
