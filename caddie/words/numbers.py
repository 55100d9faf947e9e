"""Numbers as players say and write them: seventy, 70, one oh five, a hundred and five, one fifteen."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen"
)
_UNITS = {word: value for value, word in enumerate(_SMALL.split())}
DIGITS = frozenset(_SMALL.split()[1:10])
_ROUND = "twenty thirty forty fifty sixty seventy eighty ninety"
_TENS = {word: 10 * tens for tens, word in enumerate(_ROUND.split(), start=2)} | {"fourty": 40}
_NOUGHTS = frozenset({"oh", "o", "zero", "nought", "naught"})
_ALONE = {"couple": 2.0, "dozen": 12.0, "nil": 0.0, "nought": 0.0, "naught": 0.0, "zero": 0.0}
TENS = frozenset(_TENS)
NUMBER_WORDS = frozenset({*_UNITS, *_TENS, *_ALONE, "oh", "hundred", "thousand", "half", "point", "minus"})

_TWINS = {13: 30, 14: 40, 15: 50, 16: 60, 17: 70, 18: 80, 19: 90}
_TWINS |= {high: low for low, high in _TWINS.items()}


@dataclass(frozen=True, slots=True)
class Number:
    """A number and how many words it took."""

    value: float
    words: int
    spelled: bool = True
    """Said in words rather than digits."""


def twin(value: float) -> int | None:
    """The number that sounds alike: thirteen and thirty.

    >>> twin(15), twin(90), twin(70.5)
    (50, 19, None)
    """
    return _TWINS.get(int(value)) if value == int(value) else None


def read_number(words: Sequence[str], at: int = 0) -> Number | None:
    """The longest number that begins at ``words[at]``, or ``None``.

    >>> read_number("one oh five to the flag".split())
    Number(value=105.0, words=3, spelled=True)
    >>> read_number("a hundred and five".split()), read_number(["forty", "five", "and", "a", "half"]).value
    (Number(value=105.0, words=4, spelled=True), 45.5)
    """
    whole = _whole(words, at)
    if whole is None:
        return None
    value, used, spelled = whole
    after = list(words[at + used : at + used + 3])
    if after == ["and", "a", "half"]:
        return Number(value + 0.5, used + 3, spelled)
    if after[:2] == ["and", "half"]:
        return Number(value + 0.5, used + 2, spelled)
    if after[:1] == ["point"] and len(after) > 1 and (digit := _digit(after[1])) is not None and spelled:
        return Number(value + digit / 10, used + 2, spelled)
    return Number(value, used, spelled)


def is_number(text: str) -> bool:
    """Whether words begin with a number, said or written.

    >>> is_number("fifteen yards"), is_number("a few feet"), is_number("rabbit")
    (True, True, False)
    """
    words = text.split()
    return read_number(words) is not None or (len(words) > 1 and words[0] in ("a", "half", "few"))


def is_figure(word: str) -> bool:
    """Whether a plain word is, or begins, a number.

    >>> is_figure("70"), is_figure("seventy"), is_figure("flag")
    (True, True, False)
    """
    return word[:1].isdigit() or word in NUMBER_WORDS


_NAMES = {value: word for word, value in (*_UNITS.items(), *_TENS.items()) if word != "fourty"}


@cache
def spoken_forms(value: int) -> tuple[str, ...]:
    """How players say a whole number from 0 to 999, the most usual first.

    >>> spoken_forms(105)
    ('one hundred and five', 'a hundred and five', 'one hundred five', 'one oh five')
    >>> spoken_forms(45), spoken_forms(115)[-1]
    (('forty five',), 'one fifteen')
    """
    if not 0 <= value <= 999:
        raise ValueError(f"{value} is outside 0 to 999")
    if value < 100:
        return (_small_name(value),)
    hundreds, rest = divmod(value, 100)
    heads = [f"{_NAMES[hundreds]} hundred"] + (["a hundred"] if hundreds == 1 else [])
    if rest == 0:
        return tuple(heads)
    forms = [f"{head} and {_small_name(rest)}" for head in heads]
    forms.append(f"{heads[0]} {_small_name(rest)}")
    if hundreds <= 4:
        forms.append(f"{_NAMES[hundreds]} {'oh ' if rest < 10 else ''}{_small_name(rest)}")
    return tuple(forms)


def _small_name(value: int) -> str:
    if value in _NAMES:
        return _NAMES[value]
    tens, units = divmod(value, 10)
    return f"{_NAMES[10 * tens]} {_NAMES[units]}"


def _whole(words: Sequence[str], at: int) -> tuple[float, int, bool] | None:
    first = _word(words, at)
    if first[:1].isdigit():
        return _written(words, at)
    if first in _ALONE:
        used = 2 if first == "couple" and _word(words, at + 1) == "of" else 1
        return _ALONE[first], used, True
    if first == "half" and _word(words, at + 1) == "dozen":
        return 6.0, 2, True
    if first == "half" and list(words[at + 1 : at + 3]) == ["a", "hundred"]:
        return 50.0, 3, True
    if first == "a":
        return _after_article(words, at)
    if first == "hundred":
        rest, used = _rest_of_hundred(words, at + 1)
        return float(100 + rest), used + 1, True
    small = _below_hundred(words, at)
    if small is None:
        return None
    value, used = small
    following = _word(words, at + used)
    if following in ("hundred", "thousand") and value > 0:
        scale = 100 if following == "hundred" else 1000
        rest, more = _rest_of_hundred(words, at + used + 1)
        return float(value * scale + rest), used + 1 + more, True
    if used == 1 and 1 <= value <= 9:
        joined = _digits_together(words, at, value)
        if joined is not None:
            return joined
    return float(value), used, True


def _after_article(words: Sequence[str], at: int) -> tuple[float, int, bool] | None:
    second = _word(words, at + 1)
    if second not in ("hundred", "couple", "dozen", "thousand"):
        return None
    if second == "thousand":
        return 1000.0, 2, True
    inner = _whole(words, at + 1)
    return None if inner is None else (inner[0], inner[1] + 1, True)


def _written(words: Sequence[str], at: int) -> tuple[float, int, bool] | None:
    try:
        value = float(words[at])
    except ValueError:
        return None
    if _word(words, at + 1) in ("hundred", "thousand"):
        return value * (100 if words[at + 1] == "hundred" else 1000), 2, False
    return value, 1, False


def _below_hundred(words: Sequence[str], at: int) -> tuple[int, int] | None:
    first = _word(words, at)
    if first in _TENS:
        unit = _UNITS.get(_word(words, at + 1), 0)
        return (_TENS[first] + unit, 2) if 1 <= unit <= 9 else (_TENS[first], 1)
    return (_UNITS[first], 1) if first in _UNITS else None


def _rest_of_hundred(words: Sequence[str], at: int) -> tuple[int, int]:
    skipped = 1 if _word(words, at) in ("and", "oh") else 0
    rest = _below_hundred(words, at + skipped)
    if rest is None or rest[0] == 0:
        return 0, 0
    return rest[0], rest[1] + skipped


def _digits_together(words: Sequence[str], at: int, value: int) -> tuple[float, int, bool] | None:
    following = _word(words, at + 1)
    if following in _NOUGHTS:
        last = _digit(_word(words, at + 2))
        if last is not None and _word(words, at + 2) not in _NOUGHTS:
            return float(100 * value + last), 3, True
        if _word(words, at + 2) in _NOUGHTS:
            return float(100 * value), 3, True
        return float(10 * value), 2, True
    pair = _below_hundred(words, at + 1)
    if pair is None:
        return None
    if pair[0] >= 10:
        return (float(100 * value + pair[0]), pair[1] + 1, True) if value <= 4 else None
    if pair[0] == value + 1:
        return None
    third = _digit(_word(words, at + 2))
    if third is not None:
        return float(100 * value + 10 * pair[0] + third), 3, True
    return float(10 * value + pair[0]), 2, True


def _digit(word: str) -> int | None:
    if word in _NOUGHTS:
        return 0
    value = _UNITS.get(word)
    return value if value is not None and value <= 9 else None


def _word(words: Sequence[str], at: int) -> str:
    return words[at] if 0 <= at < len(words) else ""
