"""How far from the flag to lay up: a length that the player owns, asked while the green is out of reach."""

from caddie.bag import Bag, Carry, Club
from caddie.reply.phrases import said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.lore import asks_for
from caddie.units import YARD_M

LEAVE_ASKED = "leave_asked"
NEAREST_LEFT_M, FARTHEST_LEFT_M = 60 * YARD_M, 110 * YARD_M
"""Nearer nobody lays up for a number, and farther off the next shot is no wedge (common practice, no source)."""


def leave_asked(text: str) -> bool:
    """Whether it is asked how much to leave for the next shot.

    >>> leave_asked("what distance should I leave for my third"), leave_asked("what will that leave me")
    (True, False)
    """
    return asks_for(text, LEAVE_ASKED)


def leave_said(bag: Bag) -> tuple[str, str]:
    """The measured swings to leave a length for, the steadiest first, aloud and written."""
    found = sorted(_owned(bag), key=lambda each: each[1].sd_m)
    if not found:
        return lines.NOTHING_MEASURED, lines.NOTHING_MEASURED
    (club, cell), *rest = found
    first = f"leave {said(cell.carry_m, bag)}: your {_swung(club, cell)}, the surest swing you have"
    second = f"or {said(rest[0][1].carry_m, bag)}, your {_swung(*rest[0])}" if rest else ""
    written = [
        f"Leave: {said(each.carry_m, bag)}, {_swung(by, each)}: half within {said(0.67 * each.sd_m, bag)} of its length"
        for by, each in found[:3]
    ]
    return shortest([[first, second], [first]]), "\n".join([sentences([first, second]), *written])


def _owned(bag: Bag) -> list[tuple[Club, Carry]]:
    return [
        (club, cell)
        for club in bag.clubs
        for cell in club.carries
        if cell.measured and NEAREST_LEFT_M <= cell.carry_m <= FARTHEST_LEFT_M
    ]


def _swung(club: Club, cell: Carry) -> str:
    swing = "with a full swing" if cell.swing == "full" else f"to the {cell.swing}"
    return f"{club.name} {swing}"
