"""The choice: the shots the search found, ranked by strokes to hole out; a trusted shot wins a near tie."""

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import median
from caddie.bag import Bag, Club, Family
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.assume import complete
from caddie.plan.candidates import ANY, Only, family_of
from caddie.plan.dispersion import draw
from caddie.plan.escape import out_alone, sideways
from caddie.plan.expected import expected_of
from caddie.plan.finish import Candidates, finish
from caddie.plan.launches import Rows
from caddie.plan.lay_up import lays_up
from caddie.plan.option import Option, Plan
from caddie.plan.putt.off_green import PAST_HOLE_M, can_putt, no_putter_because, putter_of, putts_onto_green
from caddie.plan.reasons import reasons_for
from caddie.plan.safe_side import on_the_safe_side
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import BALLS, Outcome, launch_rows, play, search
from caddie.plan.strokes import hole_out_table
from caddie.plan.trust import chosen_of, practised, trust_in
from caddie.plan.unplayable import (
    after_drop,
    as_splashed,
    before_the_drop,
    drop_where_it_costs_less,
    is_awash,
    is_dropped,
    may_cost_less,
    said_unplayable,
    splash_or_drop,
    splashed_out,
)
from caddie.plan.value import rank_scores, strokes_of
from caddie.situation import IN_SAND, Lie, Situation

__all__ = ["Outcome", "advise", "launch_rows", "play", "rank_scores", "search", "strokes_of"]


def advise(situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY) -> Plan:
    """Choose the shot for a situation with this bag; the same seed gives the same plan.

    Args:
        situation: what was said; gaps are filled, and named in the plan's ``assumed``.
        bag: the clubs and carries to choose among.
        seed: of the simulated balls.
        only: club, swing, kind of shot or flight to keep to, as :class:`~caddie.plan.candidates.Only`.

    Raises:
        CaddieError: when the distance is not known, the bag has no measured carry, or nothing in ``only`` can be
            played from there.
    """
    if is_dropped(situation) and situation.lie is not Lie.GREEN:
        return before_the_drop(_as_it_lies(after_drop(situation), bag, seed, only), situation, bag)
    if is_awash(situation):
        splash = _as_it_lies(splashed_out(situation), bag, seed, only)
        if only.family is Family.SPLASH:
            return as_splashed(splash, situation)
        return splash_or_drop(
            splash, advise(situation.model_copy(update={"unplayable": True}), bag, seed, only)
        )
    played = _as_it_lies(situation, bag, seed, only)
    if only != ANY or not may_cost_less(played, bag):
        return played
    return drop_where_it_costs_less(played, advise(said_unplayable(situation), bag, seed), bag)


def _as_it_lies(situation: Situation, bag: Bag, seed: int, only: Only) -> Plan:
    complete_situation, assumed = complete(situation)
    if complete_situation.lie is Lie.GREEN:
        from caddie.plan.putt.choose import plan_putt

        return plan_putt(complete_situation, assumed, bag, seed)
    if complete_situation.green.borrow is not None:
        from caddie.plan.putt.borrow import as_read, side_slope_taken

        complete_situation = as_read(complete_situation, bag)
        assumed |= side_slope_taken(complete_situation, assumed)
    scene = lay_out(complete_situation, bag)
    options, considered = _all_options(scene, bag, seed, only)
    best = options[0]
    chosen = chosen_of(options, bag.player.margin_strokes, complete_situation)
    chosen = on_the_safe_side(scene, bag, chosen, seed)
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
    putts = only.allows_putting(bag) and not out_alone(scene.situation)
    putts = putts and can_putt(scene, bag, asked=only.is_putting(bag))
    putter = putter_of(bag) if putts else None
    if putter is not None:
        options.append(_putt_option(scene, bag, putter, seed))
        considered += len(PAST_HOLE_M)
    way_out = sideways(scene, bag) if only == ANY else None
    if not only.is_putting(bag) and not (way_out and out_alone(scene.situation)):
        outcome, rows, tried = search(scene, bag, seed, only=only)
        options += options_of(scene, rows, outcome, bag)
        considered += tried
    if way_out is not None:
        options.append(way_out)
    if not options:
        because = no_putter_because(scene, asked=only.is_putting(bag))
        if not because:
            # It is what else was asked of it that keeps it from being played, and not the place.
            raise CaddieError("that is no shot with the putter: ask about another club or swing")
        raise CaddieError(f"the putter does not play from there, {because}: ask about another club")
    return tuple(sorted(options, key=lambda option: option.rank_score)), considered


