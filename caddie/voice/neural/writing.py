"""How the network may have written words: it was taught to write numbers as figures, which the search never does."""

from functools import cache

from caddie.voice.neural.ngrams import Words
from caddie.voice.spoken_text import number_in_words

_MOST_FIGURES = 1000
_LONGEST_NUMBER = 5
"""Words of the longest number that is written as figures: "one hundred and twenty five"."""


def writings(words: Words) -> list[str]:
    """Words as a sentence of the network's, numbers in words or figures.

    >>> writings(("fifty", "six", "yards"))
    [' Fifty six yards.', ' 56 yards.']
    """
    plain, figures = " ".join(words), " ".join(_in_figures(words))
    ways = [plain] if figures == plain else [plain, figures]
    return [f" {way[:1].upper()}{way[1:]}." for way in ways]


def numbers_in(words: Words) -> list[str]:
    """The numbers among the words, as figures.

    >>> numbers_in(("fifty", "six", "yards", "ten", "to", "carry"))
    ['56', '10']
    """
    return [word for word in _in_figures(words) if word.isdigit()]


def _in_figures(words: Words) -> list[str]:
    found: list[str] = []
    at = 0
    while at < len(words):
        longest = range(min(_LONGEST_NUMBER, len(words) - at), 0, -1)
        size = next((size for size in longest if words[at : at + size] in _figures()), 0)
        found.append(_figures()[words[at : at + size]] if size else words[at])
        at += size or 1
    return found


@cache
def _figures() -> dict[Words, str]:
    return {
        tuple(number_in_words(number).replace("-", " ").split()): str(number)
        for number in range(1, _MOST_FIGURES)
    }
