"""Rehearsal on a chipping green: situations read out, a ball dropped and played, what happened said.

Which situations: a kind of shot is drawn with a weight of how often it comes up, times what it costs this
player with one standard error added, so that what is little known is tried too (:mod:`caddie.practice.next`).
The situation itself is one that the player has met, or a plain one of the kind while the log is young.

The rehearsal is a value: :func:`answered` gives the next one and a line of feedback; nothing is kept aside.
"""

from collections.abc import Sequence
from enum import StrEnum
from typing import Any

import numpy as np

from caddie.bag.models import Bag
from caddie.log.shot import Commitment, Mode, Shot
from caddie.log.table import Table, table_of
from caddie.practice.kinds import GROUP_LIES, LieGroup, ShotKind, kinds
from caddie.practice.next import Gain, most_to_gain
from caddie.practice.told import leave_said, situation_said
from caddie.situation import FARTHEST_M, Finish, Frozen, Result, Situation, Strike
from caddie.units import Unit, spoken_length, spoken_number

BLOCK = 4
"""Balls of one situation in a row when blocked."""
LEAST_USUAL = 5
"""Shots behind a player's usual leave."""

NOTE = (
    "Research disagrees on which order lasts: golfers who went from repeats to more mixing kept most "
    "(Porter & Magill 2010), but over 54 studies the order made next to no difference outside the laboratory "
    "(Czyz et al. 2024). Take the one that you will keep up."
)


class RehearsalOrder(StrEnum):
    """How situations follow each other."""

    MIXED = "mixed"
    """Another one every ball."""
    BLOCKED = "blocked"
    """Each several times in a row."""
    RISING = "rising"
    """Repeats at first, then pairs, then another one every ball."""


class Drill(Frozen):
    """One ball to drop and play."""

    situation: Situation
    kind: str
    usual_m: float | None = None
    """What half of the player's shots of this kind stay within."""


class Played(Frozen):
    """A drill and what became of it."""

    drill: Drill
    result: Result
    commitment: Commitment | None = None
    advice: dict[str, Any] | None = None


class Rehearsal(Frozen):
    """A rehearsal under way."""

    bag: Bag
    order: RehearsalOrder
    drills: tuple[Drill, ...]
    played: tuple[Played, ...] = ()

    @property
    def note(self) -> str:
        """What is known of this order, honestly."""
        return f"{self.order.value.capitalize()} order. {NOTE}"

    @property
    def over(self) -> bool:
        """Whether every ball has been played."""
        return len(self.played) == len(self.drills)

    @property
    def drill(self) -> Drill:
        """The ball to play now."""
        return self.drills[len(self.played)]

    @property
    def prompt(self) -> str:
        """The situation as read out."""
        number = len(self.played) + 1
        said = situation_said(self.drill.situation, self.bag)
        return f"Ball {spoken_number(number)} of {spoken_number(len(self.drills))}: {said}."

    def shots(self) -> list[Shot]:
        """What was played, for the log."""
        return [
            Shot(
                mode=Mode.REHEARSAL,
                player=self.bag.player.name,
                sentence=situation_said(played.drill.situation, self.bag),
                situation=played.drill.situation,
                result=played.result,
                commitment=played.commitment,
                **_as_advised(played.advice),
            )
            for played in self.played
        ]


def plan_rehearsal(
    shots: Sequence[Shot],
    bag: Bag,
    balls: int = 10,
    order: RehearsalOrder = RehearsalOrder.MIXED,
    farthest_m: float = FARTHEST_M,
    seed: int = 1,
) -> Rehearsal:
    """Choose the balls of a rehearsal from a player's shots; the same seed gives the same balls.

    ``farthest_m`` keeps to what the practice green has room for.
    """
    table = table_of(shots)
    gains = [
        gain
        for gain in most_to_gain(table, bag.player.handicap, bag.player.distances_in, seed)
        if gain.kind.ground is not LieGroup.GREEN and gain.kind.band.low_m < farthest_m
    ]
    weights = np.array([rehearsal_weight(gain) for gain in gains])
    rng = np.random.default_rng(seed)
    met = _met(shots, bag.player.distances_in, farthest_m)
    drills: list[Drill] = []
    before = -1
    while len(drills) < balls:
        now = weights.copy()
        if before >= 0 and len(gains) > 1:
            now[before] = 0.0
        before = int(rng.choice(len(gains), p=now / now.sum()))
        kind = gains[before].kind
        usual_m = _usual_m(table, kind)
        situation = _situation(kind, met.get(kind.name, []), farthest_m, rng)
        repeat = min(_in_a_row(order, len(drills) / balls), balls - len(drills))
        drills += [Drill(situation=situation, kind=kind.name, usual_m=usual_m)] * repeat
    return Rehearsal(bag=bag, order=order, drills=tuple(drills))


