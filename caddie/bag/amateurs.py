"""How far amateurs on the course differ from a tour player on a range mat, by handicap.

A few physical figures, each a straight line in the handicap but for one. They live in ``amateurs.toml`` beside this
module, with their sources and date; ``python tests/shared/fit_amateurs.py --write`` fits them to published averages
again.
"""

import tomllib
from functools import cache
from pathlib import Path

from caddie.situation import Frozen

TOUR_HANDICAP = -5.0
"""A tour player's handicap; a better one counts as this."""
FILE = Path(__file__).with_name("amateurs.toml")


class Line(Frozen):
    """A figure by handicap: the tour player's, and how much is added for each stroke above."""

    tour: float
    stroke: float

    def at(self, handicap: float) -> float:
        """The figure of a handicap.

        >>> Line(tour=1.0, stroke=0.1).at(5)
        2.0
        """
        return self.tour + self.stroke * max(handicap - TOUR_HANDICAP, 0.0)


class Growth(Frozen):
    """A chance by handicap: the tour player's, and how many times as large each stroke above makes it."""

    tour: float
    stroke: float

    def at(self, handicap: float) -> float:
        """The chance of a handicap, before anything caps it.

        >>> Growth(tour=0.01, stroke=2.0).at(-3)
        0.04
        """
        return float(self.tour * self.stroke ** max(handicap - TOUR_HANDICAP, 0.0))


class Amateurs(Frozen):
    """What the course adds to a clean pattern, and how amateurs putt."""

    misjudged: Line
    """Spread of the carry that comes from a distance paced or guessed, from wind and from turf that is not the
    range's, as a share of the carry."""
    astray: Line
    """Spread of the direction that comes from aim and footing, as a share of the carry."""
    heavy: Line
    """Chance of a heavy strike with a pitch from a good lie, above that at the range
    (:func:`caddie.bag.curve.expected_mishits`)."""
    sand_heavy: Growth
    """The same of a splash from a good lie in sand: of 26 handicaps one in five stays in, of 2s one in a hundred, so it
    grows faster than any line."""
    putt_line_deg: Line
    """Spread of the line that a putt starts on."""
    putt_pace: Line
    """Spread of the length that a putt rolls, as a share of its length and a foot."""


def amateurs() -> Amateurs:
    """The figures of ``amateurs.toml``."""
    return read(FILE)


@cache
def read(file: Path) -> Amateurs:
    """The figures of a file."""
    return Amateurs.model_validate(tomllib.loads(file.read_text(encoding="utf-8")))
