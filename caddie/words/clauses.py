"""An utterance clause by clause: what is said beside the shot is set aside before anything is read."""

from collections.abc import Iterator
from itertools import pairwise

from caddie.units import Unit
from caddie.words.borrow import counts_alone
from caddie.words.grammar import grammar
from caddie.words.lexicon import known_words
from caddie.words.mentions import Mention
from caddie.words.quantities import COUNTS
from caddie.words.scene import Scene

STRANGE = 0.9
"""Points that a word no grammar file knows speaks against a shot."""
ELSEWHERE = 1.3
"""Points that a word of another subject speaks against one."""
PLAIN = 1.4
"""Points from which clauses tell a shot by themselves: a length with what it measures, or with a lie."""
_LENGTH = 1.0
"""Points of a length with its unit and nothing that tells what it measures."""
MUCH = 1.8
"""Points more against than for a clause that holds a fact, from which it is left out all the same."""
_NO_LENGTH = 1000
_OPENING = frozenset(
    {"and", "but", "so", "because", "though", "although", "while", "whilst", "since", "after", "like", "when"}
)
"""Words that begin a clause without a pause, unless they stand in a phrase of the grammar."""
_POINTS = {
    "lie": 0.8,
    "stance": 0.7,
    "sitting": 0.7,
    "hazard": 1.0,
    "room": 1.0,
    "behind": 1.0,
    "fall": 0.8,
    "break": 0.8,
    "level": 0.5,
    "fall_to": 0.8,
    "slope": 0.4,
    "stimp": 0.6,
    "stimp_ft": 0.6,
    "firmness": 0.5,
    "elevation": 0.8,
    "height": 0.7,
    "wind_from": 0.8,
    "wind_speed": 0.7,
    "wind_number": 0.7,
    "wind_word": 0.7,
    "wet": 0.6,
    "dirty_grooves": 0.6,
    "mud_on_ball": 0.6,
    "lip_m": 0.6,
    "sand_behind": 0.6,
    "sand": 0.6,
    "lip": 0.6,
    "against": 0.8,
    "unplayable": 0.8,
    "hampered": 0.8,
    "in_line": 0.8,
    "obstruction": 0.6,
    "greenside": 0.5,
    "club": 1.0,
    "swing": 0.7,
    "family": 0.6,
    "flight": 0.6,
    "strike": 0.8,
    "finish": 0.8,
    "commitment": 0.8,
    "down_in": 0.8,
}
"""What a mention says for a shot, by what it tells."""


def set_asides_apart(scene: Scene) -> None:
    """Leave out clauses of other things when another clause plainly tells a shot."""
    spans = list(clauses(scene))
    if len(spans) < 2:
        return
    found = [(_points(scene, start, end), _against(scene, start, end)) for start, end in spans]
    if sum(points - against for points, against in found if points > against) < PLAIN:
        return
    scene.plain = True
    for (start, end), (points, against) in zip(spans, found, strict=True):
        if against and (points == 0 or against >= points + MUCH):
            scene.aside.update(range(start, end))
    scene.denied |= scene.aside
    for mentions in (scene.facts, scene.results, scene.intents, scene.wholes):
        mentions[:] = [m for m in mentions if m.start not in scene.aside]


def clauses(scene: Scene) -> Iterator[tuple[int, int]]:
    """Where each clause begins and ends: between pauses, and before words such as "but"."""
    inside = {
        at
        for mentions in (scene.facts, scene.results, scene.intents)
        for m in mentions
        for at in range(m.start + 1, m.end)
    }
    starts = [
        at
        for at, piece in enumerate(scene.pieces)
        if at == 0 or piece.after_break or (piece.text in _OPENING and at not in inside)
    ]
    yield from pairwise([*starts, len(scene.pieces)])


def _points(scene: Scene, start: int, end: int) -> float:
    points = sum(
        _worth(mention)
        for mentions in (scene.facts, scene.results)
        for mention in mentions
        if start <= mention.start < end
    )
    measured = {m.quantity_at for m in scene.facts if "distance" in m}
    for at in range(start, end):
        quantity = scene.pieces[at].quantity
        if scene.pieces[at].text == "#" and quantity is not None and at not in measured:
            points += _LENGTH * (
                quantity.is_length and quantity.unit not in (None, Unit.INCHES, Unit.CENTIMETRES)
            )
        points += 0.5 * (scene.is_trouble(at) or scene.pieces[at].text == "FLAG")
    return points


def _worth(mention: Mention) -> float:
    if "nothing" in mention or mention.get("distance") == "ignore":
        return 0.0
    if mention.get("with") == "trouble":
        return 1.0
    points = max((worth for key, worth in _POINTS.items() if key in mention), default=0.0)
    if "distance" in mention and mention.quantity is not None:
        points += 1.5 if mention.quantity.unit or mention.end - mention.start > 2 else 0.8
    return points


def _against(scene: Scene, start: int, end: int) -> float:
    return sum(
        STRANGE * is_strange(scene, at) + ELSEWHERE * is_elsewhere(scene, at) for at in range(start, end)
    )


def is_strange(scene: Scene, at: int) -> bool:
    """Whether a piece is a word that no grammar file knows."""
    text = scene.pieces[at].text
    return text.isalpha() and text.islower() and text not in known_words()


def is_elsewhere(scene: Scene, at: int) -> bool:
    """Whether a piece is a word of another subject, or counts minutes, dollars, forty thousand."""
    piece = scene.pieces[at]
    if any(m.start <= at < m.end for m in scene.having("club_before")):
        # "Eighty left after a drive": the shot before this one.
        return False
    if piece.text in grammar().elsewhere:
        return not (piece.text == "she" and any(m.start == at + 1 and "lie" in m for m in scene.facts))
    quantity = piece.quantity
    if quantity is None:
        return False
    if quantity.unit == "oclock":
        return at not in scene.used and not any(
            "wind_clock" in m and m.start <= at < m.end for m in scene.facts
        )
    if scene.are_strokes(at) or any(m.quantity_at == at and "down_in" in m for m in scene.results):
        return False
    counted = scene.having("borrow", "hoped")
    if any(m.quantity_at == at for m in counted) or at in counts_alone(scene):
        return False
    return quantity.unit in COUNTS or (quantity.is_length and quantity.low >= _NO_LENGTH)
