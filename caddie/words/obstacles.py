"""How far off trees stand, and how a ball gets past them: round a side, through a gap, under a height."""

from caddie.situation import FARTHEST_M, HazardKind, Side
from caddie.units import YARD_M, Unit
from caddie.words.heads import Head
from caddie.words.mentions import Mention
from caddie.words.quantities import clause_end, clause_start
from caddie.words.scene import Scene

_USUAL_GAP_M = 4 * YARD_M
"""A gap of which no width is told (common practice, no source)."""
_AHEAD = (
    ("in", "front"),
    ("up", "ahead"),
    ("ahead",),
    ("away",),
    ("off",),
    ("from", "me"),
    ("further", "on"),
)
_OUTRIGHT = 3
"""The first so many say by themselves that something stands before the player; the flag too is so far away."""
_UNDER = frozenset({"under", "below", "beneath", "lower", "higher", "more", "window", "opening"})
_UNDER |= {"start", "starts", "begin", "begins", "hang", "hangs", "hanging"}
_OF_THE_PLAYER = frozenset({"i", "me", "us", "ball", "we"})
_IS = frozenset({"is", "are", "stands", "sits"})
_CLOSE_BEHIND = frozenset({"right", "just", "close", "tight", "directly", "hard", "behind"})
_HIGHEST_CEILING_M, _NEAR = 12.0, 9


def read_stand_off(scene: Scene, heads: list[Head]) -> frozenset[int]:
    """ "A big oak twenty yards ahead of me, eighty-five to the hole": a length ahead is the tree's, not the flag's.

    Returns the pieces that say so: they place nothing else.
    """
    told: set[int] = set()
    for at, piece in enumerate(scene.pieces):
        quantity = piece.quantity
        if quantity is None or not quantity.is_length or at in scene.used:
            continue
        ahead = _ahead(scene, at)
        head = _tree_of(scene, heads, at) if ahead is not None else None
        if head is None or not _other_length(scene, at):
            continue
        outright = ahead is not None and ahead < _OUTRIGHT
        if not outright and not (_ends_there(scene, at) and _is_said_of_it(scene, at)):
            continue
        metres = scene.length_m(quantity)
        if 0 < metres < FARTHEST_M:
            head.carry_m = metres
            head.places = head.places or [Side.SHORT.value]
            scene.used.add(at)
            told.update(range(at, at + 1 + len(_AHEAD[ahead or 0])))
    return frozenset(told)


def stops_the_club(scene: Scene, head: Head) -> bool:
    """ "Fence right behind, no backswing": what stands close behind where no club goes back is behind the ball."""
    after = [piece.text for piece in scene.pieces[head.end : head.end + 3] if piece.text not in _IS]
    stops = any(str(m.get("hampered")).endswith("backswing") for m in scene.having("hampered"))
    behind = after[:2] if after[:1] != ["behind"] else after[:1]
    ends = scene.pieces[head.end : head.end + 4]
    past = any(piece.text in ("FLAG", "GREEN") and not piece.after_break for piece in ends)
    told = stops and behind[-1:] == ["behind"] and {*behind} <= _CLOSE_BEHIND and not past
    if told:
        scene.covered.update(range(head.start, head.end))
    return told


def barriers_and_bounds(scene: Scene, heads: list[Head]) -> list[Head]:
    """A wall or a fence in the way has to be flown; elsewhere a fence is the boundary, a wall if one is named."""
    bounded = any(head.kind is HazardKind.OUT_OF_BOUNDS for head in heads)
    kept = []
    for head in heads:
        fence = _is_fence(scene, head)
        if not fence and all(piece.text != "WALL" for piece in scene.pieces[head.start : head.end]):
            kept.append(head)
            continue
        beside = [place for place in head.places if place != Side.SHORT]
        if not beside and (head.places or head.carry_m is not None):
            head.kind, head.called = HazardKind.TREES, "fence" if fence else head.called
            scene.covered.update(range(head.start, head.end))
        else:
            head.kind, head.called, head.places = HazardKind.OUT_OF_BOUNDS, None, beside
        if fence or bounded or head.kind is HazardKind.TREES:
            kept.append(head)
    return kept