def rehearsal_weight(gain: Gain) -> float:
    """How much a kind of shot asks to be rehearsed: how often, times its cost with one standard error."""
    return gain.per_round * (max(gain.lost, 0.0) + gain.lost_se)


def answered(
    rehearsal: Rehearsal,
    result: Result,
    commitment: Commitment | None = None,
    advice: dict[str, Any] | None = None,
) -> tuple[Rehearsal, str]:
    """The rehearsal after a ball, and one line of feedback."""
    played = Played(drill=rehearsal.drill, result=result, commitment=commitment, advice=advice)
    after = rehearsal.model_copy(update={"played": (*rehearsal.played, played)})
    return after, _feedback(played, rehearsal.bag)


def summary(rehearsal: Rehearsal) -> str:
    """The rehearsal in one line."""
    count = len(rehearsal.played)
    if not count:
        return "No ball played."
    left_m = [0.0 if p.result.holed else p.result.distance_m for p in rehearsal.played]
    known = [length for length in left_m if length is not None]
    inside = sum(_inside(played) is True for played in rehearsal.played)
    against = sum(_inside(played) is not None for played in rehearsal.played)
    parts = [f"{spoken_number(count)} ball{'s' if count > 1 else ''}".capitalize()]
    if known:
        half = spoken_length(float(np.median(known)), _leave_unit(rehearsal.bag))
        parts.append(f"half within {half}")
    if against:
        parts.append(f"{inside} of {against} inside your usual")
    mishits = sum(played.result.strike not in (None, Strike.CLEAN) for played in rehearsal.played)
    if mishits:
        parts.append(f"{mishits} mishit")
    return ", ".join(parts) + "."


def _in_a_row(order: RehearsalOrder, done: float) -> int:
    if order is RehearsalOrder.RISING:
        return BLOCK if done < 1 / 3 else (2 if done < 2 / 3 else 1)
    return BLOCK if order is RehearsalOrder.BLOCKED else 1


def _feedback(played: Played, bag: Bag) -> str:
    said = leave_said(played.result, bag).capitalize()
    if played.commitment is Commitment.QUIT:
        return f"{said}. On the next, finish as long as you went back."
    if played.commitment is Commitment.RUSH:
        return f"{said}. On the next, one slow breath before you start it back."
    if played.result.holed:
        return "In. Nothing to add."
    if played.result.strike not in (None, Strike.CLEAN):
        return f"{said}, {played.result.strike.value}. Written down."
    inside = _inside(played)
    if inside is None:
        return f"{said}. Written down."
    usual = spoken_length(played.drill.usual_m or 0.0, _leave_unit(bag))
    return f"{said}: {'inside' if inside else 'outside'} your usual {usual}."


def _inside(played: Played) -> bool | None:
    if played.drill.usual_m is None:
        return None
    if played.result.holed:
        return True
    if played.result.distance_m is None:
        return None if played.result.finish in (None, Finish.GREEN) else False
    return played.result.distance_m <= played.drill.usual_m


def _usual_m(table: Table, kind: ShotKind) -> float | None:
    left_m = table.distance_m[kind.holds(table) & ~np.isnan(table.distance_m)]
    return float(np.median(left_m)) if len(left_m) >= LEAST_USUAL else None


def _met(shots: Sequence[Shot], unit: Unit, farthest_m: float) -> dict[str, list[Situation]]:
    """Situations that the player was in, by kind."""
    met: dict[str, list[Situation]] = {}
    by_lie = {lie: ground for ground, lies in GROUP_LIES.items() for lie in lies}
    every = kinds(unit, putts=False)
    for shot in shots:
        now = shot.situation
        if now.pin_m is None or now.pin_m > farthest_m:
            continue
        ground = by_lie[now.lie] if now.lie else LieGroup.SHORT_GRASS
        for kind in every:
            if kind.ground is ground and kind.band.low_m <= now.pin_m < kind.band.high_m:
                met.setdefault(kind.name, []).append(now)
    return met


def _situation(
    kind: ShotKind, met: Sequence[Situation], farthest_m: float, rng: np.random.Generator
) -> Situation:
    if met:
        return met[int(rng.integers(len(met)))]
    low, high = max(kind.band.low_m, 4.0), min(kind.band.high_m, farthest_m)
    pin_m = float(rng.uniform(low, max(high, low + 0.5)))
    return Situation(pin_m=round(min(pin_m, FARTHEST_M), 1), lie=GROUP_LIES[kind.ground][0])


def _as_advised(advice: dict[str, Any] | None) -> dict[str, Any]:
    if advice is None:
        return {}
    return {"advice": advice, **{name: advice.get(name) for name in ("club", "swing", "family", "flight")}}


def _leave_unit(bag: Bag) -> Unit:
    return Unit.METRES if bag.player.distances_in is Unit.METRES else Unit.FEET
