"""What is allowed in a bag and yet looks like a slip of the pen."""

from itertools import combinations

from caddie.bag.curve import SAND_SPREAD
from caddie.bag.models import Bag, ClubKind

_WIDE, _NARROW = 0.3, 0.015


def bag_notes(bag: Bag) -> tuple[str, ...]:
    """One line for each thing worth a second look."""
    return (*_names(bag), *_lofts(bag), *_spreads(bag), *_splashes(bag), *_absent(bag))


def _names(bag: Bag) -> list[str]:
    notes = []
    for one, other in combinations(bag.clubs, 2):
        shared = sorted(set(one.names()) & set(other.names()))
        if shared:
            notes.append(
                f"clubs {one.id} and {other.id}: both are called {shared[0]!r}; said aloud, {one.id} wins"
            )
    for first, second in combinations(bag.swings, 2):
        both = {first.name, *first.said} & {second.name, *second.said}
        if both:
            notes.append(f"swings {first.name} and {second.name}: both are called {sorted(both)[0]!r}")
    return notes


def _lofts(bag: Bag) -> list[str]:
    clubs = [club for club in bag.clubs if club.kind is not ClubKind.PUTTER]
    notes = []
    for one, other in combinations(clubs, 2):
        higher, lower = (one, other) if one.loft_deg > other.loft_deg else (other, one)
        if higher.loft_deg == lower.loft_deg:
            continue
        far = {cell.swing: cell.carry_m for cell in lower.carries}
        for cell in higher.carries:
            if cell.swing in far and cell.carry_m > far[cell.swing]:
                notes.append(
                    f"clubs {higher.id} and {lower.id}: {higher.id} has more loft and yet carries farther "
                    f"at {cell.swing}; are lofts and carries right?"
                )
    return notes


def _spreads(bag: Bag) -> list[str]:
    notes = []
    for club in bag.clubs:
        cells = [("carries", cell, _WIDE) for cell in club.carries]
        cells += [("splash", cell, SAND_SPREAD * _WIDE) for cell in club.splash]
        for table, cell, widest in cells:
            share = cell.sd_m / cell.carry_m
            if not _NARROW <= share <= widest:
                size = "wide" if share > widest else "narrow"
                notes.append(
                    f"club {club.id}: {table}.{cell.swing}: "
                    f"a spread of {share:.0%} of the carry is very {size}"
                )
    return notes


def _splashes(bag: Bag) -> list[str]:
    grass = {(club.id, cell.swing): cell.carry_m for club in bag.clubs for cell in club.carries}
    return [
        f"club {club.id}: splash.{cell.swing}: carries as far out of sand as from grass; was the ball picked clean?"
        for club in bag.clubs
        for cell in club.splash
        if cell.carry_m >= grass.get((club.id, cell.swing), float("inf"))
    ]


def _absent(bag: Bag) -> list[str]:
    notes = []
    if not any(cell.measured for club in bag.clubs for cell in club.carries):
        notes.append("no carry is measured: hit a session with 'caddie practice range'")
    if not any(club.kind is ClubKind.PUTTER for club in bag.clubs):
        notes.append('no putter: add one ([[clubs]] with kind = "putter") to have putts planned')
    return notes
