"""The putt: its read, the pace that costs fewest putts for this player and slope, and the odds."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from caddie.bag import Bag, Club, Family
from caddie.ball.launch import Flight
from caddie.ball.turf import steepest_hold
from caddie.errors import CaddieError
from caddie.plan.putt_after import putts_left
from caddie.plan.putt_green import FARTHEST_PUTT_M, NEAREST_PUTT_M, PuttGreen, green_of
from caddie.plan.putt_player import Stroke, errors, stroke_for
from caddie.plan.putt_range import aim_range
from caddie.plan.putt_read import Read, pace_m, read_putt
from caddie.plan.putt_reasons import putt_reasons
from caddie.plan.putt_roll import Floats, Rolled, roll_putts
from caddie.plan.putter import putter_of
from caddie.plan.shot import Option, Plan, PuttLine
from caddie.situation import Situation
from caddie.units import FOOT_M

PASTS_M = np.array([0.06, 0.12, 0.2, 0.3, 0.42, 0.58, 0.8, 1.05, 1.4])
"""Paces tried: how far past the hole the ball would roll on the level, dying to firm."""
HIGHER = np.array([-0.02, 0.0, 0.02, 0.04])
"""Aims tried about the line over the middle [m at the hole], toward the high side."""
COARSE_PUTTS = 240
FINE_PUTTS = 2000
UNSAID_TRUST = 0.5


@dataclass(frozen=True)
class Choice:
    """The putt chosen: its start, the read it comes from and what its putts came to."""

    speed_m_s: float
    azimuth_rad: float
    past_flat_m: float
    read: Read
    rolled: Rolled
    strokes: Floats
    three_putt: float


def plan_putt(situation: Situation, assumed: dict[str, Any], bag: Bag, seed: int) -> Plan:
    """Read and pace a putt of a completed situation; the same seed gives the same plan.

    Raises:
        CaddieError: a putt shorter than half a foot or longer than 150 feet.
    """
    pin_m = situation.pin_m
    if pin_m is None or not NEAREST_PUTT_M <= pin_m <= FARTHEST_PUTT_M:
        feet = "an unknown length" if pin_m is None else f"{pin_m / FOOT_M:.1f} feet"
        raise CaddieError(f"a putt of {feet}: say a length from half a foot to 150 feet")
    green = green_of(situation, bag)
    choice = choose_putt(green, bag.player.handicap, seed)
    option = _option(green, choice, situation, bag)
    return Plan(
        situation=situation,
        assumed=assumed,
        options=(option,),
        chosen=option,
        reasons=putt_reasons(option, situation, green),
        considered=PASTS_M.size * HIGHER.size,
        seed=seed,
    )


def choose_putt(green: PuttGreen, handicap: float, seed: int) -> Choice:
    """The pace and line of fewest expected putts, tried with the same errors for each."""
    read = read_putt(green.ground, green.pin_m)
    stroke = stroke_for(handicap)
    pasts = _paces(read)
    speed, azimuth = read.at(pasts)
    few = errors(COARSE_PUTTS, seed)
    score = simulate(green, read, stroke, speed, azimuth, few, handicap)[1].mean(axis=-1)
    best = int(np.argmin(score))
    near = np.unique(np.clip([best - 1, best, best + 1], 0, pasts.size - 1))
    high = 1.0 if green.across >= 0 else -1.0
    aims = azimuth[near][:, None] + high * HIGHER[None, :] / green.pin_m
    paces = np.broadcast_to(speed[near][:, None], aims.shape)
    score = simulate(green, read, stroke, paces, aims, few, handicap)[1].mean(axis=-1)
    if green.across == 0:
        score[:, HIGHER != 0] = np.inf
    row, column = np.unravel_index(int(np.argmin(score)), score.shape)
    speed_m_s, azimuth_rad = float(paces[row, column]), float(aims[row, column])
    rolled, strokes, three = simulate(
        green, read, stroke, np.array(speed_m_s), np.array(azimuth_rad), errors(FINE_PUTTS, seed), handicap
    )
    return Choice(speed_m_s, azimuth_rad, float(pasts[near[row]]), read, rolled, strokes, float(three.mean()))


def simulate(
    green: PuttGreen,
    read: Read,
    stroke: Stroke,
    speed_m_s: Floats,
    azimuth_rad: Floats,
    drawn: Floats,
    handicap: float,
) -> tuple[Rolled, Floats, Floats]:
    """Putts meant so (...,), struck with errors (2, n): what became of them, putts to hole out, chance of three."""
    speed, azimuth = stroke.scatter(speed_m_s, azimuth_rad, green.pin_m, read.resist_m_s2, drawn)
    rolled = roll_putts(green.ground, speed, azimuth, (green.pin_m, 0.0))
    after, one_more = putts_left(green, rolled, handicap)
    return rolled, np.where(rolled.holed, 1.0, 1.0 + after), np.where(rolled.holed, 0.0, 1.0 - one_more)


def _paces(read: Read) -> Floats:
    """Paces to try, within what the read can deliver; on a slope nothing can die on, the softest few."""
    least, most = float(read.past_flat_m[0]), float(read.past_flat_m[-1])
    wanted = PASTS_M[(PASTS_M > least) & (PASTS_M < most)]
    return wanted if wanted.size >= 3 else least + PASTS_M[:5]


def _option(green: PuttGreen, choice: Choice, situation: Situation, bag: Bag) -> Option:
    putter: Club | None = putter_of(bag)
    rolled, strokes = choice.rolled, choice.strokes
    aim_left_m = green.pin_m * math.tan(choice.azimuth_rad)
    left_m = np.hypot(rolled.x_m - green.pin_m, rolled.y_m)
    straight = roll_putts(
        green.ground, np.array([choice.speed_m_s]), np.array([choice.azimuth_rad]), (-1e3, 0.0)
    )
    past_m = math.hypot(float(straight.x_m[0]) - green.pin_m, float(straight.y_m[0]))
    least, most = aim_range(green, choice.past_flat_m, aim_left_m)
    worst = max(int(strokes.size * 0.1), 1)
    missed = ~rolled.holed
    spot_m = min(bag.player.pace_m, 0.5 * green.pin_m)
    off_green = green.ground.surface_at(rolled.x_m, rolled.y_m) != 0
    return Option(
        club=putter.id if putter else "putter",
        loft_deg=putter.loft_deg if putter else 3.0,
        swing="putt",
        share=0.0,
        owned=True,
        family=Family.PUTT,
        flight=Flight.LOW,
        carry_m=0.0,
        run_m=round(green.pin_m, 3),
        land_short_of_pin_m=round(green.pin_m, 3),
        aim_left_m=round(aim_left_m, 3),
        strokes=round(float(strokes.mean()), 4),
        strokes_se=round(float(strokes.std(ddof=1) / math.sqrt(strokes.size)), 4),
        bad_tail=round(float(np.partition(strokes, -worst)[-worst:].mean()), 4),
        on_green=float((rolled.holed | ~off_green).mean()),
        in_trouble=0.0,
        short_of_green=0.0,
        through_green=float((off_green & missed).mean()),
        leave_m=round(float(np.median(left_m[missed])) if missed.any() else 0.0, 3),
        heavy=0.0,
        thin=0.0,
        trust=bag.trust.get(Family.PUTT, UNSAID_TRUST),
        rank_score=round(float(strokes.mean()), 4),
        pace_m=round(pace_m(choice.speed_m_s, choice.past_flat_m, green.stimp_ft), 3),
        make=round(float(rolled.holed.mean()), 4),
        three_putt=round(choice.three_putt, 4),
        line=PuttLine(
            speed_m_s=round(choice.speed_m_s, 4),
            azimuth_rad=round(choice.azimuth_rad, 5),
            spot_left_m=round(spot_m * math.tan(choice.azimuth_rad), 4),
            spot_ahead_m=spot_m,
            past_m=round(past_m, 3),
            short=round(float((missed & ~rolled.reached).mean()), 4),
            aim_least_left_m=round(least, 3),
            aim_most_left_m=round(most, 3),
            holds=green.steepness < float(steepest_hold(green.stimp_ft)),
        ),
    )
