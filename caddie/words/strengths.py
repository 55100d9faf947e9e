"""How much of what a word says: what only strengthens or weakens it is passed over, for all adjectives alike.

"Right thick", "sort of lower", "the deepest, darkest rough", "the lightest of breezes", "sunk way down".
"""

from collections.abc import Sequence
from functools import lru_cache

from caddie.words.grammar import Grammar
from caddie.words.spelling import Token

_HEDGES = frozenset({"sort", "kind"})
_DOWN = frozenset({"down", "deep", "in"})
_DETERMINERS = frozenset({"the", "a", "an", "some", "this", "that", "in", "of", "from"})
_VOWELS = frozenset("aeiou")


def toned_down(said: Sequence[Token], words: Grammar) -> list[Token]:
    """An utterance in plain degrees; a pause before what is passed over stands before what follows it."""
    kept: list[Token] = []
    pause, most = False, False
    for at, token in enumerate(said):
        pause = pause or token.after_break
        passed = (most and token.text == "of") or _is_hedge(said, at, words) or _strengthens(said, at, words)
        most = False
        if passed:
            continue
        plain = _plain_degrees(words.strengths["graded"]).get(token.text)
        most = plain is not None
        text = plain or token.text
        kept.append(Token(text, pause and not _is_stacked(kept, text, said[at + 1 : at + 2], words)))
        pause = False
    return kept


def _is_hedge(said: Sequence[Token], at: int, words: Grammar) -> bool:
    """ "Sort of": both its words, unless a kind is asked for or told."""
    first = at if said[at].text in _HEDGES else at - 1
    if not 0 <= first < len(said) - 1 or said[first].text not in _HEDGES or said[first + 1].text != "of":
        return False
    return first == 0 or said[first - 1].text not in words.strengths["which"]


def _strengthens(said: Sequence[Token], at: int, words: Grammar) -> bool:
    """Whether a word tells only how much of the next one there is."""
    if at + 1 == len(said) or said[at + 1].after_break:
        return False
    lists, text, follows = words.strengths, said[at].text, said[at + 1].text
    before = said[at - 1].text if at and not said[at].after_break else ""
    if follows in lists["graded"] | lists["in_between"] or follows in _plain_degrees(lists["graded"]):
        return text in lists["strengthening"] or (text == "right" and before in lists["before_right"])
    return text in lists["how_far"] and follows in _DOWN and before in lists["sits"]


def _is_stacked(kept: Sequence[Token], text: str, following: Sequence[Token], words: Grammar) -> bool:
    """ "The deep, dark rough": two adjectives of one thing, the first behind an article."""
    graded = words.strengths["graded"]
    goes_on = bool(following) and not following[0].after_break
    return (
        goes_on
        and text in graded
        and len(kept) > 1
        and kept[-1].text in graded
        and kept[-2].text in _DETERMINERS
    )


@lru_cache(maxsize=1)
def _plain_degrees(graded: frozenset[str]) -> dict[str, str]:
    """Adjectives by their highest degree."""
    return {_most(word): word for word in graded}


def _most(word: str) -> str:
    """The highest degree of an adjective.

    >>> [_most(word) for word in ("deep", "wet", "heavy", "fine", "sparse")]
    ['deepest', 'wettest', 'heaviest', 'finest', 'sparsest']
    """
    if word.endswith("e"):
        return f"{word}st"
    if word.endswith("y"):
        return f"{word[:-1]}iest"
    closed = (
        len(word) <= 4 and word[-1] not in _VOWELS | {"w"} and word[-2] in _VOWELS and word[-3] not in _VOWELS
    )
    return f"{word}{word[-1]}est" if closed else f"{word}est"
