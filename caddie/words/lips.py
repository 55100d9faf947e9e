"""The lip of the bunker that the ball lies in: how high it is, and how far in front of the ball.

Both are lengths beside the flag's, and only their place in the sentence tells them apart: "a hundred and five, the
lip's chest high and three paces in front of me".
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from caddie.situation import IN_SAND, Lie
from caddie.units import SMALL_UNITS, Unit
from caddie.words.lies import LieSaid
from caddie.words.scene import Scene

_FACE = frozenset({"lip", "face"})
_UPWARD = frozenset({"high", "tall", "deep"})
_AWAY = frozenset({"ahead", "away", "off", "out", "forward"})
_BALL = frozenset({"me", "ball", "us", "nose", "it"})
_CLOSE_M = 1.5
"""A lip that is said to stand in front of the ball, with no word of how far (common practice, no source)."""
_SMALL_WORDS = frozenset(
    {"is", "about", "only", "of", "and", "it", "at", "maybe", "just", "a", "around", "but", "with", "still"}
)
_NEAR_THE_LIP = 7
"""Pieces between the lip and a length that still tells of it."""
_MOST_SHARE = 0.5
"""A lip is at most this share of the way to the flag: "high lip, twelve yards away, edge at six"."""
_HIGHEST_M = 8.0


@dataclass
class LipSaid:
    """A lip's height, its distance from the ball, and the pieces that told them."""

    height_m: float | None = None
    away_m: float | None = None
    at: set[int] = field(default_factory=set)


def read_lip(scene: Scene, lie: LieSaid) -> tuple[LipSaid, Scene]:
    """What was said of the lip in lengths and places, and the scene without the phrases that it explains.

    A lip is that of the sand the ball lies in (``lie``), unless a bunker in the way has it.
    """
    lip = LipSaid()
    faces = [at for at, piece in enumerate(scene.pieces) if piece.text in _FACE and at not in scene.denied]
    if not faces or not _in_sand(scene, lie):
        return lip, scene
    for at in _lengths(scene):
        _read_length(scene, lip, faces, at)
    for face in faces:
        _read_place(scene, lip, face)
    if not lip.at:
        return lip, scene
    kept = [m for m in scene.facts if lip.at.isdisjoint(range(m.start, m.end))]
    return lip, replace(
        scene, facts=kept, used=scene.used | lip.at, covered=scene.covered | lip.at | {*faces}
    )


def with_lip(lie: LieSaid, lip: LipSaid) -> LieSaid:
    """The lie with what was read of the lip; a lip that is told of is that of the sand the ball lies in."""
    if lip.height_m is not None:
        lie.lip_m = lip.height_m
    if lip.away_m is not None:
        lie.lip_away_m = lip.away_m
    if (lip.height_m, lip.away_m) != (None, None) and lie.lie is None:
        lie.lie = Lie.BUNKER
    return lie


def _in_sand(scene: Scene, lie: LieSaid) -> bool:
    """Whether the ball lies in sand, as it must before a lip when no bunker is named."""
    if lie.lie is not None:
        return lie.lie in IN_SAND
    texts = {piece.text for piece in scene.pieces}
    return "lip" in texts and "BUNKER" not in texts and not any(scene.having("borrow"))


def _lengths(scene: Scene) -> Iterator[int]:
    for at, piece in enumerate(scene.pieces):
        quantity = piece.quantity
        if (
            piece.text == "#"
            and quantity is not None
            and quantity.is_length
            and at not in scene.used | scene.denied
        ):
            yield at


def _read_length(scene: Scene, lip: LipSaid, faces: list[int], at: int) -> None:
    texts = [piece.text for piece in scene.pieces]
    quantity = scene.pieces[at].quantity
    assert quantity is not None
    end = _up_to_the_lip(texts, at + 1)
    if _is_from_lip_to_flag(scene, at, end):
        return
    if end > at + 1:
        lip.away_m = scene.length_m(quantity)
        lip.at.update(range(at, end))
        return
    end = _after_away(texts, at + 1)
    if end > at + 1 and _tells_of(scene, faces, at, end):
        metres = scene.length_m(quantity)
        others = [
            scene.length_m(q)
            for other in _lengths(scene)
            if other != at and (q := scene.pieces[other].quantity)
        ]
        if others and metres <= _MOST_SHARE * max(others):
            lip.away_m = metres
            lip.at.update(range(at, end))
        return
    if quantity.unit in (Unit.YARDS, Unit.PACES) or not _is_height(scene, faces, at):
        return
    metres = scene.length_m(quantity, Unit.FEET)
    if 0 < metres <= _HIGHEST_M:
        lip.height_m = metres
        lip.at.add(at)
        if at + 2 < len(texts) and texts[at + 1] == "of" and texts[at + 2] == "it":
            lip.at.update((at + 1, at + 2))


