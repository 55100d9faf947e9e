"""The putt: its read, the pace that costs fewest putts for this player and slope, and the odds."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from caddie.arrays import Floats, distinct
from caddie.bag import Bag, Family
from caddie.ball.ground import Surface
from caddie.ball.hole import Hole
from caddie.ball.launch import Flight
from caddie.ball.track import roll_putts
from caddie.errors import CaddieError
from caddie.plan.option import Option, Plan, PuttLine
from caddie.plan.putt.after import Putts, next_chance, simulate
from caddie.plan.putt.aim_range import aim_range
from caddie.plan.putt.borrow import (
    OwnRead,
    own_read,
    read_disagrees,
    side_slope_field,
    side_slope_taken,
    with_side_slope,
)
from caddie.plan.putt.green import (
    DOWN_A_STEP,
    LONGEST_PUTT_M,
    NEAREST_PUTT_M,
    STEP_M,
    PuttGreen,
    green_of,
    usual_heights,
)
from caddie.plan.putt.off_green import putter_of
from caddie.plan.putt.player import errors, stroke_for
from caddie.plan.putt.read import PAST_SHAPE_M, PASTS_M, pace_m, read_putt
from caddie.plan.putt.reasons import putt_reasons
from caddie.plan.trust import trust_in
from caddie.situation import Borrow, Situation
from caddie.units import in_feet

HIGHER_M = np.array([-0.02, 0.0, 0.02, 0.04])
"""Aims tried about the line over the middle, at the hole, toward the high side."""
COARSE_PUTTS = 240
FINE_PUTTS = 2000
PUTTER_LOFT_DEG = 3.0

_TROUBLE = [int(each) for each in (Surface.WATER, Surface.OUT_OF_BOUNDS, Surface.TREES, Surface.SAND)]


@dataclass(frozen=True)
class ChosenPutt:
    """The putt chosen: its start, its arrival speed as a length, and what its putts came to."""

    speed_m_s: float
    azimuth_rad: float
    past_flat_m: float
    putts: Putts


def plan_putt(situation: Situation, assumed: dict[str, Any], bag: Bag, seed: int) -> Plan:
    """Read and pace a putt of a completed situation; the same seed gives the same plan.

    Raises:
        CaddieError: a putt shorter than half a foot or longer than 150 feet.
    """
    pin_m = situation.pin_m
    if pin_m is None or not NEAREST_PUTT_M <= pin_m <= LONGEST_PUTT_M:
        feet = "of unknown length" if pin_m is None else f"of {in_feet(pin_m):.3g} feet"
        raise CaddieError(f"a putt {feet}: say a length from half a foot to 150 feet")
    assumed |= usual_heights(situation)
    read = own_read(situation, bag)
    if read is not None:
        return _as_told(situation, assumed, read, bag, seed)
    green = green_of(situation, bag)
    choice = choose_putt(green, bag.player.handicap, seed)
    aim_left_m = pin_m * math.tan(choice.azimuth_rad)
    ends = aim_range(situation, assumed, bag, choice.past_flat_m, aim_left_m)
    return _plan(situation, assumed, _option(green, choice, ends, bag), green, bag, seed)


def _as_told(situation: Situation, assumed: dict[str, Any], read: OwnRead, bag: Bag, seed: int) -> Plan:
    """The plan on the player's own line: its pace is chosen, and the side slope is the one that suits both."""
    handicap = bag.player.handicap
    first = choose_putt(green_of(with_side_slope(situation, read.side_slope), bag), handicap, seed)
    at_pace = own_read(situation, bag, first.past_flat_m) or read
    seen = with_side_slope(situation, at_pace.side_slope)
    green = green_of(seen, bag)
    azimuth = np.array(math.atan2(at_pace.aim_left_m, green.pin_m))
    speed, _ = read_putt(green.ground, green.pin_m).at(first.past_flat_m)
    putts = simulate(green, stroke_for(handicap), speed, azimuth, errors(FINE_PUTTS, seed), handicap)
    choice = ChosenPutt(float(speed), float(azimuth), first.past_flat_m, putts)
    told = at_pace.borrow if at_pace.allowed else None
    option = _option(green, choice, (at_pace.aim_left_m, at_pace.aim_left_m), bag, told)
    field = side_slope_field(situation)
    said = with_side_slope(situation, 0.0) if field in assumed else situation
    assumed = assumed | side_slope_taken(seen, assumed)
    return _plan(seen, assumed, option, green, bag, seed, read_disagrees(said, at_pace, bag))


