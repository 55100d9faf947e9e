"""What was said and explained nothing: words and numbers that no reader took and no phrase covers."""

from collections.abc import Collection, Iterable

from caddie.situation import Hazard
from caddie.words.grammar import grammar
from caddie.words.heads import KIND_OF_NOUN
from caddie.words.quantities import COUNTS
from caddie.words.scene import Scene

_PRONOUNS = frozenset({"he", "she", "him", "his", "her", "hers"})
_TIMES = frozenset({"yesterday", "tonight"})
"""What spellings make of "this morning" and the like: of the shot they say nothing."""


def left_over(
    scene: Scene, *, hazards: Iterable[Hazard], lies_at: frozenset[int], lost: Collection[int]
) -> tuple[str, ...]:
    """The words and numbers left, in order, as said; plain English words are not listed.

    Parameters:
        scene: the utterance, read.
        hazards: the trouble that was understood.
        lies_at: pieces that name what the ball lies in.
        lost: numbers that another value of the same length took the place of.
    """
    kinds = {hazard.kind.value for hazard in hazards}
    lost = {*lost, *_half_told(scene)}
    return tuple(
        piece.said
        for at, piece in enumerate(scene.pieces)
        if piece.said
        and (at in lost or not _explained(scene, at, kinds, lies_at))
        and not _said_once_more(scene, at)
    )


def _half_told(scene: Scene) -> set[int]:
    """ "A sidehill lie": a slope under the feet of which was not told which way it goes."""
    stances = [mention for mention in scene.having("stance") if mention.get("stance") != "flat"]
    if any(mention.get("stance") != "side" for mention in stances):
        return set()
    passed = grammar().plain | grammar().skip
    return {at for m in stances for at in range(m.start, m.end) if scene.pieces[at].text not in passed}


def _said_once_more(scene: Scene, at: int) -> bool:
    """ "It stays thirty-eight, thirty-eight to the flag": one of two is taken, and the other tells the same."""
    quantity = scene.pieces[at].quantity
    others = (each.quantity for other, each in enumerate(scene.pieces) if other in scene.used and other != at)
    return quantity is not None and any(
        each is not None and each.middle == quantity.middle and None in (each.unit, quantity.unit)
        for each in others
    )


def _explained(scene: Scene, at: int, kinds: set[str], lies_at: frozenset[int]) -> bool:
    piece = scene.pieces[at]
    if piece.text == "#":
        return _number_explained(scene, at)
    if at in scene.covered and at not in scene.aside:
        return True
    if scene.is_trouble(at):
        name = str(KIND_OF_NOUN.get(piece.text, piece.text.lower()))
        return name in kinds or at in lies_at or (at in scene.denied and at not in scene.aside)
    if piece.text.isupper():
        return True
    words = grammar()
    return (
        piece.text in _PRONOUNS
        or piece.text in _TIMES
        or piece.text in words.plain
        or piece.text in words.along
        or piece.text in words.skip
    )


def _number_explained(scene: Scene, at: int) -> bool:
    quantity = scene.pieces[at].quantity
    if quantity is not None and quantity.unit in COUNTS:
        # Minutes, dollars and strokes say themselves that they are no length.
        return True
    if at in scene.aside or quantity is None:
        return False
    if (
        at in scene.used
        or at in scene.denied
        or any(m.start <= at < m.end for mentions in (scene.intents, scene.wholes) for m in mentions)
    ):
        return True
    if quantity.unit is None and at + 1 < len(scene.pieces) and scene.is_trouble(at + 1):
        return True
    return any(
        m.start <= at < m.end and ("nothing" in m or m.get("distance") == "ignore") for m in scene.facts
    )
