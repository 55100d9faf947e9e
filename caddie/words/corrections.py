"""What is taken back, denied or said as a range, settled before anything is read."""

from collections.abc import Mapping
from dataclasses import replace

from caddie.words.grammar import Fact
from caddie.words.mentions import Mention
from caddie.words.quantities import LOFTS, Piece, Quantity
from caddie.words.reduction import HESITATION
from caddie.words.scene import Scene

_ALIKE = 1.4
"""How far apart two lengths are at most, one of which corrects the other without a word that says so."""
_HILLS = {"up": "uphill", "down": "downhill"}
TAKES_BACK = frozenset({"CORRECTION", "RETRACTION"})
_DENIALS = frozenset({"not", "no", "without", "never", "nothing", "nor"})
_PASSED_BY_DENIAL = frozenset(
    {"any", "in", "on", "at", "of", "much", "even", "from", "one", "into", "really"}
)
_KINDS = (
    "lie",
    "where",
    "side",
    "fall",
    "break",
    "wind_from",
    "distance",
    "stance",
    "elevation",
    "height",
    "club",
    "swing",
    "family",
    "flight",
    "firmness",
    "stimp_ft",
    "stimp",
    "room",
    "sitting",
    "slope",
    "wind_number",
)


def without_hesitation(pieces: list[Piece], mentions: list[Mention]) -> list[Piece]:
    """ "Er" between two values of one kind corrects the first; anywhere else it is passed over."""
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        if piece.text != HESITATION:
            kept.append(piece)
        elif 0 < at < len(pieces) - 1 and _of_one_kind(pieces, mentions, at):
            kept.append(Piece("CORRECTION", after_break=True))
    return kept


def _of_one_kind(pieces: list[Piece], mentions: list[Mention], at: int) -> bool:
    first, second = pieces[at - 1].quantity, pieces[at + 1].quantity
    if first is not None and second is not None:
        alike = first.is_length and second.is_length and second.unit in (None, first.unit)
        return alike and first.middle / _ALIKE <= second.middle <= first.middle * _ALIKE
    left = next((m for m in mentions if m.end == at), None)
    right = next((m for m in mentions if m.start == at + 1), None)
    kind = _kind(right) if right is not None else None
    if left is None or right is None or kind is None:
        return False
    return _same(left, right, kind) and left.get(kind) != right.get(kind)


def settle(pieces: list[Piece]) -> list[Piece]:
    """Ranges put together and numbers that were taken back left out.

    "sixty to sixty five" becomes one quantity; "seventy, no, sixty five" the second.
    """
    kept = _front_middle_back(pieces)
    changed = True
    while changed:
        changed = False
        for at in range(len(kept)):
            shorter = _settled_at(kept, at)
            if shorter is not None:
                kept, changed = shorter, True
                break
    return kept


def _front_middle_back(pieces: list[Piece]) -> list[Piece]:
    """Three rising numbers in a row, as a watch shows them: to the front, the middle and the back."""
    kept = list(pieces)
    for at in range(len(kept) - 2):
        three = [piece.quantity for piece in kept[at : at + 3]]
        if any(piece.after_break for piece in kept[at + 1 : at + 3]) or None in three:
            continue
        lengths = [quantity.middle for quantity in three if quantity is not None and quantity.is_length]
        if len(lengths) == 3 and lengths[0] < lengths[1] < lengths[2]:
            named = zip(("front", "middle", "back"), kept[at : at + 3], strict=True)
            kept[at : at + 3] = [
                each
                for name, piece in named
                for each in (Piece(name, after_break=True), replace(piece, after_break=False))
            ]
            break
    return kept


