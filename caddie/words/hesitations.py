"""Guesses and sounds of thinking: which only make a number rough, and which take something back."""

from dataclasses import replace

from caddie.words.quantities import Piece
from caddie.words.reduction import HESITATION
from caddie.words.things import Thing, Told

CALL = "CALL"
"""Stands before a number that is about right, and takes back one said before: "sixty-six, call it seventy"."""
_THEREABOUTS = "THEREABOUTS"
"""Stands behind a pause after a number that is about right."""
_ALIKE = 1.4
"""How far apart two lengths are at most, one of which corrects the other without a word that says so."""


def guesses_marked(pieces: list[Piece]) -> list[Piece]:
    """ "Call it seventy" and "seventy to the flag, or thereabouts" are about seventy."""
    kept: list[Piece] = []
    for piece in pieces:
        if piece.text == _THEREABOUTS:
            number_at = next((at for at in range(len(kept) - 1, -1, -1) if kept[at].text == "#"), None)
            if number_at is not None:
                kept[number_at] = _about(kept[number_at])
        else:
            kept.append(_about(piece) if kept and kept[-1].text == CALL else piece)
    return kept


def _about(piece: Piece) -> Piece:
    if piece.quantity is None:
        return piece
    return replace(piece, quantity=replace(piece.quantity, approximate=True))


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
    return alike and first.middle / _ALIKE <= second.middle <= first.middle * _ALIKE
