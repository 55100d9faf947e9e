"""Numbers with their units, from words to one quantity: "six foot six", "70yds", "a pace and a half"."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from caddie.units import (
    FOOT_M,
    INCH_M,
    SMALL_UNITS,
    SpeedUnit,
    Unit,
    in_feet,
    in_yards,
    to_metres,
    to_metres_per_second,
)
from caddie.words.numbers import DIGITS, read_number
from caddie.words.spelling import Token

LENGTHS = frozenset(unit.value for unit in Unit)
COUNTS = frozenset({"other", "cups", "balls"})
"""Units of what is counted: minutes, dollars, cups. Such a number is no length."""
BORROWED_IN = frozenset({"cups", "balls", *(unit.value for unit in SMALL_UNITS)})
"""What the break of a putt is told in."""
IRONS = range(3, 10)
STROKES = range(1, 13)
STROKES_BY_NAME = frozenset({"strokes", "shots", "putts"})
"""What a number of strokes may be counted in."""
LOFTS = range(42, 66)
"""Numbers that name a wedge when said without a unit of length."""
_BEFORE_PRONOUN = frozenset({"that", "this", "another", "last", "which", "good", "long", "tough", "tricky"})
"""Before "one", which is no number then: "left that one eight feet short"."""
_NAMED_BY = frozenset({"par", "lying", "laying", "hole", "index"})
"""Before a digit that is a name: "lying three eighty yards" is no 380."""
_LETTERS = {"m": Unit.METRES, "y": Unit.YARDS, "p": Unit.PACES}
"""Units written as one letter right after digits."""
_AFTER_ONE_STEP = frozenset(
    {"off", "from", "away", "short", "past", "to", "and", "of", "left", "right", "more", "on"}
)
"""What tells "a step", a pace, from a step in the green."""
_COUNTED_FROM = frozenset({"under", "over", "short", "inside", "past", "less", "more"})
"""After "a couple", which is then counted from the number that follows: "a couple under fifty"."""
_ONE_OF = {"cup": "cups", "ball": "balls"}
_OF_A_BREAK = (
    ("outside",), ("inside",), ("wide",), ("or", "two"), ("and", "a", "half"), ("out", "on"), ("out", "to"),
    ("out", "left"), ("out", "right"),
    ("out", "the", "left"), ("out", "the", "right"), ("of", "break"), ("of", "borrow"), ("left", "of"), ("right", "of"),
)  # fmt: skip
"""What follows "a ball" that tells how far a putt breaks; "a cup" tells nothing else."""
_EVERYDAY_INCHES = {
    ("hand",): 4.0, ("hands",): 4.0, ("hand", "breadth"): 4.0, ("hand", "width"): 4.0, ("fist",): 4.0,
    ("finger",): 0.75, ("fingers",): 0.75, ("finger", "width"): 0.75, ("thumb",): 1.0, ("thumb", "width"): 1.0,
    ("shoe",): 12.0, ("shoe", "length"): 12.0, ("putter", "head"): 4.5, ("putterhead",): 4.5, ("grip",): 10.0,
    ("grip", "length"): 10.0, ("handspan",): 8.0, ("hand", "span"): 8.0,
}  # fmt: skip
"""What a break is told by where no ruler is at hand [in] (common practice, no source)."""
_BEHIND_A_BREAK = (
    ("left",), ("right",), ("to", "left"), ("to", "right"), ("from", "left"), ("from", "right"), ("off", "left"),
    ("off", "right"), ("of", "break"), ("of", "borrow"), ("of", "turn"), ("of", "swing"), ("outside",), ("wide",),
    ("of", "left"), ("of", "right"), ("lefttoright",), ("righttoleft",), ("of", "lefttoright"), ("of", "righttoleft"),
)  # fmt: skip
_AFTER_ITS_SIDE = frozenset({"hand", "handed", "side"})
"""Behind "left" these make it a place: "a hand to the left hand side"."""
SPEEDS = frozenset(unit.value for unit in SpeedUnit)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number or a range as said; ``unit`` is ``None`` for a bare number."""

    low: float
    high: float
    unit: str | None = None
    approximate: bool = False
    footer: bool = False
    """Said as "twelve footer": a putt."""
    feet_and_inches: bool = False
    definite: bool = False
    """Said as "the 56", which names a club."""

    @property
    def middle(self) -> float:
        """The number itself, or the middle of the range."""
        return (self.low + self.high) / 2

    @property
    def is_length(self) -> bool:
        """A length, or a bare number that may be one."""
        return self.unit is None or self.unit in LENGTHS

    def metres(self, unit: Unit, pace_m: float) -> float:
        """Length in metres, a bare number counted in ``unit``."""
        return to_metres(self.middle, Unit(self.unit) if self.unit else unit, pace_m)

    def ends_m(self, unit: Unit, pace_m: float) -> tuple[float, float]:
        """Both ends in metres."""
        said = Unit(self.unit) if self.unit else unit
        return to_metres(self.low, said, pace_m), to_metres(self.high, said, pace_m)

    def metres_per_second(self) -> float:
        """Speed in m/s; a bare number is in miles an hour."""
        return to_metres_per_second(self.middle, SpeedUnit(self.unit) if self.unit else SpeedUnit.MPH)

    def slope(self) -> float:
        """Rise over run; a bare number is in percent.

        A small angle's tangent is good to 0.1 % up to 3 degrees; steeper ones use the same line.
        """
        return self.middle * (0.017455 if self.unit == "degrees" else 0.01)


