"""How fast and how right the planner is: a plain script, ``python tests/bench/plan.py [brute]``.

Without an argument: candidates, milliseconds (median and 95th percentile of wall clock, and processor time)
with the flights of the day unknown and known, the same candidates settled ball by ball in the same run, and
peak memory. With ``brute``: on forty situations the planner's shot against the best of an exact search that
settles about a hundred times as many balls; both are then played with the same fresh balls and every gap
above 0.01 strokes is printed. ``brute 5`` takes the first five situations.
"""

import resource
import sys
import time
from collections.abc import Callable

import numpy as np

from caddie.bag import Bag, load_bag
from caddie.plan import launches
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, NEAREST_M, build, coarse, longest_carry
from caddie.plan.choose import advise, launch_rows, play, rank_scores, search
from caddie.plan.dispersion import draw
from caddie.plan.finish import Candidates
from caddie.plan.launches import Rows
from caddie.plan.scene import Scene, lay_out
from caddie.plan.strokes import hole_out_table
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Stance,
    Wind,
    WindFrom,
)

FRESH_BALLS = 60_000
ENOUGH = 0.01
"""Strokes that the pick may lose to the wider search."""
REPEATS = 15


def bunker(side: Side, carry_m: float | None = None) -> Hazard:
    return Hazard(kind=HazardKind.BUNKER, side=side, carry_m=carry_m)


def water(side: Side, carry_m: float | None = None) -> Hazard:
    return Hazard(kind=HazardKind.WATER, side=side, carry_m=carry_m)


def shape(kind: HazardKind, **rest: float) -> Hazard:
    return Hazard(kind=kind, **rest)


def wind(source: WindFrom, speed_m_s: float) -> Wind:
    return Wind(from_=source, speed_m_s=speed_m_s)


LOFTY = Hazard(kind=HazardKind.TREES, side=Side.SHORT, carry_m=25, height_m=7)
SCENARIOS: tuple[tuple[Situation, float], ...] = (
    (Situation(pin_m=8, lie=Lie.FRINGE), 14),
    (Situation(pin_m=14, front_m=3, lie=Lie.FAIRWAY), 14),
    (Situation(pin_m=20, front_m=4, lie=Lie.LIGHT_ROUGH), 14),
    (Situation(pin_m=12, front_m=8, lie=Lie.LIGHT_ROUGH), 14),
    (Situation(pin_m=18, front_m=13, lie=Lie.HEAVY_ROUGH), 14),
    (Situation(pin_m=30, front_m=12, lie=Lie.HEAVY_ROUGH), 22),
    (Situation(pin_m=15, front_m=7, lie=Lie.BUNKER), 14),
    (Situation(pin_m=36, front_m=22, lie=Lie.BUNKER), 14),
    (Situation(pin_m=14, front_m=5, lie=Lie.PLUGGED), 14),
    (Situation(pin_m=25, front_m=15, lie=Lie.BARE, hazards=(bunker(Side.SHORT, 13),)), 14),
    (Situation(pin_m=30, front_m=20, lie=Lie.FAIRWAY, hazards=(water(Side.SHORT, 18),)), 14),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 14),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 2),
    (Situation(pin_m=64, lie=Lie.FAIRWAY), 28),
    (Situation(pin_m=91, lie=Lie.FAIRWAY, wind=wind(WindFrom.AHEAD, 7)), 14),
    (Situation(pin_m=91, lie=Lie.FAIRWAY, wind=wind(WindFrom.BEHIND, 7)), 14),
    (Situation(pin_m=80, lie=Lie.FAIRWAY, wind=wind(WindFrom.LEFT, 8)), 14),
    (Situation(pin_m=55, lie=Lie.LIGHT_ROUGH, wind=wind(WindFrom.AHEAD_RIGHT, 5)), 8),
    (Situation(pin_m=40, front_m=20, hazards=(shape(HazardKind.RIDGE),)), 14),
    (Situation(pin_m=35, front_m=15, hazards=(shape(HazardKind.TIER),)), 14),
    (Situation(pin_m=35, front_m=15, hazards=(shape(HazardKind.SWALE),)), 14),
    (Situation(pin_m=28, front_m=20, hazards=(shape(HazardKind.FALSE_FRONT),)), 14),
    (Situation(pin_m=28, front_m=18, hazards=(shape(HazardKind.UPSLOPE, height_m=1.2),)), 14),
    (Situation(pin_m=45, hazards=(water(Side.LEFT),), pin_position=PinPosition.MIDDLE_LEFT), 14),
    (Situation(pin_m=60, hazards=(bunker(Side.RIGHT),), pin_position=PinPosition.BACK_RIGHT), 14),
    (Situation(pin_m=70, hazards=(bunker(Side.SHORT, 62),), pin_position=PinPosition.FRONT), 14),
    (Situation(pin_m=75, hazards=(water(Side.LONG),), pin_position=PinPosition.BACK), 14),
    (Situation(pin_m=50, front_m=38, hazards=(LOFTY,)), 14),
    (Situation(pin_m=40, elevation_m=5), 14),
    (Situation(pin_m=60, elevation_m=-8), 14),
    (Situation(pin_m=30, green=Green(fall=Fall.AWAY, fall_slope=0.04, stimp_ft=11)), 14),
    (Situation(pin_m=30, green=Green(fall=Fall.TOWARD, fall_slope=0.04)), 14),
    (Situation(pin_m=35, green=Green(side_fall=Fall.LEFT_TO_RIGHT, side_slope=0.04)), 14),
    (Situation(pin_m=50, green=Green(firmness=Firmness.FIRM, stimp_ft=12)), 5),
    (Situation(pin_m=50, green=Green(firmness=Firmness.SOFT, stimp_ft=8)), 20),
    (Situation(pin_m=25, lie=Lie.FAIRWAY, stance=(Stance.DOWNHILL,)), 14),
    (Situation(pin_m=25, lie=Lie.LIGHT_ROUGH, stance=(Stance.UPHILL,)), 14),
    (Situation(pin_m=40, lie=Lie.FAIRWAY, stance=(Stance.BALL_ABOVE,)), 14),
    (Situation(pin_m=22, front_m=12, lie=Lie.PINE_STRAW), 18),
    (
        Situation(
            pin_m=45,
            lie=Lie.DIVOT,
            hazards=(bunker(Side.SHORT, 30), Hazard(kind=HazardKind.OUT_OF_BOUNDS, side=Side.LONG)),
        ),
        10,
    ),
)