def _stands(scene: Scene, head: Head) -> bool:
    return head.kind is HazardKind.TREES or _is_fence(scene, head)


def _is_fence(scene: Scene, head: Head) -> bool:
    return any(piece.value == "fence" for piece in scene.pieces[head.start : head.end])


def _ahead(scene: Scene, at: int) -> int | None:
    """Which of the words for "ahead" follows a length in its clause, or leads it ("in front by ten yards")."""
    words = [piece.text for piece in scene.pieces[at + 1 : at + 4]]
    breaks = [piece.after_break for piece in scene.pieces[at + 1 : at + 4]]
    for number, said in enumerate(_AHEAD):
        if tuple(words[: len(said)]) == said and not any(breaks[: len(said)]):
            after = words[len(said) : len(said) + 1]
            of = (
                scene.pieces[at + 2 + len(said)].text
                if after == ["of"] and at + 2 + len(said) < len(scene.pieces)
                else ""
            )
            return None if of and of not in _OF_THE_PLAYER else number
    return None


def _tree_of(scene: Scene, heads: list[Head], at: int) -> Head | None:
    """The trees that a length is of: the nearest that has none, with no flag or green between."""
    trees = [h for h in heads if _stands(scene, h) and not h.mine and h.carry_m is None]
    near = min(trees, key=lambda head: min(abs(head.start - at), abs(head.end - 1 - at)), default=None)
    if near is None:
        return None
    low, high = (near.end, at) if near.start < at else (at, near.start)
    named = any(piece.text in ("FLAG", "GREEN") for piece in scene.pieces[low:high])
    return None if named or (near.start > at and scene.breaks_between(at, near.start)) else near


def _ends_there(scene: Scene, at: int) -> bool:
    """Whether nothing follows "ten metres off" in its clause."""
    return at + 2 >= len(scene.pieces) or scene.pieces[at + 2].after_break


def _is_said_of_it(scene: Scene, at: int) -> bool:
    """Whether the clause of a length names neither flag nor green: "…, it's ten metres off, …"."""
    start = clause_start(scene.pieces, at)
    end = clause_end(scene.pieces, at + 1)
    return all(piece.text not in ("FLAG", "GREEN") for piece in scene.pieces[start:end])


def _other_length(scene: Scene, at: int) -> bool:
    """Whether another length is left that may be the flag's."""
    return any(
        other != at
        and piece.quantity is not None
        and piece.quantity.is_length
        and other not in scene.used
        and not any(
            m.quantity_at == other and m.get("distance") in ("height", "ceiling", "stretch")
            for m in scene.facts
        )
        for other, piece in enumerate(scene.pieces)
    )


def read_ways_past(scene: Scene, heads: list[Head]) -> None:
    """A way round, a gap, and a height to stay under for a stretch, of the trees named or of what is not named.

    A ball in the trees that may go under them has some before it, too.
    """
    beside = {mention.start for mention in scene.having("open_side")}
    named = any(head.kind is HazardKind.TREES for head in heads)
    for mention in scene.having("round"):
        if mention.start in beside and not named:
            continue  # "Water left, room on the right": nothing was named to go round.
        head = _trees_at(heads, mention)
        head.round = Side(str(mention.get("round")))
        head.places = head.places or [Side.SHORT.value]
    for mention in scene.having("gap"):
        head = _trees_at(heads, mention)
        head.gap_m = _USUAL_GAP_M
        head.places = head.places or [Side.SHORT.value]
    for mention in scene.having("not_over"):
        trees = [head for head in heads if head.kind is HazardKind.TREES and not head.mine]
        if trees:
            head = _trees_at(heads, mention)
            head.not_over = True
            head.places = head.places or [Side.SHORT.value]
    among_trees = any(head.kind is HazardKind.TREES and head.mine for head in heads)
    for mention in scene.having("under"):
        if "hangs_m" in mention or (among_trees and "with" not in mention):
            head = _trees_at(heads, mention)
            head.overhead, head.places = True, head.places or [Side.SHORT.value]
    _told_next(scene, heads)
    for mention in scene.having("distance"):
        _of_a_gap_or_ceiling(scene, heads, mention)