@dataclass(frozen=True, slots=True)
class Piece:
    """One step of the utterance after numbers and nouns were gathered.

    ``text`` is a plain word, ``#`` for a quantity or a noun's name in capitals.
    """

    text: str
    after_break: bool = False
    quantity: Quantity | None = None
    value: str | None = None
    """What a noun stands for, such as a club's name."""
    said: str = ""
    """The words it was said in."""


def clause_start(pieces: Sequence[Piece], at: int) -> int:
    """Where the clause that holds the piece ``at`` begins."""
    return next((i for i in range(at, 0, -1) if pieces[i].after_break), 0)


def clause_end(pieces: Sequence[Piece], at: int) -> int:
    """Where, from the piece ``at`` on, the next clause begins; the end when none does."""
    return next((i for i in range(at, len(pieces)) if pieces[i].after_break), len(pieces))


def gather(tokens: Sequence[Token], units: Mapping[tuple[str, ...], str]) -> list[Piece]:
    """Words to pieces, each number with its unit as one quantity.

    Parameters:
        tokens: the plain words.
        units: phrases that name a unit, and the unit.
    """
    words = [token.text for token in tokens]
    pieces: list[Piece] = []
    at = 0
    while at < len(words):
        found = _quantity(tokens, words, at, units)
        if found is None:
            pieces.append(Piece(words[at], tokens[at].after_break, said=words[at]))
            at += 1
        else:
            quantity, used = found
            if at and words[at - 1] in ("the", "my", "a", "an") and quantity.unit is None:
                quantity = replace(quantity, definite=True)
            said = " ".join(words[at : at + used])
            pieces.append(Piece("#", tokens[at].after_break, quantity, said=said))
            if quantity.footer:
                pieces.append(Piece("putt"))
            at += used
    return pieces


def first_number(text: str) -> float | None:
    """The first number said in lower-case words; "one" alone is mostly a pronoun and is passed over.

    >>> first_number("this one is fifty six yards and twenty to the front"), first_number("over the back")
    (56.0, None)
    """
    words = text.split()
    for at in range(len(words)):
        number = read_number(words, at)
        if number is not None and words[at : at + number.words] != ["one"]:
            return number.value
    return None


