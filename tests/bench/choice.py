"""How good the choice is: the planner's shot against the best of a search a hundred times as wide.

The wide search settles every ball of every candidate in four rounds. Both shots are then played with the same
fresh balls, which neither search has seen, and the gap is what the planner's shot costs more.
"""

import beside  # noqa: F401  finds scenarios
import numpy as np
from rows import Part, Row, Size, busy_ms, shown, values_row
from scenarios import SCENARIOS, bag_of, scene_of

from caddie.bag import Bag
from caddie.plan.candidates import NEAREST_M, build, longest_carry
from caddie.plan.dispersion import draw
from caddie.plan.finish import Candidates
from caddie.plan.launches import Rows
from caddie.plan.scene import Scene
from caddie.plan.search import play, search
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import rank_scores

FRESH_BALLS = 60_000
PART_BALLS = 20_000
ENOUGH = 0.01
"""Strokes that the pick may lose to the wider search."""
MEAN, WORST = "the choice against brute force, mean gap", "the choice against brute force, worst gap"
NEAR = f"the choice against brute force, within {ENOUGH} strokes"
RATIO = "brute force, times as long as the choice"
SPREAD = (0, 6, 11, 27)
"""The situations of a quick run."""


def wide_search(scene: Scene, bag: Bag, rows: Rows) -> Candidates:
    """The best shot of an exact search in four rounds, each keeping fewer shots and playing more balls."""
    table = hole_out_table(bag.player.handicap)
    row = np.repeat(np.arange(len(rows)), 40)
    reach = np.minimum([longest_carry(scene, rows, i) for i in range(len(rows))], scene.pin_m + 10)
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
    longest = np.array([longest_carry(scene, rows, int(i)) for i in shots.row])[:, None]
    return build(
        scene,
        rows,
        bag,
        np.repeat(shots.row, step.size),
        np.clip(carry, NEAREST_M, longest).ravel(),
        (shots.aim_left_m[:, None] + shots.side_sd_m[:, None] * aim).ravel(),
    )


def gap(scene: Scene, bag: Bag) -> tuple[float, float, float]:
    """Strokes the planner's shot costs more than the wide search's, their error, and the ratio of times."""
    search(scene, bag, seed=1)
    found: list = []
    ours_ms = busy_ms(lambda: found.append(search(scene, bag, seed=1)))
    outcome, rows, _ = found[0]
    pick = outcome.shots.take(np.array([int(np.argmin(rank_scores(outcome.strokes, bag.player.risk)))]))
    wide_ms = busy_ms(lambda: found.append(wide_search(scene, bag, rows)))
    table = hole_out_table(bag.player.handicap)
    mine, wide = (
        np.concatenate(
            [
                play(scene, rows, shot, draw(PART_BALLS, 1000 + part), bag, table).strokes[0]
                for part in range(FRESH_BALLS // PART_BALLS)
            ]
        )
        for shot in (pick, found[1])
    )
    return float((mine - wide).mean()), float((mine - wide).std() / np.sqrt(FRESH_BALLS)), wide_ms / ours_ms


def measure(size: Size) -> list[Row]:
    numbers = SPREAD if size.quick else range(len(SCENARIOS))
    cases = [(SCENARIOS[number][0], bag_of(SCENARIOS[number][1])) for number in numbers]
    gaps, errors, ratios = zip(*(gap(scene_of(said, bag), bag) for said, bag in cases), strict=True)
    worst = int(np.argmax(gaps))
    near = sum(each <= ENOUGH for each in gaps)
    said, count = cases[worst][0], len(cases)
    where = f"{said.lie.value if said.lie else 'fairway'}, {said.pin_m:g} m; ± {shown(errors[worst])}"
    mean_error = float(np.sqrt(np.sum(np.square(errors)))) / count
    return [
        Row(MEAN, float(np.mean(gaps)), "strokes", count, "situations", f"± {shown(mean_error)}"),
        Row(WORST, gaps[worst], "strokes", count, "situations", where),
        Row(NEAR, near, f"of {count}", count, "situations"),
        values_row(RATIO, ratios, "times", "situations"),
    ]


PART = Part((MEAN, WORST, NEAR, RATIO), measure)
