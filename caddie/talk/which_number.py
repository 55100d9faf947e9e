"""A number that may have been another one: "Fifteen or fifty?" is asked before a shot is planned on it."""

from collections.abc import Sequence
from dataclasses import dataclass

from caddie.units import spoken_number
from caddie.words.numbers import spoken_forms
from caddie.words.quantities import first_number

_MOST = 999
"""Numbers up to so many are asked about: no shot is longer."""
_WORDS_OF_AN_ANSWER = 5
"""So many words answer the question; more are a new sentence."""


@dataclass(frozen=True)
class Doubt:
    """What was heard, and what it may have been."""

    first: str
    second: str

    @property
    def numbers(self) -> tuple[int, int]:
        """The first number of each."""
        first, second = first_number(self.first), first_number(self.second)
        assert first is not None and second is not None
        return int(first), int(second)

    @property
    def question(self) -> str:
        """What to ask.

        >>> Doubt("fifteen yards out", "fifty yards out").question
        'Fifteen or fifty?'
        """
        one, other = (spoken_number(number) for number in self.numbers)
        return f"{one.capitalize()} or {other}?"

    @property
    def answers(self) -> tuple[str, ...]:
        """What would settle it."""
        return tuple(form for number in self.numbers for form in spoken_forms(number))

    def settled(self, answer: str) -> str:
        """What was said, in the light of the answer: one of the two, or the answer itself when it says more.

        >>> doubt = Doubt("fifteen yards rough", "fifty yards off")
        >>> doubt.settled("it's fifty"), doubt.settled("forty yards from the fairway")
        ('fifty yards off', 'forty yards from the fairway')
        """
        if len(answer.split()) > _WORDS_OF_AN_ANSWER:
            return answer
        said = first_number(answer)
        if said is None:
            return self.first
        texts = dict(zip(self.numbers, (self.first, self.second), strict=True))
        return texts.get(int(said), answer)


class Doubts:
    """The one doubt that may stand open between two utterances."""

    def __init__(self) -> None:
        """Nothing is in doubt yet."""
        self.open: Doubt | None = None

    def take(self, text: str, rivals: Sequence[str]) -> Doubt | str:
        """What an utterance is to be taken for, or the doubt that is to be asked about first.

        Args:
            text: what was heard.
            rivals: what may have been said instead.
        """
        if self.open is not None:
            settled, self.open = self.open.settled(text), None
            return settled
        self.open = doubted(text, rivals)
        return self.open or text


def doubted(text: str, rivals: Sequence[str]) -> Doubt | None:
    """The doubt about a sentence heard, when one of its rivals begins with another number."""
    said = first_number(text)
    others = [(first_number(rival), rival) for rival in rivals]
    return next(
        (
            Doubt(text, rival)
            for other, rival in others
            if said is not None and other is not None and other != said and _can_be_asked(said, other)
        ),
        None,
    )


def _can_be_asked(*numbers: float) -> bool:
    return all(number == int(number) and 0 < number <= _MOST for number in numbers)
