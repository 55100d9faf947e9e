"""Numbers written as no golfer writes them: named and refused, because a part would be taken for the whole."""

import re
import unicodedata

from caddie.words.numbers import NUMBER_WORDS
from caddie.words.spelling import FRACTIONS, plain

_NAME = "|".join(sorted(NUMBER_WORDS))
_ODD = re.compile(
    "|".join(
        (
            # 1_000, 1e308, 0x10, 70+5, 70..5; three points are a pause
            r"\d(?!\.{3,}\d)[.,_*+^=exbo]*(?:[.,]{2}|[_*+^=exbo][+-]?)[.,_*+^=exbo]*\d",
            r"\d+\.\d+\.\d|(?:^|(?<=\s))\.\d",  # 70.0.0, .5
            r"\d,\d(?!\d\d(?!\d))",  # 70,5: a comma is for thousands
            r"\d+-\d+-\d|\d+/\d+/\d|\d+:\d+:\d",  # 60-65-70
            r"\b\d+o\b(?!')|\bo\d",  # 7o
            r"\d'\d{3}",  # 1'000
            r"\d{12}",
            rf"\b(?:{_NAME})\.(?:{_NAME})\b",  # seventy.five
        )
    )
)
_BEFORE = "(\"'"
_AROUND = ".,;:!?()\"'"


def odd_number(text: str) -> str | None:
    """The first number of a text that is written in a way nobody reads for sure, as it stands there.

    >>> odd_number("1_000 yards, fairway"), odd_number("flag at seventy.five."), odd_number("60-70yds, 12'6\\"")
    ('1_000', 'seventy.five', None)
    """
    raised = next((sign for sign in text if _is_raised_or_ringed(sign)), None)
    if raised is not None:
        return next(part for part in text.split() if raised in part).strip(_AROUND)
    spelled = plain(text)
    found = _ODD.search(spelled)
    if found is None:
        return None
    start = max(spelled.rfind(" ", 0, found.start() + 1) + 1, 0)
    return spelled[start:].split()[0].lstrip(_BEFORE).rstrip(_AROUND)


def _is_raised_or_ringed(sign: str) -> bool:
    """A number that is no digit of any script, as in 70²; the usual fractions are read."""
    return not sign.isascii() and sign not in FRACTIONS and unicodedata.category(sign) in ("No", "Nl")
