"""Strikes and trust, a shot family at a time: Beta counts with forgetting."""

import numpy as np

from caddie.bag.models import Bag, Family, StrikeCount
from caddie.log.bayes import faded, fading, share_after
from caddie.log.change import Change, ChangeKind, family_said
from caddie.log.table import Table
from caddie.situation import Strike

STRIKE_HALF_LIFE = 200.0
TRUST_HALF_LIFE = 50.0
TRUST_SHOTS = 20.0
"""Shots that the trust in the bag counts for."""
UNKNOWN_TRUST = 0.5


def taught_strikes(bag: Bag, table: Table) -> tuple[dict[Family, StrikeCount], list[Change]]:
    """The strike counts of the bag after these shots, a family at a time."""
    strikes, changes = dict(bag.strikes), []
    for family in Family:
        mine = table.where(table.is_family(family) & table.told)
        if family is Family.PUTT or not len(mine):
            continue
        old = bag.strikes.get(family, StrikeCount())
        weight = fading(len(mine), STRIKE_HALF_LIFE)
        heavy_seen = mine.is_strike(Strike.HEAVY)
        thin_seen = mine.is_strike(Strike.THIN, Strike.TOPPED)
        heavy = faded(old.heavy, len(mine), STRIKE_HALF_LIFE) + float(weight[heavy_seen].sum())
        thin = faded(old.thin, len(mine), STRIKE_HALF_LIFE) + float(weight[thin_seen].sum())
        shots = faded(old.shots, len(mine), STRIKE_HALF_LIFE) + float(weight.sum())
        on_range = faded(old.on_range, len(mine), STRIKE_HALF_LIFE)
        whole = StrikeCount(
            shots=max(round(shots), round(heavy) + round(thin)),
            heavy=round(heavy),
            thin=round(thin),
            on_range=round(on_range),
        )
        strikes[family] = whole
        before = (old.heavy + old.thin) / old.shots if old.shots else 0.0
        after = (whole.heavy + whole.thin) / whole.shots if whole.shots else 0.0
        changes.append(
            Change(
                kind=ChangeKind.STRIKES,
                family=family,
                before=before,
                after=after,
                se=0,
                shots=len(mine),
                sentence=(
                    f"your {family_said(family)} was struck heavy {int(heavy_seen.sum())} and thin "
                    f"{int(thin_seen.sum())} times in {len(mine)} shots: from now on counted as "
                    f"{whole.heavy} and {whole.thin} in {whole.shots}"
                ),
            )
        )
    return strikes, changes


def taught_trust(bag: Bag, table: Table) -> tuple[dict[Family, float], list[Change]]:
    """The trust in each family after these shots: putts on the green say nothing about it."""
    trust, changes = dict(bag.trust), []
    for family in Family:
        tells = table.is_family(family) & table.told & ~table.putt
        tells &= table.holed | ~np.isnan(table.distance_m) | table.mishit | table.wavered
        mine = table.where(tells)
        if not len(mine):
            continue
        weight = fading(len(mine), TRUST_HALF_LIFE)
        old = bag.trust.get(family, UNKNOWN_TRUST)
        worth = faded(TRUST_SHOTS, len(mine), TRUST_HALF_LIFE)
        new = share_after(old, worth, float(weight[mine.came_off].sum()), float(weight.sum()))
        trust[family] = round(min(max(new, 0.0), 1.0), 4)
        changes.append(
            Change(
                kind=ChangeKind.TRUST,
                family=family,
                before=old,
                after=trust[family],
                se=float(np.sqrt(new * (1 - new) / (worth + weight.sum() + 1))),
                shots=len(mine),
                sentence=(
                    f"your {family_said(family)} came off in {int(mine.came_off.sum())} of {len(mine)} "
                    f"shots: trust {trust[family]:.2f}, was {old:.2f}"
                ),
            )
        )
    return trust, changes
