"""Pieces put in the order in which the templates say them, so that one template holds for several."""

from dataclasses import replace
from functools import lru_cache

from caddie.words.grammar import grammar
from caddie.words.quantities import Piece, clause_start
from caddie.words.templates import expansions

_PLACES = frozenset({"front", "back", "middle", "left", "right", "tucked"})
_DEPTHS = frozenset({"front", "middle", "back"})
_EDGES = frozenset({"GREEN", "front", "edge"})
_OFF = frozenset({"off", "justoff", "before"})
_A_BIT_OF = frozenset({"bit", "of", "little", "slight", "gentle"})
_NEXT = frozenset({"and", "but"})
_OF_BALL = frozenset(
    {"i", "it", "ball", "we", "about", "sat", "sits", "lies", "lying", "sitting", "only", "have", "got"}
)
"""Words that may stand before where the ball is: not before where trouble is."""
_MEASURED = frozenset({"front", "back", "middle", "edge", "FLAG"})
_AFTER_RIGHT = frozenset(
    {
        *("up", "at", "in", "against", "next", "near", "beside", "through", "over"),
        *("before", "after", "beyond", "past", "below", "above", "between"),
    }
)
"""Before these "right" strengthens, else it is a side: "right up the front", "right before the green"."""
_SIDE_BEFORE = frozenset(
    {
        "anything",
        "go",
        "going",
        "miss",
        "missing",
        "on",
        "to",
        "front",
        "back",
        "middle",
        "far",
        "hard",
        "down",
        "along",
        "hand",
        "off",
        "from",
    }
)
_OVER = ("over", "through")
_LEADS_ON = frozenset({"and", "but", "so", "because", "as", "that", "then"})
"""Before "it" they begin a clause of which it is the subject."""
_STEEP = frozenset({"uphill", "downhill", "sidehill"})
_OF_A_STANCE = _STEEP | {"ball", "above", "below", "feet", "and", "side", "hill"}
_STANCES = frozenset({"lie", "stance"})
_WAYS = frozenset(
    {
        "away",
        "back",
        "toward",
        "towards",
        "to",
        "from",
        "off",
        "left",
        "right",
        "down",
        "lefttoright",
        "righttoleft",
    }
)


def ordered(pieces: list[Piece]) -> list[Piece]:
    """Everything of this module, one after another."""
    return _named_in_threes(
        _named_first(
            _paired(
                _degrees_first(_without_strong_right(_turned(_number_first(_each_a_lie(_stood_on(pieces))))))
            )
        )
    )


def _number_first(pieces: list[Piece]) -> list[Piece]:
    """A length behind the place it leads to put before it: "just off the green, four paces," is four paces off.

    Only when another length follows: alone it is the flag's.
    """
    kept = list(pieces)
    for at in range(1, len(kept) - 1):
        if kept[at].text not in _EDGES or kept[at + 1].text != "#" or not kept[at + 1].after_break:
            continue
        if all(piece.text != "#" for piece in kept[at + 2 :]):
            continue
        ends = at + 2 == len(kept) or kept[at + 2].after_break or kept[at + 2].text in _NEXT
        start = at - 1 if kept[at - 1].text in _OFF else at - 2
        if not ends or start < 0 or any(piece.after_break for piece in kept[start + 1 : at + 1]):
            continue
        off = [piece.text for piece in kept[start:at]]
        first = next((i for i in range(start, 0, -1) if kept[i].after_break), 0)
        of_ball = _OF_BALL.issuperset(piece.text for piece in kept[first:start])
        if of_ball and (off == ["short", "of"] or (len(off) == 1 and off[0] in _OFF)):
            number = replace(kept[at + 1], after_break=kept[start].after_break)
            kept[start : at + 2] = [
                number,
                replace(kept[start], after_break=False),
                *kept[start + 1 : at + 1],
            ]
    return kept


def _stood_on(pieces: list[Piece]) -> list[Piece]:
    """ "Semi, upslope, 44": named by itself it is what one stands on, as "downslope" is; a bank stands somewhere."""
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        ends = at + 1 == len(pieces) or pieces[at + 1].after_break
        first = clause_start(pieces, at)
        alone = _A_BIT_OF.issuperset(each.text for each in pieces[first:at])
        if piece.text == "UPSLOPE" and piece.said == "upslope" and ends and first and alone:
            kept = [*kept[: len(kept) - (at - first)], Piece("on", True)]
            piece = replace(piece, after_break=False)
        kept.append(piece)
    return kept


def _each_a_lie(pieces: list[Piece]) -> list[Piece]:
    """ "A downhill, ball-below-the-feet lie": each of the words before "lie" is told of it."""
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        kept.append(piece)
        after = [each.text for each in pieces[at + 1 :]]
        end = next((i for i, text in enumerate(after) if text not in _OF_A_STANCE), len(after))
        if piece.text in _STEEP and 0 < end < len(after) and after[end] in _STANCES:
            kept.append(Piece(after[end]))
    return kept


def _turned(pieces: list[Piece]) -> list[Piece]:
    """A place between number and flag put behind the flag: "30 to a back pin" is "30 to the pin, back"."""
    kept = list(pieces)
    for at in range(len(kept) - 3):
        if kept[at].text != "#" or kept[at + 1].text not in ("to", "for", "at", "from"):
            continue
        flag = next((i for i in range(at + 2, min(at + 5, len(kept))) if kept[i].text == "FLAG"), None)
        if flag is None or flag == at + 2 or any(p.after_break for p in kept[at + 1 : flag + 1]):
            continue
        places = kept[at + 2 : flag]
        after = kept[flag + 1].text if flag + 1 < len(kept) and not kept[flag + 1].after_break else ""
        if all(p.text in _PLACES for p in places) and after not in (
            "#",
            "at",
            "on",
            "back",
            "middle",
            "cut",
            "out",
        ):
            kept[at + 2 : flag + 1] = [kept[flag], *places]
    return kept