def _up_to_the_lip(texts: list[str], at: int) -> int:
    """Where a phrase ends that counts a length from the lip: "back from the lip", "short of the face"."""
    end = at + 1 if texts[at : at + 1] and texts[at] in _BACK_FROM else at
    joined = texts[end : end + 1] and texts[end] in ("from", "of", "to")
    return end + 2 if joined and texts[end + 1 : end + 2] and texts[end + 1] in _FACE else at


def _is_from_lip_to_flag(scene: Scene, at: int, end: int) -> bool:
    """ "Flag only five paces from the lip": the green between them, and not how far ahead the lip is."""
    texts = [piece.text for piece in scene.pieces]
    before = next((i for i in range(at - 1, max(at - _NEAR_THE_FLAG, 0) - 1, -1) if texts[i] == "FLAG"), None)
    after = texts[end : end + 2] in (["to", "FLAG"], ["and", "FLAG"])
    led = before is not None and not scene.breaks_between(before, at)
    return end > at + 1 and (led or after)


_NEAR_THE_FLAG = 4
_BACK_FROM = frozenset({"back", "short", "away", "off", "shy", "out"})


def _after_away(texts: list[str], at: int) -> int:
    """Where a phrase ends that puts a length before the ball: "ahead", "in front of me", "from the ball"."""
    end = at
    if texts[end : end + 1] and texts[end] in _AWAY:
        end += 1
    elif texts[end : end + 2] == ["in", "front"]:
        end += 2
    joins = ("of", "from") if end > at else ("from",)
    if end < len(texts) - 1 and texts[end] in joins and texts[end + 1] in _BALL:
        end += 2
    return end


def _tells_of(scene: Scene, faces: list[int], at: int, end: int) -> bool:
    """Whether the lip is what was named last before a length, or right behind it in the same breath."""
    texts = [piece.text for piece in scene.pieces]
    for face in faces:
        if face < at:
            between = texts[face + 1 : at]
            lost = "FLAG" in between or "GREEN" in between or "BUNKER" in between
            if not lost and len(between) <= _NEAR_THE_LIP and _one_more_length(scene, face, at):
                return True
        elif face - end <= 3 and not scene.breaks_between(end, face) and "FLAG" not in texts[end:face]:
            return True
    return False


def _one_more_length(scene: Scene, face: int, at: int) -> bool:
    """A height may stand between the lip and its distance, and nothing longer."""
    between = [q for i in _lengths(scene) if face < i < at and (q := scene.pieces[i].quantity)]
    return all(q.unit in (*SMALL_UNITS, Unit.METRES) for q in between)


def _is_height(scene: Scene, faces: list[int], at: int) -> bool:
    texts = [piece.text for piece in scene.pieces]
    following = texts[at + 1 : at + 4]
    if following[:1] and following[0] in _FACE and not scene.pieces[at + 1].after_break:
        return True
    if following[:1] == ["of"] and following[1:2] and following[1] in _FACE:
        return True
    before = [face for face in faces if face < at]
    if not before:
        return False
    between = texts[before[-1] + 1 : at]
    if following[:2] == ["of", "it"] and len(between) <= 2:
        return True
    high = bool(following[:1]) and following[0] in _UPWARD
    return (
        set(between) <= _SMALL_WORDS
        and (high or not scene.breaks_between(before[-1], at))
        and len(between) <= 4
    )


def _read_place(scene: Scene, lip: LipSaid, face: int) -> None:
    """ "Knee-high lip right in front of the ball", "no lip behind me"."""
    texts = [piece.text for piece in scene.pieces]
    for at in range(face + 1, min(face + 5, len(texts))):
        if at in lip.at or texts[at] in ("FLAG", "GREEN", "BUNKER", "#"):
            return
        if texts[at] == "behind" and texts[at + 1 : at + 2] and texts[at + 1] in _BALL:
            lip.at.update((at, at + 1))
            return
        if texts[at : at + 2] == ["in", "front"] or texts[at] == "ahead":
            end = _after_away(texts, at)
            if texts[end - 1] in _BALL and lip.away_m is None:
                lip.away_m = _CLOSE_M
            lip.at.update(range(at, end))
            return
