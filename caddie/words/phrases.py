"""Phrases of pieces, found in what was said: every one, also those inside another or over another."""

from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

_BLANK = " "
_ROOT = -1
"""The root stands last, behind everything that it leads to."""

Net = dict[str, list[Any]]
"""Places and the steps between them, each place one way on for everything that ends alike: the smallest
automaton that accepts the phrases, as numbers and words alone.

``pieces``: every piece, in order; a step is written as the number of its piece.
``steps``: for each place its steps and where they lead, in the order of their pieces.
``ends``: for each place the numbers of the entries whose phrase ends there.
"""


class PhraseFinder:
    """Every phrase that is said, by the number of its entry.

    >>> finder = PhraseFinder(net({"heavy": {"7": ["heavy rough", "heavy"]}, "rough": {"9": ["rough"]}}))
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


def net(said: Mapping[str, Mapping[str, Iterable[str]]]) -> Net:
    """The phrases as a net.

    Args:
        said: by first piece, then by the number of the entry: the pieces of each phrase, joined by blanks.

    Source: J. Daciuk et al., "Incremental Construction of Minimal Acyclic Finite-State Automata",
    Computational Linguistics 26 (2000), algorithm 1: phrases in order, what a new phrase no longer shares
    with the one before it is finished.
    """
    pieces = sorted({piece for ways in said.values() for way in _all(ways) for piece in way.split(_BLANK)})
    numbers = {piece: at for at, piece in enumerate(pieces)}
    building = _Building()
    for first in sorted(said):
        ends: dict[str, list[int]] = {}
        for entry, ways in said[first].items():
            for way in ways:
                ends.setdefault(way, []).append(int(entry))
        numbered = {
            tuple(numbers[piece] for piece in way.split(_BLANK)): found for way, found in ends.items()
        }
        for steps in sorted(numbered):
            building.add(steps, numbered[steps])
    building.finish(0)
    return {"pieces": pieces, "steps": building.steps, "ends": building.ends}


def _all(ways: Mapping[str, Iterable[str]]) -> Iterator[str]:
    return (way for of_entry in ways.values() for way in of_entry)


class _Building:
    def __init__(self) -> None:
        self.steps: list[list[int]] = []
        self.ends: list[list[int]] = []
        self._places: dict[tuple[tuple[int, ...], tuple[int, ...]], int] = {}
        self._open: list[tuple[list[int], list[int]]] = [([], [])]
        """The places along the phrase in hand, from the root: the steps and ends of each so far."""
        self._way: tuple[int, ...] = ()

    def add(self, way: tuple[int, ...], ends: list[int]) -> None:
        shared = next(
            (at for at, (one, other) in enumerate(zip(way, self._way, strict=False)) if one != other),
            min(len(way), len(self._way)),
        )
        self._close(shared)
        self._open += [([], []) for _ in way[shared:]]
        self._open[-1][1].extend(ends)
        self._way = way

    def finish(self, depth: int) -> None:
        self._close(depth)
        self._place(*self._open.pop())

    def _close(self, depth: int) -> None:
        while len(self._open) > depth + 1:
            target = self._place(*self._open.pop())
            self._open[-1][0].extend((self._way[len(self._open) - 1], target))

    def _place(self, steps: list[int], ends: list[int]) -> int:
        key = tuple(steps), tuple(ends)
        if key not in self._places:
            self._places[key] = len(self.ends)
            self.steps.append(steps)
            self.ends.append(ends)
        return self._places[key]
