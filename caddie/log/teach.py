"""What the log teaches the bag: carries, spread, strikes and trust, by a stated rule with forgetting.

- **Carry and run** of a cell: a normal prior at the measured carry, worth the balls behind it, updated by
  every clean shot; where only the finish is known the difference is shared between carry and run by how
  uncertain each is (:func:`caddie.log.bayes.two_biases`).
- **Splashes** out of sand teach cells of their own by the same rule. A swing never measured there starts
  from the estimate that the plan makes, which counts for fewer balls than one from grass, and its cell is
  written once a few splashes stand behind it.
- **Spread**: scaled inverse chi-square, worth the same balls. It takes in what the course adds, so the plan adds the
  less of what the handicap expects of that, the more shots on the course stand behind it (``course_shots``).
- **Strikes and trust** of a family: Beta counts.
- **Forgetting**: 60 newer shots with a cell, 200 of a family's strikes and 50 of its trust halve what came
  before.

The numbers of shots in priors and half-lives are chosen, not published.
"""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from caddie.arrays import Floats
from caddie.bag.curve import SAND_SPREAD, expected_spread_m
from caddie.bag.models import Bag, Carry, Club, Family
from caddie.bag.sand import splash_cells
from caddie.log.bayes import Belief, Bias, faded, fading, spread_after, two_biases
from caddie.log.change import Change, ChangeKind, length, plain, swing_said
from caddie.log.counts import taught_strikes, taught_trust
from caddie.log.evidence import (
    RUN_SD_LEAST_M,
    RUN_SD_SHARE,
    ClubEvidence,
    cell_weights,
    evidence_on,
)
from caddie.log.shot import Shot
from caddie.log.table import Flags, Table, table_of

CELL_HALF_LIFE = 60.0
ESTIMATE_SHOTS = 4.0
"""Balls that a cell counts for when its carry is an estimate."""
SPLASH_ESTIMATE_SHOTS = 2.0
"""The same for a splash, where the estimate is little more than a guess."""
LEAST_SPLASHES = 3.0
"""Splashes with a swing that was never measured before a cell is written for it."""
KEPT_SHOTS = 2.0
"""What was measured never counts for less, or a finish could no longer be told apart into carry and run."""
RUN_PRIOR_SHARE = 0.3
"""How far the model's run may be off, as a share (one standard deviation)."""
SIDE_SHOTS = 8
"""Sides said before the direction spread is touched."""
OUTLIER = 4.0
"""Spreads from the shots' median beyond which a shot was a mishit that nobody reported."""
MOST_RUN_BIAS_M = 20.0
LEAST_RUN_SHOTS = 5


class Lesson(NamedTuple):
    """The bag after the shots, and why it changed."""

    bag: Bag
    changes: list[Change]


Runs = Mapping[tuple[str | None, str | None, Family | None], Change]


class _Matrix(NamedTuple):
    """The cells of one club that are taught together: those from grass, or those out of sand."""

    club: Club
    cells: tuple[Carry, ...]
    sand: bool

    @property
    def family(self) -> Family | None:
        return Family.SPLASH if self.sand else None

    def swing_of(self, cell: Carry) -> str:
        """The swing as a sentence begins."""
        return f"your {self.club.id} {swing_said(cell.swing)}{' out of sand' if self.sand else ''}"

    def worth(self, cell: Carry) -> float:
        """How many balls a cell counts for."""
        return float(cell.shots) or (SPLASH_ESTIMATE_SHOTS if self.sand else ESTIMATE_SHOTS)


class _Cell(NamedTuple):
    cell: Carry
    changes: list[Change]
    seen: float
    """Shots that told it, a swing between two cells in parts."""


