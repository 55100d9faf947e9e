"""Shots that keep clear of the trouble on the way: laid up short of it, or aimed past the side of it."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

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


@dataclass(frozen=True)
class _Tried:
    """The shots that may be tried where trouble lies across the line to the flag."""

    scene: Scene
    patch: Patch
    """The first trouble that the line crosses."""
    rows: Rows
    shots: Candidates
    bag: Bag
    seed: int


_Way = Callable[[_Tried, float], Option | None]


def short_of_it(
    situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY, *, most: float = 0.0
) -> Option | None:
    """The best shot that stays short of the first trouble across the line; None where there is none or no room."""
    tried = _tried(situation, bag, seed, only)
    return None if tried is None else _short(tried, most)


def over_it(
    situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY, *, most: float = 0.0
) -> Option | None:
    """The best shot that carries the first trouble across the line even when it comes up short; None without room."""
    tried = _tried(situation, bag, seed, only)
    return None if tried is None else _over(tried, most)


def keeping_under(going: Plan, bag: Bag, most: float) -> tuple[Option, ...]:
    """The shots past, beside or short of the trouble, each the best that finds it no more often, or least often."""
    return tuple(_found((_over, _beside, _short), going, bag, ANY, most))


def _short(tried: _Tried, most: float) -> Option | None:
    shots, rows = tried.shots, tried.rows
    reach_m = (1.0 + RUN_SHARE) * shots.carry_m + SPREADS_SHORT * shots.length_sd_m
    plain = np.array([rows.kinds[row].flight is Flight.STOCK for row in shots.row], dtype=bool)
    short = plain & (reach_m < tried.patch.x0_m) & (shots.carry_m >= GAINS * tried.scene.pin_m)
    best = _best(tried, shots.take(np.flatnonzero(short)), most)
    return None if best is None else best.model_copy(update={"lay_up": True})


def _beside(tried: _Tried, most: float) -> Option | None:
    """The best shot aimed past one side of the trouble."""
    scene, patch = tried.scene, tried.patch
    near = tried.shots.take(np.flatnonzero(tried.shots.carry_m > patch.x0_m))
    if not len(near.row):
        return None
    aims = [_aside(scene, patch, side, near) for side in (1, -1)]
    row, carry = np.tile(near.row, 2), np.tile(near.carry_m, 2)
    shots = build(scene, tried.rows, tried.bag, row, carry, np.concatenate(aims))
    within = np.abs(shots.aim_left_m) <= FARTHEST_ASIDE * scene.pin_m
    return _best(tried, shots.take(np.flatnonzero(within)), most)


def _over(tried: _Tried, most: float) -> Option | None:
    surely = tried.shots.carry_m - SPREADS_SHORT * tried.shots.length_sd_m > tried.patch.x1_m
    return _best(tried, tried.shots.take(np.flatnonzero(surely)), most)


def _found(ways: Sequence[_Way], going: Plan, bag: Bag, only: Only, most: float) -> list[Option]:
    """What each of these ways comes to, where there is one."""
    tried: _Tried | None = None
    with suppress(CaddieError):
        tried = _tried(going.situation, bag, going.seed, only)
    if tried is None:
        return []
    found: list[Option] = []
    for way in ways:
        with suppress(CaddieError):
            option = way(tried, most)
            found += [option] if option is not None else []
    return found


def _tried(situation: Situation, bag: Bag, seed: int, only: Only) -> _Tried | None:
    """What may be tried; None where nothing lies across the line."""
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
    shots = allowed(coarse(scene, rows, bag, only), scene, rows, bag, only)
    return _Tried(scene, min(across, key=lambda patch: patch.x0_m), rows, shots, bag, seed)


def _aside(scene: Scene, patch: Patch, side: int, shots: Candidates) -> Floats:
    """How far left of the flag to aim so that a ball passes that side of the trouble [m]."""
    edge_m = patch.y1_m if side > 0 else -patch.y0_m
    far = scene.pin_m / np.maximum(np.minimum(shots.carry_m, patch.x1_m), 1.0)
    return np.asarray(side * (edge_m + SPREADS_ASIDE * shots.side_sd_m) * far)


def _best(tried: _Tried, shots: Candidates, most: float) -> Option | None:
    """The best of these shots that finds trouble no more often than ``most``, or that finds it least."""
    if not len(shots.row):
        return None
    scene, rows, bag = tried.scene, tried.rows, tried.bag
    table = hole_out_table(bag.player.handicap)
    quick = run_out(scene, rows, table).scores(shots, bag)
    shots = shots.take(best_of_each_kind(quick, shots)[:PLAYED])
    options = options_of(scene, rows, play(scene, rows, shots, draw(BALLS, tried.seed), bag, table), bag)
    least = min(option.in_trouble for option in options)
    return next(option for option in options if option.in_trouble <= max(most, least))


def clear_of_trouble(going: Plan, bag: Bag, only: Only = ANY) -> tuple[Option, ...]:
    """Both of these shots that there are and that find trouble less than the plan's own, the better first."""
    found = _found((_short, _beside), going, bag, only, CLEARER * going.chosen.in_trouble)
    clearer = (option for option in found if option.in_trouble < going.chosen.in_trouble)
    return tuple(sorted(clearer, key=lambda option: option.rank_score))


def laid_up_before_it(going: Plan, bag: Bag) -> Option | None:
    """The lay-up of who asks for one, whatever it costs; None where nothing lies across the line."""
    with suppress(CaddieError):
        most = CLEARER * going.chosen.in_trouble
        return short_of_it(going.situation, bag, going.seed, most=most)
    return None
