"""Where the balls of one shot end: how often within a length of the hole, how near on average, how often down in two.

The balls are those that the shot was judged by: the same draws, played again.
"""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Bools, Floats, Ints
from caddie.bag import Bag, Family
from caddie.ball.ground import Surface
from caddie.plan.candidates import Only, same_swing
from caddie.plan.choose import launch_rows
from caddie.plan.dispersion import draw
from caddie.plan.finish import simulate
from caddie.plan.option import Option, Plan
from caddie.plan.putt.after import CHIPPED_IN
from caddie.plan.putt.off_green import putts_onto_green
from caddie.plan.putt.skill import make_chance
from caddie.plan.scene import lay_out
from caddie.plan.search import BALLS
from caddie.plan.strokes import hole_out_table

HOLED_FROM_BESIDE = 0.5
"""A ball on the fringe is holed so often as a putt of its length on the green is (common practice, no source)."""


@dataclass(frozen=True)
class BallEnds:
    """Where each ball came to rest, every field of shape ``(n,)``."""

    left_m: Floats
    """How far from the hole; 0 of a ball that dropped."""
    holed: Bools
    surface: Ints

    def within(self, near_m: float) -> float:
        """The share of balls that end no farther from the hole, those that drop among them."""
        return float((self.holed | ((self.left_m <= near_m) & ~self._lost)).mean())

    def mean_m(self) -> float:
        """How far from the hole a ball ends on average."""
        return float(self.left_m.mean())

    def down_in_two(self, bag: Bag) -> float:
        """The share of balls that drop, or that the player holes with the next stroke."""
        made = make_chance(self.left_m, hole_out_table(bag.player.handicap).putting)
        beside = np.where(self.surface == int(Surface.FRINGE), HOLED_FROM_BESIDE * made, CHIPPED_IN)
        next_one = np.where(self.surface == int(Surface.GREEN), made, np.minimum(beside, made))
        next_one = np.where(self._lost, 0.0, next_one)
        return float(np.where(self.holed, 1.0, next_one).mean())

    @property
    def _lost(self) -> Bools:
        return np.isin(self.surface, (int(Surface.WATER), int(Surface.OUT_OF_BOUNDS)))


def ends_of(plan: Plan, option: Option, bag: Bag) -> BallEnds | None:
    """The balls of a shot off the green that is among those of a plan, or beside them.

    None of a way out sideways, which is judged without balls.
    """
    if option.sideways or option.line is not None:
        return None
    scene = lay_out(plan.situation, bag)
    draws = draw(BALLS, plan.seed)
    if option.family is Family.PUTT:
        putts = putts_onto_green(scene, bag, draws)
        finishes, at = putts.finishes, int(np.argmin(np.abs(putts.meant_m - option.run_m)))
    else:
        rows = launch_rows(scene, bag, Only(flight=option.flight))
        shot = same_swing(scene, rows, bag, option)
        if shot is None:
            return None
        finishes, at = simulate(scene, rows, shot.aimed(option.aim_left_m), draws, bag), 0
    left = np.hypot(scene.pin_m - finishes.x_m[at], finishes.y_m[at])
    holed = finishes.holed[at]
    return BallEnds(np.where(holed, 0.0, left), holed, finishes.surface[at])
