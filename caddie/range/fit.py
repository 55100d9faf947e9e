"""From balls to carries that can be trusted: mean, spread and interval of every cell of the wedge matrix.

Session air is taken out, mishits are told apart, cells are drawn toward the player's own curve, and
the result is made to rise with the swing and fall with the loft. Cells without a ball are estimated and say
so (``shots`` = 0).
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

import numpy as np

from caddie.arrays import Floats
from caddie.bag.curve import expected_mishits
from caddie.bag.models import Bag, Carry, ClubKind, Family, StrikeCount
from caddie.errors import CaddieError
from caddie.range.fit_grid import CellGrid, balls_of
from caddie.range.mishits import (
    CLEAN,
    HEAVY,
    SPREAD_PRIOR_BALLS,
    THIN,
    MeasuredBalls,
    Mixture,
    robust_start,
    tell_apart,
)
from caddie.range.monotone import rising_both_ways
from caddie.range.shots import RangeBall, Session
from caddie.range.shrinkage import draw_to_curve
from caddie.situation import Frozen, Strike
from caddie.statistics import chi_square_quantile, t_quantile
from caddie.units import Unit, from_metres, to_metres

Estimates = Literal["none", "wedges", "all"]

_STEP = 0.02
"""Least rise, as a share, from one swing length to the next."""
_ROUNDS = 2
_SCALE_PRIOR_BALLS = 12.0
_FEWEST_SIDES = 5
_SPREAD_KNOWN = 0.7
"""Share of the balls that count for a spread's interval: mild mishits pass for clean (recovery tests)."""


class FittedCell(Frozen):
    """One club and swing length: what the balls say, with intervals."""

    club: str
    swing: str
    shots: int
    """Clean strikes behind it; 0 marks an estimate."""
    heavy: int = 0
    thin: int = 0
    odd: int = 0
    """Numbers too far off to be a strike of this club: misread, topped or shanked."""
    carry_m: float
    carry_low_m: float
    carry_high_m: float
    sd_m: float
    sd_low_m: float
    sd_high_m: float
    own_carry_m: float | None = None
    """Mean of the clean strikes alone, before the curve had a say."""
    from_sessions: bool
    """False for what the bag already held or an estimate."""
    side_sd_m: float | None = None
    ball_speed_m_s: float | None = None
    launch_deg: float | None = None
    spin_rpm: float | None = None


class Fit(Frozen):
    """The wedge matrix of a player, club by club and swing by swing."""

    sand: bool = False
    """The matrix of splashes out of sand rather than of carries from grass."""
    cells: tuple[FittedCell, ...]
    strikes: StrikeCount
    """Heavy and thin among all balls of the sessions."""
    confidence: float
    spread_share: float
    """The player's spread as a share of the one expected of the handicap."""

    def cell(self, club: str, swing: str) -> FittedCell | None:
        """The cell, or None."""
        return next((c for c in self.cells if (c.club, c.swing) == (club, swing)), None)


def fit_carries(
    sessions: Sequence[Session], bag: Bag, add: bool = False, confidence: float = 0.95, sand: bool = False
) -> Fit:
    """Fit the sessions' balls, those from grass or those out of ``sand``, to the bag's clubs and swing lengths.

    Cells of the bag without a ball in the sessions stay as they are and inform the curve. With ``add`` the
    bag's figures count as balls also where the sessions have some: for balls the bag does not know yet.

    Raises:
        CaddieError: if no shot belongs to a club and a swing of the bag.
    """
    grid = CellGrid(bag, sand)
    balls, shots = balls_of(sessions, bag, grid)
    if not shots:
        raise CaddieError("no shots to fit: import a table or hit a range session first")
    return _fitted(balls, shots, grid, add, confidence)


def estimate_carries(bag: Bag, confidence: float = 0.95, sand: bool = False) -> Fit:
    """The whole matrix from what the bag holds already, without a session."""
    grid = CellGrid(bag, sand)
    balls, shots = balls_of((), bag, grid)
    return _fitted(balls, shots, grid, True, confidence)