def teach(bag: Bag, shots: Iterable[Shot] | Table, known: Iterable[Change] = ()) -> Lesson:
    """What these shots, none of which the bag knows yet, teach it.

    The bag itself is not changed. Shots of every player given are taken for this bag's: pick them before.
    ``known`` are earlier changes: the last one of kind ``run`` on a cell says how surely its run is known.
    The plan expects the model's run with what the bag has been taught of it (``run_bias_m``).
    """
    runs = {
        (change.club, change.swing, change.family): change
        for change in known
        if change.kind is ChangeKind.RUN
    }
    table = shots if isinstance(shots, Table) else table_of(shots)
    clubs: list[Club] = []
    changes: list[Change] = []
    splashes = splash_cells(bag) if table.is_family(Family.SPLASH).any() else {}
    for club in bag.clubs:
        for matrix in (_Matrix(club, club.carries, False), _Matrix(club, splashes.get(club.id, ()), True)):
            cells, found = _taught_cells(matrix, bag, table, runs)
            club = club.with_cells(cells, matrix.sand)
            changes += found
        clubs.append(club)
    strikes, found = taught_strikes(bag, table)
    changes += found
    trust, found = taught_trust(bag, table)
    changes += found
    new = bag.model_copy(update={"clubs": tuple(clubs), "strikes": strikes, "trust": trust})
    return Lesson(Bag.model_validate(new.model_dump()), changes)


def _taught_cells(
    matrix: _Matrix, bag: Bag, table: Table, runs: Runs
) -> tuple[tuple[Carry, ...], list[Change]]:
    """The cells of the club after these shots, as they are to stand in the bag."""
    club, cells, sand = matrix
    evidence = evidence_on(club, cells, bag, table, sand)
    if not len(evidence):
        return club.cells(sand), []
    weights = cell_weights(cells, bag, evidence.share)
    every = [
        _taught_cell(
            matrix, cell, bag, evidence, weights[place], runs.get((club.id, cell.swing, matrix.family))
        )
        for place, cell in enumerate(cells)
    ]
    held = club.cells(sand)
    taught = [
        each for cell, each in zip(cells, every, strict=True) if cell in held or each.seen >= LEAST_SPLASHES
    ]
    changes = [change for cell in taught for change in cell.changes]
    shares = {swing.name: swing.share for swing in bag.swings}
    ordered = sorted((each.cell for each in taught), key=lambda cell: shares[cell.swing])
    for shorter, longer in pairwise(ordered):
        if longer.carry_m <= shorter.carry_m:
            place = " out of sand" if sand else ""
            sentence = (
                f"your {club.id}{place} is left as it was: by these shots the {longer.swing} swing would carry "
                f"no farther than the {shorter.swing} one; measure both again"
            )
            held_back = Change(
                kind=ChangeKind.HELD, club=club.id, family=matrix.family, before=0, after=0, se=0,
                shots=len(evidence), sentence=sentence,
            )  # fmt: skip
            return held, [held_back, *(change for change in changes if change.kind is ChangeKind.RUN)]
    return tuple(each.cell for each in taught), changes


def _taught_cell(
    matrix: _Matrix, cell: Carry, bag: Bag, evidence: ClubEvidence, hat: Floats, run: Change | None
) -> _Cell:
    mine = hat > 0.05
    evidence, hat = evidence.where(mine), hat[mine]
    ordinary = _ordinary(cell, evidence)
    evidence, hat = evidence.where(ordinary), hat[ordinary]
    if not len(evidence):
        return _Cell(cell, [], 0.0)
    seen = float(hat.sum())
    # A swing between two cells is part of a shot for each, in forgetting too.
    newer = np.concatenate([np.cumsum(hat[::-1])[::-1][1:], [0.0]])
    weight = hat * 0.5 ** (newer / CELL_HALF_LIFE)
    worth = max(faded(matrix.worth(cell), seen, CELL_HALF_LIFE), KEPT_SHOTS)
    bias, scaled, used = _biases(cell, evidence, weight, worth, _run_unknown_m(evidence, run, seen))
    after = Belief(
        cell.carry_m + bias.first,
        spread_after(cell.sd_m, max(worth - 1.0, 1.0), scaled, used),
        worth + used,
    )
    side_sd_m = _side_spread(matrix, cell, bag, evidence, hat, worth)
    new = cell.model_copy(
        update={
            "carry_m": max(after.mean, 0.1),
            "sd_m": after.sd,
            # An estimate has its say, but no ball stands behind it.
            "shots": max(round(after.shots if cell.measured else used), 1),
            "course_shots": round(faded(float(cell.course_shots or 0), seen, CELL_HALF_LIFE) + used) or None,
            "side_sd_m": side_sd_m,
            "run_bias_m": _run_bias(cell, evidence, bias),
        }
    )
    return _Cell(new, _cell_changes(matrix, cell, new, bag, evidence, bias), seen)


