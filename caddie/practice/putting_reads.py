"""Reads against outcomes: what the putts in the log say of break and pace.

A putt that misses on the low side was started too low, or rolled too softly, for the break there was; the
read it was given is the yardstick. Where a miss was told as a side and a length at once ("two feet left and
long") the two share the distance.
"""

import math
from collections.abc import Iterable
from statistics import mean, stdev

from caddie.errors import CaddieError
from caddie.log.shot import Shot
from caddie.situation import Finish, Frozen, Lie, Side
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


def read_habits(shots: Iterable[Shot]) -> ReadHabits:
    """Weigh the putts among ``shots`` that were advised and whose outcome was told."""
    shares: list[float] = []
    low = high = short = past = 0
    for shot in shots:
        if shot.situation.lie is not Lie.GREEN or not _told(shot):
            continue
        sides = () if shot.result.holed else shot.result.side
        short += Side.SHORT in sides
        past += Side.LONG in sides
        aim_left_m = _aim(shot)
        if aim_left_m is None or abs(aim_left_m) < LEAST_AIM_M:
            continue
        off_m = _to_low_side(shot, aim_left_m > 0)
        if off_m is None:
            continue
        low += off_m > 0
        high += off_m < 0
        shares.append(max(-MOST_SHARE, min(off_m / abs(aim_left_m), MOST_SHARE)))
    if not shares:
        return ReadHabits(
            breaking=0, missing_break=None, interval=None, low=low, high=high, short=short, past=past
        )
    spread = stdev(shares) if len(shares) > 1 else 0.0
    return ReadHabits(
        breaking=len(shares),
        missing_break=mean(shares),
        interval=mean_interval(mean(shares), spread, len(shares)),
        low=low,
        high=high,
        short=short,
        past=past,
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


def _told(shot: Shot) -> bool:
    result = shot.result
    return result.holed or (result.finish in (None, Finish.GREEN) and bool(result.side))


def _aim(shot: Shot) -> float | None:
    value = (shot.advice or {}).get("aim_left_m")
    return float(value) if isinstance(value, int | float) else None


def _to_low_side(shot: Shot, low_is_right: bool) -> float | None:
    """How far to the low side of the hole the putt missed [m]; holed is 0, None when no distance was told.

    A putt started left of the hole breaks to the right, so its low side is the right.
    """
    result = shot.result
    if result.holed:
        return 0.0
    across = [side for side in result.side if side in (Side.LEFT, Side.RIGHT)]
    if result.distance_m is None or not across:
        return 0.0 if result.side and not across else None
    distance_m = result.distance_m / math.sqrt(len(result.side))
    return distance_m if (across[0] is Side.RIGHT) == low_is_right else -distance_m
