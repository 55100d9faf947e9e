"""Trouble that the green falls to and that no side was told of: it lies the way the green falls."""

from caddie.words.heads import Head, head_at
from caddie.words.quantities import clause_start
from caddie.words.scene import Scene

_BY_FALL = {"left_to_right": "right", "right_to_left": "left", "toward": "short", "away": "long"}
_THE_GREEN = frozenset("GREEN it all whole entire everything surface and which that then but".split())
"""What may stand before "slopes down to the lake" where it is said of the green."""


def put_where_it_falls(scene: Scene, heads: list[Head]) -> None:
    """ "The green slopes down to the lake": behind it, unless its fall or the lake's side was told as well."""
    for told in scene.having("fall_to"):
        head = head_at(heads, told.trouble_at) if told.trouble_at is not None else None
        if head is None or not _is_of_the_green(scene, told.start):
            continue
        same = [other for other in heads if other.kind is head.kind]
        if any(other.places or other.mine or other.carry_m is not None for other in same):
            continue
        falls = [_BY_FALL.get(str(m.get("fall") or m.get("break"))) for m in scene.having("fall", "break")]
        head.places.append(next(filter(None, falls), "long"))


def _is_of_the_green(scene: Scene, at: int) -> bool:
    """Whether what slopes is the green, and not the ground on the way to it."""
    start = clause_start(scene.pieces, at)
    before = scene.pieces[start:at]
    inside = {i for m in scene.having("fall", "break", "steepness", "degree") for i in range(m.start, m.end)}
    return all(piece.text in _THE_GREEN or start + i in inside for i, piece in enumerate(before))
