"""Guesses and sounds of thinking: which only make a number rough, and which take something back."""

from dataclasses import replace
from itertools import pairwise

from caddie.words.quantities import Piece, Quantity, clause_start
from caddie.words.reduction import HESITATION, LIKENS
from caddie.words.things import Thing, Told

CALL = "CALL"
"""Stands before a number that is about right, and takes back one said before: "sixty-six, call it seventy"."""
_THEREABOUTS = "THEREABOUTS"
"""Stands behind a pause after a number that is about right."""
_ALIKE = 1.4
"""How far apart two lengths are at most, one of which corrects the other without a word that says so."""
_ALIKE_IN_ONE_UNIT = 2.0
"""The same, when both were said in the same unit: "two metres above me, hmm, three metres"."""
_NEARER = "NEARER"
"""Stands before a number that is about right: "nearer thirty-four"."""
_SET_AGAINST = frozenset({_NEARER, "AFTERTHOUGHT"})
"""Between two lengths that are alike they put the first right."""
_OPENING = 3
"""Words within which "I said" stands when it tells of what was said before."""
_IT = frozenset({"it", "they", "i", "CORRECTION"})
_BEHIND = frozenset({"AFTERTHOUGHT", "CORRECTION", "rather"})
"""What takes back the clause before when it ends a clause: "in the rough, the fairway rather"."""
_LONGEST_AFTERTHOUGHT = 7
"""Words of such a clause at most."""


def said_before_led(pieces: list[Piece]) -> list[Piece]:
    """ "I said the bunker was left but it's right": what was said at first is wrong, and what follows "but" right."""
    opening = [piece.text for piece in pieces[:_OPENING]]
    at = next((i for i, piece in enumerate(pieces) if piece.text == "but" and i > 1), None)
    if at is None or "CORRECTION" not in opening or pieces[at + 1 : at + 2] == []:
        return pieces
    if pieces[at + 1].text not in _IT or len(pieces) == at + 2:
        return pieces
    rest = pieces[at + 2 :]
    return [
        *pieces[:at],
        Piece("CORRECTION", after_break=True),
        replace(rest[0], after_break=False),
        *rest[1:],
    ]


def nearer_ones_led(pieces: list[Piece]) -> list[Piece]:
    """ "21, more like 24", "thirty, nearer thirty-four": the second of two like lengths puts the first right."""
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        led = kept[-1] if kept else None
        if led is not None and led.text == _NEARER and piece.text == "#":
            piece = _about(piece)
        following = pieces[at + 1] if at + 1 < len(pieces) else None
        led_by_length = piece.after_break or (led is not None and led.text == "#")
        if piece.text in _SET_AGAINST and led_by_length and following and not following.after_break:
            first = next((each.quantity for each in reversed(kept) if each.text == "#"), None)
            if following.text == "#" and _tells_one_length(first, following.quantity):
                piece = Piece("CORRECTION", piece.after_break)
        kept.append(piece)
    return [
        replace(piece, after_break=piece.after_break or (at > 0 and _is_passed_over(kept, at - 1)))
        for at, piece in enumerate(kept)
        if not _is_passed_over(kept, at)
    ]


def _is_passed_over(pieces: list[Piece], at: int) -> bool:
    """Whether "nearer" only makes a number rough: it belongs to the word before in "playing nearer 65"."""
    return pieces[at].text == _NEARER and (at == 0 or pieces[at - 1].text not in LIKENS)


def _tells_one_length(first: Quantity | None, second: Quantity | None) -> bool:
    if first is None or second is None or not (first.is_length and second.is_length):
        return False
    one_unit = first.unit == second.unit or None in (first.unit, second.unit)
    return (
        one_unit
        and first.low == first.high
        and first.middle / _ALIKE <= second.middle <= first.middle * _ALIKE
    )


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
    led = clause_start(told.pieces, start - 1)
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