def _quantity(
    tokens: Sequence[Token], words: list[str], at: int, units: Mapping[tuple[str, ...], str]
) -> tuple[Quantity, int] | None:
    sign = 1
    start = at
    if words[at] in ("minus", "negative"):
        sign, at = -1, at + 1
    if words[at : at + 1] == ["one"] and at and words[at - 1] in _BEFORE_PRONOUN:
        return None
    named = at > 0 and words[at - 1] in _NAMED_BY and words[at] in DIGITS
    number = read_number(words[: at + 1] if named else words, at)
    if number is not None and any(token.after_break for token in tokens[at + 1 : at + number.words]):
        number = read_number([word for word, token in _until_break(tokens, at)])
    if number is None:
        return None if sign < 0 else _counted_by_article(tokens, words, at, units)
    after = at + number.words
    value = sign * number.value
    ish = 0
    if after < len(words) and words[after] in ("ish", "odd", "something"):
        ish = 1
    unit, used = _unit(words, after + ish, units, digits=words[at][0].isdigit())
    if unit is None and not ish and (everyday := _everyday(words, after)):
        inches, used = everyday
        return Quantity(value * inches, value * inches, Unit.INCHES), after + used - start
    if unit is None and value <= 1 and (one := _one_of(tokens, words, after)):
        unit, used = one, 1
    if words[at] == "one" and number.words == 1 and unit is None:
        return None
    if words[at] == "couple" and unit is None and not _COUNTED_FROM & set(words[after : after + 1]):
        return None
    end = after + ish + used
    quantity = Quantity(value, value, unit, approximate=bool(ish) or words[at] == "couple")
    if used and words[end - 1] in ("footer", "footers"):
        quantity = replace(quantity, footer=True)
    if words[end : end + 3] == ["and", "a", "half"] and unit is not None:
        quantity, end = replace(quantity, low=value + 0.5, high=value + 0.5), end + 3
    elif unit in (Unit.FEET, Unit.YARDS) and not quantity.footer:
        quantity, end = _compound(tokens, words, end, quantity, units)
    return quantity, end - start


def _until_break(tokens: Sequence[Token], at: int) -> list[tuple[str, Token]]:
    kept = [(tokens[at].text, tokens[at])]
    for token in tokens[at + 1 : at + 6]:
        if token.after_break:
            break
        kept.append((token.text, token))
    return kept


def _compound(
    tokens: Sequence[Token],
    words: list[str],
    at: int,
    first: Quantity,
    units: Mapping[tuple[str, ...], str],
) -> tuple[Quantity, int]:
    """Six foot six, two yards one foot."""
    start = at + 1 if at < len(words) and words[at] == "and" else at
    if start >= len(words) or tokens[start].after_break:
        return first, at
    number = read_number(words, start)
    if number is None:
        return first, at
    unit, used = _unit(words, start + number.words, units, digits=False)
    if first.unit == Unit.FEET and number.value < 12 and unit == Unit.INCHES:
        more = number.value * in_feet(INCH_M)
    elif first.unit == Unit.FEET and number.value < 12 and unit is None and start == at and number.words == 1:
        if words[start : start + 1] == ["one"] or _starts_a_role(words, start + 1):
            return first, at
        more = number.value * in_feet(INCH_M)
    elif first.unit == Unit.YARDS and number.value < 3 and unit == Unit.FEET:
        more = number.value * in_yards(FOOT_M)
    else:
        return first, at
    value = first.middle + more
    return replace(first, low=value, high=value, feet_and_inches=True), start + number.words + used


def _starts_a_role(words: list[str], at: int) -> bool:
    return at < len(words) and words[at] in ("percent", "degrees", "degree", "iron", "mph", "to", "paces")


def _unit(
    words: list[str], at: int, units: Mapping[tuple[str, ...], str], *, digits: bool
) -> tuple[str | None, int]:
    for length in (4, 3, 2, 1):
        phrase = tuple(words[at : at + length])
        if len(phrase) == length and phrase in units:
            return units[phrase], length
    if at < len(words) and (words[at] in _LETTERS if digits else words[at] == "m"):
        return _LETTERS[words[at]], 1
    return None, 0


