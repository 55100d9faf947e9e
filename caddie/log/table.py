"""Shots as columns: what the figures are worked out from, a hundred thousand shots at a time."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag.models import Family
from caddie.log.shot import Commitment, Mode, Shot, local_day, within_years
from caddie.log.store import Log
from caddie.situation import FARTHEST_M, Finish, HazardKind, Lie, Side, Strike, Wind

Codes = NDArray[np.int64]
Flags = NDArray[np.bool_]

TROUBLE = (HazardKind.BUNKER, HazardKind.WATER, HazardKind.TREES, HazardKind.OUT_OF_BOUNDS)
"""Hazards that frighten, apart from the shapes of the ground."""
SAME_HOLE_S = 20 * 60.0
"""Two shots of a player further apart in time than this are on different holes."""
_ODD = (ValueError, TypeError, LookupError, OverflowError, AttributeError, RecursionError, OSError)
"""What comes of reading a row in which something else stands than caddie writes."""
UNSAID = -1
"""Code of what was not said."""

_CALM = Wind()
_MODES, _FAMILIES, _LIES = tuple(Mode), tuple(Family), tuple(Lie)
_STRIKES, _FINISHES, _COMMITMENTS = tuple(Strike), tuple(Finish), tuple(Commitment)


def code(member: Any, kinds: Sequence[Any]) -> int:
    """The code of an enumeration's member in a column of ``kinds``, :data:`UNSAID` for None."""
    return UNSAID if member is None else kinds.index(member)


@dataclass(frozen=True)
class Table:
    """Shots as arrays of equal length, ordered by player, then time; NaN and -1 stand for "not said"."""

    id: Codes
    time_s: Floats
    """Seconds since 1970, UTC."""
    mode: Codes
    player: NDArray[np.object_]
    club: NDArray[np.object_]
    swing: NDArray[np.object_]
    family: Codes
    flight: NDArray[np.object_]
    pin_m: Floats
    lie: Codes
    level: Flags
    """No slope, no height and no wind was said."""
    trouble: Flags
    """Sand, water, trees or out of bounds near by."""
    as_advised: Flags
    """The advised club, swing and flight were played."""
    advised_share: Floats
    advised_carry_m: Floats
    advised_run_m: Floats
    advised_leave_m: Floats
    advised_strokes: Floats
    advised_aim_left_m: Floats
    """How far left of the hole a putt was to start."""
    distance_m: Floats
    """Left to the hole; 0 when holed."""
    long: Codes
    """Past the hole 1, short of it -1, neither said 0."""
    right: Codes
    strike: Codes
    finish: Codes
    carry_m: Floats
    run_m: Floats
    commitment: Codes
    cue: NDArray[np.object_]
    down_in: Floats

    def __len__(self) -> int:
        return len(self.id)

    def where(self, keep: Flags | Codes) -> "Table":
        """The shots picked by a mask or by positions."""
        return Table(**{name: getattr(self, name)[keep] for name in Table.__dataclass_fields__})

    @property
    def day(self) -> Codes:
        """The calendar day of each shot on the player's own clock, as days since the year 1."""
        days = (local_day(datetime.fromtimestamp(moment, UTC)).toordinal() for moment in self.time_s)
        return np.fromiter(days, dtype=np.int64, count=len(self))

    def in_modes(self, *modes: Mode) -> "Table":
        """The shots in these modes."""
        return self.where(np.isin(self.mode, [code(mode, _MODES) for mode in modes]))

    def is_family(self, *families: Family) -> Flags:
        """Which shots are of these families."""
        return np.isin(self.family, [code(family, _FAMILIES) for family in families])

    def is_lie(self, *lies: Lie) -> Flags:
        """Which shots lay so."""
        return np.isin(self.lie, [code(lie, _LIES) for lie in lies])

    def is_strike(self, *strikes: Strike) -> Flags:
        """Which shots were said to be struck so."""
        return np.isin(self.strike, [code(strike, _STRIKES) for strike in strikes])

    def is_finish(self, *finishes: Finish) -> Flags:
        """Which shots are said to have ended there."""
        return np.isin(self.finish, [code(finish, _FINISHES) for finish in finishes])

    def is_commitment(self, *commitments: Commitment) -> Flags:
        """Which shots the player says to have played so."""
        return np.isin(self.commitment, [code(commitment, _COMMITMENTS) for commitment in commitments])

    @cached_property
    def holed(self) -> Flags:
        """Which went in."""
        return self.is_finish(Finish.HOLED)

    @cached_property
    def putt(self) -> Flags:
        """Which were played on the green."""
        return self.is_lie(Lie.GREEN)

    @cached_property
    def told(self) -> Flags:
        """Which have any word of what became of them."""
        return np.asarray(
            ~np.isnan(self.distance_m)
            | (self.finish != UNSAID)
            | (self.strike != UNSAID)
            | ~np.isnan(self.carry_m)
        )

    @cached_property
    def mishit(self) -> Flags:
        """Which were said to be struck other than clean."""
        return self.is_strike(Strike.HEAVY, Strike.THIN, Strike.TOPPED, Strike.SHANK)

    @cached_property
    def wavered(self) -> Flags:
        """Which the player says they quit on or rushed."""
        return self.is_commitment(Commitment.QUIT, Commitment.RUSH)

    @cached_property
    def came_off(self) -> Flags:
        """Which went as meant: struck clean, gone through with, out of trouble, and near enough.

        Near enough is one and a half times the leave that was advised, or 15 % of the distance and at least
        2 m when nothing was advised (common practice, no source).
        """
        fallback = np.maximum(0.15 * np.nan_to_num(self.pin_m), 2.0)
        enough = np.where(np.isnan(self.advised_leave_m), fallback, 1.5 * self.advised_leave_m)
        lost = self.is_finish(Finish.BUNKER, Finish.WATER, Finish.TREES, Finish.OUT_OF_BOUNDS)
        near = np.nan_to_num(self.distance_m, nan=np.inf) <= enough
        return np.asarray((self.holed | near) & ~self.mishit & ~self.wavered & ~lost)

    @cached_property
    def up_and_down(self) -> Floats:
        """Of shots from off the green: 1 holed in two or fewer, 0 not, NaN when the log cannot tell.

        The player may say so (``down_in``); otherwise the player's next shot within twenty minutes tells:
        a putt after a ball that reached the green, any shot after one that did not.
        """
        known = np.full(len(self), np.nan)
        off = ~self.putt & self.told
        nxt = np.arange(1, len(self) + 1)
        exists = nxt < len(self)
        nxt = np.minimum(nxt, max(len(self) - 1, 0))
        follows = exists & (self.player[nxt] == self.player) & (self.mode[nxt] == self.mode)
        follows &= self.time_s[nxt] - self.time_s <= SAME_HOLE_S
        missed = (self.finish != UNSAID) & ~self.is_finish(Finish.GREEN, Finish.HOLED)
        tells = follows & self.told[nxt] & (self.putt[nxt] | missed)
        known[tells] = self.holed[nxt][tells]
        lost = self.is_finish(Finish.WATER, Finish.OUT_OF_BOUNDS)
        known[lost] = 0.0
        known[self.holed] = 1.0
        said = ~np.isnan(self.down_in)
        known[said] = self.down_in[said] <= 2
        known[~off] = np.nan
        return known


