"""A number said while a shot is talked about: whether it is how far the flag is now, or how old somebody is."""

from collections.abc import Callable, Iterator
from functools import cache

from caddie.words.round_numbers import RoundNumbers, Ways, marked
from caddie.words.sayings import compared
from caddie.words.talk_files import read_grammar

AGES = range(10, 100)
_AGE = "age"
_ANY: dict[str, Callable[[float], bool]] = {"number": lambda value: True}


def says_how_far(text: str) -> bool:
    """Whether a number in the words is said of the flag, or as how far it is.

    >>> says_how_far("it's more like forty-five"), says_how_far("I need a four here")
    (True, False)
    """
    return any(True for kind in ("say", "loosely") for _ in _how_far(text, kind))


def says_so_plainly(text: str, number: float) -> bool:
    """Whether just this number is said of the flag, and could not be what a reply said of the shot.

    >>> says_so_plainly("it's nine feet", 9.0), says_so_plainly("why roll it as a nine-footer?", 9.0)
    (True, False)
    """
    return number in _how_far(text, "say")


def _how_far(text: str, kind: str) -> Iterator[float]:
    """The numbers that are said to be how far it is."""
    said = RoundNumbers(text)
    for _, (_, filled) in marked(said, _ways("how_far", kind), _ANY):
        for _, at in filled:
            if not _is_before(said, at + 1, "how_far", "counts"):
                yield said.places[at].value or 0.0


def ages_said_so(text: str, may_be_far: Callable[[float], bool]) -> str:
    """The words with each number that is an age said as years.

    Parameters:
        may_be_far: whether a number might as well be how far it is; such a one is an age where other words tell of it.

    >>> ages_said_so("I'm seventy-four, love", lambda number: False)
    "I'm seventy-four years old, love"
    """
    said = RoundNumbers(text)
    told = any(True for _ in marked(said, _ways(_AGE, "tells"), {}))
    slots = {_AGE: lambda value: value in AGES}
    places = {
        at
        for _, (_, filled) in marked(said, _ways(_AGE, "say"), slots)
        for _, at in filled
        if not _is_before(said, at + 1, _AGE, "no_age")
        and (told or not may_be_far(said.places[at].value or 0.0))
    }
    for at in sorted(places, reverse=True):
        end = said.places[at].end
        text = f"{text[:end]} years old{text[end:]}"
    return text


def denials_said_so(text: str, stands: Callable[[float], bool], *, puts_right: bool) -> str:
    """The words with "no three" behind another number said as "not three", where the three is what stood.

    Parameters:
        stands: whether a number is one that was told or said of the shot.
        puts_right: whether the turn begins by putting something right; the number before may be what stands then.

    >>> denials_said_so("it's six feet, no three", lambda number: number == 3.0, puts_right=False)
    "it's six feet, not three"
    """
    said = RoundNumbers(text)
    numbers = dict(said.numbers())
    for at, (_, filled) in marked(said, _ways("denied", "say"), _ANY):
        _, denied = next(iter(filled))
        before = [value for place, value in numbers.items() if place < at]
        stood = stands(numbers[denied]) or (puts_right and bool(before) and stands(before[-1]))
        if before and before[-1] != numbers[denied] and stood and not said.places[denied].begins:
            place = said.places[at]
            return f"{text[: place.start]}not{text[place.end :]}"
    return text


def _marked_numbers(said: RoundNumbers, kind: str) -> list[int]:
    """Where the numbers of phrases of a kind stand, in order."""
    return sorted({at for _, (_, filled) in marked(said, _ways(kind, "say"), _ANY) for _, at in filled})


def numbers_that_stay(text: str) -> tuple[float, ...]:
    """Numbers that are said to be what they were.

    >>> numbers_that_stay("no no, it stays thirty-eight"), numbers_that_stay("it's thirty-eight")
    ((38.0,), ())
    """
    said = RoundNumbers(text)
    places = _marked_numbers(said, "stays")
    return tuple(said.places[at].value or 0.0 for at in places)


def speaks_of_before(text: str) -> bool:
    """Whether a turn speaks of how it was before something was told otherwise.

    >>> speaks_of_before("first I had to land it at thirty-five"), speaks_of_before("it's thirty-five")
    (True, False)
    """
    said = RoundNumbers(text)
    return any(True for _ in marked(said, _ways("of_before", "say"), {}))


def carries_said_so(text: str, unit: str) -> str:
    """The words with "a 54 carry" said with what it is counted in.

    >>> carries_said_so("the bunker's still a 54 carry", "yard")
    "the bunker's still a 54 yard carry"
    """
    said = RoundNumbers(text)
    places = _marked_numbers(said, "a_carry")
    for at in reversed(places):
        end = said.places[at].end
        text = f"{text[:end]} {unit}{text[end:]}"
    return text


def is_to_fly(text: str) -> bool:
    """Whether a number tells how far the ball is to fly: "fly a wedge 68"."""
    return any(True for _ in marked(RoundNumbers(text), _ways("to_fly", "say"), _ANY))


def speed_named(text: str) -> float | None:
    """The number that a green's speed is given by, where the green is named and the number is one.

    >>> speed_named("these are fast, I would call it an eleven"), speed_named("call it eleven")
    (11.0, None)
    """
    said = RoundNumbers(text)
    if not names_the_green(text):
        return None
    places = _marked_numbers(said, "speed")
    values = (said.places[at].value or 0.0 for at in places)
    return next((value for value in values if _LEAST_NAMED_FT <= value <= _MOST_NAMED_FT), None)


_LEAST_NAMED_FT, _MOST_NAMED_FT = 6.0, 15.0
"""Green speeds that are met, by the stimpmeter (common practice, no source)."""


def names_the_green(text: str) -> bool:
    """Whether the green or its speed is named beside a number.

    >>> names_the_green("greens running ten"), names_the_green("downhill and running seven")
    (True, False)
    """
    return not set(read_grammar("numbers_in_play")["green_named"]["say"].split()).isdisjoint(compared(text))


def supposes_pace(text: str) -> bool:
    """Whether a pace of a putt is only supposed, or asked about.

    >>> supposes_pace("if I roll it two feet past, what's the read?"), supposes_pace("two feet past")
    (True, False)
    """
    said = RoundNumbers(text)
    kinds = ("say", "asked") if text.rstrip().endswith("?") else ("say",)
    return any(True for kind in kinds for _ in marked(said, _ways("pace_supposed", kind), _ANY))


def _is_before(said: RoundNumbers, at: int, kind: str, say: str) -> bool:
    """Whether one of these templates is said from a place on, with no stop before it."""
    if at >= len(said.places) or said.places[at].begins:
        return False
    return any(True for _ in marked(said, _ways(kind, say), _ANY, (at,)))


@cache
def _ways(kind: str, say: str) -> Ways:
    data = read_grammar("numbers_in_play")
    own = {name: way for name, way in data[kind].items() if isinstance(way, str)}
    return Ways.of(data[kind][say], data["parts"] | own)