def _without_strong_right(pieces: list[Piece]) -> list[Piece]:
    """ "Right, seventy yards", "right up the front", "right behind the bunker": no side."""
    if len(pieces) > 1 and pieces[0].text == "right" and pieces[1].after_break:
        pieces = pieces[1:]
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        following = pieces[at + 1] if at + 1 < len(pieces) else None
        strengthens = (
            piece.text == "right"
            and following is not None
            and following.text in _AFTER_RIGHT
            and not following.after_break
            and not _is_led_to_be_a_side(pieces, at)
        )
        if strengthens and following is not None:
            pieces[at + 1] = replace(following, after_break=piece.after_break)
        else:
            kept.append(piece)
    return kept


def _is_led_to_be_a_side(pieces: list[Piece], at: int) -> bool:
    """ "On the right", "left and right", "miss it right"; not "it's right before", "and right after it"."""
    led = [piece.text for piece in pieces[clause_start(pieces, at) : at]]
    if led[-1:] in (["and"], ["or"]):
        return led[-2:-1] == ["left"]
    if led[-1:] == ["it"]:
        return pieces[at + 1].text not in _OVER and len(led) > 1 and led[-2] not in _LEADS_ON
    return bool(led) and led[-1] in _SIDE_BEFORE


@lru_cache(maxsize=1)
def _slope_words() -> tuple[frozenset[str], frozenset[str]]:
    """Words that say a slope, and words that say how much of it."""
    entries = grammar().entries
    said = [
        {
            words[0]
            for e in entries
            if key in e.facts
            for node in e.say
            for words in expansions(node)
            if len(words) == 1
        }
        for key in ("break_lead", "degree")
    ]
    return frozenset(said[0]), frozenset(said[1])


def _degrees_first(pieces: list[Piece]) -> list[Piece]:
    """How much put before the slope: "slopes slightly back to me" is "slightly slopes back to me"."""
    slopes, degrees = _slope_words()
    kept = list(pieces)
    for at in range(len(kept) - 2):
        if kept[at].text not in slopes:
            continue
        end = at + 1
        while end < len(kept) and end - at <= 2 and kept[end].text in degrees and not kept[end].after_break:
            end += 1
        if at + 1 < end < len(kept) and kept[end].text in _WAYS and not kept[end].after_break:
            # "Green hard" would be its firmness: the pause keeps the two apart.
            firm = at > 0 and kept[at - 1].text == "GREEN"
            first = replace(kept[at + 1], after_break=kept[at].after_break or firm)
            kept[at:end] = [first, *kept[at + 2 : end], replace(kept[at], after_break=False)]
    return kept


def _paired(pieces: list[Piece]) -> list[Piece]:
    """Numbers and what they measure held together in pairs: "52 front 63 pin", "front 52 pin 63"."""
    kept = list(pieces)
    for at in range(len(kept) - 3):
        first, second, third, fourth = (piece.text for piece in kept[at : at + 4])
        before = kept[at - 1].text if at and not kept[at].after_break else ""
        after = kept[at + 4].text if at + 4 < len(kept) and not kept[at + 4].after_break else ""
        numbers_lead = first == third == "#" and {second, fourth} <= _MEASURED
        names_lead = second == fourth == "#" and {first, third} <= _MEASURED
        if second == (fourth if numbers_lead else "") or first == (third if names_lead else ""):
            continue
        if (numbers_lead and before not in _MEASURED and after != "#") or (names_lead and before != "#"):
            kept[at + 2] = replace(kept[at + 2], after_break=True)
    return kept


def _named_first(pieces: list[Piece]) -> list[Piece]:
    """ "61 front, 75 middle, 88 back" as "front 61, middle 75, back 88": else the place is the flag's."""
    kept = list(pieces)
    named = [
        at
        for at in range(len(kept) - 1)
        if kept[at].text == "#" and kept[at + 1].text in _DEPTHS and not kept[at + 1].after_break
    ]
    if len({kept[at + 1].text for at in named}) < max(len(named), 2):
        return kept
    for at in named:
        ends = at + 2 == len(kept) or kept[at + 2].after_break or at + 2 in named
        if ends:
            kept[at : at + 2] = [
                replace(kept[at + 1], after_break=True),
                replace(kept[at], after_break=False),
            ]
    return kept


def _named_in_threes(pieces: list[Piece]) -> list[Piece]:
    """Three rising numbers in a row, as a watch shows them: to the front, the middle and the back."""
    kept = list(pieces)
    for at in range(len(kept) - 2):
        three = [piece.quantity for piece in kept[at : at + 3] if piece.text == "#"]
        lengths = [quantity.middle for quantity in three if quantity is not None and quantity.is_length]
        if len(lengths) < 3 or not lengths[0] < lengths[1] < lengths[2]:
            continue
        if not any(piece.after_break for piece in kept[at + 1 : at + 3]):
            named = zip(("front", "middle", "back"), kept[at : at + 3], strict=True)
            kept[at : at + 3] = [
                each
                for name, piece in named
                for each in (Piece(name, after_break=True), replace(piece, after_break=False))
            ]
            break
    return kept
