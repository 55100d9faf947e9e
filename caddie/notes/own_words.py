"""Words of the player's own: which may be taught, and how they are read.

A taught word stands for words of the trade and is put in their place before anything is read, as the ``[joins]`` of
the grammar are, so that whatever the trade's words may mean, the player's word may too.

>>> in_trade_words("forty out of The Bad-Lands, flag back", {"bad lands": "heavy rough"})
'forty out of The heavy rough, flag back'
"""

import re
from collections.abc import Mapping
from functools import lru_cache

from caddie.errors import CaddieError
from caddie.situation import Situation
from caddie.words import Expecting, Intent, Understanding, understand
from caddie.words.grammar import grammar
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.reduction import reducer
from caddie.words.told_note import plain_words

MOST_WORDS = 5
MOST_LETTERS = 40
MOST_TAUGHT = 200
_SHOT = (Intent.SITUATION, Intent.PUTT, Intent.WHAT_IF)
_POSSESSIVE = re.compile(r"(?<=\w) is (?=\w)")
"""What plain words make of "grandad's carpet"."""
_THINGS = frozenset({"FLAG", "GREEN"})
"""Nouns of the grammar that tell nothing alone, and may still have a word of the player's own."""
_NUMBERS = ("pin_m", "front_m", "room_m")


class TradeWordError(CaddieError):
    """The trade has this word already: it is taught only when the player says so again."""


def in_trade_words(text: str, words: Mapping[str, str]) -> str:
    """The text with every taught word in words of the trade."""
    for pattern, meaning in _patterns(tuple(sorted(words.items()))):
        text = pattern.sub(lambda _, meaning=meaning: meaning, text)  # type: ignore[misc]
    return text


def teachable(name: str, meaning: str, words: Mapping[str, str], *, sure: bool = False) -> tuple[str, str]:
    """The word and its meaning as they are kept.

    Args:
        name: the word, as said.
        meaning: what it means, in words that are understood.
        words: those taught already.
        sure: whether the player knows that the trade has this word already.

    Raises:
        TradeWordError: if the trade has this word with another meaning, and the player is not ``sure``.
        CaddieError: in one line, why it is no word to be taught.
    """
    word = _POSSESSIVE.sub("s ", plain_words(name))
    meaning = plain_words(in_trade_words(meaning, words))
    _refuse_silly(word, name)
    means = understand(meaning)
    if not _tells(means) or means.left_over:
        raise CaddieError(
            f'I do not follow "{meaning}": say what "{word}" means in words I know, such as heavy rough'
        )
    if any(getattr(means.situation, name) is not None for name in _NUMBERS):
        raise CaddieError(f'"{word}" may not stand for a distance: say distances as numbers')
    if word not in words and len(words) >= MOST_TAUGHT:
        raise CaddieError(f"{MOST_TAUGHT} words of your own are all I keep: forget one first")
    known = understand(word)
    if _tells(known) and not sure:
        if _facts(known) == _facts(means):
            raise CaddieError(f'I know "{word}" already, and it means that')
        raise TradeWordError(
            f'"{word}" means something in golf already. Shall it mean {meaning} from now on?'
        )
    return word, meaning


def _refuse_silly(word: str, name: str) -> None:
    parts = word.split()
    if not parts or not any(part.isalpha() for part in parts):
        raise CaddieError(f'"{name}" is no word to remember')
    if len(parts) > MOST_WORDS or len(word) > MOST_LETTERS:
        raise CaddieError(
            f"that is too long to be a word: up to {MOST_WORDS} words and {MOST_LETTERS} letters"
        )
    if any(part in NUMBER_WORDS or any(letter.isdigit() for letter in part) for part in parts):
        raise CaddieError(f'"{word}" holds a number, and numbers are distances to me: choose another')
    words = grammar()
    if all(part in words.plain or part in words.along or part in words.skip for part in parts):
        raise CaddieError(f'"{word}" is too common a word: choose another')
    if _steers(word):
        raise CaddieError(f'"{word}" is a word I go by: choose another')


def _steers(word: str) -> bool:
    """Whether a word answers or steers the talk: yes, stop, undo."""
    reply = understand(word, expecting=Expecting.CARRY)
    answer = understand(word, expecting=Expecting.YES_NO)
    return (
        reply.command is not None
        or answer.yes is not None
        or understand(word).intent not in (*_SHOT, Intent.OUT_OF_SCOPE, Intent.RESULT)
    )


def _tells(heard: Understanding) -> bool:
    """Whether words tell something of a shot, or name the flag or the green."""
    if heard.problem:
        return False
    return _thing(heard) is not None or (heard.intent in _SHOT and _facts(heard) != _facts(_NOTHING))


def _thing(heard: Understanding) -> str | None:
    """The flag or the green, when that is all."""
    pieces = [piece.text for piece in reducer().pieces(reducer().tokens(heard.heard))]
    return pieces[0] if len(pieces) == 1 and pieces[0] in _THINGS else None


def _facts(heard: Understanding) -> tuple[object, ...]:
    return _thing(heard), heard.situation, heard.club, heard.swing, heard.family, heard.flight


_NOTHING = Understanding(heard="", intent=Intent.OUT_OF_SCOPE, situation=Situation())


@lru_cache(maxsize=8)
def _patterns(words: tuple[tuple[str, str], ...]) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Longer words first, so that none is read inside another."""
    longest = sorted(words, key=lambda pair: -len(pair[0]))
    return tuple(
        (re.compile(rf"(?<!\w){_spelled(word)}(?!\w)", re.IGNORECASE), meaning) for word, meaning in longest
    )


def _spelled(word: str) -> str:
    """The ways to write a word: with a hyphen, an apostrophe, or what plain words make of that."""
    *first, last = word.split()
    parts = [re.sub("s$", r"(?:['’]?s|\\s+is)", re.escape(part)) for part in first]
    return r"[\s-]+".join([*parts, re.escape(last)])