def _settled_at(pieces: list[Piece], at: int) -> list[Piece] | None:
    first = pieces[at].quantity
    if first is None or pieces[at].text != "#":
        return None
    after = pieces[at + 1 : at + 3]
    if not after:
        return None
    if after[0].text == "#" and after[0].quantity is not None:
        if _ends_in_afterthought(pieces, at + 2):
            unit = after[0].quantity.unit or first.unit
            second = replace(after[0].quantity, unit=unit)
            return [*pieces[:at], replace(pieces[at], quantity=second), *pieces[at + 3 :]]
        joined = _range(first, after[0].quantity, near=True)
        if joined is not None and (not after[0].after_break or after[0].quantity.unit is not None):
            return [*pieces[:at], replace(pieces[at], quantity=joined), *pieces[at + 2 :]]
        return None
    reckoned = _reckoned(pieces, at)
    if reckoned is not None:
        return reckoned
    if len(after) < 2 or after[1].text != "#" or after[1].quantity is None:
        return None
    second = after[1].quantity
    if after[0].text in ("to", "or", "and") and not after[1].after_break:
        started = at > 0 and pieces[at - 1].text == "between"
        if after[0].text == "and" and not started:
            return None
        joined = _range(first, second, near=after[0].text == "or")
        if joined is None:
            return _one_of_two_clubs(pieces, at) if after[0].text == "or" else None
        start = at - 1 if started else at
        piece = replace(pieces[at], quantity=joined, after_break=pieces[start].after_break)
        return [*pieces[:start], piece, *pieces[at + 3 :]]
    if after[0].text in TAKES_BACK or after[0].text in ("no", "nope", "nah"):
        if second.unit is None and first.unit is not None and second.is_length:
            second = replace(second, unit=first.unit)
        rest = pieces[at + 3 :]
        if rest and rest[0].text in ("to", "from", "off", "out", "away"):
            rest = [replace(rest[0], after_break=False), *rest[1:]]
        return [*pieces[:at], replace(pieces[at], quantity=second), *rest]
    if after[0].text == "not":
        if second.unit is not None and first.unit is None and second.is_length:
            first = replace(first, unit=second.unit)
        return [*pieces[:at], replace(pieces[at], quantity=first), *pieces[at + 3 :]]
    return None


def _ends_in_afterthought(pieces: list[Piece], at: int) -> bool:
    """ "Thirty, thirty-three if I'm honest", "thirty, thirty-three I mean": the second number counts."""
    if at >= len(pieces) or pieces[at].after_break:
        return False
    ends = at + 1 == len(pieces) or pieces[at + 1].after_break
    return pieces[at].text == "AFTERTHOUGHT" or (pieces[at].text == "CORRECTION" and ends)


def _reckoned(pieces: list[Piece], at: int) -> list[Piece] | None:
    """ "A hundred less five": one length from two, the unit said with either."""
    first = pieces[at].quantity
    second = pieces[at + 2].quantity if pieces[at + 2 : at + 3] else None
    if first is None or second is None or not (first.is_length and second.is_length):
        return None
    if None not in (first.unit, second.unit) or pieces[at + 1].after_break or pieces[at + 2].after_break:
        return None
    value = first.low - second.low
    if pieces[at + 1].text != "less" or value <= 0:
        return None
    one = replace(pieces[at], quantity=Quantity(value, value, second.unit or first.unit))
    return [*pieces[:at], one, *pieces[at + 3 :]]


def _one_of_two_clubs(pieces: list[Piece], at: int) -> list[Piece] | None:
    """ "58 or 54": a longer one said second is no range; the one said last is compared."""
    both = (pieces[at].quantity, pieces[at + 2].quantity)
    if any(q is None or q.unit is not None or q.middle not in LOFTS for q in both):
        return None
    club = Piece("CLUB", pieces[at].after_break, both[1], "{n}")
    return [*pieces[:at], club, *pieces[at + 3 :]]


def _range(first: Quantity, second: Quantity, *, near: bool) -> Quantity | None:
    if first.unit is not None and first.unit != second.unit:
        return None
    low, high = first.low, second.high
    widest = low * 1.35 + 1 if near else low * 2 + 10
    if not 0 < low < high <= widest:
        return None
    return replace(second, low=low, high=high, approximate=True)


