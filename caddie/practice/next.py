"""What twenty minutes of practice would gain most: how often a shot comes up, and what it costs this player.

A kind of shot (:mod:`caddie.practice.kinds`) costs what it takes the player above one five strokes better,
from the same spots: an estimate, since no table by handicap is published (:mod:`caddie.plan.strokes`).
Both how often and how much are shrunk toward a typical player's, so a new log gives a sensible answer and a
long one its own.

How much of that cost twenty minutes take away is not known. :data:`CLOSED` is assumed for every kind, so the
order and the chance of being first rest on the log alone, and the strokes are to be read as a scale.
"""

from typing import NamedTuple

import numpy as np

from caddie.arrays import Floats
from caddie.log.shot import ROUNDS, Mode
from caddie.log.table import Table
from caddie.plan.strokes import strokes_to_hole_out
from caddie.practice.gained import strokes_after, strokes_before
from caddie.practice.kinds import GROUP_LIES, LieGroup, ShotKind, kinds, round_of
from caddie.units import Unit

STROKES_BETTER = 5.0
CLOSED = 0.05
"""Share of the cost that twenty minutes take away (an assumption, no source)."""
COST_PRIOR_SHOTS = 20.0
PRIOR_ROUNDS = 2.0
DRAWS = 4000
FEWEST_TO_RANK = 20
"""With fewer shots than the typical player's word counts for, a list would be the typical player's."""
TOO_FEW = (
    "{kept} in the log: about {needed} are needed before it can tell what gains you most. Tell the talk how they end. "
    "Till then, what everybody practises first:"
)
LOWEST_HANDICAP = -5.0

_TYPICAL = {
    LieGroup.SHORT_GRASS: (1.2, 1.0, 1.0),
    LieGroup.FRINGE: (1.6, 0.1, 0.01),
    LieGroup.ROUGH: (1.6, 1.2, 0.6),
    LieGroup.SAND: (0.8, 0.5, 0.07),
    LieGroup.GREEN: (13.0, 4.5, 5.0, 5.5, 3.0),
}
"""Shots of a kind in a round of a mid-handicap player (common practice, no source)."""
_SCATTER = {LieGroup.GREEN: (0.2, 0.5, 0.5, 0.45, 0.5)}
_SCATTER_OFF = 0.6
"""Standard deviation of one shot's cost [strokes] before the player's own is known: what two putts against
one, and one wasted shot in ten, come to; of a putt sqrt(p (1 - p)) at the band's make rate."""


_DRILLS = (("ring", 0.0), ("gate", 1.0), ("pace", 4.5))
"""Putting drills, each from a length on [m]: short ones hang on holing out, then on the line, then on pace."""


class ForEverybody(NamedTuple):
    """What any player practises first, whose own shots tell nothing yet."""

    sentence: str
    drill: str
    """The drill for it; empty where a rehearsal is."""


FOR_EVERYBODY = (
    ForEverybody("Short putts, a step or two long: they come on every hole", "ring"),
    ForEverybody("Long putts for their pace: dead at the hole, and no three putts", "pace"),
    ForEverybody("Chips and pitches from many spots, each ball another shot, as on the course", ""),
)
"""Common practice, no source."""


class Gain(NamedTuple):
    """What a kind of shot would give back; strokes are per round."""

    kind: ShotKind
    per_round: float
    shots: int
    """Shots in the log behind the cost."""
    lost: float
    """Strokes a shot above a player five better."""
    lost_se: float
    strokes: float
    """Expected gain of twenty minutes."""
    low: float
    high: float
    """80 % interval of the gain."""
    first: float
    """Chance that no other kind would give more."""

    @property
    def sentence(self) -> str:
        """The gain as said."""
        often = f"{self.per_round:.1f} times a round" if self.per_round >= 0.15 else "seldom needed"
        kept = f"{self.shots} in the log" if self.shots else "none in the log yet"
        return f"{self.kind.name}: {often}, {self.lost:.2f} strokes lost each time to a player five better ({kept})"

    @property
    def drill(self) -> str:
        """The putting drill that practises it; empty where a rehearsal does."""
        if self.kind.ground is not LieGroup.GREEN:
            return ""
        return [name for name, from_m in _DRILLS if self.kind.band.low_m >= from_m][-1]


