"""Reads against outcomes: what the putts in the log say of break and pace.

A putt that misses on the low side was started too low, or rolled too softly, for the break there was; the
read it was given is the yardstick. Where a miss was told as a side and a length at once ("two feet left and
long") the two share the distance.
"""

import math

import numpy as np

from caddie.arrays import Floats
from caddie.errors import CaddieError
from caddie.log.table import UNSAID, Flags, Table
from caddie.situation import Finish, Frozen
from caddie.statistics import Interval, mean_interval, wilson_interval

LEAST_AIM_M = 0.05
"""A putt aimed nearer to the middle than this is straight and says nothing about break."""
LEAST_PUTTS = 8
MOST_SHARE = 1.5
"""A miss counts as no more than this share of the break: the rest is a mishit."""

_SHARES = ((0.5, "a half"), (1 / 3, "a third"), (0.25, "a quarter"), (0.2, "a fifth"), (0.1, "a tenth"))


class ReadHabits(Frozen):
    """What a player's putts say of their reads."""

    breaking: int
    """Putts with break and a known outcome."""
    missing_break: float | None
    """Mean share of the break that was not played; negative when too much was. None without such putts."""
    interval: Interval | None
    low: int
    high: int
    """Misses of breaking putts by side."""
    short: int
    past: int
    """Misses of all putts by length."""

    @property
    def says(self) -> tuple[str, ...]:
        """Sentences for what the numbers carry; none when they carry nothing."""
        found = [_break_said(self), _pace_said(self)]
        return tuple(sentence for sentence in found if sentence)


def read_habits(putts: Table) -> ReadHabits:
    """Weigh the putts in a log that were read and whose outcome was told; other shots are left out."""
    shots = putts.where(putts.putt & _told(putts))
    missed = ~shots.holed
    breaking = shots.where(np.nan_to_num(np.abs(shots.advised_aim_left_m)) >= LEAST_AIM_M)
    off_m = _to_low_side(breaking)
    known = ~np.isnan(off_m)
    share = np.clip(off_m / np.abs(breaking.advised_aim_left_m), -MOST_SHARE, MOST_SHARE)[known]
    count = len(share)
    return ReadHabits(
        breaking=count,
        missing_break=float(share.mean()) if count else None,
        interval=mean_interval(float(share.mean()), float(share.std(ddof=1)) if count > 1 else 0.0, count)
        if count
        else None,
        low=int((off_m[known] > 0).sum()),
        high=int((off_m[known] < 0).sum()),
        short=int((missed & (shots.long < 0)).sum()),
        past=int((missed & (shots.long > 0)).sum()),
    )


def share_said(share: float) -> str:
    """A share as players say it.

    >>> share_said(0.31), share_said(0.52)
    ('a third', 'a half')
    """
    if not share > 0:
        raise CaddieError(f"a share of the break must be above 0, got {share:g}")
    return min(_SHARES, key=lambda entry: abs(math.log(entry[0] / share)))[1]


def _break_said(habits: ReadHabits) -> str:
    if habits.missing_break is None or habits.interval is None or habits.breaking < LEAST_PUTTS:
        return ""
    if not (habits.interval.low > 0 or habits.interval.high < 0) or abs(habits.missing_break) < 0.05:
        return ""
    amount = "little" if habits.missing_break > 0 else "much"
    return (
        f"You play too {amount} break: by {share_said(abs(habits.missing_break))}, "
        f"over {habits.breaking} breaking putts ({habits.low} missed low, {habits.high} high)."
    )


def _pace_said(habits: ReadHabits) -> str:
    count = habits.short + habits.past
    if count < LEAST_PUTTS:
        return ""
    interval = wilson_interval(habits.short, count)
    if interval.low > 0.5:
        return f"{habits.short} of {count} misses stopped short: roll the next one to finish a foot past."
    if interval.high < 0.5 * 0.6:
        return f"{habits.past} of {count} misses ran past: let the next one die at the hole."
    return ""


def _told(putts: Table) -> Flags:
    side = (putts.long != 0) | (putts.right != 0)
    elsewhere = (putts.finish != UNSAID) & ~putts.is_finish(Finish.GREEN)
    return np.asarray(putts.holed | (side & ~elsewhere))


def _to_low_side(putts: Table) -> Floats:
    """How far to the low side of the hole each putt missed [m]; holed is 0, NaN when no distance was told.

    A putt started left of the hole breaks to the right, so its low side is the right.
    """
    share = np.sqrt(np.abs(putts.long) + np.abs(putts.right))
    off_m = putts.right * np.sign(putts.advised_aim_left_m) * putts.distance_m / np.maximum(share, 1)
    return np.where(putts.holed | (putts.right == 0), 0.0, off_m)
