"""How far a club of the player's own goes: what the bag holds of it, whatever shot is being played."""

from caddie.bag import Carry, Club
from caddie.reply.phrases import said
from caddie.reply.spoken import sentences, shortest
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding

FULL = "full"


def own_carry(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The carries of the club asked about: of the swing named, or of each; without a club of the one advised."""
    named = heard.club or (known.plan.chosen.club if known.plan is not None else None)
    club = desk.bag.club_called(named) if named else None
    if club is None or not club.carries:
        return Said(known, sentences(["no carry of that club is in your bag: hit some on the range"]))
    asked = [cell for cell in club.carries if heard.swing in (None, cell.swing)]
    if not asked:
        missing = f"that swing of the {club.name} was never measured"
        told = _told(club, club.carries, desk)
        return Said(known, shortest([[missing, told], [told]]), written=sentences([missing, told]))
    return Said(known, sentences([_told(club, tuple(asked), desk)]))


def _told(club: Club, cells: tuple[Carry, ...], desk: Desk) -> str:
    """ "Your pitching wedge carries eighty-eight yards to the chest, a hundred and eighteen yards full"."""
    parts = [f"{said(cell.carry_m, desk.bag)} {_swing(cell)}" for cell in cells]
    guess = "" if any(cell.measured for cell in cells) else ", an estimate"
    return f"your {club.name} carries {', '.join(parts)}{guess}"


def _swing(cell: Carry) -> str:
    return FULL if cell.swing == FULL else f"to the {cell.swing}"
