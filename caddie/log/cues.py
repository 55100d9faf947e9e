"""Which commitment cues have worked for this player: a bandit rule on the log.

A cue is an arm, a shot played with it a trial. The trial succeeds when the shot was gone through with and
struck clean; when neither was said, when it ended no farther from the hole than the plan promised; otherwise
it tells nothing. Each cue has a Beta posterior around the player's own rate over all cues, worth six shots,
and a shot counts half once fifty newer ones have been played.

The weight is the posterior mean against the player's own rate, the same for the same log. With a ``seed`` it
is a draw from the posterior instead (W. R. Thompson, *Biometrika* 25, 285-294, 1933, from memory), which now
and then tries a cue that has had little chance.
"""

from collections.abc import Iterable

import numpy as np

from caddie.arrays import Floats
from caddie.log.bayes import fading
from caddie.log.shot import Shot
from caddie.log.table import Table, table_of
from caddie.situation import Strike

CUE_PRIOR_SHOTS = 6.0
HALF_LIFE_SHOTS = 50.0


def cue_weights(shots: Iterable[Shot] | Table, seed: int | None = None) -> dict[str, float]:
    """Factor around 1 by cue id: above 1 the cue has worked better than this player's others.

    Cues without a shot that tells are left out, which is a factor of 1.
    """
    table = shots if isinstance(shots, Table) else table_of(shots)
    worked = cue_worked(table)
    tells = ~np.isnan(worked)
    if not tells.any():
        return {}
    cues, worked = table.cue[tells], worked[tells]
    weight = fading(len(worked), HALF_LIFE_SHOTS)
    # One success and one failure for all cues together keep the player's rate off 0 and 1.
    overall = float(((weight * worked).sum() + 1) / (weight.sum() + 2))
    rng = None if seed is None else np.random.default_rng(seed)
    weights = {}
    for cue in sorted(set(cues)):
        mine = cues == cue
        a = CUE_PRIOR_SHOTS * overall + float((weight * worked)[mine].sum())
        b = CUE_PRIOR_SHOTS * (1 - overall) + float((weight * (1 - worked))[mine].sum())
        rate = a / (a + b) if rng is None else float(rng.beta(a, b))
        weights[str(cue)] = rate / overall
    return weights


def cue_worked(table: Table) -> Floats:
    """1 where a cue worked, 0 where it did not, NaN where there was none or the log cannot tell."""
    failed = table.mishit | table.wavered
    said_good = table.is_strike(Strike.CLEAN) | ((table.commitment >= 0) & ~table.wavered)
    near = table.distance_m <= table.advised_leave_m
    by_leave = np.where(np.isnan(table.distance_m) | np.isnan(table.advised_leave_m), np.nan, near)
    worked = np.where(failed, 0.0, np.where(said_good, 1.0, by_leave))
    given = np.array([cue is not None for cue in table.cue], dtype=np.bool_)
    return np.where(given, worked, np.nan)
