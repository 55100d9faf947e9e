"""Figures of a reply said back: which a text holds, and whether words beside one tell nothing of their own."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from caddie.words.grammar import grammar
from caddie.words.numbers import NUMBER_WORDS, is_number
from caddie.words.quantities import Piece
from caddie.words.reduction import reducer
from caddie.words.sayings import begins, compared
from caddie.words.talk_files import echoes_data

CHANCE = "chance"
"""Stands for the unit of a chance."""
_SAME = 0.03
_SAME_CHANCE = 0.11
"""A chance is remembered to about one in ten."""
_SENTENCE = re.compile(r"(?<=[.!?…])\s+")
_SIDES = frozenset({"past", "short", "long", "left", "right", "by", "over", "through", "away"})
"""Beside a length these tell where a ball ended, unless the reply said them."""
_TENTHS = (2, 3, 4, 5, 10, 20, 50, 100)


@dataclass(frozen=True)
class Figure:
    """A length, a chance or a bare number."""

    value: float
    unit: str | None

    def is_of(self, other: "Figure") -> bool:
        """Whether both may be the same figure: a unit may be left out, but a chance is no length."""
        if CHANCE in (self.unit, other.unit) and self.unit != other.unit:
            return False
        units = self.unit == other.unit or None in (self.unit, other.unit)
        return units and abs(self.value - other.value) < (_SAME_CHANCE if self.unit == CHANCE else _SAME)


@dataclass(frozen=True)
class Echo:
    """A figure said back, and what is said behind it."""

    figure: Figure
    rest: str


def figures_in(text: str) -> list[Figure]:
    """Every figure of a text, in order; "four in ten" is one.

    >>> figures_in("Lip stops four in ten"), figures_in("Eleven paces past")
    ([Figure(value=0.4, unit='chance')], [Figure(value=11.0, unit='paces')])
    """
    reduce = reducer()
    pieces, found, at = reduce.pieces(reduce.tokens(text)), list(_told_in_words(text)), 0
    while at < len(pieces):
        quantity = pieces[at].quantity
        chance = _chance_at(pieces, at)
        if chance is not None:
            found.append(chance[0])
            at = chance[1]
            continue
        if pieces[at].text == "#" and quantity is not None:
            percent = quantity.unit == "percent"
            found.append(
                Figure(quantity.middle / 100, CHANCE) if percent else Figure(quantity.middle, quantity.unit)
            )
        at += 1
    return found


def _chance_at(pieces: list[Piece], at: int) -> tuple[Figure, int] | None:
    """ "Four in ten", "four times in ten", "4 out of 10", and where it ends."""
    first = pieces[at].quantity
    if first is None:
        return None
    end = at + 1
    while end < len(pieces) and end - at <= len(_BETWEEN) and pieces[end].text in _BETWEEN:
        end += 1
    second = pieces[end].quantity if at + 1 < end < len(pieces) else None
    if second is None or second.middle not in _TENTHS or first.middle > second.middle:
        return None
    return Figure(first.middle / second.middle, CHANCE), end + 1


_BETWEEN = ("times", "time", "in", "out", "of", "every")


def _told_in_words(text: str) -> list[Figure]:
    words = f" {' '.join(compared(text))} "
    said = echoes_data()["chances"]
    return [Figure(said[way], CHANCE) for way in said if f" {way} " in words][:1]


def echo_in(text: str, reply: str, *, asked: bool, swung: bool) -> Echo | None:
    """The figure of ``reply`` that ``text`` begins by saying back, or None.

    Parameters:
        asked: whether the reply ended in a question, which a bare figure answers.
        swung: whether the ball may have been hit since, which a figure with "!" then tells.
    """
    first, *behind = _SENTENCE.split(text.strip())
    head, comma, tail = first.partition(",")
    thought = ""
    if comma and _begins_to_think(tail):
        # "Nine in ten, that is a comfort, but you have not told me which club": what is asked is no thought of it.
        thought, but, more = _before_but(tail.strip())
        first, behind = head, [thought, *([more] if but else []), *behind]
    doubted = first.rstrip().endswith("?")
    if begins(first, "puts_right") or ((asked or swung) and not doubted):
        return None
    said = figures_in(first)
    told = figures_in(reply)
    if not said or not all(any(each.is_of(other) for other in told) for each in said):
        return None
    if not _says_nothing_else(first, reply):
        return None
    marked = doubted or first.rstrip().endswith("!") or bool(_words("wonder") & set(compared(first)))
    while behind and (_thinks_of_it(behind[0]) or behind[0] == thought or _asks_the_same(behind[0], reply)):
        marked = True
        behind.pop(0)
    return Echo(said[0], " ".join(behind)) if marked else None


def asks_a_chance(text: str) -> bool:
    """Whether a chance is named: "fifty percent", "one in ten"."""
    return any(figure.unit == CHANCE for figure in figures_in(text))


def _before_but(said: str) -> tuple[str, str, str]:
    """What stands before the last "but" of a sentence, that word and the rest."""
    before, but, more = said.rpartition(" but ")
    return (before, but, more) if but else (said, "", "")


def only_wonders(text: str) -> bool:
    """Whether words tell nothing: "no no", "oh, sorry"."""
    return set(compared(text)) <= _words("wonder")


def _says_nothing_else(first: str, reply: str) -> bool:
    """Whether what stands beside the figure is of the reply, or tells nothing."""
    replied = set(compared(reply))
    rest = [
        word
        for word in compared(first)
        if word not in replied and not is_number(word) and word not in NUMBER_WORDS and word not in _units()
    ]
    if not _SIDES.isdisjoint(rest):
        return False
    strange = [word for word in rest if word not in _words("beside") | _words("wonder")]
    return len(strange) <= 1 and not any(word in grammar().fact_words() for word in strange)


def _thinks_of_it(sentence: str) -> bool:
    """ "That's mad odds for a fella like me", "dang": of the figure before, and no more."""
    if figures_in(sentence):
        return False
    if only_wonders(sentence):
        return True
    if sentence.rstrip().endswith("?"):
        return False
    return _begins_to_think(sentence)


def _asks_the_same(sentence: str, reply: str) -> bool:
    """ "Stays in?" behind a figure: whether it is of that, in a word or two."""
    words = compared(sentence)
    if not sentence.rstrip().endswith("?") or len(words) > _MOST_OF_THE_SAME or words[:1] in _OPEN:
        return False
    return not figures_in(sentence) and set(words) <= _words("beside") | _words("wonder") | set(
        compared(reply)
    )


_MOST_OF_THE_SAME = 3
_OPEN = (("how",), ("what",), ("why",), ("where",), ("which",))
"""Begin a question of its own."""


def _begins_to_think(sentence: str) -> bool:
    words = f"{' '.join(compared(sentence))} "
    return any(words.startswith(f"{lead} ") for lead in echoes_data()["thought_of_it"])


@cache
def _units() -> frozenset[str]:
    return frozenset(word for written in grammar().units for word in written)


@cache
def _words(name: str) -> frozenset[str]:
    data: Any = echoes_data()[name]
    return frozenset(data.split())
