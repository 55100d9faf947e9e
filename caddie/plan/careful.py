"""Shots that keep clear of the trouble on the way: laid up short of it, or aimed past the side of it."""

from contextlib import suppress

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.ball.ground import Patch, Surface
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, Only, allowed, build, coarse
from caddie.plan.choose import options_of
from caddie.plan.dispersion import draw
from caddie.plan.finish import Candidates
from caddie.plan.launches import Rows
from caddie.plan.lay_up import RUN_SHARE
from caddie.plan.option import Option, Plan
from caddie.plan.runout import run_out
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import BALLS, best_of_each_kind, launch_rows, play
from caddie.plan.strokes import hole_out_table
from caddie.situation import Lie, Situation

GAINS = 0.25
"""A careful shot carries at least this share of the way (common practice, no source)."""
SHUNNED = (Surface.SAND, Surface.WATER, Surface.OUT_OF_BOUNDS, Surface.TREES)
SPREADS_SHORT = 1.6
"""How many spreads of its carry a ball laid up stays short: one in twenty is long by more."""
SPREADS_ASIDE = 1.0
"""How many spreads a ball aimed past the side of trouble is clear of it when meant so."""
FARTHEST_ASIDE = 0.5
"""Nobody aims farther beside the flag than this share of its distance (common practice, no source)."""
PLAYED = 10
"""Shots of each kind that are played ball by ball."""
CLEARER = 0.5
"""A shot that finds trouble no more than this share as often as another keeps clear of it."""


def short_of_it(
    situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY, *, most: float = 0.0
) -> Option | None:
    """The best shot that stays short of the first trouble across the line; None where there is none or no room."""
    told = _tried(situation, bag, only)
    if told is None:
        return None
    scene, patch, rows, tried = told
    reach_m = (1.0 + RUN_SHARE) * tried.carry_m + SPREADS_SHORT * tried.length_sd_m
    plain = np.array([rows.kinds[row].flight is Flight.STOCK for row in tried.row], dtype=bool)
    short = plain & (reach_m < patch.x0_m) & (tried.carry_m >= GAINS * scene.pin_m)
    best = _best(scene, rows, tried.take(np.flatnonzero(short)), bag, seed, most)
    return None if best is None else best.model_copy(update={"lay_up": True})


def beside_it(
    situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY, *, most: float = 0.0
) -> Option | None:
    """The best shot aimed past one side of the first trouble across the line; None where there is none."""
    told = _tried(situation, bag, only)
    if told is None:
        return None
    scene, patch, rows, tried = told
    near = tried.take(np.flatnonzero(tried.carry_m > patch.x0_m))
    if not len(near.row):
        return None
    aims = [_aside(scene, patch, side, near) for side in (1, -1)]
    row, carry = np.tile(near.row, 2), np.tile(near.carry_m, 2)
    shots = build(scene, rows, bag, row, carry, np.concatenate(aims))
    within = np.abs(shots.aim_left_m) <= FARTHEST_ASIDE * scene.pin_m
    return _best(scene, rows, shots.take(np.flatnonzero(within)), bag, seed, most)


def over_it(
    situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY, *, most: float = 0.0
) -> Option | None:
    """The best shot that carries the first trouble across the line even when it comes up short; None without room."""
    told = _tried(situation, bag, only)
    if told is None:
        return None
    scene, patch, rows, tried = told
    surely = tried.carry_m - SPREADS_SHORT * tried.length_sd_m > patch.x1_m
    return _best(scene, rows, tried.take(np.flatnonzero(surely)), bag, seed, most)


def keeping_under(going: Plan, bag: Bag, most: float) -> tuple[Option, ...]:
    """The shots past, beside or short of the trouble, each the best that finds it no more often, or least often."""
    found = []
    for way in (over_it, beside_it, short_of_it):
        with suppress(CaddieError):
            option = way(going.situation, bag, going.seed, most=most)
            found += [option] if option is not None else []
    return tuple(found)


def _tried(situation: Situation, bag: Bag, only: Only) -> tuple[Scene, Patch, Rows, Candidates] | None:
    """The ground, the first trouble on it that the line to the flag crosses, and the shots that may be tried."""
    if situation.pin_m is None or situation.lie is Lie.GREEN:
        return None
    scene = lay_out(complete(situation)[0], bag)
    across = [
        patch
        for patch in scene.ground.patches
        if patch.surface in SHUNNED
        and patch.y0_m < 0.0 < patch.y1_m
        and 0.0 < patch.x0_m < patch.x1_m < scene.pin_m
    ]
    if not across:
        return None
    rows = launch_rows(scene, bag, only)
    tried = allowed(coarse(scene, rows, bag, only), scene, rows, bag, only)
    return scene, min(across, key=lambda patch: patch.x0_m), rows, tried


def _aside(scene: Scene, patch: Patch, side: int, shots: Candidates) -> Floats:
    """How far left of the flag to aim so that a ball passes that side of the trouble [m]."""
    edge_m = patch.y1_m if side > 0 else -patch.y0_m
    far = scene.pin_m / np.maximum(np.minimum(shots.carry_m, patch.x1_m), 1.0)
    return np.asarray(side * (edge_m + SPREADS_ASIDE * shots.side_sd_m) * far)


def _best(scene: Scene, rows: Rows, shots: Candidates, bag: Bag, seed: int, most: float) -> Option | None:
    """The best of these shots that finds trouble no more often than ``most``, or that finds it least."""
    if not len(shots.row):
        return None
    table = hole_out_table(bag.player.handicap)
    quick = run_out(scene, rows, table).scores(shots, bag)
    shots = shots.take(best_of_each_kind(quick, shots)[:PLAYED])
    options = options_of(scene, rows, play(scene, rows, shots, draw(BALLS, seed), bag, table), bag)
    least = min(option.in_trouble for option in options)
    return next(option for option in options if option.in_trouble <= max(most, least))


def clear_of_trouble(going: Plan, bag: Bag, only: Only = ANY) -> tuple[Option, ...]:
    """Both of these shots that there are and that find trouble less than the plan's own, the better first."""
    most, found = CLEARER * going.chosen.in_trouble, []
    for way in (short_of_it, beside_it):
        with suppress(CaddieError):
            option = way(going.situation, bag, going.seed, only, most=most)
            if option is not None and option.in_trouble < going.chosen.in_trouble:
                found.append(option)
    return tuple(sorted(found, key=lambda option: option.rank_score))


def laid_up_before_it(going: Plan, bag: Bag) -> Option | None:
    """The lay-up of who asks for one, whatever it costs; None where nothing lies across the line."""
    with suppress(CaddieError):
        most = CLEARER * going.chosen.in_trouble
        return short_of_it(going.situation, bag, going.seed, most=most)
    return None
