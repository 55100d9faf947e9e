"""Kinds of shot that practice and the report sort by: how far, from what, and putts by length."""

from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.log.table import Codes, Flags, Table
from caddie.situation import Lie
from caddie.units import Unit, to_metres


class LieGroup(StrEnum):
    """Lies that are played alike."""

    SHORT_GRASS = "short grass"
    FRINGE = "fringe"
    ROUGH = "rough"
    SAND = "sand"
    GREEN = "green"


GROUP_LIES = {
    LieGroup.SHORT_GRASS: (Lie.FAIRWAY, Lie.BARE, Lie.DIVOT),
    LieGroup.FRINGE: (Lie.FRINGE,),
    LieGroup.ROUGH: (Lie.LIGHT_ROUGH, Lie.FIRST_CUT, Lie.HEAVY_ROUGH, Lie.PINE_STRAW),
    LieGroup.SAND: (Lie.BUNKER, Lie.PLUGGED),
    LieGroup.GREEN: (Lie.GREEN,),
}
_ENDS = {
    Unit.YARDS: (0, 10, 20, 30, 50, 75, 120),
    Unit.METRES: (0, 10, 20, 30, 45, 70, 110),
}
_RANGE_ENDS: dict[Unit, tuple[float, ...]] = {Unit.YARDS: (0, 20, 50, 120), Unit.METRES: (0, 20, 45, 110)}
_PUTT_ENDS = {Unit.FEET: (0, 4, 8, 15, 30, 150), Unit.METRES: (0, 1, 2.5, 4.5, 9, 45)}


class Band(NamedTuple):
    """A stretch of distances; ``low_m`` belongs to it, ``high_m`` to the next."""

    name: str
    low_m: float
    high_m: float

    def holds(self, distance_m: Floats) -> Flags:
        """Which distances lie in it; those not said do not."""
        return np.asarray((distance_m >= self.low_m) & (distance_m < self.high_m))


class ShotKind(NamedTuple):
    """A kind of shot: a band of distances from one sort of ground."""

    ground: LieGroup
    band: Band

    @property
    def name(self) -> str:
        """As said: "sand, 10 to 20 yards"."""
        return f"{'putts' if self.ground is LieGroup.GREEN else self.ground.value}, {self.band.name}"

    def holds(self, table: Table) -> Flags:
        """Which shots are of this kind."""
        return np.asarray(on_ground(table, self.ground) & self.band.holds(table.pin_m))


def bands(unit: Unit) -> tuple[Band, ...]:
    """Distances to the flag from off the green, in the player's unit."""
    unit = unit if unit in _ENDS else Unit.YARDS
    return _bands(_ENDS[unit], unit)


def putt_bands(unit: Unit) -> tuple[Band, ...]:
    """Lengths of putts: in feet for a player of yards."""
    unit = Unit.METRES if unit is Unit.METRES else Unit.FEET
    return _bands(_PUTT_ENDS[unit], unit)


def kinds(unit: Unit, putts: bool = True) -> tuple[ShotKind, ...]:
    """Every kind of shot, off the green by ground and three ranges, then putts."""
    ranges = _bands(
        _RANGE_ENDS.get(unit, _RANGE_ENDS[Unit.YARDS]), unit if unit in _RANGE_ENDS else Unit.YARDS
    )
    off = [ShotKind(ground, band) for ground in LieGroup if ground is not LieGroup.GREEN for band in ranges]
    return (*off, *(ShotKind(LieGroup.GREEN, band) for band in putt_bands(unit) if putts))


def on_ground(table: Table, ground: LieGroup) -> Flags:
    """Which shots were played from it; a lie that was not said counts as short grass."""
    there = table.is_lie(*GROUP_LIES[ground])
    return np.asarray(there | (table.lie < 0) if ground is LieGroup.SHORT_GRASS else there)


def round_of(table: Table) -> tuple[Codes, int]:
    """The round of each shot, numbered from 0 by player and their calendar day, and how many there are."""
    if not len(table):
        return np.empty(0, dtype=np.int64), 0
    change: NDArray[np.bool_] = (np.diff(table.day) != 0) | (table.player[1:] != table.player[:-1])
    number = np.concatenate([[0], np.cumsum(change)])
    return number, int(number[-1]) + 1


def _bands(ends: tuple[float, ...], unit: Unit) -> tuple[Band, ...]:
    found = []
    for low, high in pairwise(ends):
        last = high == ends[-1]
        name = f"over {low:g} {unit.value}" if last else f"{low:g} to {high:g} {unit.value}"
        if low == 0:
            name = f"under {high:g} {unit.value}"
        found.append(Band(name, to_metres(low, unit), to_metres(high, unit)))
    return tuple(found)