def _fitted(
    balls: MeasuredBalls, shots: list[RangeBall], grid: CellGrid, add: bool, confidence: float
) -> Fit:
    touched = np.bincount(balls.cell, minlength=grid.size) > 0
    old_n, old_mean, old_sd = grid.held(keep_all=add, touched=touched)
    log_mean, log_error, told, scale = _estimate(balls, grid, old_n, old_mean, old_sd)
    log_mean = _monotone(log_mean, log_error, grid)
    return _result(grid, shots, balls, told, old_n, log_mean, log_error, scale, confidence)


def with_fit(bag: Bag, fit: Fit, estimates: Estimates = "wedges", replace_strikes: bool = False) -> Bag:
    """The bag with the fitted cells, rounded to tenths of the player's unit.

    Estimated cells are written for wedges, for all clubs or not at all, and never out of sand, where the plan
    estimates them afresh; cells the bag measured earlier and the sessions did not touch stay as they are. The
    count of heavy and thin pitches, or splashes, is written when the bag has none, or with ``replace_strikes``.
    """
    order = {swing.name: swing.share for swing in bag.swings}
    estimates = "none" if fit.sand else estimates
    clubs = []
    for club in bag.clubs:
        cells = {cell.swing: cell for cell in club.cells(fit.sand)}
        for fitted in fit.cells:
            wanted = estimates == "all" or (estimates == "wedges" and club.kind is ClubKind.WEDGE)
            held = cells.get(fitted.swing)
            if fitted.club != club.id or not (
                fitted.from_sessions or (fitted.shots == 0 and wanted and (held is None or held.shots == 0))
            ):
                continue
            cells[fitted.swing] = _cell(fitted, held, bag.player.distances_in)
        kept = _in_order(tuple(sorted(cells.values(), key=lambda cell: order[cell.swing])))
        clubs.append(club.with_cells(kept, fit.sand))
    strikes = dict(bag.strikes)
    family = Family.SPLASH if fit.sand else Family.PITCH
    if fit.strikes.shots and (replace_strikes or not bag.strikes.get(family, StrikeCount()).shots):
        strikes[family] = fit.strikes
    return Bag.model_validate({**dict(bag), "clubs": tuple(clubs), "strikes": strikes})


def _estimate(
    balls: MeasuredBalls, grid: CellGrid, old_n: Floats, old_mean: Floats, old_sd: Floats
) -> tuple[Floats, Floats, Mixture, float]:
    """Logarithm of each cell's carry and its error, the strikes told apart, and the spread's scale."""
    expected_log = np.log(grid.expected_m)
    start, _ = robust_start(balls, grid.size)
    scale = 1.0
    centre = np.where(np.isnan(start), np.exp(expected_log), start)
    old_squares = np.where(old_n > 1, (old_n - 1) * np.nan_to_num(old_sd) ** 2, 0.0)
    for _ in range(_ROUNDS):
        expected_sd = scale * grid.spread_m(centre)[0]
        told = tell_apart(balls, start, expected_sd, expected_mishits(grid.handicap), old_n, old_squares)
        mean, error = _joined(told, old_n, old_mean, np.exp(expected_log))
        drawn = draw_to_curve(grid.loft_deg, grid.share, expected_log, np.log(mean), error, grid.level)
        centre = np.exp(drawn.log_carry)
        scale = _spread_scale(balls, told, centre, grid, old_n, old_squares)
        start = np.where(np.isnan(start), start, centre)
    return drawn.log_carry, drawn.standard_error, told, scale


def _joined(told: Mixture, old_n: Floats, old_mean: Floats, expected_m: Floats) -> tuple[Floats, Floats]:
    """Mean [m] of each cell (NaN without a ball) and the standard error of its logarithm."""
    total = told.information + old_n
    weighted = told.information * told.mean_m + old_n * np.nan_to_num(old_mean)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.where(total > 0, weighted / total, np.nan)
        error = np.sqrt(told.variance_m2 / total) / mean
    # A cell whose only balls are mishits says nothing of its clean carry.
    empty = (told.clean < 0.5) & (old_n == 0)
    return np.where(empty | (mean <= 0), np.nan, mean), np.where(empty, 1.0, error)


