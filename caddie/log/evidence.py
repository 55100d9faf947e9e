"""What each shot says about the measured cells of the bag: how far the ball went against the model.

The cells are those from grass, or those of splashes out of sand: each are told by their own shots alone.
A shot that was played as advised is held against the carry and run that the plan expected in that lie, wind
and air, so the difference is the player's and not the day's. A shot without advice counts only from a clean
level lie with no wind, and only by its carry.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag.curve import SAND_SPREAD
from caddie.bag.models import Bag, Carry, Club, ClubKind, Family
from caddie.log.table import Flags, Table
from caddie.plan.dispersion import SPREAD_BY_LIE
from caddie.situation import Lie

Cells = tuple[Carry, ...]

RUN_SD_SHARE = 0.25
RUN_SD_LEAST_M = 1.0
"""Spread of the run: a quarter of it, at least a metre (common practice, no source)."""
CLEAN_LIES = (Lie.FAIRWAY, Lie.FRINGE)
SAND_LIES = (Lie.BUNKER,)
DIAGONAL = 2**-0.5
"""Share of a leave along the line, and across it, when both a length and a side are said."""
UNSAID_SIDE = 12**-0.5
"""A ball said to be long or short, and no more, is less than half as far to a side: root mean square."""
FARTHEST_OFF = 0.5
"""A shot that carried less than half or more than one and a half times the model was no such swing."""


@dataclass(frozen=True)
class ClubEvidence:
    """Shots of one club against the model; shape (n,) each, oldest first."""

    share: Floats
    """The swing as a share of a full one."""
    carry_off: Floats
    """Carry said, less the model's, as a share of the model's; NaN when not said."""
    total_off_m: Floats
    """Where it ended along the line, less the model's; NaN when not said."""
    run_off_m: Floats
    """Run said, less the model's; NaN when not said."""
    across_m: Floats
    """How far it ended to one side of the hole; NaN when neither length nor side was said."""
    carry_m: Floats
    """The model's."""
    run_m: Floats
    lie_spread: Floats
    """How much wider the pattern is there than where the cells were measured."""

    def __len__(self) -> int:
        return len(self.share)

    def where(self, keep: Flags) -> "ClubEvidence":
        """The shots picked by a mask."""
        return ClubEvidence(**{name: getattr(self, name)[keep] for name in ClubEvidence.__dataclass_fields__})


def evidence_on(club: Club, cells: Cells, bag: Bag, table: Table, sand: bool = False) -> ClubEvidence:
    """What the shots in ``table`` say about a club's ``cells``; mishits and putts say nothing of them.

    With ``sand`` they are splashes, told by splashes alone; otherwise carries from grass, told by all else.
    """
    if club.kind is ClubKind.PUTTER or not cells:
        return _none()
    names = set(club.names())
    mine = np.array([name is not None and name.lower() in names for name in table.club], dtype=np.bool_)
    mine &= ~table.mishit & ~table.putt & ~table.is_family(Family.PUTT)
    mine &= table.is_family(Family.SPLASH) == sand
    shots = table.where(mine)
    share = _shares(shots, bag)
    advised = shots.as_advised & ~np.isnan(shots.advised_carry_m)
    clean = shots.level & (shots.is_lie(*(SAND_LIES if sand else CLEAN_LIES)) | (shots.lie < 0))
    clean &= np.array([flight in (None, "stock") for flight in shots.flight], dtype=np.bool_)
    carry_m = np.where(advised, shots.advised_carry_m, carry_at(cells, bag, share))
    run_m = np.where(advised, shots.advised_run_m, np.nan)
    along_m, across_m = _leave(shots)
    measured_in = SAND_SPREAD if sand else 1.0
    found = ClubEvidence(
        share=share,
        carry_off=np.where(advised | clean, shots.carry_m / carry_m - 1.0, np.nan),
        total_off_m=shots.pin_m + along_m - carry_m - run_m,
        run_off_m=shots.run_m - run_m,
        across_m=across_m,
        carry_m=carry_m,
        run_m=run_m,
        lie_spread=np.array(
            [SPREAD_BY_LIE[tuple(Lie)[code]] / measured_in if code >= 0 else 1.0 for code in shots.lie],
            dtype=np.float64,
        ),
    )
    farthest = FARTHEST_OFF * measured_in
    far = np.nan_to_num(np.abs(found.carry_off)) > farthest
    with np.errstate(invalid="ignore"):
        far |= np.nan_to_num(np.abs(found.total_off_m) / (carry_m + run_m)) > farthest
    says = ~np.isnan(found.carry_off) | ~np.isnan(found.total_off_m) | ~np.isnan(found.run_off_m)
    return found.where(says & ~far & ~np.isnan(share) & (carry_m > 0))


def cell_weights(cells: Cells, bag: Bag, share: Floats) -> Floats:
    """How much each cell has to do with a swing: shape (cells, n), in the order of ``cells``.

    A swing between two measured ones belongs to both, more to the nearer; one shorter than the shortest
    belongs to that in proportion.
    """
    knots, order = _knots(cells, bag)
    weights = np.empty((len(order), len(share)))
    for place, cell in enumerate(order):
        shape = np.zeros(len(knots))
        shape[place + 1] = 1.0
        weights[cell] = np.interp(share, knots, shape)
    return weights


def carry_at(cells: Cells, bag: Bag, share: Floats) -> Floats:
    """The bag's carry [m] for swing shares, straight between measured cells, NaN beyond the longest."""
    knots, order = _knots(cells, bag)
    carries = np.array([0.0, *(cells[cell].carry_m for cell in order)])
    return np.asarray(np.interp(share, knots, carries, right=np.nan))


def _knots(cells: Cells, bag: Bag) -> tuple[Floats, list[int]]:
    shares = {swing.name: swing.share for swing in bag.swings}
    order = sorted(range(len(cells)), key=lambda cell: shares[cells[cell].swing])
    return np.array([0.0, *(shares[cells[cell].swing] for cell in order)]), order


def _shares(shots: Table, bag: Bag) -> Floats:
    named = {name.lower(): swing.share for swing in bag.swings for name in (swing.name, *swing.said)}
    said = np.array(
        [np.nan if name is None else named.get(name.lower(), np.nan) for name in shots.swing],
        dtype=np.float64,
    )
    return np.where(shots.as_advised & ~np.isnan(shots.advised_share), shots.advised_share, said)


def _leave(shots: Table) -> tuple[Floats, Floats]:
    """How far past the hole, and how far to its side, the ball ended [m]; NaN when no side was said."""
    both = (shots.long != 0) & (shots.right != 0)
    part: NDArray[np.float64] = shots.distance_m * np.where(both, DIAGONAL, 1.0)
    said = (shots.long != 0) | (shots.right != 0) | shots.holed
    across_m = np.where(shots.right == 0, UNSAID_SIDE, 1.0) * part
    return np.where(said, part * shots.long, np.nan), np.where(said, across_m, np.nan)


def _none() -> ClubEvidence:
    empty = np.empty(0)
    return ClubEvidence(*([empty] * len(ClubEvidence.__dataclass_fields__)))
