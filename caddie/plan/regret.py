"""What a shot chosen for one situation costs when another one turns out to be true."""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats, Ints, distinct
from caddie.bag import Bag, Family
from caddie.plan.assume import complete
from caddie.plan.candidates import Only, coarse, same_swing
from caddie.plan.dispersion import draw
from caddie.plan.finish import Candidates
from caddie.plan.launches import Rows
from caddie.plan.option import Option
from caddie.plan.putt.off_green import can_putt, putts_onto_green
from caddie.plan.runout import RunOut, run_out
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import launch_rows
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import rank_scores, strokes_of
from caddie.situation import Lie, Situation

WORST_REGRET = 1.0
"""Counted when the chosen club cannot play from the lie at all."""
PUTTS = 200
NEAR_BEST = 0.25
"""Strokes: a launch whose best shot costs so much more than the best of all is not the best where only the flag's
place, the firmness or the fall of the green turns out otherwise."""


@dataclass(frozen=True)
class Shared:
    """Launches that situations share, and those of them that may be the best in any."""

    rows: Rows
    tried: Ints


@dataclass(frozen=True)
class _Tried:
    """A situation with the shots that were tried in it."""

    scene: Scene
    rows: Rows
    known: RunOut
    shots: Candidates
    score: Floats

    def regret(self, option: Option, bag: Bag, seed: int) -> float:
        best = float(self.score.min())
        putt = _putter_score(self.scene, bag, seed)
        if putt is not None:
            best = min(best, putt)
        if option.family is Family.PUTT:
            return WORST_REGRET if putt is None else max(putt - best, 0.0)
        same = same_swing(self.scene, self.rows, bag, option)
        if same is None:
            return WORST_REGRET
        return max(float(self.known.scores(same, bag).min()) - best, 0.0)

    def near_best(self, option: Option, bag: Bag) -> Ints:
        """The launches whose best shot is near the best of all, and those that the option may be played with."""
        near = self.shots.row[self.score < self.score.min() + NEAR_BEST]
        same = same_swing(self.scene, self.rows, bag, option)
        return distinct(near if same is None else np.concatenate([near, same.row]))


def regret(situation: Situation, option: Option, bag: Bag, seed: int, shared: Shared | None = None) -> float:
    """Strokes lost by playing ``option`` with the same swing, against the best shot of ``situation``.

    ``shared`` spares tabulating launches that another situation shares, and trying those that are no good in it.
    """
    filled, _ = complete(situation)
    if filled.lie is Lie.GREEN:
        return 0.0
    scene = lay_out(filled, bag)
    if shared is None:
        return _all_tried(scene, option, bag).regret(option, bag, seed)
    return _tried(scene, shared.rows, bag, shared.tried).regret(option, bag, seed)


def regret_and_launches(said: Situation, option: Option, bag: Bag, seed: int) -> tuple[float, Shared]:
    """The regret in the situation that is assumed, off the green, and the launches to try in others like it."""
    tried = _all_tried(lay_out(complete(said)[0], bag), option, bag)
    return tried.regret(option, bag, seed), Shared(tried.rows, tried.near_best(option, bag))


def _all_tried(scene: Scene, option: Option, bag: Bag) -> _Tried:
    return _tried(scene, launch_rows(scene, bag, Only(flight=option.flight)), bag)


def _tried(scene: Scene, rows: Rows, bag: Bag, only: Ints | None = None) -> _Tried:
    known = run_out(scene, rows, hole_out_table(bag.player.handicap), only)
    shots = coarse(scene, rows, bag, tried=only)
    return _Tried(scene, rows, known, shots, known.scores(shots, bag))


def _putter_score(scene: Scene, bag: Bag, seed: int) -> float | None:
    if not can_putt(scene, bag):
        return None
    finishes = putts_onto_green(scene, bag, draw(PUTTS, seed)).finishes
    strokes = strokes_of(scene, finishes, hole_out_table(bag.player.handicap))
    return float(rank_scores(strokes, bag.player.risk).min())