def _plan(
    situation: Situation,
    assumed: dict[str, Any],
    option: Option,
    green: PuttGreen,
    bag: Bag,
    seed: int,
    disagrees: str | None = None,
) -> Plan:
    reasons = putt_reasons(option, situation, green, bag.player.putt_unit)
    return Plan(
        situation=situation,
        assumed=assumed,
        options=(option,),
        chosen=option,
        reasons=(disagrees, *reasons) if disagrees else reasons,
        considered=PASTS_M.size + 3 * HIGHER_M.size,
        seed=seed,
    )


def choose_putt(green: PuttGreen, handicap: float, seed: int) -> ChosenPutt:
    """The pace and line of fewest expected putts, tried with the same errors for each."""
    read = read_putt(green.ground, green.pin_m, pasts_of(green))
    stroke = stroke_for(handicap)
    pasts, speed, azimuth = read.past_flat_m, read.speed_m_s, read.azimuth_rad
    few = errors(COARSE_PUTTS, seed)
    score = simulate(green, stroke, speed, azimuth, few, handicap).strokes.mean(axis=-1)
    if green.across:
        best = int(np.argmin(score))
        near = distinct(np.clip([best - 1, best, best + 1], 0, pasts.size - 1))
        higher = math.copysign(1.0, green.across) * HIGHER_M / green.pin_m
        pasts, speed = np.repeat(pasts[near], HIGHER_M.size), np.repeat(speed[near], HIGHER_M.size)
        azimuth = (azimuth[near][:, None] + higher).ravel()
        score = simulate(green, stroke, speed, azimuth, few, handicap).strokes.mean(axis=-1)
    best = int(np.argmin(score))
    many = errors(FINE_PUTTS, seed)
    putts = simulate(green, stroke, speed[best], azimuth[best], many, handicap)
    return ChosenPutt(float(speed[best]), float(azimuth[best]), float(pasts[best]), putts)


def putt_at(plan: Plan, past_flat_m: float, bag: Bag, aim_left_m: float | None = None) -> Option:
    """The same putt at another pace, on the line that goes with it or on another one.

    Parameters:
        past_flat_m: the arrival speed as a length: how far past the hole it would roll on the level.
        aim_left_m: how far left of the hole it is aimed, where that is not the line of the pace.
    """
    green, handicap = green_of(plan.situation, bag), bag.player.handicap
    speed, azimuth = read_putt(green.ground, green.pin_m, pasts_of(green)).at(past_flat_m)
    if aim_left_m is not None:
        azimuth = np.arctan2(aim_left_m, green.pin_m)
    putts = simulate(green, stroke_for(handicap), speed, azimuth, errors(FINE_PUTTS, plan.seed), handicap)
    choice = ChosenPutt(float(speed), float(azimuth), past_flat_m, putts)
    aim_left_m = green.pin_m * math.tan(choice.azimuth_rad)
    return _option(green, choice, (aim_left_m, aim_left_m), bag)


def pasts_of(green: PuttGreen) -> Floats:
    """Arrivals that are tried, as how far past the hole the ball would roll on the level [m]."""
    return np.append(PASTS_M, PAST_SHAPE_M) if green.judged_m > DOWN_A_STEP * STEP_M else PASTS_M


def covered_roll_m(green: PuttGreen, speed_m_s: float, azimuth_rad: float) -> tuple[float, float]:
    """Where the putt as meant stops when the hole is covered, (x, y) [m]."""
    nowhere = Hole(-1e3)
    end = roll_putts(green.ground, np.array([speed_m_s]), np.array([azimuth_rad]), nowhere).end
    return float(end.x_m[0]), float(end.y_m[0])