def take_back(scene: Scene) -> None:
    """Leave out mentions that a later one of the same kind corrects in the same breath."""
    for at, piece in enumerate(scene.pieces):
        if piece.text not in TAKES_BACK and not _is_no_between(scene, at):
            continue
        left = [mention for mention in scene.facts if mention.end <= at]
        right = next((mention for mention in scene.facts if mention.start > at), None)
        taken = _takes_itself_back(scene, at)
        if taken is not None:
            _named_before(scene, left, taken)
            continue
        bare = _bare_quantity(scene, at)
        if bare is not None and (right is None or bare < right.start or right.quantity_at == bare):
            _requantified(scene, left, right, bare)
            continue
        if right is None or right.start - at > 3:
            _trouble_taken_back(scene, at)
            continue
        if _wind_turned(scene, left, right) or _turned_over(scene, left, right):
            continue
        kind = _kind(right)
        corrected = next((m for m in reversed(left) if kind is not None and _same(m, right, kind)), None)
        if corrected is not None and kind in ("where", "side") and right.trouble_at is None:
            scene.facts.remove(right)
            scene.facts[scene.facts.index(corrected)] = _put_right(corrected, right)
        elif corrected is not None:
            scene.facts.remove(corrected)
            if corrected.trouble_at is not None:
                scene.denied.add(corrected.trouble_at)
        else:
            _trouble_taken_back(scene, at)


def _takes_itself_back(scene: Scene, at: int) -> int | None:
    """Where "no wait I'm not" or "actually it isn't" ends."""
    for end in range(at + 1, min(at + 4, len(scene.pieces))):
        if scene.pieces[end].after_break and end > at + 1:
            return None
        if scene.pieces[end].text == "not":
            last = end + 1 == len(scene.pieces) or scene.pieces[end + 1].after_break
            return end if last else None
    return None


def _named_before(scene: Scene, left: list[Mention], end: int) -> None:
    """Leave out what "I'm not" denies: of what the next words name, or else what was said last."""
    right = next((m for m in scene.facts if m.start > end and _kind(m) is not None), None)
    kind = _kind(right) if right is not None else None
    denied = next((m for m in reversed(left) if right is not None and kind and _same(m, right, kind)), None)
    denied = denied or next((m for m in reversed(left) if _kind(m) is not None), None)
    if denied is not None:
        scene.facts.remove(denied)
        scene.denied.update(range(denied.start, denied.end))


def _put_right(corrected: Mention, right: Mention) -> Mention:
    """The later place where the first one stood, of the same trouble."""
    of_trouble = {"with": "trouble"} if corrected.trouble_at is not None else {}
    return replace(corrected, readings=tuple({**reading, **of_trouble} for reading in right.readings))


def _wind_turned(scene: Scene, left: list[Mention], right: Mention) -> bool:
    """ "Wind from the left, sorry, the right"."""
    wind = next((m for m in reversed(left) if m.get("wind_from") in ("left", "right")), None)
    if wind is None or right.get("where") not in ("left", "right"):
        return False
    scene.facts[scene.facts.index(wind)] = replace(wind, readings=({"wind_from": str(right.get("where"))},))
    scene.facts.remove(right)
    return True


def _turned_over(scene: Scene, left: list[Mention], right: Mention) -> bool:
    """ "20 feet uphill, wait, downhill": the way is put right, the length stays."""
    hill = next((m for m in reversed(left) if "elevation" in m or m.get("stance") in _HILLS.values()), None)
    if hill is None or "slope_word" not in right or right.quantity is not None or "stance" in right:
        return False
    way = str(right.get("slope_word"))
    readings: tuple[Mapping[str, Fact], ...] = (
        {"stance": _HILLS[way]} if "stance" in hill else {"elevation": way},
    )
    scene.facts[scene.facts.index(hill)] = replace(hill, readings=readings)
    scene.facts.remove(right)
    return True


def _is_no_between(scene: Scene, at: int) -> bool:
    pieces = scene.pieces
    if pieces[at].text not in ("no", "nope", "nah") or at == 0 or at + 1 >= len(pieces):
        return False
    return pieces[at + 1].after_break or not _deniable(scene, at + 1)


def _deniable(scene: Scene, at: int) -> bool:
    """Whether "no" before this piece denies it rather than corrects what stood before."""
    if scene.pieces[at].text == "#":
        return False
    if scene.is_trouble(at) or scene.pieces[at].text in _PASSED_BY_DENIAL:
        return True
    mention = next((m for m in scene.facts if m.start <= at < m.end), None)
    return mention is None or not any(key in mention for key in ("lie", "where", "side", "club", "swing"))


