"""The conversation that makes a bag: each answer read as what was asked for."""

from collections.abc import Callable, Collection, Mapping

from caddie.bag.models import Family, Handed, Miss
from caddie.errors import CaddieError
from caddie.range.new_bag import USUAL, Answers, carries_of, clubs_of, handicap_of, next_question
from caddie.range.told import Command
from caddie.units import Unit
from caddie.words import Expecting, Reply, understand

_UNITS = {unit.value: unit for unit in (Unit.YARDS, Unit.METRES)}
_HANDS = {hand.value: hand for hand in Handed}


def answered(answers: Answers, text: str) -> Answers:
    """The answers with the reply to the next question taken in; an empty reply takes the usual one.

    Raises:
        CaddieError: if the reply is not understood, with what may be said; ask again then.
    """
    question = next_question(answers)
    if question is None:
        return answers
    said = " ".join(text.split())
    value = _READERS[question.about](said, answers) if said else getattr(USUAL, question.about)
    return answers.model_copy(update={question.about: value})


def goes_back(text: str) -> bool:
    """Whether the player wants to answer the question before once more.

    >>> goes_back("go back"), goes_back("backspin")
    (True, False)
    """
    return understand(text, expecting=Expecting.CHOICE).command is Command.BACK


def _read(said: str, expecting: Expecting, unit: Unit = Unit.YARDS, among: Collection[str] = ()) -> Reply:
    """The reply, or a complaint about what nobody could read."""
    reply = understand(said, expecting=expecting, unit=unit, among=among)
    if reply.problem is not None:
        raise CaddieError(reply.problem)
    return reply


def _unit(said: str, answers: Answers) -> Unit:
    chosen = _read(said, Expecting.CHOICE, among=_UNITS.keys()).chosen
    if len(chosen) != 1:
        raise CaddieError(f"{said!r}: say yards or metres")
    return _UNITS[chosen[0]]


def _name(said: str, answers: Answers) -> str:
    return said


def _handicap(said: str, answers: Answers) -> float:
    return handicap_of(_read(said, Expecting.HANDICAP).handicap, said)


def _handed(said: str, answers: Answers) -> Handed:
    chosen = _read(said, Expecting.CHOICE, among=_HANDS.keys()).chosen
    if len(chosen) != 1:
        raise CaddieError(f"{said!r}: say right or left")
    return _HANDS[chosen[0]]


def _clubs(said: str, answers: Answers) -> object:
    reply = _read(said, Expecting.CLUBS)
    return clubs_of([reply.unknown] if reply.unknown else reply.clubs)


def _carries(said: str, answers: Answers) -> object:
    reply = _read(said, Expecting.CARRIES, answers.distances_in or Unit.YARDS)
    if reply.yes is False:
        return ()
    if not reply.carries:
        raise CaddieError(f"{said!r}: say club, swing and carry, for example 56 half 65; or none")
    return carries_of(reply.carries, answers)


def _misses(said: str, answers: Answers) -> tuple[Miss, ...]:
    return tuple(map(Miss, _some_of(said, [miss.value for miss in Miss])))


def _trusted(said: str, answers: Answers) -> tuple[Family, ...]:
    return tuple(map(Family, _some_of(said, [family.value for family in Family])))


def _some_of(said: str, names: list[str]) -> tuple[str, ...]:
    reply = _read(said, Expecting.CHOICE, among=names)
    if reply.yes is False:
        return ()
    if reply.unknown is not None or not reply.chosen:
        raise CaddieError(
            f"{reply.unknown or said!r}: say some of {', '.join(names).replace('_', ' ')}, or none"
        )
    return reply.chosen


_READERS: Mapping[str, Callable[[str, Answers], object]] = {
    "distances_in": _unit,
    "name": _name,
    "handicap": _handicap,
    "handed": _handed,
    "clubs": _clubs,
    "carries": _carries,
    "misses": _misses,
    "trusted": _trusted,
}