def table_of(shots: Iterable[Shot]) -> Table:
    """The columns of shots at hand; a shot's place counts for its number."""
    return _from_rows([_row_of(number, shot) for number, shot in enumerate(shots, start=1)])


def read_table(log: Log, player: str | None = None, modes: Sequence[Mode] = (), after_id: int = 0) -> Table:
    """The columns of shots in a log, picked as by :meth:`caddie.log.store.Log.entries`.

    A shot that cannot be read is left out, and is in the log's ``left_out``.

    Raises:
        CaddieError: if the file is damaged so that nothing of it can be read.
    """
    rows = log.figure_rows(player, modes, after_id)
    try:
        return _from_rows(rows)
    except _ODD:
        return _from_rows([row for row in rows if _sound(log, row)])


def _sound(log: Log, row: tuple[Any, ...]) -> bool:
    try:
        _from_rows([row])
    except _ODD as error:
        log.leave_out(row[0], f"it cannot be read ({error})")
        return False
    return True


def _row_of(number: int, shot: Shot) -> tuple[Any, ...]:
    situation, result, advice = shot.situation, shot.result, shot.advice or {}
    played = (shot.club, shot.swing, shot.flight)
    return (
        number, shot.time.timestamp(), shot.mode, shot.player, shot.club, shot.swing, shot.family,
        shot.flight, situation.pin_m, situation.lie,
        not situation.stance and situation.wind == _CALM and not situation.elevation_m,
        any(hazard.kind in TROUBLE for hazard in situation.hazards),
        bool(advice) and played == (advice.get("club"), advice.get("swing"), advice.get("flight")),
        advice.get("share"), advice.get("carry_m"), advice.get("run_m"), advice.get("leave_m"),
        advice.get("strokes"), advice.get("aim_left_m"), result.distance_m, result.side, result.strike,
        result.finish, result.carry_m, result.run_m, shot.commitment, shot.cue, shot.down_in,
    )  # fmt: skip


