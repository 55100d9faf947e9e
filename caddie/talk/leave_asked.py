"""How far from the flag to lay up: a length that the player owns, asked while the green is out of reach."""

from caddie.bag import Bag, Carry, Club
from caddie.plan.assume import ASK_DISTANCE
from caddie.reply.phrases import said
from caddie.reply.spoken import sentences, shortest
from caddie.situation import FARTHEST_M, Situation
from caddie.talk import lines
from caddie.talk.length_named import length_named_m
from caddie.talk.lore import asks_for
from caddie.units import YARD_M
from caddie.words import understand

LEAVE_ASKED, LEAVE_WISHED = "leave_asked", "leave_wished"
NEAREST_LEFT_M, FARTHEST_LEFT_M = 60 * YARD_M, 110 * YARD_M
"""Nearer nobody lays up for a number, and farther off the next shot is no wedge (common practice, no source)."""
NEAR_M = 4 * YARD_M
"""A swing whose carry is nearer than this to a length is the one for it (common practice, no source)."""


def leave_asked(text: str) -> bool:
    """Whether it is asked how much to leave for the next shot.

    >>> leave_asked("what distance should I leave for my third"), leave_asked("what will that leave me")
    (True, False)
    """
    return asks_for(text, LEAVE_ASKED)


def leave_wished_m(text: str, bag: Bag) -> float | None:
    """The length that is to be left for the next shot, where nothing is told of this one.

    >>> from caddie.bag.file import load_bag
    >>> round(leave_wished_m("I want to leave myself eighty", load_bag()) or 0.0, 1)
    73.2
    """
    if not asks_for(text, LEAVE_WISHED) or understand(text).situation != Situation():
        return None
    length_m = length_named_m(text, bag)
    return length_m if length_m is not None and length_m <= FARTHEST_M else None


def wish_said(left_m: float, bag: Bag) -> str:
    """The swings of the bag that go what is to be left, and the question for what there is before."""
    owned = sorted(_carries(bag), key=lambda each: abs(each[1].carry_m - left_m))
    near = [each for each in owned if abs(each[1].carry_m - left_m) <= NEAR_M][:1]
    told = [f"{said(left_m, bag)} left is your {_swung(club, cell)}" for club, cell in near]
    return sentences([*(told or [f"{said(left_m, bag)} left"]), ASK_DISTANCE])


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


def _carries(bag: Bag) -> list[tuple[Club, Carry]]:
    return [(club, cell) for club in bag.clubs for cell in club.carries if cell.measured]


def _owned(bag: Bag) -> list[tuple[Club, Carry]]:
    return [each for each in _carries(bag) if NEAREST_LEFT_M <= each[1].carry_m <= FARTHEST_LEFT_M]


def _swung(club: Club, cell: Carry) -> str:
    swing = "with a full swing" if cell.swing == "full" else f"to the {cell.swing}"
    return f"{club.name} {swing}"
