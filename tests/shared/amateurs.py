"""What players of a handicap get out of the fair mix when they play what they are told."""

import csv
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple
from unittest import mock

import numpy as np
from fair_mix import GREENS_IN_REGULATION, first_putts_m

from caddie.arrays import Floats, Ints
from caddie.bag import Bag
from caddie.ball.ground import Surface
from caddie.plan.assume import complete
from caddie.plan.candidates import build
from caddie.plan.dispersion import draw
from caddie.plan.launches import Rows
from caddie.plan.putt.skill import make_chance, skill_for, three_putt_chance
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import play, search
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import rank_scores
from caddie.range.new_bag import Answers, bag_from
from caddie.situation import Situation
from caddie.units import FOOT_M

PUBLISHED = Path(__file__).parents[1] / "published" / "amateur_by_handicap.csv"
HANDICAPS = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0)
PUTTS_FT = {"0-3 ft": (0.5, 3.0), "3-5 ft": (3.0, 5.0), "6-9 ft": (6.0, 9.0), "9-12 ft": (9.0, 12.0)}
"""The lengths that make rates are published for; each as often (common practice, no source)."""
PLAYED = 800
"""Balls."""
BANDS = {"50-75 yd": (50.0, 75.0), "75-100 yd": (75.0, 100.0), "100 yd": (100.0, 100.0)}


@dataclass(frozen=True)
class Outcome:
    """What approaches came to: shares from 0 to 1."""

    greens: float
    leave_ft: float
    strokes: float
    short: float
    """Missed short of the green, of all shots."""
    in_sand: float
    near: float
    """Within 6 ft of the hole."""


@lru_cache(maxsize=32)
def typical_bag(handicap: float) -> Bag:
    """The bag that ``bag new`` estimates for a handicap."""
    return bag_from(Answers(handicap=handicap))


@dataclass(frozen=True)
class Shot:
    """A shot chosen: where, with which launch, carry and aim."""

    bag: Bag
    scene: Scene
    rows: Rows
    row: Ints
    carry_m: Floats
    aim_left_m: Floats


def chosen(situation: Situation, handicap: float) -> Shot:
    """The best shot by numbers with the player's own bag."""
    bag = typical_bag(handicap)
    scene = lay_out(complete(situation)[0], bag)
    # The search weighs shots without balls; few are enough to tell the last ones apart.
    with mock.patch("caddie.plan.search.BALLS", 300):
        outcome, rows, _ = search(scene, bag, seed=1)
    best = outcome.shots.take(np.array([np.argmin(rank_scores(outcome.strokes, bag.player.risk))]))
    return Shot(bag, scene, rows, best.row, best.carry_m, best.aim_left_m)


def played(shot: Shot) -> Outcome:
    """The shot played many times.

    >>> from fair_mix import approaches
    >>> 2.5 < played(chosen(approaches(100.0, 100.0, 4, seed=1)[0], 10.0)).strokes < 4
    True
    """
    bag, scene = shot.bag, shot.scene
    struck = build(scene, shot.rows, bag, shot.row, shot.carry_m, shot.aim_left_m)
    table = hole_out_table(bag.player.handicap)
    outcome = play(scene, shot.rows, struck, draw(PLAYED, seed=1), bag, table)
    x_m, y_m, ends = outcome.finishes.x_m[0], outcome.finishes.y_m[0], outcome.finishes
    on = ends.holed[0] | (ends.surface[0] == int(Surface.GREEN))
    return Outcome(
        greens=float(on.mean()),
        leave_ft=float(np.hypot(scene.pin_m - x_m, y_m).mean()) / FOOT_M,
        strokes=float(outcome.strokes[0].mean()),
        short=float((~on & (x_m < scene.front_m)).mean()),
        in_sand=float((ends.surface[0] == int(Surface.SAND)).mean()),
        near=float((np.hypot(scene.pin_m - x_m, y_m) < 6 * FOOT_M).mean()),
    )


def mean(outcomes: list[Outcome]) -> Outcome:
    """The mean of outcomes that count alike."""
    return Outcome(
        **{name: float(np.mean([getattr(each, name) for each in outcomes])) for name in vars(outcomes[0])}
    )


