"""Where the misses of a planned shot end, kind by kind, and what they cost: its balls played again and told apart."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from caddie.arrays import Bools, Floats, Ints, distinct
from caddie.bag import Bag, Family
from caddie.ball.ground import Surface
from caddie.plan.candidates import Only, same_swing
from caddie.plan.choose import launch_rows
from caddie.plan.dispersion import Draws, draw
from caddie.plan.finish import Finishes, simulate
from caddie.plan.option import Option, Plan
from caddie.plan.putt.after import simulate as simulate_putts
from caddie.plan.putt.green import green_of
from caddie.plan.putt.off_green import putts_onto_green
from caddie.plan.putt.player import stroke_for
from caddie.plan.scene import Scene, lay_out
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import strokes_of

PLAYED_AGAIN = 1500
FEWEST = 15
"""Fewer balls of a kind tell nothing."""
EXTREME = 0.1
"""The share of the well-struck balls that go farthest is called hot (common practice, no source)."""


class Missed(StrEnum):
    """What became of a ball that did not do as meant."""

    HEAVY = "heavy"
    THIN = "thin"
    HOT = "hot"
    SHORT = "short"
    LONG = "long"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class MissKind:
    """The balls of one kind."""

    share: float
    """Of all balls."""
    past_m: float
    """Where the middle one of them ends, past the flag; short of it is negative."""
    gone_m: float
    """How far that one went."""
    costs: float
    """How many strokes more they take than the balls struck and sent as meant."""
    places: Mapping[Surface, float]
    """What share of them ends on what."""


@dataclass(frozen=True)
class MissedBalls:
    """The balls of a planned shot, all arrays of shape ``(n,)``: x toward the flag, y to the left, in metres."""

    pin_m: float
    x_m: Floats
    y_m: Floats
    surface: Ints
    strokes: Floats
    heavy: Bools
    thin: Bools

    def of(self, missed: Missed) -> MissKind | None:
        """The balls that missed so; None when there are too few to tell."""
        them = self._which(missed)
        if them.sum() < FEWEST:
            return None
        # Of water the edge that was crossed matters, of the rest where the ball lies.
        rest = ~(self.heavy | self.thin | self._which(Missed.HOT))
        rest = rest if rest.sum() >= FEWEST else ~them
        gone_m = float(np.median(self.x_m[them]))
        codes = distinct(self.surface[them])
        return MissKind(
            share=float(them.mean()),
            past_m=gone_m - self.pin_m,
            gone_m=gone_m,
            costs=float(self.strokes[them].mean() - self.strokes[rest].mean()),
            places={Surface(int(code)): float((self.surface[them] == code).mean()) for code in codes},
        )

    def costs_beside(self, one: Missed, other: Missed) -> float | None:
        """How many strokes more the balls that missed one way take than the other way; None where too few do."""
        first, second = self._which(one), self._which(other)
        if min(first.sum(), second.sum()) < FEWEST:
            return None
        return float(self.strokes[first].mean() - self.strokes[second].mean())

    def _which(self, missed: Missed) -> Bools:
        clean = ~(self.heavy | self.thin)
        off_m = self.x_m - self.pin_m
        match missed:
            case Missed.HEAVY:
                return self.heavy
            case Missed.THIN:
                return self.thin
            case Missed.HOT:
                return np.asarray(clean & (self.x_m >= np.quantile(self.x_m[clean], 1.0 - EXTREME)))
            case Missed.SHORT:
                return np.asarray(clean & (off_m < -_usual(off_m[clean])))
            case Missed.LONG:
                return np.asarray(clean & (off_m > _usual(off_m[clean])))
            case Missed.LEFT:
                return np.asarray(clean & (self.y_m > _usual(self.y_m[clean])))
            case Missed.RIGHT:
                return np.asarray(clean & (self.y_m < -_usual(self.y_m[clean])))


def _usual(off_m: Floats) -> float:
    """How far off half the balls are: farther is a miss."""
    return float(np.median(np.abs(off_m)))


def balls_of(plan: Plan, bag: Bag, option: Option | None = None) -> MissedBalls | None:
    """The balls of the plan's chosen shot, or of ``option``; None for a way out, whose strokes are an estimate."""
    option = option or plan.chosen
    assert plan.situation.pin_m is not None
    if option.sideways or option.turned:
        return None
    if option.line is not None:
        return _putts(plan, option, bag)
    scene, draws = lay_out(plan.situation, bag), draw(PLAYED_AGAIN, plan.seed)
    found = (
        _rolled(scene, option, bag, draws)
        if option.family is Family.PUTT
        else _flown(scene, option, bag, draws)
    )
    if found is None:
        return None
    finishes, heavy, thin = found
    strokes = strokes_of(scene, finishes, hole_out_table(bag.player.handicap))
    return MissedBalls(
        plan.situation.pin_m,
        finishes.x_m[0],
        finishes.y_m[0],
        finishes.surface[0],
        strokes[0],
        heavy,
        thin,
    )


def _flown(scene: Scene, option: Option, bag: Bag, draws: Draws) -> tuple[Finishes, Bools, Bools] | None:
    rows = launch_rows(scene, bag, Only(club=option.club, flight=option.flight))
    shot = same_swing(scene, rows, bag, option)
    if shot is None:
        return None
    shot = shot.take(np.array([0])).aimed(option.aim_left_m)
    finishes = simulate(scene, rows, shot, draws, bag)
    heavy, thin = draws.strike < shot.heavy[0], draws.strike > 1.0 - shot.thin[0]
    return finishes, np.ravel(heavy), np.ravel(thin)


def _rolled(scene: Scene, option: Option, bag: Bag, draws: Draws) -> tuple[Finishes, Bools, Bools]:
    putts = putts_onto_green(scene, bag, draws)
    at = int(np.argmin(np.abs(putts.meant_m - option.run_m)))
    each = {name: value[at : at + 1] for name, value in vars(putts.finishes).items()}
    never = np.zeros(each["x_m"].shape[1], dtype=bool)
    return Finishes(**each), never, never


def _putts(plan: Plan, option: Option, bag: Bag) -> MissedBalls:
    line, pin_m, handicap = option.line, plan.situation.pin_m, bag.player.handicap
    assert line is not None and pin_m is not None
    green = green_of(plan.situation, bag)
    drawn = np.random.default_rng(plan.seed).standard_normal((2, PLAYED_AGAIN))
    speed, azimuth = np.array(line.speed_m_s), np.array(line.azimuth_rad)
    putts = simulate_putts(green, stroke_for(handicap), speed, azimuth, drawn, handicap)
    end = putts.rolled.end
    x_m = np.where(end.holed, pin_m, end.x_m)
    never = np.zeros(PLAYED_AGAIN, dtype=bool)
    surface = np.asarray(green.ground.surface_at(end.x_m, end.y_m))
    return MissedBalls(pin_m, x_m, np.where(end.holed, 0.0, end.y_m), surface, putts.strokes, never, never)
