"""The choice: simulate coarse, then fine, rank by strokes to hole out; a trusted shot wins a near tie."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from caddie.bag import Bag, Club, Family, Risk
from caddie.ball.ground import Surface
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, Only, allowed, coarse, family_of, fine, same_swing
from caddie.plan.dispersion import Draws, draw
from caddie.plan.finish import Candidates, Finishes, simulate
from caddie.plan.launches import Rows, tabulate_launches
from caddie.plan.putter import PAST_M, can_putt, putter_of, roll_putts
from caddie.plan.reasons import reasons_for
from caddie.plan.scene import Scene, lay_out
from caddie.plan.shot import Option, Plan
from caddie.plan.strokes import HoleOutTable, hole_out_table, out_of_bounds_cost, water_cost
from caddie.plan.swings import swing_curves
from caddie.situation import Lie, Situation

Floats = NDArray[np.float64]

COARSE_BALLS = 100
FINE_BALLS = 800
KEPT = 14
"""Candidates refined after the coarse pass."""
UNSAID_TRUST = 0.5
"""Trust in a kind of shot that the bag says nothing about."""
NOT_OWNED = 0.8
"""Trust in a swing between two measured ones, as a share of that in a measured one."""
WORST_REGRET = 1.0
"""Counted when the chosen club cannot play from the lie at all."""
REGRET_BALLS = 40
REGRET_STEP = 2
"""Of the coarse candidates every so manieth stands for its neighbours in a regret."""
TAIL_SHARE = 0.1
RISK_WEIGHT = {Risk.CAREFUL: 0.12, Risk.EVEN: 0.0, Risk.BOLD: -0.06}
"""How far the ranking moves from the mean toward the mean of the worst tenth."""

_TROUBLE = (Surface.WATER, Surface.OUT_OF_BOUNDS, Surface.TREES, Surface.SAND)
_LIE_AFTER = {
    Surface.GREEN: Lie.GREEN,
    Surface.FRINGE: Lie.FRINGE,
    Surface.FAIRWAY: Lie.FAIRWAY,
    Surface.LIGHT_ROUGH: Lie.LIGHT_ROUGH,
    Surface.HEAVY_ROUGH: Lie.HEAVY_ROUGH,
    Surface.SAND: Lie.BUNKER,
    Surface.BARE: Lie.BARE,
    Surface.PINE_STRAW: Lie.PINE_STRAW,
}


@dataclass(frozen=True)
class Outcome:
    """Every candidate with what its balls cost, shape ``(c, n)``."""

    shots: Candidates
    finishes: Finishes
    strokes: Floats


def advise(situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY) -> Plan:
    """Choose the shot for a situation with this bag; the same seed gives the same plan.

    Raises:
        CaddieError: when the bag has no measured carry, or nothing in ``only`` can be played from there.
        ValueError: when the distance is unknown (:func:`caddie.plan.assume.question_for` has the question).
    """
    complete_situation, assumed = complete(situation)
    if complete_situation.lie is Lie.GREEN:
        from caddie.plan.putt import plan_putt

        return plan_putt(complete_situation, assumed, bag, seed)
    scene = lay_out(complete_situation, bag)
    options, considered = _all_options(scene, bag, seed, only)
    best = options[0]
    chosen = _trusted(options, bag.player.margin_strokes)
    return Plan(
        situation=complete_situation,
        assumed=assumed,
        options=options,
        chosen=chosen,
        reasons=reasons_for(chosen, best, options, complete_situation, bag),
        considered=considered,
        seed=seed,
    )


def _all_options(scene: Scene, bag: Bag, seed: int, only: Only) -> tuple[tuple[Option, ...], int]:
    """Every distinct shot, best first, the putter from off the green among them."""
    options: list[Option] = []
    considered = 0
    putter = putter_of(bag) if can_putt(scene, bag) and only.allows_putting(bag) else None
    if putter is not None:
        options.append(_putt_option(scene, bag, putter, seed))
        considered += len(PAST_M)
    if not only.is_putting(bag):
        outcome, rows, tried = search(scene, bag, seed, only=only)
        options += _options(scene, rows, outcome, bag)
        considered += tried
    if not options:
        raise CaddieError("the putter does not play from there: ask about another club")
    return tuple(sorted(options, key=lambda option: option.rank_score)), considered


def search(
    scene: Scene, bag: Bag, seed: int, breadth: int = 1, only: Only = ANY
) -> tuple[Outcome, Rows, int]:
    """Simulate coarse, keep the best, simulate those and their neighbours with more balls.

    ``breadth`` multiplies balls and survivors, for checking the search against a wider one.
    Returns the fine outcome, the launch rows and the number of candidates tried.
    """
    rows = launch_rows(scene, bag, only)
    table = hole_out_table(bag.player.handicap)
    draws = draw(FINE_BALLS * breadth, seed)
    first = allowed(coarse(scene, rows, bag), scene, rows, bag, only)
    rough = play(scene, rows, first, draws.first(COARSE_BALLS * breadth), bag, table)
    kept = _best_of_each_kind(rank_scores(rough.strokes, bag.player.risk), first, KEPT * breadth)
    tuned = allowed(fine(scene, rows, bag, first.take(kept)), scene, rows, bag, only)
    trial = play(scene, rows, tuned, draws.first(COARSE_BALLS * 2 * breadth), bag, table)
    finalists = _best_of_each_kind(rank_scores(trial.strokes, bag.player.risk), tuned, KEPT * breadth)
    outcome = play(scene, rows, tuned.take(finalists), draws, bag, table)
    return outcome, rows, len(first.row) + len(tuned.row)


def regret(
    situation: Situation, option: Option, bag: Bag, seed: int, rows: Rows | None = None, breadth: int = 1
) -> float:
    """What playing ``option`` costs [strokes] against the best shot when ``situation`` is true.

    The best shot is picked with one half of the balls and both are counted with the other half: the best of
    many looks better than it is on the balls it was picked by. The estimate may so come out a little below
    zero. ``rows`` spares tabulating launches that are the same in another situation; ``breadth`` multiplies
    the balls.
    """
    filled, _ = complete(situation)
    if filled.lie is Lie.GREEN:
        return 0.0
    scene = lay_out(filled, bag)
    rows = rows or launch_rows(scene, bag, ANY)
    strokes = _strokes_for_regret(scene, rows, option, bag, draw(2 * REGRET_BALLS * breadth, seed))
    if strokes is None:
        return WORST_REGRET
    mine, others = strokes
    picked, counted = np.split(others, 2, axis=1)
    best = int(np.argmin(rank_scores(picked, bag.player.risk)))
    played = int(np.argmin(rank_scores(np.split(mine, 2, axis=1)[0], bag.player.risk)))
    return float(
        rank_scores(np.split(mine, 2, axis=1)[1], bag.player.risk)[played]
        - rank_scores(counted, bag.player.risk)[best]
    )


def _strokes_for_regret(
    scene: Scene, rows: Rows, option: Option, bag: Bag, draws: Draws
) -> tuple[Floats, Floats] | None:
    """Strokes of the option's own balls and of every other shot's, each ``(c, n)``; None if it cannot be."""
    table = hole_out_table(bag.player.handicap)
    putter = can_putt(scene, bag)
    putts = [strokes_of(scene, roll_putts(scene, bag, draws)[1], table)] if putter else []
    if option.family is Family.PUTT:
        if not putts:
            return None
        mine = putts[0]
    else:
        same = same_swing(scene, rows, bag, option)
        if same is None:
            return None
        mine = play(scene, rows, same, draws, bag, table).strokes
    shots = coarse(scene, rows, bag)
    shots = shots.take(np.arange(0, len(shots.row), REGRET_STEP))
    return mine, np.concatenate([mine, *putts, play(scene, rows, shots, draws, bag, table).strokes])


def launch_rows(scene: Scene, bag: Bag, only: Only) -> Rows:
    """The launches that the bag, the lie and ``only`` allow.

    Raises:
        CaddieError: when there are none, or the bag has no such club.
    """
    curves = swing_curves(bag, scene.measured_air)
    if not curves:
        raise CaddieError("the bag has no measured carry: add one, or run 'caddie bag new'")
    return tabulate_launches(
        scene, tuple(curve for curve in curves if only.allows_club(curve.club, bag)), bag
    )


def play(scene: Scene, rows: Rows, shots: Candidates, draws: Draws, bag: Bag, table: HoleOutTable) -> Outcome:
    """Simulate the candidates and count the strokes of every ball."""
    finishes = simulate(scene, rows, shots, draws, bag)
    return Outcome(shots, finishes, strokes_of(scene, finishes, table))


def strokes_of(scene: Scene, finishes: Finishes, table: HoleOutTable) -> Floats:
    """Strokes to hole out of every ball, the stroke itself included.

    Out of bounds costs stroke and distance (Rule 18.2), water a penalty stroke and the previous spot
    (Rule 17.1d), trees a recovery.
    """
    distance = np.hypot(scene.pin_m - finishes.x_m, finishes.y_m)
    cost = np.empty_like(distance)
    lie = scene.situation.lie or Lie.FAIRWAY
    for code in np.unique(finishes.surface):
        there = finishes.surface == code
        surface = Surface(int(code))
        if surface is Surface.WATER:
            cost[there] = water_cost(table, scene.pin_m, lie)
        elif surface is Surface.OUT_OF_BOUNDS:
            cost[there] = out_of_bounds_cost(table, scene.pin_m, lie)
        elif surface is Surface.TREES:
            cost[there] = table.recovery(distance[there])
        else:
            cost[there] = table.strokes(distance[there], _LIE_AFTER[surface])
    return 1.0 + np.where(finishes.holed, 0.0, cost)


def rank_scores(strokes: Floats, risk: Risk) -> Floats:
    """What candidates are ranked by, shape ``(c,)``: the mean, moved by the risk dial toward the bad tail."""
    mean = strokes.mean(axis=1)
    return np.asarray(mean + RISK_WEIGHT[risk] * (_tail(strokes) - mean))


def _tail(strokes: Floats) -> Floats:
    worst = max(int(strokes.shape[1] * TAIL_SHARE), 1)
    return np.asarray(np.partition(strokes, -worst, axis=1)[:, -worst:].mean(axis=1))


def _best_of_each_kind(score: Floats, shots: Candidates, count: int) -> NDArray[np.int64]:
    """Positions of the best candidate of every launch row, measured and other swings apart, best first."""
    order = np.argsort(score, kind="stable")
    _, first = np.unique(shots.row[order] * 2 + shots.owned[order], return_index=True)
    return order[np.sort(first)][:count]


def _putt_option(scene: Scene, bag: Bag, putter: Club, seed: int) -> Option:
    meant, finishes = roll_putts(scene, bag, draw(FINE_BALLS, seed))
    strokes = strokes_of(scene, finishes, hole_out_table(bag.player.handicap))
    score = rank_scores(strokes, bag.player.risk)
    i = int(np.argmin(score))
    return Option(
        club=putter.id,
        loft_deg=putter.loft_deg,
        swing="putt",
        share=0.0,
        owned=True,
        family=Family.PUTT,
        flight=Flight.LOW,
        carry_m=0.0,
        run_m=round(float(meant[i]), 3),
        land_short_of_pin_m=round(scene.pin_m, 3),
        heavy=0.0,
        thin=0.0,
        trust=bag.trust.get(Family.PUTT, UNSAID_TRUST),
        rank_score=round(float(score[i]), 4),
        **_expected(scene, finishes, strokes, i),
    )


def _expected(scene: Scene, finishes: Finishes, strokes: Floats, i: int) -> dict[str, float]:
    """What the balls of candidate ``i`` come to: strokes, shares of finishes and the leave."""
    surface, x_m = finishes.surface[i], finishes.x_m[i]
    on_green = finishes.holed[i] | (surface == int(Surface.GREEN))
    return {
        "strokes": round(float(strokes[i].mean()), 4),
        "strokes_se": round(float(strokes[i].std(ddof=1) / np.sqrt(strokes.shape[1])), 4),
        "bad_tail": round(float(_tail(strokes[i : i + 1])[0]), 4),
        "on_green": float(on_green.mean()),
        "in_trouble": float(np.isin(surface, [int(code) for code in _TROUBLE]).mean()),
        "short_of_green": float((~on_green & (x_m < scene.front_m)).mean()),
        "through_green": float((~on_green & (x_m > scene.back_m)).mean()),
        "leave_m": round(float(np.median(np.hypot(scene.pin_m - x_m, finishes.y_m[i]))), 3),
    }


def _options(scene: Scene, rows: Rows, outcome: Outcome, bag: Bag) -> tuple[Option, ...]:
    score = rank_scores(outcome.strokes, bag.player.risk)
    order = np.argsort(score, kind="stable")
    return tuple(_option(scene, rows, outcome, int(i), float(score[i]), bag) for i in order)


def _option(scene: Scene, rows: Rows, outcome: Outcome, i: int, score: float, bag: Bag) -> Option:
    shots, finishes = outcome.shots, outcome.finishes
    row = int(shots.row[i])
    curve = rows.curve_of(row)
    clean = finishes.clean[i]
    carry_m = float(shots.carry_m[i])
    run_m = float(np.median(finishes.x_m[i][clean] - finishes.land_x_m[i][clean]))
    family = family_of(scene, rows, row, carry_m)
    owned = bool(shots.owned[i])
    trust = bag.trust.get(family, UNSAID_TRUST) * (1.0 if owned else NOT_OWNED)
    return Option(
        club=curve.club.id,
        loft_deg=curve.club.loft_deg,
        swing=curve.name_at(float(shots.share[i])),
        share=round(float(shots.share[i]), 4),
        family=family,
        flight=rows.kinds[row].flight,
        wide_open=rows.kinds[row].wide_open,
        carry_m=round(carry_m, 3),
        run_m=round(run_m, 3),
        land_short_of_pin_m=round(scene.pin_m - carry_m, 3),
        aim_left_m=round(float(shots.aim_left_m[i]), 3),
        heavy=round(float(shots.heavy[i]), 4),
        thin=round(float(shots.thin[i]), 4),
        owned=owned,
        trust=round(trust, 3),
        rank_score=round(score, 4),
        **_expected(scene, finishes, outcome.strokes, i),
    )


def _trusted(options: tuple[Option, ...], margin: float) -> Option:
    """The best by numbers, or a more trusted shot that loses less than the player's margin."""
    best = options[0]
    near = [option for option in options if option.rank_score < best.rank_score + margin]
    favourite = max(near, key=lambda option: (option.trust, -option.rank_score))
    if favourite is best or favourite.trust < best.trust + 0.1:
        return best
    return favourite.model_copy(update={"trusted": True})