def _told_next(scene: Scene, heads: list[Head]) -> None:
    """ "Under the branches, maybe four feet, …", "they're two metres up": a height behind them is theirs."""
    for head in heads:
        if not head.overhead or head.height_m is not None:
            continue
        for at in range(head.end, min(head.end + _NEAR, len(scene.pieces))):
            if scene.pieces[at].text in ("FLAG", "GREEN"):
                break
            if at not in scene.used and _is_a_height(scene, at):
                quantity = scene.pieces[at].quantity
                head.height_m = None if quantity is None else scene.length_m(quantity)
                scene.used.add(at)
                scene.facts[:] = [m for m in scene.facts if "elevation" not in m or m.quantity_at != at]
                break


def _is_a_height(scene: Scene, at: int) -> bool:
    """Whether a clause ends with a few feet, or a length and "up"."""
    quantity = scene.pieces[at].quantity
    if quantity is None or not quantity.is_length or scene.length_m(quantity) > _HIGHEST_CEILING_M:
        return False
    up = (
        at + 1 < len(scene.pieces)
        and scene.pieces[at + 1].text == "up"
        and not scene.pieces[at + 1].after_break
    )
    after = at + 1 + up
    ends = after == len(scene.pieces) or scene.pieces[after].after_break
    return ends and (quantity.unit == Unit.FEET or (up and quantity.unit is not None))


def _of_a_gap_or_ceiling(scene: Scene, heads: list[Head], mention: Mention) -> None:
    roles = {reading.get("distance") for reading in mention.readings}
    role = next((each for each in ("gap_wide", "ceiling", "stretch") if each in roles), None)
    quantity, at = mention.quantity, mention.quantity_at
    if role is None or quantity is None or at is None or at in scene.used:
        return
    if role == "gap_wide":
        gaps = [head for head in heads if head.gap_m is not None]
        if gaps:
            gaps[-1].gap_m = min(max(scene.length_m(quantity), 0.5), 30.0)
            scene.used.add(at)
        return
    metres = scene.length_m(quantity, Unit.FEET if role == "ceiling" and quantity.unit is None else None)
    under = quantity.approximate or any(
        piece.text in _UNDER for piece in scene.pieces[mention.start : mention.end]
    )
    if role == "ceiling" and under and metres <= _HIGHEST_CEILING_M:
        head = _trees_at(heads, mention)
        head.overhead, head.height_m = True, metres
        _for_a_stretch(scene, head, mention)
    elif role == "stretch" and metres < FARTHEST_M and any(head.overhead for head in heads):
        head = [head for head in heads if head.overhead][-1]
        head.carry_m = metres
    else:
        return
    head.places = head.places or [Side.SHORT.value]
    scene.used.add(at)


def _for_a_stretch(scene: Scene, head: Head, mention: Mention) -> None:
    """ "Under six feet for fifteen yards": the second length is how far."""
    for at in range((mention.quantity_at or 0) + 1, mention.end):
        quantity = scene.pieces[at].quantity
        if quantity is not None and 0 < scene.length_m(quantity) < FARTHEST_M:
            head.carry_m = scene.length_m(quantity)
            scene.used.add(at)


def _trees_at(heads: list[Head], mention: Mention) -> Head:
    """The trees named in the mention, or last before it, or next; else ones that nobody named."""
    trees = [head for head in heads if head.kind is HazardKind.TREES and not head.mine]
    inside = [head for head in trees if mention.start <= head.start < mention.end]
    before = [head for head in trees if head.end <= mention.start]
    if inside or before or trees:
        return (inside or before or trees)[-1]
    heads.append(Head(mention.start, mention.end, HazardKind.TREES))
    return heads[-1]