def _spread_scale(
    balls: MeasuredBalls, told: Mixture, centre: Floats, grid: CellGrid, old_n: Floats, old_squares: Floats
) -> float:
    """The player's spread as a share of the expected one, all cells together."""
    expected = grid.spread_m(centre)[0] ** 2
    off = (balls.carry_m - told.mean_m[balls.cell]) ** 2
    squares = np.bincount(balls.cell, told.share[CLEAN] * off, len(centre)) + old_squares
    freedom = np.maximum(told.clean - 1, 0) + np.maximum(old_n - 1, 0)
    own = float((squares / expected).sum())
    return float(np.sqrt((own + _SCALE_PRIOR_BALLS) / (freedom.sum() + _SCALE_PRIOR_BALLS)))


def _monotone(log_mean: Floats, error: Floats, grid: CellGrid) -> Floats:
    """The means made to rise by at least a step with the swing and not to fall with less loft."""
    shape = (len(grid.clubs), len(grid.swings))
    step = np.log1p(_STEP) * np.arange(shape[1])
    table = rising_both_ways(log_mean.reshape(shape) - step, 1 / (error.reshape(shape) ** 2 + 1e-8))
    return np.asarray((table + step).ravel())


def _result(
    grid: CellGrid,
    shots: list[RangeBall],
    balls: MeasuredBalls,
    told: Mixture,
    old_n: Floats,
    log_mean: Floats,
    log_error: Floats,
    scale: float,
    confidence: float,
) -> Fit:
    kinds = told.share.argmax(axis=0)
    counts = np.array([np.bincount(balls.cell[kinds == kind], minlength=grid.size) for kind in range(4)])
    bare = shots[balls.carry_m.size :]
    sides = _side_spread(grid, shots, balls, told, np.exp(log_mean))
    cells = []
    for (club, swing), at in grid.index.items():
        mine = [shot for shot, cell, kind in zip(shots, balls.cell, kinds, strict=False)
                if cell == at and kind == CLEAN]  # fmt: skip
        lost = [shot.strike for shot in bare if (shot.club, shot.swing) == (club, swing)]
        clean = int(counts[CLEAN, at])
        touched = clean > 0
        n = round(float(told.clean[at]) + float(old_n[at])) if touched or old_n[at] else 0
        freedom = SPREAD_PRIOR_BALLS + max(float(told.clean[at]) + float(old_n[at]) - 1, 0.0)
        # The spread behind the error is the player's, known from all cells together.
        carry, half = (
            float(np.exp(log_mean[at])),
            _t(confidence, freedom + _SCALE_PRIOR_BALLS) * float(log_error[at]),
        )
        sd = float(np.sqrt(told.variance_m2[at]))
        low, high = _chi(confidence, _SPREAD_KNOWN * freedom)
        cells.append(
            FittedCell(
                club=club,
                swing=swing,
                shots=max(n, 1) if touched or old_n[at] else 0,
                heavy=int(counts[HEAVY, at]) + lost.count(Strike.HEAVY),
                thin=int(counts[THIN, at]) + lost.count(Strike.THIN),
                odd=int(counts[3, at]) + lost.count(Strike.TOPPED) + lost.count(Strike.SHANK),
                carry_m=carry,
                carry_low_m=carry * float(np.exp(-half)),
                carry_high_m=carry * float(np.exp(half)),
                sd_m=sd,
                sd_low_m=sd * low,
                sd_high_m=sd * high,
                own_carry_m=float(told.mean_m[at]) if touched else None,
                from_sessions=touched,
                side_sd_m=sides[at],
                ball_speed_m_s=_middle([shot.ball_speed_m_s for shot in mine]),
                launch_deg=_middle([shot.launch_deg for shot in mine]),
                spin_rpm=_middle([shot.spin_rpm for shot in mine]),
            )
        )
    strikes = StrikeCount(
        shots=len(shots),
        heavy=sum(c.heavy for c in cells),
        thin=sum(c.thin for c in cells),
        on_range=len(shots),
    )
    return Fit(sand=grid.sand, cells=tuple(cells), strikes=strikes, confidence=confidence, spread_share=scale)


