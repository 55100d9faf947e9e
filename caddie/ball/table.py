"""Flights tabulated by ball speed, so that hundreds of thousands of balls land in milliseconds.

One club and shot is a row: launches at ascending ball speeds are flown once, carried onto an even, fine
grid of speeds by monotone cubics, and read by linear interpolation. Direction is a turn of
the whole flight about the vertical; in wind, rows flown a little left and right supply what the turn leaves
out. Over ground that lies metres above or below the landing level the states on the way are tabulated too.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats, Ints, distinct
from caddie.ball.air import Air
from caddie.ball.descent import NODES, STATE, doubtful, meet
from caddie.ball.flight import Landing, Launch, fly, on_the_way
from caddie.ball.ground import Ground
from caddie.errors import CaddieError

_FINE = 96
_CHUNK = 4_096
_TURN_RAD = 0.1
_TURN_EVERY = 3
"""What the wind makes of a turn changes slowly with speed: every third one is flown for it."""
_PAIRS = ((0, 1), (3, 4), (6, 7))
_WAY_PAIRS = tuple((STATE * node + x, STATE * node + y) for node in range(NODES) for x, y in _PAIRS)

Pairs = tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class _Place:
    """Where balls (n,) are found in the tables: flat index below and above, the share between, the azimuth."""

    below: Ints
    above: Ints
    share: Floats
    azimuth: Floats

    def take(self, index: Ints) -> "_Place":
        return _Place(*(value[index] for value in vars(self).values()))


@dataclass(frozen=True, eq=False)
class Fields:
    """Fields of m shots on even, fine grids of ball speed, shape (fields, m, fine).

    ``turn`` and ``bend`` are the first and second change of each field with azimuth beyond a plain turn,
    ``None`` in calm air. ``pairs`` are the fields that turn with azimuth, x with y.
    """

    values: Floats
    turn: Floats | None
    bend: Floats | None
    pairs: Pairs

    def read(self, at: _Place) -> list[Floats]:
        """All fields of balls, each (n,)."""

        def one(table: Floats, index: int) -> Floats:
            flat = table[index].ravel()
            low = flat.take(at.below)
            return np.asarray(low + at.share * (flat.take(at.above) - low))

        indices = range(len(self.values))
        found = [one(self.values, index) for index in indices]
        if self.turn is not None and self.bend is not None:
            for index in indices:
                change = one(self.turn, index) + at.azimuth * one(self.bend, index)
                found[index] = found[index] + at.azimuth * change
        cosine, sine = np.cos(at.azimuth), np.sin(at.azimuth)
        for x, y in self.pairs:
            found[x], found[y] = cosine * found[x] - sine * found[y], sine * found[x] + cosine * found[y]
        return found


@dataclass(frozen=True, eq=False)
class FlightTable:
    """Landings of m shots on even grids of ball speed, and where asked for the states on their ways."""

    slowest_m_s: Floats
    step_m_s: Floats
    landings: Fields
    ways: Fields | None = None

    def land(self, row: ArrayLike, speed_m_s: ArrayLike, azimuth_rad: ArrayLike = 0.0) -> Landing:
        """Landings of balls (n,) at the level of the table, by table row, ball speed and azimuth.

        A speed beyond the ends of its row is held to them.
        """
        return Landing(*self.landings.read(self._place(row, speed_m_s, azimuth_rad)))

    def meet(
        self, ground: Ground, row: ArrayLike, speed_m_s: ArrayLike, azimuth_rad: ArrayLike = 0.0
    ) -> Landing:
        """As :meth:`land`, the balls brought to where they first meet ``ground``, where ways are tabulated.

        Those whose landing at the level of the table leaves no doubt about that are left there.
        """
        at = self._place(row, speed_m_s, azimuth_rad)
        landing = Landing(*self.landings.read(at))
        if self.ways is None:
            return landing
        unsure = np.flatnonzero(doubtful(ground, landing))
        if not unsure.size:
            return landing
        changed = {name: getattr(landing, name).copy() for name in list(Landing.__dataclass_fields__)[:STATE]}
        for first in range(0, unsure.size, _CHUNK):
            some = unsure[first : first + _CHUNK]
            found = np.array(self.ways.read(at.take(some)))
            state = meet(ground, found[:-1].reshape(NODES, STATE, -1), found[-1])
            for whole, value in zip(changed.values(), state, strict=True):
                whole[some] = value
        return replace(landing, **changed)

    def _place(self, row: ArrayLike, speed_m_s: ArrayLike, azimuth_rad: ArrayLike) -> _Place:
        rows, speed, azimuth = np.broadcast_arrays(
            np.asarray(row, dtype=np.intp),
            np.asarray(speed_m_s, dtype=float),
            np.asarray(azimuth_rad, dtype=float),
        )
        fine = self.landings.values.shape[2]
        place = (speed - self.slowest_m_s[rows]) / self.step_m_s[rows]
        place = np.minimum(np.maximum(place, 0.0), fine - 1.0)
        cell = np.minimum(place.astype(np.intp), fine - 2)
        below = cell + rows * fine
        return _Place(below, below + 1, place - cell, azimuth)


def _fields(landing: Landing) -> Floats:
    return np.array([getattr(landing, name) for name in Landing.__dataclass_fields__])


def _turned(fields: Floats, angle_rad: float, pairs: Pairs) -> Floats:
    cosine, sine = np.cos(angle_rad), np.sin(angle_rad)
    out = fields.copy()
    for x, y in pairs:
        out[x], out[y] = cosine * fields[x] - sine * fields[y], sine * fields[x] + cosine * fields[y]
    return out


def _refined(speeds: Floats, values: Floats, fine: Floats) -> Floats:
    """Monotone cubics through each row's speeds: values (f, m, k) at (m, k), read at (m, fine).

    F. N. Fritsch and J. Butland, *SIAM J. Sci. Stat. Comput.* 5, 300-304 (1984): the slope at a node is the
    weighted harmonic mean of its neighbours', so that a kink (a face that starts to slip) does not ring.
    """
    width = np.diff(speeds, axis=1)
    rise = np.diff(values, axis=2) / width
    slope = np.empty_like(values)
    slope[..., 0], slope[..., -1] = rise[..., 0], rise[..., -1]
    if speeds.shape[1] > 2:
        near, far = rise[..., :-1], rise[..., 1:]
        first, second = 2 * width[:, 1:] + width[:, :-1], width[:, 1:] + 2 * width[:, :-1]
        agree = near * far > 0
        safe_near, safe_far = np.where(agree, near, 1.0), np.where(agree, far, 1.0)
        mean = (first + second) / (first / safe_near + second / safe_far)
        slope[..., 1:-1] = np.where(agree, mean, 0.0)
    row = np.arange(speeds.shape[0])[:, np.newaxis]
    place = np.array([np.searchsorted(s, f, side="right") for s, f in zip(speeds, fine, strict=True)])
    cell = np.clip(place - 1, 0, speeds.shape[1] - 2)
    step = width[row, cell]
    share = (fine - speeds[row, cell]) / step
    rest = 1.0 - share
    low, high = values[:, row, cell], values[:, row, cell + 1]
    bend = share * rest * step * (rest * slope[:, row, cell] - share * slope[:, row, cell + 1])
    return np.asarray(rest * rest * (1 + 2 * share) * low + share * share * (3 - 2 * share) * high + bend)


def tabulate(
    launches: Launch,
    air: Air,
    landing_height_m: ArrayLike = 0.0,
    aero: str = "bearman_harvey",
    ways: bool = False,
    floats: bool = True,
) -> FlightTable:
    """Fly (m, k) launches, m shots at k ascending ball speeds, and keep their landings.

    ``landing_height_m`` broadcasts to (m, k); give (m, 1) for a height per shot. ``ways`` keeps the states on the
    way down to that level, or to that of the launch when it is higher, for :meth:`FlightTable.meet`. Without ``floats``
    no ball is counted on to fly farther into a wind than in still air (:func:`float_share`).

    Raises:
        CaddieError: launches that are not (m, k) with k of 2 or more ascending speeds; as :func:`fly`.
    """
    names = list(Launch.__dataclass_fields__)
    arrays = np.broadcast_arrays(*(np.asarray(getattr(launches, name), dtype=float) for name in names))
    launches = Launch(*arrays)
    grid = _SpeedGrid.over(launches.speed_m_s)
    height = np.broadcast_to(np.asarray(landing_height_m, dtype=float), launches.speed_m_s.shape)
    floor = np.minimum(height, 0.0)

    windy = bool(air.wind_along_m_s or air.wind_across_m_s)
    both = Launch(*(np.stack([array[:, grid.some]] * 2) for array in arrays))
    angle = np.array([_TURN_RAD, -_TURN_RAD]).reshape(2, 1, 1)
    both = replace(both, azimuth_rad=both.azimuth_rad + angle)

    def flown(level: Floats) -> tuple[Landing, Landing | None]:
        if not windy:
            return fly(launches, air, level, aero), None
        beside = both, np.stack([level[:, grid.some]] * 2)
        straight, turned = _flown_at_once(air, aero, (launches, level), beside)
        return straight, turned

    straight, turned = flown(height)
    share = None
    if air.wind_along_m_s < 0.0 and not floats:
        share = float_share(straight.x_m, fly(launches, air.still(), height, aero).x_m)
        straight = shortened(straight, share)
        turned = None if turned is None else shortened(turned, share[:, grid.some])
    landings = grid.fields(_fields(straight), None if turned is None else _fields(turned), _PAIRS)
    if not ways:
        return FlightTable(grid.slowest, grid.step, landings)
    if np.any(height > 0.0):
        straight, turned = flown(floor)

    def on_ways(balls: Launch, level: Floats, end: Landing) -> Floats:
        nodes = on_the_way(balls, air, level, end, aero, NODES - 1)
        if share is not None:
            nodes[:, :2] *= share if nodes.shape[2:] == share.shape else share[:, grid.some]
        return np.concatenate([nodes.reshape(NODES * STATE, *nodes.shape[2:]), end.time_s[np.newaxis]])

    ways_turned = None if turned is None else on_ways(both, floor[:, grid.some], turned)
    along = grid.fields(on_ways(launches, floor, straight), ways_turned, _WAY_PAIRS)
    return FlightTable(grid.slowest, grid.step, landings, along)


def float_share(into_wind_m: Floats, still_m: Floats) -> Floats:
    """Share of a carry into a wind that is counted on: at most the carry in still air is left, any shape.

    The lift that a headwind adds to a low or slow ball carries it on, by the coefficients that were measured in a
    steady stream (:mod:`caddie.ball.aero`). They are least known at those speeds, and a wind near the ground comes
    in gusts; no player sees a ball go farther into it (common practice, no source).
    """
    return np.asarray(np.minimum(still_m / np.maximum(into_wind_m, 1e-3), 1.0)).clip(0.0, 1.0)


def shortened(landing: Landing, share: Floats) -> Landing:
    """The landings at a share of their way from the launch."""
    return replace(landing, x_m=landing.x_m * share, y_m=landing.y_m * share)


def _flown_at_once(air: Air, aero: str, *sets: tuple[Launch, Floats]) -> list[Landing]:
    """Landings of sets of launches with their landing heights.

    A step of a flight costs nearly the same for few balls as for many.
    """
    joined = Launch(
        **{
            name: np.concatenate([getattr(launch, name).ravel() for launch, _ in sets])
            for name in Launch.__dataclass_fields__
        }
    )
    end = fly(joined, air, np.concatenate([height.ravel() for _, height in sets]), aero)
    bounds = np.cumsum([height.size for _, height in sets])[:-1]
    parts = {name: np.split(value, bounds) for name, value in vars(end).items()}
    return [
        Landing(**{name: values[number].reshape(height.shape) for name, values in parts.items()})
        for number, (_, height) in enumerate(sets)
    ]


@dataclass(frozen=True, eq=False)
class _SpeedGrid:
    """The speeds (m, k) at which m shots are flown, and the even, fine grid they are carried onto."""

    speeds: Floats
    slowest: Floats
    step: Floats
    fine: Floats
    some: Ints
    """The speeds flown to both sides, too, in wind."""

    @classmethod
    def over(cls, speeds: Floats) -> "_SpeedGrid":
        """The grid between the slowest and the fastest launch of each shot.

        Raises:
            CaddieError: unless there are two or more ascending speeds for each shot.
        """
        if speeds.ndim != 2 or speeds.shape[1] < 2 or np.any(np.diff(speeds, axis=1) <= 0):
            raise CaddieError(
                "flight table: launches must be (shots, speeds) with 2 or more ascending speeds"
            )
        slowest = speeds[:, 0].copy()
        step = (speeds[:, -1] - slowest) / (_FINE - 1)
        fine = slowest[:, np.newaxis] + step[:, np.newaxis] * np.arange(_FINE)
        count = speeds.shape[1]
        some = distinct(np.linspace(0, count - 1, count // _TURN_EVERY + 2).round().astype(np.intp))
        return cls(speeds, slowest, step, fine, some)

    def fields(self, straight: Floats, turned: Floats | None, pairs: Pairs) -> Fields:
        """Fields (f, m, k) flown straight, and (f, 2, m, some) flown to both sides, on the fine grid."""
        turn = bend = None
        if turned is not None:
            nodes = self.speeds[:, self.some]
            left, right = _turned(turned[:, 0], -_TURN_RAD, pairs), _turned(turned[:, 1], _TURN_RAD, pairs)
            twice = left + right - 2 * straight[:, :, self.some]
            turn = _refined(nodes, (left - right) / (2 * _TURN_RAD), self.fine)
            bend = _refined(nodes, twice / (2 * _TURN_RAD**2), self.fine)
        return Fields(_refined(self.speeds, straight, self.fine), turn, bend, pairs)
