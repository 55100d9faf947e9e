"""What a shot chosen for one situation costs when another one turns out to be true."""

from caddie.bag import Bag, Family
from caddie.plan.assume import complete
from caddie.plan.candidates import Only, coarse, same_swing
from caddie.plan.dispersion import draw
from caddie.plan.launches import Rows
from caddie.plan.option import Option
from caddie.plan.putt.off_green import can_putt, putts_onto_green
from caddie.plan.runout import run_out
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import launch_rows
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import rank_scores, strokes_of
from caddie.situation import Lie, Situation

WORST_REGRET = 1.0
"""Counted when the chosen club cannot play from the lie at all."""
PUTTS = 200


def regret(situation: Situation, option: Option, bag: Bag, seed: int, rows: Rows | None = None) -> float:
    """Strokes lost by playing ``option`` with the same swing, against the best shot of ``situation``.

    ``rows`` spares tabulating launches that another situation shares.
    """
    filled, _ = complete(situation)
    if filled.lie is Lie.GREEN:
        return 0.0
    scene = lay_out(filled, bag)
    rows = rows or launch_rows(scene, bag, Only(flight=option.flight))
    known = run_out(scene, rows, hole_out_table(bag.player.handicap))
    best = float(known.scores(coarse(scene, rows, bag), bag).min())
    putt = _putter_score(scene, bag, seed)
    if putt is not None:
        best = min(best, putt)
    if option.family is Family.PUTT:
        return WORST_REGRET if putt is None else max(putt - best, 0.0)
    same = same_swing(scene, rows, bag, option)
    if same is None:
        return WORST_REGRET
    return max(float(known.scores(same, bag).min()) - best, 0.0)


def _putter_score(scene: Scene, bag: Bag, seed: int) -> float | None:
    if not can_putt(scene, bag):
        return None
    finishes = putts_onto_green(scene, bag, draw(PUTTS, seed)).finishes
    strokes = strokes_of(scene, finishes, hole_out_table(bag.player.handicap))
    return float(rank_scores(strokes, bag.player.risk).min())
