"""Phrases of pieces, found in what was said: every one, also those inside another or over another."""

from array import array
from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

_ROOT = -1
"""The root stands last, behind everything that it leads to."""

PASSED_BARE = frozenset({"#", "it", "to", "of", "i"})
"""Pieces that are no phrase alone."""

PieceWay = tuple[str, ...]
Stretches = Sequence[Collection[PieceWay]]
"""Phrases: for each of their stretches the ways to say it, in pieces; any way of one goes with any of the next."""

Net = dict[str, list[Any]]
"""Places and the steps between them, each place one way on for everything that ends alike: the smallest
automaton that accepts the phrases, as numbers and words alone.

``pieces``: every piece, in order; a step is written as the number of its piece.
``steps``: for each place its steps and where they lead, in the order of their pieces.
``ends``: for each place the numbers of the entries whose phrase ends there.
"""


class PhraseFinder:
    """Every phrase that is said, by the number of its entry.

    >>> finder = PhraseFinder(net({7: [[[("heavy",)], [("rough",), ()]]], 9: [[[("rough",)]]]}))
    >>> list(finder.find(["heavy", "rough"]))
    [(7, 0, 1), (7, 0, 2), (9, 1, 2)]
    """

    def __init__(self, phrases: Net) -> None:
        self._numbers = {piece: number for number, piece in enumerate(phrases["pieces"])}
        self._pieces, self._targets = array("I"), array("I")
        self._first = array("I", [0])
        for step in phrases["steps"]:
            self._pieces.extend(step[::2])
            self._targets.extend(step[1::2])
            self._first.append(len(self._pieces))
        self._ends: list[list[int]] = phrases["ends"]

    def find(self, pieces: Sequence[str]) -> Iterator[tuple[int, int, int]]:
        """Each phrase among the pieces: its entry, where it begins, and where it has ended."""
        numbers = [self._numbers.get(piece) for piece in pieces]
        for start in range(len(numbers)):
            place = len(self._ends) + _ROOT
            for end, number in enumerate(numbers[start:], start + 1):
                if number is None or (onward := self._step(place, number)) is None:
                    break
                place = onward
                for entry in self._ends[place]:
                    yield entry, start, end

    def _step(self, place: int, number: int) -> int | None:
        low, high = self._first[place], self._first[place + 1]
        at = bisect_left(self._pieces, number, low, high)
        return self._targets[at] if at < high and self._pieces[at] == number else None


def net(said: Mapping[int, Iterable[Stretches]]) -> Net:
    """The phrases as a net, none of them written out whole.

    Args:
        said: by the number of the entry: its phrases as stretches, one way of each after another.

    Sources: M. O. Rabin and D. Scott, "Finite Automata and Their Decision Problems", IBM Journal 3 (1959),
    definition 11: a place of the net is what may stand on, of all phrases together. J. Daciuk et al.,
    "Incremental Construction of Minimal Acyclic Finite-State Automata", Computational Linguistics 26 (2000):
    of two places from which all goes on alike one is kept.
    """
    spots = _Spots()
    begun = spots.begun(said)
    pieces = sorted({piece for spot in spots.known for piece, _ in spot.steps})
    places = _Places(spots.known, {piece: at for at, piece in enumerate(pieces)})
    steps, _ = places.onward(begun)
    places.add(
        [
            each
            for piece, onward in steps
            for each in (piece, places.of(onward, pieces[piece] in PASSED_BARE))
        ],
        [],
    )
    return {"pieces": pieces, "steps": places.steps, "ends": places.ends}


class _Spot(NamedTuple):
    """A spot within phrases: the steps from it, each to the number of another, and the entries that end there."""

    steps: frozenset[tuple[str, int]]
    ends: frozenset[int]


class _Spots:
    """Every spot within the phrases, one for all from which it goes on alike."""

    def __init__(self) -> None:
        self.known: list[_Spot] = []
        self._numbers: dict[_Spot, int] = {}

    def begun(self, said: Mapping[int, Iterable[Stretches]]) -> frozenset[int]:
        """Where the phrases begin."""
        return frozenset(
            self._begin(entry, phrase) for entry, phrases in said.items() for phrase in phrases if all(phrase)
        )

    def _begin(self, entry: int, phrase: Stretches) -> int:
        spot = self._number(_Spot(frozenset(), frozenset({entry})))
        for ways in reversed(phrase):
            spot = self._before(ways, spot)
        return spot

    def _before(self, ways: Iterable[PieceWay], spot: int) -> int:
        """The spot before any of the ways, behind which ``spot`` is."""
        steps, ends = self.known[spot] if () in ways else (frozenset[tuple[str, int]](), frozenset[int]())
        behind: dict[str, list[PieceWay]] = {}
        for way in ways:
            if way:
                behind.setdefault(way[0], []).append(way[1:])
        first = {
            (piece, spot if rest == [()] else self._before(rest, spot)) for piece, rest in behind.items()
        }
        return self._number(_Spot(steps | first, ends))

    def _number(self, spot: _Spot) -> int:
        if spot not in self._numbers:
            self._numbers[spot] = len(self.known)
            self.known.append(spot)
        return self._numbers[spot]


class _Places:
    """The places of a net, each made of the spots that what was said so far may have come to."""

    def __init__(self, spots: Sequence[_Spot], pieces: Mapping[str, int]) -> None:
        self.steps: list[list[int]] = []
        self.ends: list[list[int]] = []
        self._spots = [
            ([(pieces[piece], onward) for piece, onward in spot.steps], spot.ends) for spot in spots
        ]
        self._made: dict[frozenset[int], int] = {}
        self._alike: dict[tuple[tuple[int, ...], tuple[int, ...]], int] = {}

    def onward(self, spots: frozenset[int]) -> tuple[list[tuple[int, frozenset[int]]], list[int]]:
        """The steps from any of the spots, in the order of their pieces, and the entries that end there."""
        steps: dict[int, set[int]] = {}
        ends: set[int] = set()
        for spot in spots:
            on, ended = self._spots[spot]
            ends |= ended
            for piece, target in on:
                steps.setdefault(piece, set()).add(target)
        return [(piece, frozenset(steps[piece])) for piece in sorted(steps)], sorted(ends)

    def of(self, spots: frozenset[int], bare: bool = False) -> int:
        """The place of these spots; a ``bare`` one ends nothing."""
        if not bare and spots in self._made:
            return self._made[spots]
        steps, ends = self.onward(spots)
        place = self.add([each for piece, on in steps for each in (piece, self.of(on))], [] if bare else ends)
        if not bare:
            self._made[spots] = place
        return place

    def add(self, steps: list[int], ends: list[int]) -> int:
        """The place with these steps and ends."""
        key = tuple(steps), tuple(ends)
        if key not in self._alike:
            self._alike[key] = len(self.ends)
            self.steps.append(steps)
            self.ends.append(ends)
        return self._alike[key]