@dataclass(frozen=True)
class Putting:
    """How putts of a skill go: shares from 0 to 1."""

    made: dict[str, float]
    """By the lengths of :data:`PUTTS_FT`."""
    three: float
    """Holes with three putts or more."""
    three_25_ft: float
    as_many_ft: float
    """Length at which three-putts outnumber one-putts."""


def putted(handicap: float) -> Putting:
    """Putts as the tables of the plan have them, over the fair mix of first putts.

    >>> 0.9 < putted(15.0).made["0-3 ft"] < 1
    True
    """
    skill = skill_for(handicap)
    hit_m, missed_m = first_putts_m(handicap)
    share = GREENS_IN_REGULATION[handicap]
    three = [float(three_putt_chance(lengths, skill).mean()) for lengths in (hit_m, missed_m)]
    lengths_m = np.linspace(8.0, 60.0, 521) * FOOT_M
    ahead = three_putt_chance(lengths_m, skill) > make_chance(lengths_m, skill)
    return Putting(
        made={
            name: float(make_chance(np.linspace(low, high, 40) * FOOT_M, skill).mean())
            for name, (low, high) in PUTTS_FT.items()
        },
        three=share * three[0] + (1 - share) * three[1],
        three_25_ft=float(three_putt_chance(25 * FOOT_M, skill)),
        as_many_ft=float(lengths_m[np.argmax(ahead)]) / FOOT_M,
    )


class Check(NamedTuple):
    """A published figure beside ours, in its unit."""

    what: str
    handicap: float
    asked: float
    got: float
    within: float

    @property
    def off(self) -> float:
        """How far off it is, in tolerances."""
        return (self.got - self.asked) / self.within

    def line(self) -> str:
        """One line of a table."""
        mark = "" if abs(self.off) <= 1 else "  beyond"
        return (
            f"{self.what:42} {self.handicap:4g}  asked {self.asked:6.2f}  got {self.got:6.2f}"
            f"  ± {self.within:.2f}{mark}"
        )


def published(situation: str, distance: str, metric: str) -> dict[float, float]:
    """Published values by handicap, as printed, of one kind of row."""
    with PUBLISHED.open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return {
        float(row["population"].removeprefix("handicap ")): float(row["value"])
        for row in rows
        if (row["situation"], row["distance"], row["metric"]) == (situation, distance, metric)
        and row["population"].startswith("handicap ")
        and "-" not in row["population"]
    }


def approach_checks(band: str, handicap: float, got: Outcome) -> list[Check]:
    """An outcome of approaches beside every figure published of them."""
    ours = {
        "greens hit": (100 * got.greens, 5.0),
        "mean distance left": (got.leave_ft, None),
        "strokes to hole out": (got.strokes, 0.12),
        "missed short": (100 * got.short, 8.0),
    }
    checks = []
    for metric, (value, within) in ours.items():
        asked = published("approach all lies", band, metric).get(handicap)
        if asked is not None:
            checks.append(Check(f"{band}: {metric}", handicap, asked, value, within or 0.15 * asked))
    return checks


def bunker_checks(handicap: float, got: Outcome) -> list[Check]:
    """An outcome of greenside bunker shots beside what is published; a ball left in has missed the green."""
    ours = {
        "missed the green": 100 * (1 - got.greens),
        "stayed in the bunker": 100 * got.in_sand,
        "inside 6 ft": 100 * got.near,
    }
    return [
        Check(f"bunker: {metric}", handicap, asked, value, 6.0)
        for metric, value in ours.items()
        if (asked := published("greenside bunker", "all", metric).get(handicap)) is not None
    ]


def putt_checks(handicap: float) -> list[Check]:
    """Putting beside every make rate and three-putt share published for this handicap."""
    got = putted(handicap)
    checks = [
        Check(f"putts {name}: made", handicap, asked, 100 * value, 4.0)
        for name, value in got.made.items()
        if (asked := published("putts", name, "made").get(handicap)) is not None
    ]
    holes = published("holes per three-putt", "all", "holes")[handicap]
    checks.append(Check("three-putts a hole, %", handicap, 100 / holes, 100 * got.three, 15 / holes))
    return checks
