"""The cells that balls are fitted to, and the balls of the sessions laid into them."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag.curve import SAND_SPREAD, expected_carry_m, expected_spread_m
from caddie.bag.models import Bag, Club, ClubKind
from caddie.bag.sand import splash_cells
from caddie.range.mishits import CLEAN, HEAVY, NOT_SAID, THIN, MeasuredBalls
from caddie.range.shots import RangeBall, Session, carry_in
from caddie.range.shrinkage import LEVEL, SAND_LEVEL
from caddie.situation import Strike

_SAID = {Strike.CLEAN: CLEAN, Strike.HEAVY: HEAVY, Strike.THIN: THIN}


class CellGrid:
    """The cells from grass or out of ``sand``, club by club from the most lofted, shortest swing first.

    From grass the cells are every club and swing of the bag. Out of sand they are those of clubs with a carry
    from grass, because that is what a splash is expected by.
    """

    def __init__(self, bag: Bag, sand: bool = False) -> None:
        self.sand = sand
        self.handicap = bag.player.handicap
        self.swings = sorted(bag.swings, key=lambda swing: swing.share)
        self.clubs: list[Club] = sorted(
            (club for club in bag.clubs if club.kind is not ClubKind.PUTTER and (club.carries or not sand)),
            key=lambda club: -club.loft_deg,
        )
        self.index = {
            (club.id, swing.name): i * len(self.swings) + j
            for i, club in enumerate(self.clubs)
            for j, swing in enumerate(self.swings)
        }
        self.size = len(self.index)
        self.loft_deg = np.repeat([club.loft_deg for club in self.clubs], len(self.swings))
        self.share = np.tile([swing.share for swing in self.swings], len(self.clubs))
        self.expected_m = (
            self._splashed_m(bag) if sand else expected_carry_m(self.loft_deg, self.share, self.handicap)
        )

    @property
    def level(self) -> float:
        """How far the player's carries may stand from the expected ones, in their logarithm: one SD."""
        return SAND_LEVEL if self.sand else LEVEL

    def spread_m(self, carry_m: Floats) -> tuple[Floats, Floats]:
        """Spread in length and in direction [m] expected of carries there."""
        length, side = expected_spread_m(carry_m, self.handicap)
        wider = SAND_SPREAD if self.sand else 1.0
        return wider * length, wider * side

    def _splashed_m(self, bag: Bag) -> Floats:
        """Splash carry [m] expected of each cell, by the carries from grass; straight between them."""
        # By grass alone: splashes that the bag holds may come from these very balls.
        bare = tuple(club.with_cells((), sand=True) for club in bag.clubs)
        matrix = splash_cells(bag.model_copy(update={"clubs": bare}))
        shares = {swing.name: swing.share for swing in self.swings}
        rows = []
        for club in self.clubs:
            cells = matrix[club.id]
            known = np.array([0.0, *(shares[cell.swing] for cell in cells)])
            carry = np.array([0.0, *(cell.carry_m for cell in cells)])
            share = np.array([swing.share for swing in self.swings])
            rows.append(np.interp(share, known, carry) * np.maximum(share / known[-1], 1.0))
        return np.concatenate(rows) if rows else np.zeros(0)

    def held(self, keep_all: bool, touched: NDArray[np.bool_]) -> tuple[Floats, Floats, Floats]:
        """Balls, mean [m] and spread [m] that the bag already holds, cell by cell."""
        n, mean, sd = np.zeros(self.size), np.full(self.size, np.nan), np.full(self.size, np.nan)
        for club in self.clubs:
            for cell in club.cells(self.sand):
                at = self.index[club.id, cell.swing]
                if cell.measured and (keep_all or not touched[at]):
                    n[at], mean[at], sd[at] = cell.shots, cell.carry_m, cell.sd_m
        return n, mean, sd


def balls_of(sessions: Sequence[Session], bag: Bag, grid: CellGrid) -> tuple[MeasuredBalls, list[RangeBall]]:
    """Measured balls in the bag's air, and all shots of the grid, the measured ones first."""
    measured: list[RangeBall] = []
    bare: list[RangeBall] = []
    carries: list[Floats] = []
    for session in sessions:
        known = [
            shot for shot in session.shots if shot.sand == grid.sand and (shot.club, shot.swing) in grid.index
        ]
        bare += [shot for shot in known if not _counts(shot)]
        for club in grid.clubs:
            mine = [shot for shot in known if shot.club == club.id and _counts(shot)]
            if mine:
                carry = np.array([shot.carry_m for shot in mine], dtype=np.float64)
                wanted = bag.measured_in
                carries.append(
                    carry_in(carry, club.loft_deg, session.conditions or wanted, wanted, splash=grid.sand)
                )
                measured += mine
    balls = MeasuredBalls(
        np.concatenate(carries) if carries else np.zeros(0),
        np.array([grid.index[shot.club, shot.swing] for shot in measured], dtype=np.intp),
        np.array([_SAID[shot.strike] if shot.strike else NOT_SAID for shot in measured], dtype=np.intp),
    )
    return balls, measured + bare


def _counts(shot: RangeBall) -> bool:
    """Whether the carry goes into the mixture: measured, and neither topped nor shanked."""
    return shot.carry_m is not None and shot.strike not in (Strike.TOPPED, Strike.SHANK)
