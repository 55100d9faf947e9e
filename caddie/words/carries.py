"""How far it is to clear trouble, and how high it stands."""

from caddie.plan.assume import MOST_ROOM_M
from caddie.situation import FARTHEST_M, Hazard, HazardKind, Side
from caddie.units import SMALL_UNITS, Unit
from caddie.words.distances import refusal
from caddie.words.heads import Head, TroubleSaid, head_at, kind_at
from caddie.words.mentions import Mention
from caddie.words.quantities import Quantity, clause_start
from caddie.words.scene import Scene

_UPWARD = frozenset({"high", "tall", "deep"})
_HIGHEST_LIP_M = 8.0
_OVER = frozenset({"over", "across"})
_FAR_OFF = frozenset({"away", "off", "out", "ahead"})
_GOES = frozenset({"carries", "flies", "goes", "travels"})
_FAR_FROM_IT = frozenset({"away", "out", "on", "at", "about"})


def read_carries(scene: Scene, heads: list[Head], said: TroubleSaid) -> None:
    """Give each piece of trouble the carries and heights said of it."""
    for mention in scene.having("distance"):
        role, quantity, at = mention.get("distance"), mention.quantity, mention.quantity_at
        if role not in ("carry", "height", "past_flag") or quantity is None or at is None or at in scene.used:
            continue
        if not quantity.is_length or (role == "height" and _is_along_the_ground(scene, mention, quantity)):
            continue
        hazards = [head for head in heads if head.kind and not head.mine]
        head = head_at(heads, mention.trouble_at) if mention.trouble_at is not None else None
        if role == "carry" and head is not None and head.mine and _only_tells_how_far(scene, mention):
            continue  # "bunker 14": how far from the sand the ball lies in
        scene.used.add(at)
        if role == "past_flag":
            if head is not None and 0 < scene.length_m(quantity) <= MOST_ROOM_M:
                head.past_flag_m = scene.length_m(quantity)
            continue
        if head is None and hazards:
            head = min(
                hazards, key=lambda h: scene.gap(mention, h.start, h.end) + (h.start < mention.start) * 0.5
            )
        if role == "height" or (head is not None and head.overhead and quantity.unit == Unit.FEET):
            if head is not None:
                head.height_m = _height(scene, quantity)
            elif scene.having("lie"):
                said.lip_m = min(_height(scene, quantity) or 0.0, _HIGHEST_LIP_M) or None
            continue
        metres = scene.length_m(quantity)
        if not 0 <= metres <= FARTHEST_M:
            said.problem = refusal(quantity, scene.unit, metres, scene.pace_m)
        elif head is None and not _is_of_a_club(scene, mention):
            said.front_m = metres
        elif head is None:
            continue
        else:
            head.carry_m = metres


def _is_of_a_club(scene: Scene, mention: Mention) -> bool:
    """ "Pitching wedge to the chest carries 88": how far a club goes, told in the clause that names it."""
    first = clause_start(scene.pieces, mention.start)
    named = any(scene.pieces[at].text == "CLUB" for at in range(first, mention.start))
    named = named or any(first <= m.start < mention.start for m in scene.having("club", "swing"))
    return named and not _GOES.isdisjoint(piece.text for piece in scene.pieces[mention.start : mention.end])


def _is_along_the_ground(scene: Scene, mention: Mention, quantity: Quantity) -> bool:
    """ "Twenty yards deep": a height in yards is told by "high" alone, as in "a tier a yard high"."""
    told_high = any(piece.text in ("high", "tall") for piece in scene.pieces[mention.start : mention.end])
    return quantity.unit in (Unit.PACES, Unit.YARDS) and not told_high


def _only_tells_how_far(scene: Scene, mention: Mention) -> bool:
    """ "Bunker ninety yards out": a length and no word of carrying."""
    words = (piece.text for piece in scene.pieces[mention.start + 1 : mention.end] if piece.text != "#")
    return _FAR_FROM_IT.issuperset(words)


def read_apart(scene: Scene, heads: list[Head]) -> None:
    """ "Trees in front, twenty feet high, twenty yards away": clauses of a length tell of the trouble before."""
    for mention in scene.having("distance"):
        at, quantity = mention.quantity_at, mention.quantity
        head = _last_named(scene, heads, mention)
        if head is None or quantity is None or at is None or at in scene.used or not quantity.is_length:
            continue
        ending = scene.pieces[mention.end - 1].text
        if ending in _UPWARD and not _is_along_the_ground(scene, mention, quantity):
            head.height_m = _height(scene, quantity)
        elif ending in _FAR_OFF and mention.end - mention.start == 2 and _another_length(scene, at):
            head.carry_m = scene.length_m(quantity)
        else:
            continue
        scene.used.add(at)


