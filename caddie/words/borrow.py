"""The player's own read of a putt: where it is started, or how much it breaks."""

from collections.abc import Iterator
from dataclasses import dataclass

from caddie.situation import BORROW_UNIT_M, Borrow, BorrowUnit, Side
from caddie.units import SMALL_UNITS, Unit
from caddie.words.mentions import Mention
from caddie.words.quantities import BORROWED_IN, LENGTHS
from caddie.words.reduction import reducer
from caddie.words.scene import Scene

MOST_BREAK_M = 2.0
"""A longer break told alone is the putt's length: "twelve feet, breaking left"."""

MOST_ALONE_M = 1.3
"""A longer one behind a break is not told as its amount."""

MOST = 120.0
FROM_THE_EDGE = ("cups", "balls")
"""Counted from the hole's edge, also where only the break is told: "it breaks a cup" (common practice, no source)."""


@dataclass(frozen=True)
class BorrowSaid:
    """What was said of the line, and the side of the hole that it starts on, if that was."""

    borrow: Borrow
    high: Side | None
    mention: Mention | None = None


def read_borrow(scene: Scene, *, falls_told: bool) -> BorrowSaid | None:
    """The line of a putt as the player reads it, or None.

    The last that was said counts, but an amount counts before "straight" and before a side alone.

    Parameters:
        scene: the utterance.
        falls_told: a break to a side was told, or that it is flat, so that "straight" is no line.
    """
    found = [said for said in _told(scene) if not (falls_told and _is_straight(said))]
    if not any(said.borrow.amount for said in found):
        found += [
            _counted(scene, at)
            for at in (*counts_alone(scene), *_short_behind_a_break(scene), *sorted(break_amounts(scene)))
        ]
    if not found:
        return None
    return max(reversed(found), key=lambda said: said.borrow.amount != 0)


def counts_alone(scene: Scene) -> list[int]:
    """Where cups or balls are counted in a clause of their own: "right to left, two cups"."""
    pieces = scene.pieces
    return [
        at
        for at, piece in enumerate(pieces)
        if piece.quantity is not None
        and piece.quantity.unit in FROM_THE_EDGE
        and (at == 0 or piece.after_break)
        and (at + 1 == len(pieces) or pieces[at + 1].after_break)
    ]


def _short_behind_a_break(scene: Scene) -> list[int]:
    """Where a short length stands behind a break, and another is the putt's: "from the left, maybe half a metre"."""
    lengths = {
        at: scene.length_m(piece.quantity)
        for at, piece in enumerate(scene.pieces)
        if piece.quantity is not None and piece.quantity.is_length
    }
    longest_m = max(lengths.values(), default=0.0)
    ends = {mention.end for mention in scene.having("break")}
    return [
        at
        for at, length_m in lengths.items()
        if at in ends and length_m <= min(MOST_ALONE_M, longest_m / 3) and at not in scene.used
    ]


def _counted(scene: Scene, at: int) -> BorrowSaid:
    quantity = scene.pieces[at].quantity
    assert quantity is not None
    scene.used.add(at)
    if quantity.unit in FROM_THE_EDGE:
        return BorrowSaid(Borrow(amount=quantity.middle, unit=BorrowUnit(quantity.unit), outside=True), None)
    return BorrowSaid(borrow_of(scene.length_m(quantity), Unit(quantity.unit or scene.unit)), None)


def borrow_of(length_m: float, unit: Unit) -> Borrow:
    """A length told of how far a putt breaks, counted as it was told; metres in centimetres, and yards in feet.

    >>> borrow_of(0.1524, Unit.INCHES).amount, borrow_of(0.5, Unit.METRES).amount, borrow_of(0.9144, Unit.YARDS).amount
    (6.0, 50.0, 3.0)
    """
    larger = BorrowUnit.CENTIMETRES if unit is Unit.METRES else BorrowUnit.FEET
    counted = BorrowUnit(unit.value) if unit in SMALL_UNITS else larger
    amount = length_m / BORROW_UNIT_M[counted]
    return Borrow(amount=round(amount) if unit is Unit.METRES else round(amount, 2), unit=counted)


def _is_straight(said: BorrowSaid) -> bool:
    return said.mention is not None and "straight" in said.mention


def _told(scene: Scene) -> Iterator[BorrowSaid]:
    lengths = break_amounts(scene)
    for mention in scene.having("borrow"):
        at = mention.quantity_at
        amount, unit = mention.get("borrow"), mention.get("borrow_in")
        if mention.quantity is not None and at is not None and unit is None:
            if mention.quantity.unit in LENGTHS and at not in lengths:
                continue
            amount, unit = mention.quantity.middle, mention.quantity.unit
        if unit is None or not -1 <= float(amount or 0) <= MOST:
            continue
        if at is not None:
            scene.used.add(at)
        high = mention.get("high")
        outside = bool(mention.get("outside")) or (unit in FROM_THE_EDGE and "borrow_in" not in mention)
        yield BorrowSaid(
            Borrow(amount=float(amount or 0), unit=BorrowUnit(str(unit)), outside=outside),
            None if high is None else Side(str(high)),
            mention,
        )


def amount_named(text: str) -> Borrow | None:
    """The one amount of break in words that tell no line: "is a whole cup too much?"."""
    reduce = reducer()
    told = [
        piece.quantity
        for piece in reduce.pieces(reduce.tokens(text))
        if piece.quantity is not None and piece.quantity.unit in BORROWED_IN
    ]
    if len(told) != 1 or not 0 <= told[0].middle <= MOST:
        return None
    unit = str(told[0].unit)
    return Borrow(amount=told[0].middle, unit=BorrowUnit(unit), outside=unit in FROM_THE_EDGE)


def break_amounts(scene: Scene) -> set[int]:
    """Where the numbers stand that say how much a putt breaks, when another says how long it is, or plainly."""
    speeds = {m.quantity_at for m in scene.having("stimp")}
    lengths = {
        at
        for at, p in enumerate(scene.pieces)
        if p.text == "#" and p.quantity and p.quantity.is_length and at not in speeds
    }
    breaks = list(scene.having("break_lead", "break"))
    before = {m.start - 2 for m in breaks if m.start > 1 and scene.pieces[m.start - 1].text == "of"}
    before |= {m.start - 1 for m in breaks if m.start and scene.pieces[m.start].text == "of"}
    after = {m.end for m in breaks if m.end < len(scene.pieces) and not scene.pieces[m.end].after_break}
    told = {m.quantity_at for m in scene.having("borrow") if m.quantity_at is not None}
    amounts = lengths & (
        told | before | {at for at in after if (q := scene.pieces[at].quantity) and q.unit == Unit.FEET}
    )
    if lengths - amounts:
        return amounts
    return {
        m.quantity_at
        for m in scene.having("plainly")
        if m.quantity_at in amounts and m.quantity is not None and scene.length_m(m.quantity) <= MOST_BREAK_M
    }
