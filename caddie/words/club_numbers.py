"""Numbers that are clubs: "no, sixty, not fifty-six", "the 52 open", "52's not in my bag" name wedges, no distances."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache

from caddie.words.round_numbers import NUMBER, RoundNumbers, Ways, marked, number_data

WEDGE_LOFTS = range(44, 65)
"""Numbers that wedges are called by (common practice, no source)."""
IRON_NUMBERS = range(5, 10)
_CLUB, _IRON, _LENGTH = "club", "iron", "length"
_OWNED, _AGREED, _BEFORE_A_LENGTH = "owned", "agreed", "before_a_length"
_BEFORE_A_SHOT = "before_a_shot"
_ALIKE = 1.25
"""Two numbers no farther apart are a length and a better guess at it: "fifty-two, fifty-six yards"."""


@dataclass(frozen=True)
class ClubsKnown:
    """What a number may name, by the bag and by the talk."""

    lofts: frozenset[int]
    """Wedges of the bag that are called by their loft."""
    irons: frozenset[int]
    lengths: frozenset[int] = frozenset()
    """Numbers that a length of the shot was told by."""
    named: frozenset[int] = frozenset()
    """Clubs that the advice or the player named last."""
    in_play: bool = False
    """Whether a shot is being talked about."""
    agreeable: bool = False
    """Whether nothing else is told of a shot, so that a number alone in a clause agrees to a club, or asks for one."""
    names: Mapping[int, str] = field(default_factory=dict)
    """Other names of wedges: before a length one is called by it, so that no two numbers stand side by side."""


@dataclass(frozen=True)
class ClubNumber:
    """A number that is a club: where it stands, and what it is said as instead."""

    start: int
    end: int
    number: int
    said: str


def club_numbers(text: str, known: ClubsKnown) -> list[ClubNumber]:
    """The numbers of a text that are clubs, in order.

    >>> bag = ClubsKnown(lofts=frozenset({52, 56, 60}), irons=frozenset({8}))
    >>> [each.number for each in club_numbers("sixty open, landed sixty feet away", bag)]
    [60]
    """
    said = RoundNumbers(text)
    if not any(value in WEDGE_LOFTS or value in IRON_NUMBERS for _, value in said.numbers()):
        return []
    clubs: dict[int, str] = {}
    for kind, wedges in _kinds(known):
        slots = {_CLUB: _is_one_of(wedges), _IRON: _is_one_of(known.irons), _LENGTH: _is_any}
        for start, (end, filled) in marked(said, _ways(kind), slots):
            if kind == _BEFORE_A_SHOT:
                clubs |= _club_before(said, start, dict(filled))
                continue
            if kind == _AGREED and not (said.places[start].begins and said.ends(end)):
                continue
            if not any(_is_length(said, at, owned=kind == _OWNED and name == _CLUB) for name, at in filled):
                clubs |= {at: name for name, at in filled if clubs.get(at) != _CLUB}
    return [_named(said, at, name, known) for at, name in sorted(clubs.items())]


def clubs_named_so(text: str, known: ClubsKnown) -> str:
    """The words with each number that is a club said as one.

    >>> bag = ClubsKnown(lofts=frozenset({52, 56, 60}), irons=frozenset({8}), in_play=True)
    >>> clubs_named_so("no i said 60 not 56!!", bag), clubs_named_so("it's sixty, not fifty-six yards", bag)
    ('no i said 60 degree not 56 degree!!', "it's sixty, not fifty-six yards")
    """
    for each in reversed(club_numbers(text, known)):
        text = f"{text[: each.start]}{each.said}{text[each.end :]}"
    return text


def _named(said: RoundNumbers, at: int, name: str, known: ClubsKnown) -> ClubNumber:
    place, number = said.places[at], int(said.places[at].value or 0)
    called = f"{number} iron" if number in IRON_NUMBERS else f"{number} degree"
    if name == _CLUB and _follows(said, at, "would_slope"):
        called = f"{called} wedge"
    if name == _CLUB and number in known.names and _follows(said, at, _BEFORE_A_LENGTH):
        called = known.names[number]
    return ClubNumber(place.start, place.end, number, called)


def _kinds(known: ClubsKnown) -> Iterator[tuple[str, Collection[int]]]:
    """The kinds of templates that hold by what is known, each with the wedges that they may name."""
    yield "always", WEDGE_LOFTS
    yield "always_of_the_bag", known.lofts
    yield _BEFORE_A_SHOT, known.lofts
    if known.in_play:
        yield "in_play", known.lofts - known.lengths
        yield "contrasted", known.lofts
        yield "does", known.lofts
        if known.agreeable:
            yield _AGREED, known.lofts | known.named - known.lengths
        yield "named", known.named - known.lengths
        yield _OWNED, WEDGE_LOFTS
        yield "told", WEDGE_LOFTS
        yield "swung", known.lofts


def _club_before(said: RoundNumbers, start: int, filled: Mapping[str, int]) -> dict[int, str]:
    """The club that a clause begins with, where how far follows apart from it and is no second guess at it."""
    club, length = filled[_CLUB], filled[_LENGTH]
    values = (said.places[club].value or 0.0, said.places[length].value or 0.0)
    apart = said.places[club + 1].begins or said.places[club + 1].text != NUMBER
    if not said.places[start].begins or not apart or max(values) <= _ALIKE * min(values):
        return {}
    return {club: _CLUB}


def _is_any(value: float) -> bool:
    return True


def _is_one_of(numbers: Collection[int]) -> Callable[[float], bool]:
    return lambda value: value in numbers


def _is_length(said: RoundNumbers, at: int, *, owned: bool) -> bool:
    """Whether what stands behind a number makes it a length, or part of another number."""
    if at + 1 == len(said.places):
        return False
    after = said.places[at + 1]
    if after.value is not None:
        return not after.begins
    return _follows(said, at, "is_length") or (not owned and _follows(said, at, "is_far"))


def _follows(said: RoundNumbers, at: int, kind: str) -> bool:
    """Whether one of these templates stands right behind a place."""
    return at + 1 < len(said.places) and any(True for _ in marked(said, _ways(kind), {}, (at + 1,)))


@cache
def _ways(kind: str) -> Ways:
    data = number_data()
    return Ways.of(data["clubs"][kind], data["parts"])