def _side_spread(
    grid: CellGrid, shots: list[RangeBall], balls: MeasuredBalls, told: Mixture, carry_m: Floats
) -> list[float | None]:
    """Spread of direction [m] by cell, drawn toward the player's common share of the carry."""
    known = [
        i for i, shot in enumerate(shots[: balls.carry_m.size])
        if shot.side_m is not None and told.share[CLEAN, i] > 0.5
    ]  # fmt: skip
    if len(known) < _FEWEST_SIDES:
        return [None] * grid.size
    side = np.array([shots[i].side_m for i in known], dtype=np.float64)
    cell = balls.cell[known]
    n = np.bincount(cell, minlength=grid.size)
    middle = np.bincount(cell, side, grid.size) / np.maximum(n, 1)
    squares = np.bincount(cell, (side - middle[cell]) ** 2, grid.size)
    freedom = np.maximum(n - 1, 0)
    shape = grid.spread_m(carry_m)[1] ** 2
    common = float((squares / shape).sum() + _SCALE_PRIOR_BALLS) / float(freedom.sum() + _SCALE_PRIOR_BALLS)
    variance = (SPREAD_PRIOR_BALLS * common * shape + squares) / (SPREAD_PRIOR_BALLS + freedom)
    return [float(np.sqrt(each)) for each in variance]


def _cell(fitted: FittedCell, held: Carry | None, unit: Unit) -> Carry:
    side = fitted.side_sd_m if fitted.side_sd_m is not None else held and held.side_sd_m
    return Carry(
        swing=fitted.swing,
        carry_m=_tenth(fitted.carry_m, unit),
        sd_m=max(_tenth(fitted.sd_m, unit), 0.1),
        shots=fitted.shots,
        side_sd_m=max(_tenth(side, unit), 0.1) if side else None,
        ball_speed_m_s=_rounded(fitted.ball_speed_m_s, 1),
        launch_deg=_rounded(fitted.launch_deg, 1),
        spin_rpm=_rounded(fitted.spin_rpm, 0),
    )


def _in_order(cells: tuple[Carry, ...]) -> tuple[Carry, ...]:
    """The cells without estimates that contradict a figure the bag keeps as it is."""
    kept = list(cells)
    for at in reversed(range(len(kept))):
        cell = kept[at]
        below = max((c.carry_m for c in kept[:at] if c.measured), default=0.0)
        above = min((c.carry_m for c in kept[at + 1 :] if c.measured), default=np.inf)
        if not cell.measured and not below < cell.carry_m < above:
            del kept[at]
    return tuple(kept)


def _tenth(length_m: float, unit: Unit) -> float:
    return to_metres(round(from_metres(length_m, unit), 1), unit)


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None or value <= 0 else round(value, digits)


def _middle(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return float(np.median(known)) if known else None


@lru_cache(maxsize=1024)
def _t_at(confidence: float, halves: int) -> float:
    return t_quantile((1 + confidence) / 2, halves / 2)


def _t(confidence: float, freedom: float) -> float:
    return _t_at(confidence, max(round(2 * freedom), 2))


@lru_cache(maxsize=1024)
def _chi_at(confidence: float, halves: int) -> tuple[float, float]:
    freedom = halves / 2
    tail = (1 - confidence) / 2
    return (
        float(np.sqrt(freedom / chi_square_quantile(1 - tail, freedom))),
        float(np.sqrt(freedom / chi_square_quantile(tail, freedom))),
    )


def _chi(confidence: float, freedom: float) -> tuple[float, float]:
    return _chi_at(confidence, max(round(2 * freedom), 2))