def _bare_quantity(scene: Scene, at: int) -> int | None:
    """The number said instead, also after an aside: "sorry, I looked at the wrong flag, 57"."""
    number = next((i for i in range(at + 1, len(scene.pieces)) if scene.pieces[i].text == "#"), None)
    if number is None or number < at + 4:
        return number
    aside = scene.pieces[number].after_break and not any(at < m.end - 1 < number for m in scene.facts)
    return number if aside else None


def _requantified(scene: Scene, left: list[Mention], right: Mention | None, bare: int) -> None:
    quantity = scene.pieces[bare].quantity
    target = next((m for m in reversed(left) if "distance" in m and m.quantity is not None), None)
    if target is None:
        _loose_taken_back(scene, bare)
    if target is None or quantity is None or target.quantity is None:
        return
    if right is not None and right.quantity_at == bare and right.get("distance") != target.get("distance"):
        if _restated(scene, target, right):
            scene.facts.remove(target)
            scene.denied.add(target.quantity_at if target.quantity_at is not None else target.start)
        return
    if quantity.unit is None:
        quantity = replace(quantity, unit=target.quantity.unit)
    scene.facts[scene.facts.index(target)] = replace(target, quantity=quantity)
    scene.used.add(bare)
    if right is not None and right.quantity_at == bare:
        scene.facts.remove(right)


def _restated(scene: Scene, target: Mention, right: Mention) -> bool:
    """ "80 to the pin, scratch that, 80 to the front and 90 to the pin": the first is told anew."""
    if target.quantity is not None and right.quantity is not None and target.quantity == right.quantity:
        return True
    return any(m.start > right.start and m.get("distance") == target.get("distance") for m in scene.facts)


def _loose_taken_back(scene: Scene, bare: int) -> None:
    """ "62 yards, sorry, I looked at the wrong flag, 57": the first number is gone, its unit stays."""
    second = scene.pieces[bare].quantity
    for at in range(bare - 1, -1, -1):
        first = scene.pieces[at].quantity
        if first is None or second is None or not (first.is_length and second.is_length):
            continue
        if not any(m.start <= at < m.end for m in scene.facts):
            scene.denied.add(at)
            if second.unit is None:
                scene.pieces[bare] = replace(scene.pieces[bare], quantity=replace(second, unit=first.unit))
        return


def _trouble_taken_back(scene: Scene, at: int) -> None:
    left = next((i for i in range(at - 1, max(at - 3, -1), -1) if scene.is_trouble(i)), None)
    right = next((i for i in range(at + 1, min(at + 3, len(scene.pieces))) if scene.is_trouble(i)), None)
    if left is not None and right is not None:
        scene.denied.add(left)


def _kind(mention: Mention) -> str | None:
    return next((kind for kind in _KINDS if kind in mention), None)


def _same(first: Mention, second: Mention, kind: str) -> bool:
    places = {"where", "side"}
    if kind in places:
        return any(key in first for key in places)
    if kind == "stance":
        return "stance" in first or "slope_word" in first
    return kind in first


def deny(scene: Scene) -> None:
    """Leave out what a "no" or "not" right before it takes away."""
    kept: list[Mention] = []
    for mention in scene.facts:
        if _denied_before(scene, mention.start):
            scene.denied.update(range(mention.start, mention.end))
            scene.wind_denied = scene.wind_denied or "wind_word" in mention
        else:
            kept.append(mention)
    for at in range(len(scene.pieces)):
        if scene.is_trouble(at) and _denied_before(scene, at):
            scene.denied.add(at)
    scene.denied.update(m.trouble_at for m in scene.having("absent") if m.trouble_at is not None)
    scene.facts[:] = kept


def _denied_before(scene: Scene, start: int) -> bool:
    at = start - 1
    if scene.pieces[start].after_break or at < 0:
        return False
    while at > 0 and scene.pieces[at].text in _PASSED_BY_DENIAL and not scene.pieces[at].after_break:
        at -= 1
    if scene.pieces[at].text == "or" and at > 0 and (at - 1) in scene.denied:
        return True
    if scene.pieces[at].text not in _DENIALS:
        return False
    if scene.pieces[at].text == "not" and any(m.start <= at < m.end for m in scene.intents):
        return False
    return scene.pieces[at].text not in ("no", "nope") or _deniable(scene, start)
