"""The player's own read of a putt: where it is started, or how much it breaks."""

from collections.abc import Iterator
from dataclasses import dataclass

from caddie.situation import Borrow, BorrowUnit, Side
from caddie.words.distances import break_amounts
from caddie.words.mentions import Mention
from caddie.words.quantities import LENGTHS
from caddie.words.scene import Scene

MOST = 120.0
FROM_THE_EDGE = ("cups", "balls")
"""Counted from the hole's edge, also where only the break is told: "it breaks a cup" (common practice, no source)."""


@dataclass(frozen=True)
class BorrowSaid:
    """What was said of the line, and the side of the hole that it starts on, if that was."""

    borrow: Borrow
    high: Side | None
    mention: Mention | None = None


def read_borrow(scene: Scene, *, sideways: bool) -> BorrowSaid | None:
    """The line of a putt as the player reads it, or None.

    The last that was said counts, but an amount counts before "straight" and before a side alone.

    Parameters:
        scene: the utterance.
        sideways: a break to a side was told, so that "straight" is no line.
    """
    found = [said for said in _told(scene) if not (sideways and _is_straight(said))]
    if not any(said.borrow.amount for said in found):
        found += [_counted(scene, at) for at in counts_alone(scene)]
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


def _counted(scene: Scene, at: int) -> BorrowSaid:
    quantity = scene.pieces[at].quantity
    assert quantity is not None
    scene.used.add(at)
    return BorrowSaid(Borrow(amount=quantity.middle, unit=BorrowUnit(str(quantity.unit)), outside=True), None)


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