def _run_bias(cell: Carry, evidence: ClubEvidence, bias: Bias) -> float:
    """The run beyond the model's [m], taught only by enough shots that tell it."""
    if _shots_that_ran(evidence) < LEAST_RUN_SHOTS:
        return cell.run_bias_m
    return float(np.clip(cell.run_bias_m + bias.second, -MOST_RUN_BIAS_M, MOST_RUN_BIAS_M))


def _shots_that_ran(evidence: ClubEvidence) -> int:
    return int((~np.isnan(evidence.total_off_m) | ~np.isnan(evidence.run_off_m)).sum())


def _ordinary(cell: Carry, evidence: ClubEvidence) -> Flags:
    """Which shots lie with the others, whether or not the player has changed."""
    off_m = np.where(np.isnan(evidence.carry_off), evidence.total_off_m, evidence.carry_off * cell.carry_m)
    off_m = np.where(np.isnan(off_m), evidence.run_off_m, off_m)
    spread_m = np.hypot(
        cell.sd_m * evidence.lie_spread, np.where(np.isnan(evidence.run_m), 0, _run_sd(evidence))
    )
    middle = float(np.median(off_m)) if len(off_m) >= SIDE_SHOTS else 0.0
    return np.asarray(np.abs(off_m - middle) <= OUTLIER * spread_m)


def _run_sd(evidence: ClubEvidence) -> Floats:
    return np.maximum(RUN_SD_SHARE * np.abs(evidence.run_m), RUN_SD_LEAST_M)


def _run_unknown_m(evidence: ClubEvidence, run: Change | None, seen: float) -> float:
    """How surely the run is what the plan expects [m]: one standard error."""
    run_m = evidence.run_m[~np.isnan(evidence.run_m)]
    unknown = RUN_PRIOR_SHARE * float(np.abs(run_m).mean()) + 0.5 if len(run_m) else 1.0
    if run is None:
        return unknown
    return float(min(run.se / np.sqrt(faded(1.0, seen, CELL_HALF_LIFE)), unknown))


class _Telling(NamedTuple):
    """Shots that tell of a cell in one manner: residual = of_carry * carry bias + of_run * run bias + noise."""

    which: Flags
    """Of all shots (n,), those that do."""
    residual_m: Floats
    of_carry: Floats
    of_run: Floats
    variance_m2: Floats


def _tellings(cell: Carry, evidence: ClubEvidence) -> tuple[_Telling, ...]:
    """What the shots tell, the manners that tell of the carry first: the carry said, then the finish alone."""
    carry_variance = (cell.sd_m * evidence.lie_spread) ** 2
    run_variance = _run_sd(evidence) ** 2
    scale = evidence.carry_m / cell.carry_m
    at_finish = (cell.sd_m * evidence.lie_spread * scale) ** 2
    said, finished, ran = (
        ~np.isnan(known) for known in (evidence.carry_off, evidence.total_off_m, evidence.run_off_m)
    )
    one, none = np.ones(len(evidence)), np.zeros(len(evidence))
    beyond_carry_m = evidence.total_off_m - evidence.carry_off * evidence.carry_m
    return (
        _Telling(said, evidence.carry_off * cell.carry_m, one, none, carry_variance),
        _Telling(~said & finished, evidence.total_off_m, scale, one, at_finish + run_variance),
        _Telling(ran, evidence.run_off_m, none, one, run_variance),
        # Carry and finish both known tell the run.
        _Telling(said & ~ran & finished, beyond_carry_m, none, one, run_variance),
    )


