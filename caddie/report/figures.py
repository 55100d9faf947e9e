"""The figures of the report, worked out from a player's shots; each with how sure it is."""

import math
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import NamedTuple

import numpy as np

from caddie.arrays import Floats
from caddie.bag.models import Bag, Family
from caddie.log.cues import cue_weights, cue_worked
from caddie.log.pressure import Nerve, nerve
from caddie.log.shot import ROUNDS
from caddie.log.table import Flags, Table
from caddie.practice.gained import strokes_gained
from caddie.practice.kinds import LieGroup, ShotKind, bands, kinds, on_ground, putt_bands, round_of
from caddie.practice.putting_reads import ReadHabits, read_habits
from caddie.situation import Strike
from caddie.statistics import Interval, mean_interval, wilson_interval
from caddie.units import Unit

STRIKES: tuple[Strike | None, ...] = (Strike.HEAVY, Strike.THIN, Strike.TOPPED, Strike.SHANK)
TREND_POINTS = 12
LEAST_FOR_MEAN = 2


class Rate(NamedTuple):
    """A share of shots with its 95 % Wilson interval."""

    name: str
    hits: int
    shots: int
    interval: Interval

    @property
    def share(self) -> float:
        """Hits by shots."""
        return self.hits / self.shots if self.shots else math.nan


class Leave(NamedTuple):
    """Distances left: median and quartiles [m]."""

    name: str
    shots: int
    median_m: float
    quarter_m: float
    three_quarters_m: float


class Mean(NamedTuple):
    """A mean with its 95 % interval by Student's t."""

    name: str
    shots: int
    mean: float
    interval: Interval


class StrikeRow(NamedTuple):
    """How a family was struck: shots, and how many heavy, thin, topped, shanked and said clean."""

    name: str
    shots: int
    bad: tuple[int, ...]
    clean: int


class TrustRow(NamedTuple):
    """A family's shots that came off, and the trust in the bag."""

    name: str
    came_off: Rate
    trust: float | None


class CueRow(NamedTuple):
    """A cue, how often it worked, and its weight."""

    name: str
    worked: Rate
    weight: float


class Figures(NamedTuple):
    """Everything on a player's part of the report."""

    player: str
    unit: Unit
    first: datetime | None
    last: datetime | None
    shots: int
    off_green: int
    putts: int
    rounds: int
    up_and_down: Rate
    up_and_down_unknown: int
    up_and_down_by_band: list[Rate]
    up_and_down_by_ground: list[Rate]
    leaves_by_band: list[Leave]
    leaves_by_ground: list[Leave]
    ends: list[list[int]]
    """Where balls ended as the player looks at the flag: long, level, short by left, on line, right."""
    ends_by_ground: list[tuple[str, list[list[int]]]]
    holed: int
    strikes: list[StrikeRow]
    gained: Mean
    gained_by_kind: list[Mean]
    trend: list[Mean]
    trust: list[TrustRow]
    reads: ReadHabits
    nerve: tuple[Nerve, ...]
    cues: list[CueRow]


def figures_of(table: Table, player: str, unit: Unit, bag: Bag | None = None) -> Figures:
    """The figures from one player's shots; rounds only, drills do not come as the course gives them."""
    shots = table.in_modes(*ROUNDS)
    off = shots.where(~shots.putt & shots.told)
    known = shots.up_and_down
    up_and_down = shots.where(~np.isnan(known))
    made = known[~np.isnan(known)] == 1
    gained = strokes_gained(shots)
    ends = shots.time_s[[0, -1]].tolist() if len(shots) else []
    when = [datetime.fromtimestamp(moment, UTC) for moment in ends]
    return Figures(
        player=player,
        unit=unit,
        first=when[0] if when else None,
        last=when[1] if when else None,
        shots=len(shots),
        off_green=len(off),
        putts=int(shots.putt.sum()),
        rounds=round_of(shots)[1],
        up_and_down=rate("all", made),
        up_and_down_unknown=len(off) - len(up_and_down),
        up_and_down_by_band=[rate(band.name, made[band.holds(up_and_down.pin_m)]) for band in bands(unit)],
        up_and_down_by_ground=[
            rate(ground.value, made[on_ground(up_and_down, ground)]) for ground in _grounds()
        ],
        leaves_by_band=[_leave(band.name, off, band.holds(off.pin_m)) for band in bands(unit)],
        leaves_by_ground=[_leave(ground.value, off, on_ground(off, ground)) for ground in _grounds()],
        ends=_ends(off, np.ones(len(off), dtype=np.bool_)),
        ends_by_ground=[(ground.value, _ends(off, on_ground(off, ground))) for ground in _grounds()],
        holed=int(off.holed.sum()),
        strikes=[_strikes(family, off) for family in Family if family is not Family.PUTT],
        gained=_mean("all", gained[~shots.putt]),
        gained_by_kind=[*_gained_by(shots, gained, unit)],
        trend=_trend(shots, gained),
        trust=_trust(off, bag),
        reads=read_habits(shots),
        nerve=nerve(shots),
        cues=_cues(shots),
    )