def most_to_gain(table: Table, handicap: float, unit: Unit = Unit.YARDS, seed: int = 1) -> list[Gain]:
    """Every kind of shot, what twenty minutes would gain most on first; the same seed, the same list."""
    rounds = table.in_modes(*ROUNDS)
    count = round_of(rounds)[1]
    played = table.in_modes(*ROUNDS, Mode.REHEARSAL, Mode.GAME)
    target = max(handicap - STROKES_BETTER, LOWEST_HANDICAP)
    cost = 1.0 + strokes_after(played, handicap) - strokes_before(played, target)
    rng = np.random.default_rng(seed)
    every = kinds(unit)
    rows, draws = [], []
    for kind, (typical, scatter) in zip(every, _typical(), strict=True):
        seen = int(kind.holds(rounds).sum())
        mine = cost[kind.holds(played)]
        mine = mine[~np.isnan(mine)]
        lost, lost_se = _shrunk(mine, _expected_cost(kind, handicap, target), scatter)
        shape, rate = seen + typical * PRIOR_ROUNDS, count + PRIOR_ROUNDS
        often = rng.gamma(shape, 1 / rate, DRAWS)
        draws.append(CLOSED * often * np.maximum(rng.normal(lost, lost_se, DRAWS), 0.0))
        rows.append((kind, shape / rate, len(mine), lost, lost_se))
    gains = np.stack(draws)
    best = np.bincount(gains.argmax(axis=0), minlength=len(rows)) / DRAWS
    low, high = np.quantile(gains, (0.1, 0.9), axis=1)
    found = [
        Gain(*row, float(gain.mean()), float(low[i]), float(high[i]), float(best[i]))
        for i, (row, gain) in enumerate(zip(rows, gains, strict=True))
    ]
    return sorted(found, key=lambda gain: -gain.strokes)


def shots_counted(table: Table) -> int:
    """How many shots there are that :func:`most_to_gain` learns from."""
    return len(table.in_modes(*ROUNDS, Mode.REHEARSAL, Mode.GAME))


def too_few(table: Table) -> str:
    """What is told in place of a list that would not be the player's own; empty where there are shots enough."""
    count = shots_counted(table)
    kept = "One shot is" if count == 1 else f"{count or 'No'} shots are"
    return "" if count >= FEWEST_TO_RANK else TOO_FEW.format(kept=kept, needed=FEWEST_TO_RANK)


def _typical() -> list[tuple[float, float]]:
    """How often a kind comes up, and its scatter, in the order of :func:`caddie.practice.kinds.kinds`."""
    return [
        pair
        for ground in LieGroup
        for pair in zip(
            _TYPICAL[ground],
            _SCATTER.get(ground, (_SCATTER_OFF,) * len(_TYPICAL[ground])),
            strict=True,
        )
    ]


def _expected_cost(kind: ShotKind, handicap: float, target: float) -> float:
    """What the kind costs a typical player of the handicap, at the middle of its band."""
    middle_m = (kind.band.low_m + min(kind.band.high_m, 2 * kind.band.low_m + 3)) / 2
    lie = GROUP_LIES[kind.ground][0]
    return float(strokes_to_hole_out(middle_m, lie, handicap) - strokes_to_hole_out(middle_m, lie, target))


def _shrunk(cost: Floats, prior: float, scatter: float) -> tuple[float, float]:
    """Posterior mean of the cost and its standard error; the prior is worth :data:`COST_PRIOR_SHOTS` shots."""
    n = len(cost)
    if not n:
        return prior, float(scatter / np.sqrt(COST_PRIOR_SHOTS))
    mean = (COST_PRIOR_SHOTS * prior + float(cost.sum())) / (COST_PRIOR_SHOTS + n)
    variance = (COST_PRIOR_SHOTS * scatter**2 + n * float(cost.var())) / (COST_PRIOR_SHOTS + n)
    return mean, float(np.sqrt(variance / (COST_PRIOR_SHOTS + n)))