def read_over(scene: Scene, heads: list[Head]) -> None:
    """ "One hundred and four over the pond, pin at one ten": what is over it is the carry when the flag is farther."""
    lengths = {
        at: scene.length_m(piece.quantity)
        for at, piece in enumerate(scene.pieces)
        if piece.text == "#" and piece.quantity is not None and piece.quantity.is_length
    }
    flag = next((at for at, piece in enumerate(scene.pieces) if piece.text == "FLAG"), None)
    for at, length_m in lengths.items():
        head = head_at(heads, at + 2) if at + 2 < len(scene.pieces) else None
        told_before = flag is not None and at < flag
        farther = told_before and any(other > length_m for key, other in lengths.items() if key > at)
        if head is None or at in scene.used or not farther or scene.pieces[at + 1].text not in _OVER:
            continue
        head.carry_m = length_m
        scene.used.add(at)


def _last_named(scene: Scene, heads: list[Head], mention: Mention) -> Head | None:
    """What the clauses before were of, if of trouble: the flag or another length in between ends them."""
    high = scene.pieces[mention.end - 1].text in _UPWARD
    if not (scene.pieces[mention.start].after_break or high):
        return None
    before = [head for head in heads if head.end <= mention.start]
    last = max(before, key=lambda head: head.start, default=None)
    if last is None or last.kind is None or last.mine or _places_the_flag(scene, last):
        return None
    between = range(last.end, mention.start)
    lost = any(scene.pieces[at].text == "FLAG" for at in between)
    return (
        None if lost or any(scene.pieces[at].text == "#" and at not in scene.used for at in between) else last
    )


def _places_the_flag(scene: Scene, head: Head) -> bool:
    """ "Pin two paces past the top of the bank, nine paces off": of the flag, which is told by the bank."""
    telling = (m for m in scene.having("distance") if m.start <= head.start < m.end)
    return any(piece.text == "FLAG" for m in telling for piece in scene.pieces[m.start : m.end])


def _another_length(scene: Scene, at: int) -> bool:
    """Whether another length is left to tell how far the flag is."""
    return any(
        other != at
        and piece.text == "#"
        and piece.quantity is not None
        and piece.quantity.is_length
        and other not in scene.used
        and piece.quantity.unit not in SMALL_UNITS
        for other, piece in enumerate(scene.pieces)
    )


def read_heights(scene: Scene, heads: list[Head]) -> None:
    """ "A twenty foot tree", "a two metre bank" is how high it is."""
    for at, piece in enumerate(scene.pieces[:-1]):
        head = head_at(heads, at + 1) if scene.is_trouble(at + 1) else None
        if piece.quantity is None or at in scene.used or head is None:
            continue
        if not _is_height_of(scene, piece.quantity, head):
            continue
        if not (head.several or scene.pieces[at + 1].after_break):
            head.height_m = _height(scene, piece.quantity)
            scene.used.add(at)


def _is_height_of(scene: Scene, quantity: Quantity, head: Head) -> bool:
    """Whether a length right before trouble tells how high it is: metres are a height only of what stands up."""
    if quantity.unit == Unit.METRES:
        return head.kind in _HIGHEST_M and 0 < scene.length_m(quantity) <= _HIGHEST_M[head.kind]
    return quantity.unit == Unit.FEET


_HIGHEST_M = {HazardKind.TREES: 30.0, HazardKind.UPSLOPE: 5.0, HazardKind.RIDGE: 3.0, HazardKind.TIER: 3.0}
"""No higher is what stands up on a course (common practice, no source)."""


def _height(scene: Scene, quantity: Quantity) -> float | None:
    metres = scene.length_m(quantity, Unit.FEET)
    return metres if 0 <= metres <= 30 else None


def carried_to(scene: Scene, said: TroubleSaid, front_m: float | None) -> tuple[Hazard, ...]:
    """ "Burn ten yards short of the green, front edge 70": the carry is what is left of the distance to the edge."""
    hazards = list(said.hazards)
    for mention in scene.having("before_green"):
        if front_m is None or mention.quantity is None or mention.trouble_at is None:
            continue
        kind = kind_at(scene, mention.trouble_at)
        carry_m = front_m - scene.length_m(mention.quantity)
        if not any(p.text == "FLAG" for p in scene.pieces[mention.start : mention.end]) and carry_m > 0:
            hazards = [
                h.model_copy(update={"carry_m": carry_m})
                if (h.kind, h.side, h.carry_m) == (kind, Side.SHORT, None)
                else h
                for h in hazards
            ]
    return tuple(hazards)