def way_out(situation: Situation, bag: Bag) -> Option | None:
    """The shot out to short grass beside the way, from sand or from under trees; None from elsewhere."""
    there = complete(situation)[0]
    in_sand = there.lie in IN_SAND
    return sideways(lay_out(there, bag), bag, asked=in_sand)


def aside_of(plan: Plan, bag: Bag) -> Option | None:
    """The way out sideways of a plan: among its options, or from where it is played; None where there is none."""
    among = next((option for option in plan.options if option.sideways), None)
    return among or way_out(plan.situation, bag)


def _putt_option(scene: Scene, bag: Bag, putter: Club, seed: int) -> Option:
    putts = putts_onto_green(scene, bag, draw(BALLS, seed))
    strokes = strokes_of(scene, putts.finishes, hole_out_table(bag.player.handicap))
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
        run_m=round(float(putts.meant_m[i]), 3),
        roll_m=round(float(putts.rolls_m[i]), 3),
        land_short_of_pin_m=round(scene.pin_m, 3),
        aim_left_m=round(float(putts.aim_left_m[i]), 3),
        heavy=0.0,
        thin=0.0,
        trust=trust_in(Family.PUTT, bag),
        rank_score=round(float(score[i]), 4),
        **expected_of(scene, putts.finishes, strokes, i),
    )


def options_of(scene: Scene, rows: Rows, outcome: Outcome, bag: Bag) -> tuple[Option, ...]:
    """Shots that were played, as what is told of them, best first."""
    score = rank_scores(outcome.strokes, bag.player.risk)
    order = np.argsort(score, kind="stable")
    carry_m = _pitched_at(scene, rows, outcome.shots)
    return tuple(
        _option(scene, rows, outcome, int(i), float(carry_m[i]), float(score[i]), bag) for i in order
    )


def _pitched_at(scene: Scene, rows: Rows, shots: Candidates) -> NDArray[np.float64]:
    """Where a ball struck as meant first meets the ground [m], shape ``(c,)``: a bank may rise to meet it."""
    aim = np.arctan(shots.aim_left_m / scene.pin_m)
    return finish(scene, rows, shots.row, shots.speed_m_s, aim, np.zeros_like(aim)).land_x_m


def _option(
    scene: Scene, rows: Rows, outcome: Outcome, i: int, carry_m: float, score: float, bag: Bag
) -> Option:
    shots, finishes = outcome.shots, outcome.finishes
    row = int(shots.row[i])
    curve = rows.curve_of(row)
    clean = finishes.clean[i]
    # A ball that a branch knocks down has no run to be told.
    run_m = median(finishes.free_x_m[i][clean] - finishes.land_x_m[i][clean])
    family = family_of(scene, rows, row, float(shots.carry_m[i]))
    owned = bool(shots.owned[i])
    trust = trust_in(family, bag, practised(family, rows, row, float(shots.share[i]), bag))
    return Option(
        club=curve.club.id,
        loft_deg=curve.club.loft_deg,
        swing=curve.name_at(float(shots.share[i])),
        share=round(float(shots.share[i]), 4),
        family=family,
        flight=rows.kinds[row].flight,
        wide_open=rows.kinds[row].wide_open,
        lay_up=lays_up(scene, carry_m),
        carry_m=round(carry_m, 3),
        run_m=round(run_m, 3),
        land_short_of_pin_m=round(scene.pin_m - carry_m, 3),
        aim_left_m=round(float(shots.aim_left_m[i]), 3),
        aim_saves=round(float(shots.aim_saves[i]), 4),
        heavy=round(float(shots.heavy[i]), 4),
        thin=round(float(shots.thin[i]), 4),
        owned=owned,
        trust=round(trust, 3),
        rank_score=round(score, 4),
        **expected_of(scene, finishes, outcome.strokes, i),
    )
