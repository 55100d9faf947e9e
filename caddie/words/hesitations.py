"""Guesses and sounds of thinking: which only make a number rough, and which take something back."""

from dataclasses import replace
from itertools import pairwise

from caddie.words.quantities import Piece
from caddie.words.reduction import HESITATION
from caddie.words.things import Thing, Told

CALL = "CALL"
"""Stands before a number that is about right, and takes back one said before: "sixty-six, call it seventy"."""
_THEREABOUTS = "THEREABOUTS"
"""Stands behind a pause after a number that is about right."""
_ALIKE = 1.4
"""How far apart two lengths are at most, one of which corrects the other without a word that says so."""
_ALIKE_IN_ONE_UNIT = 2.0
"""The same, when both were said in the same unit: "two metres above me, hmm, three metres"."""
_AFTERTHOUGHT = "AFTERTHOUGHT"
_BEHIND = frozenset({_AFTERTHOUGHT, "CORRECTION", "rather"})
"""What takes back the clause before when it ends a clause: "in the rough, the fairway rather"."""
_LONGEST_AFTERTHOUGHT = 7
"""Words of such a clause at most."""


def guesses_marked(pieces: list[Piece]) -> list[Piece]:
    """ "Call it seventy" and "seventy to the flag, or thereabouts" are about seventy."""
    kept: list[Piece] = []
    for piece in _called_by_its_number(pieces):
        if piece.text == _THEREABOUTS:
            number_at = next((at for at in range(len(kept) - 1, -1, -1) if kept[at].text == "#"), None)
            if number_at is not None:
                kept[number_at] = _about(kept[number_at])
        else:
            kept.append(_about(piece) if kept and kept[-1].text == CALL else piece)
    return kept


def _called_by_its_number(pieces: list[Piece]) -> list[Piece]:
    """ "Twenty-one, more like twenty-four": between two numbers an afterthought takes the first back."""
    between = {
        at
        for at in range(1, len(pieces) - 1)
        if pieces[at].text == _AFTERTHOUGHT and pieces[at - 1].text == pieces[at + 1].text == "#"
    }
    return [replace(piece, text=CALL) if at in between else piece for at, piece in enumerate(pieces)]


def _about(piece: Piece) -> Piece:
    if piece.quantity is None:
        return piece
    return replace(piece, quantity=replace(piece.quantity, approximate=True))


def afterthoughts_led(pieces: list[Piece]) -> list[Piece]:
    """ "On the left, the right rather": what ends a clause and takes back the one before is put before it.

    Only when both clauses tell one kind of thing, and no later one tells it again.
    """
    starts = [at for at, piece in enumerate(pieces) if at == 0 or piece.after_break]
    told: Told | None = None
    kept = list(pieces)
    for start, end in pairwise([*starts, len(pieces)]):
        if start == 0 or pieces[end - 1].text not in _BEHIND or not 1 < end - start <= _LONGEST_AFTERTHOUGHT:
            continue
        told = told or Told(pieces)
        if _takes_the_place_of_the_last(told, start, end):
            clause = [replace(pieces[start], after_break=False), *pieces[start + 1 : end - 1]]
            kept[start:end] = [Piece("CORRECTION", after_break=True), *clause]
    return kept


def _takes_the_place_of_the_last(told: Told, start: int, end: int) -> bool:
    here = [thing for thing in told.things if start <= thing.start < end]
    led = next(at for at in range(start - 1, -1, -1) if at == 0 or told.pieces[at].after_break)
    before = [thing for thing in told.things if led <= thing.start and thing.end <= start]
    after = [thing for thing in told.things if thing.start == end]
    if not here or any(thing.tells_like(here[0]) for thing in after):
        return False
    return any(thing.tells_like(here[0]) for thing in before)


def hesitations_judged(pieces: list[Piece]) -> list[Piece]:
    """ "Er" between two values of one kind corrects the first; anywhere else it is passed over."""
    fluent = [piece for piece in pieces if piece.text != HESITATION]
    if len(fluent) == len(pieces):
        return pieces
    ends = {thing.end: thing for thing in Told(fluent).things}
    starts = {thing.start: thing for thing in Told(fluent).things}
    kept: list[Piece] = []
    at = 0
    for piece in pieces:
        if piece.text != HESITATION:
            kept.append(piece)
            at += 1
        elif at in ends and at in starts and _are_alike(fluent, ends[at], starts[at]):
            kept.append(Piece("CORRECTION", after_break=True))
    return kept


def _are_alike(pieces: list[Piece], before: Thing, after: Thing) -> bool:
    first, second = before.number, after.number
    if first is None or second is None:
        said = [[piece.text for piece in pieces[thing.start : thing.end]] for thing in (before, after)]
        return after.tells_like(before) and said[0] != said[1]
    one_unit = first.unit == second.unit or None in (first.unit, second.unit)
    alike = first.is_length and second.is_length and one_unit
    apart = _ALIKE_IN_ONE_UNIT if first.unit == second.unit is not None else _ALIKE
    return alike and first.middle / apart <= second.middle <= first.middle * apart
