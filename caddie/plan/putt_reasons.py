"""Why this line and pace, in sentences that quote the plan's own numbers."""

from caddie.ball.turf import steepest_hold
from caddie.plan.putt_green import PuttGreen, disagreement, fall_words, falls
from caddie.plan.shot import Option
from caddie.situation import Situation
from caddie.units import FOOT_M, MPH_M_S

FELT_WIND_M_S = 15 * MPH_M_S
"""Wind that players say moves a long putt (common practice, no source)."""
GENTLE = 0.05
"""A pace that differs from the length by less than this share is not worth a reason."""


def putt_reasons(option: Option, situation: Situation, green: PuttGreen) -> tuple[str, ...]:
    """Reasons in order of weight: a slope too steep, clues that disagree, pace, break, where it stops, wind."""
    assert option.line is not None and option.pace_m is not None
    line = option.line
    reasons = []
    if not line.holds:
        reasons.append(
            f"At {green.steepness:.0%} it is steeper than a ball can stop on: at this green speed that is "
            f"{float(steepest_hold(green.stimp_ft)):.1%}. {_runs_off(line.past_m)}"
        )
    contradiction = disagreement(situation)
    if contradiction:
        reasons.append(contradiction)
    length_ft, pace_ft = green.pin_m / FOOT_M, option.pace_m / FOOT_M
    if abs(option.pace_m / green.pin_m - 1) > GENTLE:
        way = "More uphill" if pace_ft > length_ft else "More downhill"
        reasons.append(f"{way} than not, its {length_ft:.0f} feet take the pace of a flat {pace_ft:.0f}.")
    across = falls(situation).get("across")
    if across and abs(option.aim_left_m) > 0.02:
        reasons.append(
            f"It breaks {fall_words(across[0])}, {abs(option.aim_left_m) / FOOT_M:.1f} feet at this pace; "
            f"{line.low:.0%} of the misses are on the low side."
        )
    if line.holds:
        reasons.append(_where_it_stops(option))
    if (situation.wind.speed_m_s or 0.0) >= FELT_WIND_M_S:
        reasons.append("The wind is left out: at this strength it can move a long putt.")
    if situation.wet:
        reasons.append("Wet grass: a tenth is taken off the green's speed.")
    return tuple(reasons)


def _runs_off(past_m: float) -> str:
    if past_m > 20:
        return "A miss runs off the green."
    return f"A miss runs {past_m / FOOT_M:.0f} feet away."


def _where_it_stops(option: Option) -> str:
    assert option.line is not None
    feet = option.line.past_m / FOOT_M
    stops = f"{feet:.1f} feet past the hole" if feet >= 0.5 else "at the hole"
    return f"Fewest putts for you when it would stop {stops}; {option.line.short:.0%} of yours come up short."