def bag_of(handicap: float) -> Bag:
    bag = load_bag()
    return bag.model_copy(update={"player": bag.player.model_copy(update={"handicap": handicap})})


def scene_of(situation: Situation, bag: Bag) -> Scene:
    return lay_out(complete(situation)[0], bag)


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Wall clock and processor time of one call [ms]."""
    wall, busy = time.perf_counter(), time.process_time()
    work()
    return (time.perf_counter() - wall) * 1e3, (time.process_time() - busy) * 1e3


def speed() -> None:
    print(
        f"{'situation':22}{'candidates':>11}{'new flights':>20}{'known flights':>20}{'exact':>9}{'ratio':>7}"
    )
    print(f"{'':22}{'':>11}{'median p95 cpu':>20}{'median p95 cpu':>20}{'ms':>9}")
    for number in (0, 2, 6, 11, 14, 24, 27, 39):
        situation, handicap = SCENARIOS[number]
        bag = bag_of(handicap)
        plan = advise(situation, bag)
        cold, warm = [], []
        for _ in range(REPEATS):
            launches._tabulated.cache_clear()
            cold.append(timed(lambda situation=situation, bag=bag: advise(situation, bag)))
            warm.append(timed(lambda situation=situation, bag=bag: advise(situation, bag)))
        exact_ms = exact_time(scene_of(situation, bag), bag) * plan.considered
        label = f"{situation.lie.value if situation.lie else 'fairway'} {situation.pin_m:g} m"
        columns = [
            f"{np.median(runs[:, 0]):8.0f}{np.quantile(runs[:, 0], 0.95):6.0f}{np.median(runs[:, 1]):6.0f}"
            for runs in (np.array(cold), np.array(warm))
        ]
        ratio = exact_ms / np.median(np.array(warm)[:, 0])
        print(f"{label:22}{plan.considered:>11}{columns[0]}{columns[1]}{exact_ms:>9.0f}{ratio:>6.0f}x")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MB")


def exact_time(scene: Scene, bag: Bag) -> float:
    """Milliseconds to settle a thousand balls of one candidate, as the plain search does for each."""
    rows = launch_rows(scene, bag, ANY)
    shots = coarse(scene, rows, bag)
    some = shots.take(np.linspace(0, len(shots.row) - 1, 40).astype(np.int64))
    table = hole_out_table(bag.player.handicap)
    return timed(lambda: play(scene, rows, some, draw(1000, 1), bag, table))[0] / 40


def wide_search(scene: Scene, bag: Bag, rows: Rows) -> Candidates:
    """The best shot of an exact search in four rounds, each keeping fewer shots and playing more balls."""
    table = hole_out_table(bag.player.handicap)
    row = np.repeat(np.arange(len(rows)), 40)
    reach = np.minimum([longest_carry(rows, i) for i in range(len(rows))], scene.pin_m + 10)
    carry = np.concatenate([np.linspace(NEAREST_M, far, 40) for far in reach])
    shots = build(scene, rows, bag, row, carry)
    for balls, keep in ((300, 60), (1200, 24), (4000, 8), (16000, 1)):
        score = []
        for first in range(0, len(shots.row), max(200_000 // balls, 1)):
            part = shots.take(np.arange(first, min(first + max(200_000 // balls, 1), len(shots.row))))
            outcome = play(scene, rows, part, draw(balls, 77), bag, table)
            score.append(rank_scores(outcome.strokes, bag.player.risk))
        shots = shots.take(np.argsort(np.concatenate(score))[:keep])
        if keep > 8:
            shots = around(scene, rows, bag, shots)
    return shots


def around(scene: Scene, rows: Rows, bag: Bag, shots: Candidates) -> Candidates:
    """The shots with landing points between those tried, and aims to both sides."""
    step, aim = np.meshgrid([-0.3, 0.0, 0.3], [-0.6, -0.3, 0.0, 0.3, 0.6])
    step, aim = step.ravel(), aim.ravel()
    carry = shots.carry_m[:, None] + shots.length_sd_m[:, None] * step
    longest = np.array([longest_carry(rows, int(i)) for i in shots.row])[:, None]
    return build(
        scene,
        rows,
        bag,
        np.repeat(shots.row, step.size),
        np.clip(carry, NEAREST_M, longest).ravel(),
        (shots.aim_left_m[:, None] + shots.side_sd_m[:, None] * aim).ravel(),
    )


def brute(count: int) -> None:
    lost = []
    print(f"{'situation':30}{'hcp':>4}  {'planner':24}{'wide search':24}{'gap':>8}{'se':>7}")
    for number, (situation, handicap) in enumerate(SCENARIOS[:count]):
        bag = bag_of(handicap)
        scene = scene_of(situation, bag)
        outcome, rows, _ = search(scene, bag, seed=1)
        pick = outcome.shots.take(np.array([int(np.argmin(rank_scores(outcome.strokes, bag.player.risk)))]))
        best = wide_search(scene, bag, rows)
        table = hole_out_table(bag.player.handicap)
        mine, wide = (
            np.concatenate(
                [
                    play(scene, rows, shot, draw(20_000, 1000 + part), bag, table).strokes[0]
                    for part in range(FRESH_BALLS // 20_000)
                ]
            )
            for shot in (pick, best)
        )
        gap, error = (mine - wide).mean(), (mine - wide).std() / np.sqrt(FRESH_BALLS)
        lost.append(gap)
        label = f"{number:2} {situation.lie.value if situation.lie else 'fairway'} {situation.pin_m:g} m"
        print(
            f"{label:30}{handicap:>4g}  {named(rows, pick):24}{named(rows, best):24}{gap:>8.4f}{error:>7.4f}"
            f"{'  MISS' if gap > ENOUGH else ''}",
            flush=True,
        )
    near = sum(gap <= ENOUGH for gap in lost)
    print(f"{near} of {len(lost)} within {ENOUGH} strokes; worst {max(lost):.4f}, mean {np.mean(lost):.4f}")


def named(rows: Rows, shot: Candidates) -> str:
    row = int(shot.row[0])
    kind = rows.kinds[row]
    flight = "wide open" if kind.wide_open else kind.flight.value
    return f"{rows.curve_of(row).club.id} {flight} {shot.carry_m[0]:.1f} {shot.aim_left_m[0]:+.1f}"


if __name__ == "__main__":
    if "brute" in sys.argv[1:]:
        brute(int(sys.argv[-1]) if sys.argv[-1].isdigit() else len(SCENARIOS))
    else:
        speed()