def _from_rows(rows: Sequence[tuple[Any, ...]]) -> Table:
    columns: list[Sequence[Any]] = list(zip(*rows, strict=True)) if rows else [()] * 28
    (
        number, time, mode, player, club, swing, family, flight, pin, lie, level, hazards, as_advised,
        to_share, to_carry, to_run, to_leave, to_strokes, to_aim, distance, side, strike, finish, carry,
        run, commitment, cue, down_in,
    ) = columns  # fmt: skip
    time_s = np.array([_seconds(moment) for moment in time], dtype=np.float64)
    if len(time_s):
        for extreme in (time_s.min(), time_s.max()):
            within_years(datetime.fromtimestamp(extreme, UTC))
    sides = np.array([_sides(said) for said in side], dtype=np.int64).reshape(-1, 2)
    ended = _codes(finish, _FINISHES)
    distance_m = _floats(distance)
    distance_m[ended == _FINISHES.index(Finish.HOLED)] = 0.0
    table = Table(
        id=np.array(number, dtype=np.int64),
        time_s=time_s,
        mode=_codes(mode, _MODES),
        player=_objects(player),
        club=_objects(club),
        swing=_objects(swing),
        family=_codes(family, _FAMILIES),
        flight=_objects(flight),
        pin_m=_floats(pin),
        lie=_codes(lie, _LIES),
        level=np.array(level, dtype=np.bool_),
        trouble=np.array([_troubled(near) for near in hazards], dtype=np.bool_),
        as_advised=np.array(as_advised, dtype=np.bool_),
        advised_share=_floats(to_share),
        advised_carry_m=_floats(to_carry),
        advised_run_m=_floats(to_run),
        advised_leave_m=_floats(to_leave),
        advised_strokes=_floats(to_strokes),
        advised_aim_left_m=_floats(to_aim),
        distance_m=distance_m,
        long=sides[:, 0],
        right=sides[:, 1],
        strike=_codes(strike, _STRIKES),
        finish=ended,
        carry_m=_floats(carry),
        run_m=_floats(run),
        commitment=_codes(commitment, _COMMITMENTS),
        cue=_objects(cue),
        down_in=_floats(down_in),
    )
    _within_reach(table)
    names = {name: place for place, name in enumerate(dict.fromkeys(player))}
    order = np.lexsort((table.id, time_s, np.array([names[name] for name in player], dtype=np.int64)))
    return table if np.all(np.diff(order) == 1) else table.where(order)


def _within_reach(table: Table) -> None:
    """See that no length is one that no shot has.

    Raises:
        ValueError: if one is.
    """
    for name, least_m in (("pin_m", 0.0), ("distance_m", 0.0), ("carry_m", 0.0), ("run_m", -30.0)):
        length_m = getattr(table, name)
        if np.any((length_m < least_m) | (length_m > FARTHEST_M)):
            raise ValueError(f"{name} is out of reach")


def _codes(values: Sequence[Any], kinds: Sequence[Any]) -> Codes:
    place = {kind: number for number, kind in enumerate(kinds)}
    place[None] = UNSAID
    return np.array([place[value] for value in values], dtype=np.int64)


def _floats(values: Sequence[Any]) -> Floats:
    return np.array(values, dtype=np.float64)


def _objects(values: Sequence[Any]) -> NDArray[np.object_]:
    column = np.empty(len(values), dtype=np.object_)
    column[:] = values
    if not {*map(type, values)} <= {str, type(None)}:
        raise TypeError("a name is no text")
    return column


def _seconds(moment: str | float) -> float:
    return datetime.fromisoformat(moment).timestamp() if isinstance(moment, str) else moment


@lru_cache(maxsize=1024)
def _sides(said: str | tuple[Side, ...] | None) -> tuple[int, int]:
    sides = json.loads(said) if isinstance(said, str) else (said or ())
    return (Side.LONG in sides) - (Side.SHORT in sides), (Side.RIGHT in sides) - (Side.LEFT in sides)


@lru_cache(maxsize=65536)
def _troubled(near: str | bool | None) -> bool:
    if isinstance(near, str):
        return any(hazard["kind"] in TROUBLE for hazard in json.loads(near))
    return bool(near)
