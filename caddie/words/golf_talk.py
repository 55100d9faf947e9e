"""What an utterance is about when nothing in it was understood, and what its numbers are counted in."""

import re
from collections.abc import Iterable

from caddie.units import Unit
from caddie.words.grammar import grammar
from caddie.words.sayings import compared
from caddie.words.talk_files import talk_data, turn_data

_COUNTED = re.compile(r"(?<=\d)\s*(m|yds?|ft)\b")


def unit_said(text: str) -> Unit | None:
    """The unit that the last number of ``text`` is counted in, when one is said.

    >>> unit_said("fifty-five metres, flag at the back"), unit_said("55m"), unit_said("sixty")
    (<Unit.METRES: 'metres'>, <Unit.METRES: 'metres'>, None)
    """
    found = None
    for word in _COUNTED.sub(r" \1 ", f" {text.lower()} ").replace("-", " ").split():
        for name, said in talk_data()["counted_in"].items():
            if word.strip(".,;:!?") in said.split():
                found = Unit(name)
    return found


def tells_of_another_putt(text: str) -> bool:
    """Whether a length in ``text`` is told of what is left to putt, and not of how a putt breaks.

    >>> tells_of_another_putt("now I have a foot"), tells_of_another_putt("I said about a foot")
    (True, False)
    """
    words = compared(text)
    told = not set(turn_data()["another_putt"]).isdisjoint(words) or words[-1:] == ("left",)
    return told and not gives_a_line(text)


def gives_a_line(text: str) -> bool:
    """Whether a length in ``text`` is what a putt is given: "I'd only have given it a foot"."""
    return not set(turn_data()["gives_a_line"]).isdisjoint(compared(text))


def doubts_a_line(text: str) -> bool:
    """Whether it is what a putt would have been given: the line that was told is doubted.

    >>> doubts_a_line("I'd only have given it a foot"), doubts_a_line("I'd give it a foot")
    (True, False)
    """
    return gives_a_line(text) and _has_any(text, turn_data()["would_have"])


def is_beyond(text: str) -> bool:
    """Whether golf beyond the short game is talked about."""
    return _has_any(text, talk_data()["beyond"]["say"])


def is_golf(text: str) -> bool:
    """Whether a word of the game is in ``text``."""
    return not set(compared(text)).isdisjoint(talk_data()["golf"]["say"].split())


def golf_word(text: str) -> str:
    """The first word of the game in ``text`` that names a thing, to say what was not followed; empty when none does.

    >>> golf_word("how much offset has the club"), golf_word("my swing is gone")
    ('club', 'swing')
    """
    things = frozenset(talk_data()["golf"]["things"].split())
    return next((word for word in compared(text) if word in things), "")


def is_of_the_game(text: str) -> bool:
    """Whether ``text``, said while a shot stands, may be about it: a word of
    the game, and none of another subject."""
    words = compared(text)
    may_be = set(talk_data()["golf"]["may_be"].split())
    return not may_be.isdisjoint(words) and not any(word in grammar().elsewhere for word in words)


def _has_any(text: str, said: Iterable[str]) -> bool:
    words = f" {' '.join(compared(text))} "
    return any(f" {each} " in words for each in said)