def _option(
    green: PuttGreen, choice: ChosenPutt, ends: tuple[float, float], bag: Bag, told: Borrow | None = None
) -> Option:
    putter = putter_of(bag)
    rolled, strokes = choice.putts.rolled.end, choice.putts.strokes
    missed = ~rolled.holed
    left_m = np.hypot(rolled.x_m - green.pin_m, rolled.y_m)
    surface = green.ground.surface_at(rolled.x_m, rolled.y_m)
    off_green = missed & (surface != int(Surface.GREEN))
    three = np.where(rolled.holed, 0.0, 1.0 - next_chance(green, rolled, bag.player.handicap))
    worst = max(int(strokes.size * 0.1), 1)
    return Option(
        club=putter.id if putter else "putter",
        loft_deg=putter.loft_deg if putter else PUTTER_LOFT_DEG,
        swing="putt",
        share=0.0,
        owned=True,
        family=Family.PUTT,
        flight=Flight.LOW,
        carry_m=0.0,
        run_m=round(green.pin_m, 3),
        land_short_of_pin_m=round(green.pin_m, 3),
        aim_left_m=round(green.pin_m * math.tan(choice.azimuth_rad), 3) + 0.0,
        strokes=round(float(strokes.mean()), 4),
        strokes_se=round(float(strokes.std(ddof=1) / math.sqrt(strokes.size)), 4),
        bad_tail=round(float(np.partition(strokes, -worst)[-worst:].mean()), 4),
        on_green=round(float(1 - off_green.mean()), 4),
        in_trouble=round(float((missed & np.isin(surface, _TROUBLE)).mean()), 4),
        short_of_green=0.0,
        through_green=round(float(off_green.mean()), 4),
        leave_m=round(float(np.median(left_m[missed])), 3) if missed.any() else 0.0,
        heavy=0.0,
        thin=0.0,
        trust=trust_in(Family.PUTT, bag),
        rank_score=round(float(strokes.mean()), 4),
        pace_m=round(pace_m(choice.speed_m_s, choice.past_flat_m, green), 3),
        make=round(float(rolled.holed.mean()), 4),
        three_putt=round(float(three.mean()), 4),
        line=_line(green, choice, ends, bag.player.pace_m, told),
    )


def _line(
    green: PuttGreen,
    choice: ChosenPutt,
    ends: tuple[float, float],
    pace_ahead_m: float,
    told: Borrow | None,
) -> PuttLine:
    rolled, passing = choice.putts.rolled.end, choice.putts.rolled.passing
    missed = ~rolled.holed
    stop_x, stop_y = covered_roll_m(green, choice.speed_m_s, choice.azimuth_rad)
    past_m = math.hypot(stop_x - green.pin_m, stop_y)
    if not green.holds and missed.any():
        # Straight up such a slope the ball as meant would balance; none that is struck does.
        past_m = max(past_m, float(np.median(np.hypot(rolled.x_m - green.pin_m, rolled.y_m)[missed])))
    spot_m = min(pace_ahead_m, 0.5 * green.pin_m)
    low = missed & (passing.offset_m * green.across < 0)
    return PuttLine(
        speed_m_s=round(choice.speed_m_s, 5),
        azimuth_rad=round(choice.azimuth_rad, 6) + 0.0,
        past_flat_m=round(choice.past_flat_m, 4),
        past_m=round(past_m, 3),
        spot_ahead_m=spot_m,
        spot_left_m=round(spot_m * math.tan(choice.azimuth_rad), 4) + 0.0,
        aim_least_left_m=round(ends[0], 3) + 0.0,
        aim_most_left_m=round(ends[1], 3) + 0.0,
        short=round(float((missed & (passing.farthest_x_m < green.pin_m)).mean()), 4),
        low=round(float(low.sum() / max(missed.sum(), 1)), 4),
        holds=green.holds,
        told=told,
    )
