"""Two numbers that tell one length: a range, a difference, a guess, a number and the one it is not.

What stands between the two, and what it makes of them, is data: ``joints`` in ``numbers.toml``.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace

from caddie.words.grammar import grammar
from caddie.words.numbers import twin
from caddie.words.quantities import LOFTS, Piece, Quantity

_LONGEST_JOINT = 3
"""Words between two numbers at most."""
_PASSED_BY_GUESS = frozenset(
    {"in", "out", "away", "to", "from", "FLAG", "putt", "left", "go", "i", "think", "uphill", "downhill"}
)
"""Words between a number and another guess at the same length: "sixty metres in, maybe sixty-two"."""
_MARKS = frozenset({"it", "that", "one", "marker", "post", "plate", "stake"})
_ABOUT = frozenset({"about", "only", "maybe", "another", "standing", "probably"})
_NO_LENGTH_AFTER = frozenset(
    {"with", "full", "half", "threequarter", "swing", "use", "using", "hit", "hitting", "smooth", "easy"}
    | {"stimp", "stimping", "stimps", "running", "rolling", "speed", "wind", "breeze", "gusting"}
)
"""Before a number they make it a club's, a green's or a wind's: "full 60, 72 yards", "stimping eleven, 13 yards"."""
_TEN = 10
_LEAST_WHOLE = 30
"""From here a number may be what a smaller one is counted from: "five short of seventy"."""


def settle(pieces: list[Piece], *, again: bool = False) -> list[Piece]:
    """Numbers that tell one length put together: "sixty to sixty five" becomes one quantity.

    Done again, once what was taken back is gone, a number in a range no longer settles it: it may be the nearer end.
    """
    kept = _set_against(_counted_from_mark(pieces))
    at = 0
    while at < len(kept):
        shorter = (None if again else _narrowed_at(kept, at)) or _settled_at(kept, at)
        kept, at = (kept, at + 1) if shorter is None else (shorter, 0)
    return kept


_MEASURES = frozenset({"to", "from", "of", "away", "off", "out", "short", "behind", "past", "beyond", "in"})
_BUT = frozenset({"but", "it", "more", "rather", "FLAG", "GREEN"})
"""What may stand between a number that it is not and the one that it is."""


def _set_against(pieces: list[Piece]) -> list[Piece]:
    """ "It's not a seven, an eleven", "not six metres but ten": the number that it is stays."""
    kept = list(pieces)
    for at in reversed(range(1, len(pieces) - 2)):
        if kept[at].text != "not" or kept[at].after_break:
            continue
        first = _number(kept, at + 1)
        then = next((i for i in range(at + 2, min(at + 5, len(kept))) if kept[i].text not in _BUT), at + 2)
        second = _number(kept, then)
        ends = then + 1 >= len(kept) or kept[then + 1].after_break or second is None or second.unit is None
        apart = any(piece.after_break for piece in kept[at + 2 : then + 1]) or then > at + 2
        if first is None or second is None or not apart or not ends or kept[at + 1].after_break:
            continue
        if first.unit in (None, second.unit) or second.unit is None:
            kept[at : then + 1] = [replace(kept[then], after_break=False, quantity=_in_unit(second, first))]
    return kept


def _counted_from_mark(pieces: list[Piece]) -> list[Piece]:
    """ "The marker says 100 but I'm six yards past it": where the player stands, counted from a number said before."""
    for at in range(1, len(pieces) - 1):
        second = _number(pieces, at)
        mark = next((i for i in range(at - 1, -1, -1) if _number(pieces, i) is not None), None)
        first = None if mark is None else _number(pieces, mark)
        if second is None or first is None or mark is None or not _is_of_player(pieces, at):
            continue
        for end in range(at + 2, min(at + 2 + _LONGEST_JOINT, len(pieces)) + 1):
            joint = grammar().joints.get(" ".join(piece.text for piece in pieces[at + 1 : end - 1]), "")
            if pieces[end - 1].text in _MARKS and joint in ("short", "past"):
                one = _JOINTS[joint](second, first)
                if one is not None:
                    return _put([*pieces[:at], *pieces[end:]], mark, mark + 1, one)
    return list(pieces)


