"""A flag cut beside trouble that the player named: the pitch is aimed at the middle of the green, not at the flag.

By numbers an aim a step inside the flag does almost as well; but where the trouble begins was not measured, and a
teacher plays such a flag from the fat of the green (common practice, no source).
"""

import numpy as np

from caddie.bag import Bag
from caddie.plan.candidates import Only, same_swing
from caddie.plan.dispersion import draw
from caddie.plan.expected import expected_of
from caddie.plan.green_size import half_width_m, near_side_m
from caddie.plan.option import Option
from caddie.plan.scene import Scene
from caddie.plan.search import BALLS, launch_rows, play
from caddie.plan.strokes import hole_out_table
from caddie.plan.value import rank_scores
from caddie.situation import HazardKind, Side

INWARD = 0.6
"""How far from such a flag toward the middle of the green it is aimed, as a share of the way there."""
PITCH_M = 35.0
"""Nearer by, the aim can be held as finely as it is found."""
MOST_COST, MOST_COST_BEHIND = 0.05, 0.02
"""Strokes that the wider aim may cost by numbers, with the trouble beside the flag and with it before the flag."""
_SHUNNED = (
    HazardKind.WATER,
    HazardKind.OUT_OF_BOUNDS,
    HazardKind.BUNKER,
    HazardKind.TREES,
    HazardKind.UNNAMED,
)


def on_the_safe_side(scene: Scene, bag: Bag, chosen: Option, seed: int) -> Option:
    """The shot aimed well inside a flag that is cut beside trouble, or as it is."""
    inward = _inward(scene)
    if not inward or scene.pin_m < PITCH_M or chosen.lay_up or chosen.sideways or not chosen.carry_m:
        return chosen
    green = scene.situation.green
    inward_m = INWARD * (half_width_m(green) - near_side_m(green))
    if inward * chosen.aim_left_m >= inward_m:
        return chosen
    rows = launch_rows(scene, bag, Only(club=chosen.club, flight=chosen.flight))
    shots = same_swing(scene, rows, bag, chosen)
    if shots is None:
        return chosen
    shots = shots.take(np.zeros(1, dtype=np.int64)).aimed(inward * inward_m)
    outcome = play(scene, rows, shots, draw(BALLS, seed), bag, hole_out_table(bag.player.handicap))
    score = float(rank_scores(outcome.strokes, bag.player.risk)[0])
    if score > chosen.rank_score + (MOST_COST if _beside(scene) else MOST_COST_BEHIND):
        return chosen
    changed = {
        "aim_left_m": round(inward * inward_m, 3),
        "aim_saves": max(round(chosen.aim_saves - (score - chosen.rank_score), 4), 0.0),
        "rank_score": round(score, 4),
        **expected_of(scene, outcome.finishes, outcome.strokes, 0),
    }
    return chosen.model_copy(update=changed)


def _inward(scene: Scene) -> int:
    """1 to the left and -1 to the right, from a flag at one side with trouble beside or before it; 0 for any other."""
    side, named = _flag_side(scene), _shunned(scene)
    other = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}.get(side) if side else None
    if side is None or other in named or not ({side, Side.SHORT} & named):
        return 0
    return 1 if side is Side.RIGHT else -1


def _beside(scene: Scene) -> bool:
    """Whether trouble was named on the flag's own side."""
    return _flag_side(scene) in _shunned(scene)


def _flag_side(scene: Scene) -> Side | None:
    """The side of the green that the hole is cut on."""
    position = scene.situation.pin_position
    side = position.value.rpartition("_")[2] if position else ""
    return {"left": Side.LEFT, "right": Side.RIGHT}.get(side)


def _shunned(scene: Scene) -> set[Side | None]:
    """Where trouble was named."""
    return {each.side for each in scene.situation.hazards if each.kind in _SHUNNED}
