"""Text to facts: what the player said, as typed data.

The words of the trade are data in ``grammars/``; what is worked out from them is kept in the
cache folder.
"""

from collections.abc import Callable, Collection, Mapping
from typing import overload

from caddie.printable import storable
from caddie.situation import Result
from caddie.units import YARD_M, Unit
from caddie.words.facts import Intent, Understanding
from caddie.words.replies import Expecting, Reply
from caddie.words.spelling import LONGEST_TEXT

__all__ = [
    "LONGEST_TEXT", "Expecting", "Intent", "Reply", "Result", "Understanding", "balls_told", "sentences",
    "understand", "understand_turn", "vocabulary",
]  # fmt: skip


@overload
def understand(
    text: str, *, unit: Unit = ..., pace_m: float = ..., from_speech: bool = ..., expecting: None = None
) -> Understanding: ...


@overload
def understand(
    text: str,
    *,
    unit: Unit = ...,
    pace_m: float = ...,
    expecting: Expecting,
    among: Mapping[str, Collection[str]] | Collection[str] = ...,
) -> Reply: ...


def understand(
    text: str,
    *,
    unit: Unit = Unit.YARDS,
    pace_m: float = YARD_M,
    from_speech: bool = False,
    expecting: Expecting | None = None,
    among: Mapping[str, Collection[str]] | Collection[str] = (),
) -> Understanding | Reply:
    """Read one utterance.

    Parameters:
        text: what was typed or recognised; any unicode.
        unit: what a number without a unit is counted in.
        pace_m: length of the player's pace [m].
        from_speech: whether a recogniser heard it: spelling is then trusted, and numbers that sound
            alike are pointed out.
        expecting: what was just asked; the text is then read as an answer to that.
        among: the things to choose from, with other ways to name each, when a choice is expected.

    Never raises on any text; what cannot be taken is told in ``problem``.
    """
    if expecting is not None:
        from caddie.words.expected import read_reply

        return read_reply(storable(text), expecting, unit=unit, pace_m=pace_m, among=among)
    from caddie.words.reading import read

    return read(storable(text), unit=unit, pace_m=pace_m, from_speech=from_speech)


def understand_turn(
    text: str,
    *,
    unit: Unit = Unit.YARDS,
    pace_m: float = YARD_M,
    from_speech: bool = False,
    answered: Callable[[str], Understanding | None] = lambda words: None,
) -> tuple[Understanding, ...]:
    """Read one turn of a conversation: each thing said in it, in order, without the asides.

    Parameters are those of :func:`understand`, and ``answered`` reads words as an answer to the question that waits
    for one, if they are one. There is always one part at least; when nothing was understood it is out of scope.
    """
    from caddie.words.turns import turn

    return turn(storable(text), unit=unit, pace_m=pace_m, from_speech=from_speech, answered=answered)


def balls_told(text: str, *, unit: Unit = Unit.YARDS, pace_m: float = YARD_M) -> tuple[str, ...]:
    """The stretches of a turn that are told of one ball each."""
    from functools import partial

    from caddie.words.next_ball import stretches_by_ball
    from caddie.words.reading import read

    reads = partial(read, unit=unit, pace_m=pace_m, from_speech=False)
    return tuple(stretch.words for stretch in stretches_by_ball(storable(text), reads))


def sentences(n: int, seed: int = 0, kinds: Collection[str] = ()) -> list[str]:
    """``n`` sentences as players say them: lower case, numbers in words, no punctuation.

    Args:
        n: how many.
        seed: the same seed gives the same sentences.
        kinds: kinds of sentence shapes to draw from, such as "result"; all when empty.
    """
    from caddie.words.sample import sample

    return sample(n, seed, kinds)


def vocabulary() -> frozenset[str]:
    """Every word that :func:`sentences` can say."""
    from caddie.words.sample import spoken_words

    return spoken_words()