def _is_of_player(pieces: list[Piece], at: int) -> bool:
    """Whether a clause begins "I'm" or "we're" and then this number."""
    before = [piece.text for piece in pieces[max(at - 3, 0) : at]]
    while before and before[-1] in _ABOUT:
        before.pop()
    return bool(before) and before[-1] in ("i", "we")


def _settled_at(pieces: list[Piece], at: int) -> list[Piece] | None:
    """The pieces with the number at ``at`` and the next one put together, if they tell one length."""
    first = _number(pieces, at)
    then = next((i for i in range(at + 1, at + 2 + _LONGEST_JOINT) if _number(pieces, i) is not None), None)
    second = None if then is None else _number(pieces, then)
    if first is None or then is None or second is None:
        return None
    words = " ".join(piece.text for piece in pieces[at + 1 : then])
    if not words:
        return _side_by_side(pieces, at, first, second)
    if _PASSED_BY_GUESS.issuperset(words.split()) and _is_second_guess(pieces, then):
        guessed = _guess(first, second)
        if guessed is not None:
            return _put([*pieces[:then], *pieces[then + 1 :]], at, at + 1, guessed)
    joint = grammar().joints.get(words, "")
    if words == "no" and _says_it_was_misheard(pieces, at, then):
        joint = "first"
    if joint not in _JOINTS or (pieces[then].after_break and joint != "first"):
        return None
    led = at > 0 and pieces[at - 1].text == "between"
    if words == "and" and not led:
        return None
    one = _JOINTS[joint](first, _in_its_ten(first, second) if words == "or" else second)
    if one is None:
        return _one_of_two_clubs(pieces, at, then) if joint == "near" else None
    rest = _going_on(pieces[then + 1 :]) if joint == "first" else pieces[then + 1 :]
    return _put([*pieces[: then + 1], *rest], at - 1 if led else at, then + 1, one)


def _going_on(rest: list[Piece]) -> list[Piece]:
    """ "Six, not ten, to the front": what the number measures, behind the pause that its old value stood in."""
    if not rest or rest[0].text not in _MEASURES:
        return rest
    return [replace(rest[0], after_break=False), *rest[1:]]


def _says_it_was_misheard(pieces: list[Piece], at: int, then: int) -> bool:
    """ "I said fifty, no fifteen": of two that sound alike, a Scot's "no" is "not"."""
    first, second = pieces[at].quantity, pieces[then].quantity
    said = at > 0 and pieces[at - 1].text in ("CORRECTION", "said") and not pieces[then].after_break
    return said and first is not None and second is not None and twin(first.low) == second.low


def _number(pieces: list[Piece], at: int) -> Quantity | None:
    """The number at a place; a number in a name such as "the 56 degree" is none."""
    return pieces[at].quantity if at < len(pieces) and pieces[at].text == "#" else None


def _put(pieces: list[Piece], start: int, end: int, one: Quantity) -> list[Piece]:
    """One quantity in place of the pieces from ``start`` to ``end``."""
    said = " ".join(piece.said for piece in pieces[start:end] if piece.said)
    return [*pieces[:start], Piece("#", pieces[start].after_break, one, said=said), *pieces[end:]]


def _is_second_guess(pieces: list[Piece], at: int) -> bool:
    """ ", maybe sixty-two,": a guess that tells nothing but another number."""
    ends = at + 1 == len(pieces) or pieces[at + 1].after_break
    number = _number(pieces, at)
    return ends and number is not None and number.approximate and number.low == number.high


def _side_by_side(pieces: list[Piece], at: int, first: Quantity, second: Quantity) -> list[Piece] | None:
    """ "Sixty, sixty-five yards", "thirty, thirty-three if I'm honest", "twelve feet, maybe thirteen"."""
    if at and pieces[at - 1].text == "not":
        return None  # "Not thirty, thirty-five yards".
    end = at + 2
    after = pieces[end].text if end < len(pieces) and not pieces[end].after_break else ""
    ends = after == "" or end + 1 == len(pieces) or pieces[end + 1].after_break
    if after == "AFTERTHOUGHT" or (after in ("CORRECTION", "rather") and ends):
        return _put(pieces, at, end + 1, _in_unit(second, first))
    if second.approximate and after == "":
        guessed = _guess(first, second)
        if guessed is not None:
            return _put(pieces, at, end, guessed)
    led = [piece.text for piece in pieces[max(at - 2, 0) : at]]
    led = led[:1] if led[-1:] in (["at"], ["about"], ["around"]) else led[-1:]
    if pieces[at + 1].after_break and led and led[0] in _NO_LENGTH_AFTER:
        return None
    joined = _near(first, second)
    if joined is None or (pieces[at + 1].after_break and second.unit is None):
        return None
    return _put(pieces, at, end, joined)


