"""The search: every launch run out once, candidates weighed on that, the best played ball by ball."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only, against_drift, allowed, coarse, fine
from caddie.plan.dispersion import Draws, draw
from caddie.plan.finish import Candidates, Finishes, joined, simulate
from caddie.plan.launches import Rows, tabulate_launches
from caddie.plan.lay_up import best_lay_up
from caddie.plan.prefer import liked_landings
from caddie.plan.runout import RunOut, run_out
from caddie.plan.scene import Scene
from caddie.plan.splash import with_splashes
from caddie.plan.strokes import HoleOutTable, hole_out_table
from caddie.plan.swings import swing_curves
from caddie.plan.value import strokes_of
from caddie.situation import Stance

BALLS = 3000
"""Balls played of every shot that is reported."""
LOOKED_AT = 16
"""Shots that are refined: more than are reported, as a coarse grid is some hundredths of a stroke off."""
KEPT = 8
"""Shots that are reported: the best of a launch, with a measured swing and with any other."""
LIKED = 5
"""Of how many that land elsewhere one is tried that lands where a teacher would have it land."""
SIZES = (1.0, 0.5, 0.25)
"""Rounds of refinement, by how far they look around in spreads of the shot."""
WIDER = 1.5
"""Spreads that are looked around where a shot must land shorter or farther than the best by numbers."""
LEAST_SAVED = 0.005
"""Strokes that an aim beside the flag must save."""


@dataclass(frozen=True)
class Outcome:
    """Every candidate with what its balls cost, shape ``(c, n)``."""

    shots: Candidates
    finishes: Finishes
    strokes: Floats


def search(
    scene: Scene, bag: Bag, seed: int, breadth: int = 1, only: Only = ANY
) -> tuple[Outcome, Rows, int]:
    """Weigh all candidates, then rounds of the best ones' neighbours; play the best with the same balls.

    ``breadth`` multiplies the shots kept and the balls played of each, for a wider comparison. Returns
    the shots played, the launch rows and the number of candidates.
    """
    rows = launch_rows(scene, bag, only)
    table = hole_out_table(bag.player.handicap)
    known = run_out(scene, rows, table)
    tried = allowed(coarse(scene, rows, bag, only), scene, rows, bag, only)
    considered = len(tried.row)
    closely = LOOKED_AT * breadth
    score = known.scores(tried, bag)
    safe = tried.take(best_lay_up(scene, rows, tried, score))
    shots = tried.take(best_of_each_kind(score, tried)[:closely])
    known = known.closer(shots, bag)
    for size in SIZES:
        near = allowed(fine(scene, rows, bag, shots, size), scene, rows, bag, only)
        considered += len(near.row)
        shots = near.take(best_of_each_kind(known.scores(near, bag), near)[:closely])
    # Refining left them in order, best first.
    shots = shots.take(np.arange(min(KEPT * breadth, len(shots.row))))
    least_m, most_m = liked_landings(scene)
    shots = joined(shots, _landing_within(scene, rows, known, shots, bag, only, least_m, most_m))
    shots = joined(_at_the_flag_unless_worth_it(scene, rows, known, shots, bag), safe)
    return play(scene, rows, shots, draw(BALLS * breadth, seed), bag, table), rows, considered


def launch_rows(scene: Scene, bag: Bag, only: Only) -> Rows:
    """The launches that the bag, the lie and ``only`` allow.

    Raises:
        CaddieError: when there are none, or the bag has no such club.
    """
    curves = with_splashes(swing_curves(bag, scene.measured_air), bag, scene.measured_air)
    if not curves:
        raise CaddieError("the bag has no measured carry: add one, or run 'caddie bag new'")
    allowed_curves = tuple(curve for curve in curves if only.allows_club(curve.club, bag))
    return tabulate_launches(scene, allowed_curves, bag, low_asked=only.flight is Flight.LOW)


def play(scene: Scene, rows: Rows, shots: Candidates, draws: Draws, bag: Bag, table: HoleOutTable) -> Outcome:
    """Simulate the candidates and count the strokes of every ball."""
    finishes = simulate(scene, rows, shots, draws, bag)
    return Outcome(shots, finishes, strokes_of(scene, finishes, table))


def best_of_each_kind(score: Floats, shots: Candidates) -> NDArray[np.int64]:
    """Positions of the best candidate of every launch row, measured and other swings apart, best first."""
    order = np.argsort(score, kind="stable")
    _, first = np.unique(shots.row[order] * 2 + shots.owned[order], return_index=True)
    return order[np.sort(first)]


def _landing_within(
    scene: Scene,
    rows: Rows,
    known: RunOut,
    shots: Candidates,
    bag: Bag,
    only: Only,
    least_m: float,
    most_m: float,
) -> Candidates:
    """Of shots that land elsewhere than a teacher would have them land, the best with the same launch that do not."""
    astray = shots.take(np.flatnonzero((shots.carry_m < least_m) | (shots.carry_m > most_m))[:LIKED])
    if not len(astray.row):
        return astray
    near = allowed(fine(scene, rows, bag, astray, WIDER), scene, rows, bag, only)
    near = near.take(np.flatnonzero((near.carry_m >= least_m) & (near.carry_m <= most_m)))
    return near.take(best_of_each_kind(known.scores(near, bag), near)) if len(near.row) else near


def _at_the_flag_unless_worth_it(
    scene: Scene, rows: Rows, known: RunOut, shots: Candidates, bag: Bag
) -> Candidates:
    """The shots aimed at the flag where another aim saves next to nothing; off a slope across the stance so that they
    come down on the line to it, since that slope turns every one."""
    saved = known.scores(shots.aimed(0.0), bag) - known.scores(shots, bag)
    plain = np.zeros_like(shots.aim_left_m)
    if {Stance.BALL_ABOVE, Stance.BALL_BELOW} & {*scene.situation.stance}:
        plain = against_drift(scene, rows, shots.row, shots.carry_m)
    return replace(
        shots,
        aim_left_m=np.where(saved > LEAST_SAVED, shots.aim_left_m, plain),
        aim_saves=np.where(saved > LEAST_SAVED, saved, 0.0),
    )