def rate(name: str, hits: Flags) -> Rate:
    """The share of hits."""
    count, total = int(hits.sum()), len(hits)
    return Rate(name, count, total, wilson_interval(count, total))


def gained_by_kind(table: Table, unit: Unit) -> list[tuple[ShotKind, Mean]]:
    """Mean strokes against the published table for every kind of shot that was played."""
    gained = strokes_gained(table)
    found = [(kind, _mean(kind.name, gained[kind.holds(table)])) for kind in kinds(unit)]
    return [(kind, mean) for kind, mean in found if mean.shots]


def _gained_by(shots: Table, gained: Floats, unit: Unit) -> Iterable[Mean]:
    for ground in _grounds():
        yield _mean(ground.value, gained[on_ground(shots, ground)])
    for band in bands(unit):
        yield _mean(band.name, gained[~shots.putt & band.holds(shots.pin_m)])
    for band in putt_bands(unit):
        yield _mean(f"putts, {band.name}", gained[shots.putt & band.holds(shots.pin_m)])


def _grounds() -> list[LieGroup]:
    return [ground for ground in LieGroup if ground is not LieGroup.GREEN]


def _mean(name: str, values: Floats) -> Mean:
    values = values[~np.isnan(values)]
    if not len(values):
        return Mean(name, 0, math.nan, Interval(-math.inf, math.inf))
    mean = float(values.mean())
    sd = float(values.std(ddof=1)) if len(values) >= LEAST_FOR_MEAN else 0.0
    return Mean(name, len(values), mean, mean_interval(mean, sd, len(values)))


def _leave(name: str, off: Table, there: Flags) -> Leave:
    left_m = off.distance_m[there & ~np.isnan(off.distance_m)]
    if not len(left_m):
        return Leave(name, 0, math.nan, math.nan, math.nan)
    low, middle, high = np.quantile(left_m, (0.25, 0.5, 0.75))
    return Leave(name, len(left_m), float(middle), float(low), float(high))


def _ends(off: Table, there: Flags) -> list[list[int]]:
    said = there & ~off.holed & ((off.long != 0) | (off.right != 0))
    grid = [[0, 0, 0] for _ in range(3)]
    for row, long in enumerate((1, 0, -1)):
        for column, right in enumerate((-1, 0, 1)):
            grid[row][column] = int((said & (off.long == long) & (off.right == right)).sum())
    return grid


def _strikes(family: Family, off: Table) -> StrikeRow:
    mine = off.where(off.is_family(family))
    bad = tuple(int(mine.is_strike(strike).sum()) for strike in STRIKES if strike)
    return StrikeRow(family.value, len(mine), bad, int(mine.is_strike(Strike.CLEAN).sum()))


def _trend(shots: Table, gained: Floats) -> list[Mean]:
    """Strokes against the table by round, or by several rounds together when there are many."""
    off = shots.where(~shots.putt & ~np.isnan(gained))
    values = gained[~shots.putt & ~np.isnan(gained)]
    number, count = round_of(off)
    if count < LEAST_FOR_MEAN:
        return []
    group = number * min(TREND_POINTS, count) // count
    points = []
    for part in np.unique(group):
        mine = group == part
        day = datetime.fromtimestamp(float(off.time_s[mine][0]), UTC)
        points.append(_mean(f"{day.day} {day:%b}", values[mine]))
    return points


def _trust(off: Table, bag: Bag | None) -> list[TrustRow]:
    tells = off.holed | ~np.isnan(off.distance_m) | off.mishit | off.wavered
    rows = []
    for family in Family:
        mine = tells & off.is_family(family)
        if mine.any():
            trust = bag.trust.get(family) if bag else None
            rows.append(TrustRow(family.value, rate(family.value, off.came_off[mine]), trust))
    return rows


def _cues(shots: Table) -> list[CueRow]:
    worked = cue_worked(shots)
    tells = ~np.isnan(worked)
    rows = [
        CueRow(cue, rate(cue, worked[tells & (shots.cue == cue)] == 1), weight)
        for cue, weight in cue_weights(shots).items()
    ]
    return sorted(rows, key=lambda row: -row.weight)