def _narrowed_at(pieces: list[Piece], at: int) -> list[Piece] | None:
    """ "Between forty and fifty, say forty-five": a number alone settles what was left open right before it."""
    wide, one = _number(pieces, at), _number(pieces, at + 1)
    ends = at + 2 >= len(pieces) or pieces[at + 2].after_break
    if wide is None or one is None or not (pieces[at + 1].after_break and ends and _is_within(wide, one)):
        return None
    return _put(pieces, at, at + 2, _in_unit(one, wide))


def _is_within(wide: Quantity, one: Quantity) -> bool:
    alike = one.unit in (None, wide.unit) and one.is_length
    return alike and wide.low < wide.high and one.low == one.high and wide.low <= one.low <= wide.high


def _one_of_two_clubs(pieces: list[Piece], at: int, then: int) -> list[Piece] | None:
    """ "58 or 54": a longer one said second is no range; the one said last is compared."""
    both = (pieces[at].quantity, pieces[then].quantity)
    if any(q is None or q.unit is not None or q.middle not in LOFTS for q in both):
        return None
    if [piece.text for piece in pieces[then + 1 : then + 3]] == ["no", "#"]:
        # "47 or 45, no, 46 yards": lengths, the last of them put right.
        return None
    club = Piece("CLUB", pieces[at].after_break, both[1], "{n}")
    return [*pieces[:at], club, *pieces[then + 1 :]]


def _in_its_ten(first: Quantity, second: Quantity) -> Quantity:
    """ "Forty-eight or nine": nine of the forties."""
    tens, ones = divmod(first.low, _TEN)
    if tens < 2 or ones % 1 or not ones < second.low < _TEN:
        return second
    return replace(second, low=tens * _TEN + second.low, high=tens * _TEN + second.high)


def _in_unit(number: Quantity, other: Quantity) -> Quantity:
    """A length without a unit counted in the other's."""
    if number.unit is None and other.unit is not None and number.is_length and other.is_length:
        return replace(number, unit=other.unit)
    return number


def _range(first: Quantity, second: Quantity, widest: float) -> Quantity | None:
    if first.unit not in (None, second.unit) or not 0 < first.low < second.high <= widest:
        return None
    return replace(second, low=first.low, high=second.high, approximate=True)


def _wide(first: Quantity, second: Quantity) -> Quantity | None:
    return _range(first, second, first.low * 2 + 10)


def _near(first: Quantity, second: Quantity) -> Quantity | None:
    return _range(first, second, first.low * 1.35 + 1)


def _guess(first: Quantity, second: Quantity) -> Quantity | None:
    """ "Twelve feet, maybe thirteen"."""
    return _near(first, _in_unit(second, first))


def _counted(first: Quantity, second: Quantity, value: float) -> Quantity | None:
    """A length reckoned from two, the unit said with either."""
    units = {first.unit, second.unit} - {None}
    if len(units) > 1 or value <= 0 or not (first.is_length and second.is_length):
        return None
    approximate = first.approximate or second.approximate
    return Quantity(value, value, next(iter(units), None), approximate=approximate)


def _from_whole(first: Quantity, second: Quantity, sign: int) -> Quantity | None:
    if second.low < _LEAST_WHOLE or first.low * 2 > second.low:
        return None
    return _counted(first, replace(second, approximate=False), second.low + sign * first.low)


_JOINTS: Mapping[str, Callable[[Quantity, Quantity], Quantity | None]] = {
    "wide": _wide,
    "near": _near,
    "first": _in_unit,
    "about": lambda first, second: replace(_in_unit(first, second), approximate=True),
    "difference": lambda first, second: _counted(first, second, first.low - second.low),
    "short": lambda first, second: _from_whole(first, second, -1),
    "past": lambda first, second: _from_whole(first, second, +1),
}
"""What two numbers make, by the kind of joint between them."""