def _one_of(tokens: Sequence[Token], words: list[str], at: int) -> str | None:
    """The unit of "a cup", and of "a ball outside the left" or "a ball out" with nothing behind it."""
    unit = _ONE_OF.get(words[at]) if at < len(words) else None
    out = words[at + 1 : at + 2] == ["out"] and (at + 2 == len(words) or tokens[at + 2].after_break)
    if (
        unit == "balls"
        and not out
        and not any(tuple(words[at + 1 : at + 1 + len(p)]) == p for p in _OF_A_BREAK)
    ):
        return None
    return unit


def _everyday(words: list[str], at: int) -> tuple[float, int] | None:
    """How many inches "a hand" or "a putter head" is, and how many words, where a break is told by it."""
    for length in (3, 2, 1):
        inches = _EVERYDAY_INCHES.get(tuple(word for word in words[at : at + length] if word != "is"))
        if inches is None or len(words) < at + length:
            continue
        after = [word for word in words[at + length : at + length + 5] if word not in ("the", "my")]
        for way in _BEHIND_A_BREAK:
            if tuple(after[: len(way)]) == way and _AFTER_ITS_SIDE.isdisjoint(after[len(way) : len(way) + 1]):
                return inches, length
    return None


def _counted_by_article(
    tokens: Sequence[Token], words: list[str], at: int, units: Mapping[tuple[str, ...], str]
) -> tuple[Quantity, int] | None:
    """A yard, half a pace, a few feet, a pace and a half."""
    counts = {("a", "few"): 3.0, ("few",): 3.0, ("half", "a"): 0.5, ("half",): 0.5, ("a",): 1.0, ("an",): 1.0}
    counts |= {("a", each): 1.0 for each in ("good", "full", "whole")}
    for phrase, value in counts.items():
        size = len(phrase)
        if tuple(words[at : at + size]) != phrase:
            continue
        unit, used = _unit(words, at + size, units, digits=False)
        if one := _one_of(tokens, words, at + size):
            unit, used = one, 1
        if unit is None and (everyday := _everyday(words, at + size)):
            inches, used = everyday
            return Quantity(
                value * inches, value * inches, Unit.INCHES, approximate="few" in phrase
            ), size + used
        if unit is None or (unit not in LENGTHS and not one):
            continue
        end = at + size + used
        if phrase == ("a",) and words[end - 1] == "step" and not _AFTER_ONE_STEP & set(words[end : end + 1]):
            continue
        most = value
        if words[end : end + 3] == ["and", "a", "half"]:
            value, most, end = value + 0.5, value + 0.5, end + 3
        elif one and words[end : end + 2] == ["or", "two"]:
            most, end = 2.0, end + 2
        footer = words[end - 1] in ("footer", "footers")
        quantity = Quantity(value, most, unit, approximate="few" in phrase, footer=footer)
        return quantity, end - at
    return _one_alone(tokens, words, at, units)


def _one_alone(
    tokens: Sequence[Token], words: list[str], at: int, units: Mapping[tuple[str, ...], str]
) -> tuple[Quantity, int] | None:
    """ "Foot past": one, where a clause begins with what is counted and goes on with where that leads."""
    begins = at == 0 or tokens[at].after_break
    half = words[at + 1 : at + 4] == ["and", "a", "half"]
    end = at + (4 if half else 1)
    goes_on = end < len(words) and not tokens[end].after_break and words[end] in _LEADS
    if words[at] not in _COUNTED_ALONE or not begins or not goes_on:
        return None
    unit, _ = _unit(words, at, units, digits=False)
    count = 1.5 if half else 1.0
    return None if unit is None else (Quantity(count, count, unit), end - at)


_COUNTED_ALONE = frozenset({"foot", "yard", "metre", "meter", "inch", "pace"})
_LEADS = frozenset({"past", "by", "short", "beyond", "shy", "left", "right"})