def _biases(
    cell: Carry, evidence: ClubEvidence, weight: Floats, worth: float, run_unknown_m: float
) -> tuple[Bias, float, float]:
    """Carry and run bias of a cell; the weighted squares of what is left, in spreads; and their weight."""
    tellings = _tellings(cell, evidence)
    residual = np.concatenate([each.residual_m[each.which] for each in tellings])
    of_carry = np.concatenate([each.of_carry[each.which] for each in tellings])
    of_run = np.concatenate([each.of_run[each.which] for each in tellings])
    variance = np.concatenate([each.variance_m2[each.which] for each in tellings])
    weights = np.concatenate([weight[each.which] for each in tellings])
    prior_sd = np.array([cell.sd_m / np.sqrt(worth), run_unknown_m])
    bias = two_biases(residual, of_carry, of_run, variance, weights, prior_sd)
    left = residual - of_carry * bias.first - of_run * bias.second
    # What a residual says about the carry's spread: the carry's part of its variance.
    by_carry, by_finish = tellings[:2]
    scale = evidence.carry_m / cell.carry_m
    share = (cell.sd_m * evidence.lie_spread * scale) ** 2 / by_finish.variance_m2
    part = np.concatenate([np.ones(int(by_carry.which.sum())), share[by_finish.which]])
    count = len(part)
    informs = weights[:count] * part
    scaled = float((informs * left[:count] ** 2 / variance[:count]).sum())
    return bias, scaled, float(informs.sum())


def _side_spread(
    matrix: _Matrix, cell: Carry, bag: Bag, evidence: ClubEvidence, hat: Floats, worth: float
) -> float | None:
    said = ~np.isnan(evidence.across_m) & ~np.isnan(evidence.run_m)
    if int(said.sum()) < SIDE_SHOTS:
        return cell.side_sd_m
    expected = float(expected_spread_m(np.array(cell.carry_m), bag.player.handicap)[1])
    prior = cell.side_sd_m or (SAND_SPREAD if matrix.sand else 1.0) * expected
    worth = worth if cell.side_sd_m else ESTIMATE_SHOTS
    went_m = evidence.carry_m[said] + np.maximum(evidence.run_m[said], 0.0)
    weight = fading(int(said.sum()), CELL_HALF_LIFE) * hat[said]
    z = evidence.across_m[said] * cell.carry_m / went_m / evidence.lie_spread[said] / prior
    ordinary = np.abs(z) <= OUTLIER
    return spread_after(
        prior, max(worth - 1.0, 1.0), float((weight * z**2)[ordinary].sum()), float(weight[ordinary].sum())
    )


def _cell_changes(
    matrix: _Matrix, old: Carry, new: Carry, bag: Bag, evidence: ClubEvidence, bias: Bias
) -> list[Change]:
    unit = bag.player.distances_in
    swing = matrix.swing_of(old)
    count = len(evidence)
    shots = f"over {count} shot{'s' if count != 1 else ''}"
    carry, spread = length(new.carry_m, unit), length(new.sd_m, unit)
    common = {"club": matrix.club.id, "swing": old.swing, "family": matrix.family}
    was = (
        plain(old.carry_m, unit)
        if old.measured or not matrix.sand
        else f"estimated at {plain(old.carry_m, unit)}"
    )
    changes = [
        Change(
            kind=ChangeKind.CARRY, before=old.carry_m, after=new.carry_m, se=bias.first_se, shots=count, **common,
            sentence=f"{swing} carries {carry}, was {was}, {shots}",
        ),
        Change(
            kind=ChangeKind.SPREAD, before=old.sd_m, after=new.sd_m, se=0, shots=count, **common,
            sentence=f"{swing} spreads {spread} in carry, was {plain(old.sd_m, unit)}, {shots}",
        ),
    ]  # fmt: skip
    if new.side_sd_m != old.side_sd_m and new.side_sd_m is not None:
        before = plain(old.side_sd_m, unit) if old.side_sd_m else "not measured"
        changes.append(
            Change(
                kind=ChangeKind.SIDE, before=old.side_sd_m or 0, after=new.side_sd_m, se=0, shots=count, **common,
                sentence=f"{swing} spreads {length(new.side_sd_m, unit)} sideways, was {before}, {shots}",
            )
        )  # fmt: skip
    ran = _shots_that_ran(evidence)
    if ran >= LEAST_RUN_SHOTS:
        off = f"{length(abs(new.run_bias_m), unit)} {'more' if new.run_bias_m > 0 else 'less'} than modelled"
        if abs(new.run_bias_m) < 2 * bias.second_se:
            off = f"as modelled, within {length(2 * bias.second_se, unit)},"
        changes.append(
            Change(
                kind=ChangeKind.RUN, before=old.run_bias_m, after=new.run_bias_m,
                se=bias.second_se, shots=ran, **common,
                sentence=f"{swing} ran {off} over {ran} shots",
            )
        )  # fmt: skip
    return changes
