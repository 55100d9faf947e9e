"""Clauses about somebody else's ball, a score or the time of day: nothing is read in them.

A clause is another's when it begins with whose ball it is ("your ball's", "Fiona's putt"), with who did something to
one ("he knocked it stiff", "Sam thinned one") or with a question after either. What follows it is theirs as well,
until the player speaks of himself. The words are data: ``others`` in the grammar.
"""

from collections.abc import Sequence

from caddie.words.clauses import clauses, is_strange
from caddie.words.grammar import grammar
from caddie.words.quantities import Piece
from caddie.words.scene import Scene

_MOST_MINUTES = 30
_HOURS = range(1, 13)
_MOST_SCORED = 19
"""Strokes on one hole, well above what is played out."""


def set_others_apart(scene: Scene) -> None:
    """Leave out clauses of others, and the numbers of scores and hours."""
    theirs, words = False, grammar().others
    found: set[int] = set()
    for start, end in clauses(scene):
        texts = [piece.text for piece in scene.pieces[start:end]]
        if _is_theirs(scene, start, end):
            theirs = True
        elif _is_bystander(scene, start, end):
            found.update(range(start, end))
            theirs = end < len(scene.pieces) and not scene.pieces[end].after_break
        elif not words["mine"].isdisjoint(texts):
            theirs = False
        if (
            theirs
            or _measures_a_thing(scene, start, end)
            or _tells_the_score(scene.pieces[start:end])
            or _tells_the_hour(scene.pieces, start, end)
        ):
            found.update(range(start, end))
    if found:
        scene.aside |= found
        scene.denied |= found
        for mentions in (scene.facts, scene.results, scene.intents, scene.wholes):
            mentions[:] = [m for m in mentions if m.start not in found]


def _is_theirs(scene: Scene, start: int, end: int) -> bool:
    words = grammar().others
    texts = [piece.text for piece in scene.pieces[start:end]]
    said = " ".join(texts)
    if any(f" {asked} " in f" {said} " for asked in words["asks"] if said.startswith(asked)):
        return True
    at = next((i for i, text in enumerate(texts) if text not in words["opening"]), len(texts))
    if at + 1 >= len(texts):
        return False
    who, then = texts[at], texts[at + 1]
    named = _may_be_a_name(scene, start + at)
    if (then in words["owned"] and who in words["owners"]) or (named and then == "ball"):
        return True
    if who not in words["people"] and not named:
        return False
    verb_at = next((i for i in range(at + 1, len(texts)) if texts[i] not in words["at_it"]), len(texts))
    if verb_at == len(texts):
        return False
    of_trouble = who in words["things"] and any(scene.is_trouble(i) for i in range(start))
    if texts[verb_at] in words["did"]:
        if of_trouble and any("where" in m and m.start == start + verb_at for m in scene.facts):
            # "Bunkers, they're left and right."
            return False
        after = range(start + verb_at + 1, min(start + verb_at + 2, end))
        of_the_green = any("stimp" in m and start <= m.start < end for m in scene.facts)
        return not of_the_green and not any(
            scene.pieces[i].text in ("FLAG", "GREEN") or scene.is_trouble(i) for i in after
        )
    return who in words["standing"] and then in (*words["stands"], "#") and not of_trouble


def _may_be_a_name(scene: Scene, at: int) -> bool:
    """A word that golf does not know, and no adverb: "naturally my ball's in the rough"."""
    text = scene.pieces[at].text
    return is_strange(scene, at) and text not in grammar().others["played_for"] and not text.endswith("ly")


def _is_bystander(scene: Scene, start: int, end: int) -> bool:
    """ "Lads watching", "Sam's": somebody of whom no golf is told, and what follows is the player's again."""
    words = grammar().others
    texts = [piece.text for piece in scene.pieces[start:end]]
    at = next((i for i, text in enumerate(texts) if text not in words["opening"]), len(texts))
    return (
        at + 1 < len(texts)
        and _may_be_a_name(scene, start + at)
        and words["at_it"].issuperset(texts[at + 1 :])
    )


def _measures_a_thing(scene: Scene, start: int, end: int) -> bool:
    """ "The snake was six feet long": a thing that golf has no word for, and how big it is."""
    measured = grammar().others["measured"]
    return any(
        is_strange(scene, at)
        and scene.pieces[at].said == scene.pieces[at].text
        and scene.pieces[at + 1].text == "#"
        and scene.pieces[at + 2].text in measured
        and not scene.pieces[at + 1].after_break
        for at in range(start, end - 2)
    )


def _tells_the_score(pieces: Sequence[Piece]) -> bool:
    """ "A six for me", but not "forty for me": nobody counts that many."""
    scored = grammar().others["scored_for"]
    return any(
        number.quantity is not None
        and number.quantity.unit is None
        and number.quantity.middle <= _MOST_SCORED
        and between.text == "for"
        and whom.text in scored
        for number, between, whom in zip(pieces, pieces[1:], pieces[2:], strict=False)
    )


def _tells_the_hour(pieces: Sequence[Piece], start: int, end: int) -> bool:
    """ "Twenty to seven": no range goes down, and nothing is measured."""
    if end - start < 3 or [piece.text for piece in pieces[end - 3 : end]] != ["#", "to", "#"]:
        return False
    minutes, hour = pieces[end - 3].quantity, pieces[end - 1].quantity
    if minutes is None or hour is None or minutes.unit is not None or hour.unit is not None:
        return False
    of_the_hour = minutes.middle < _MOST_MINUTES and minutes.middle % 5 == 0
    a_ratio = minutes.middle in _HOURS
    return hour.middle in _HOURS and hour.middle < minutes.middle and (of_the_hour or a_ratio)
