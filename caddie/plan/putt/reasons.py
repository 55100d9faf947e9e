"""Why this line and pace, in sentences that quote the plan's own numbers."""

from caddie.ball.turf import steepest_hold
from caddie.plan.hampered import cautions
from caddie.plan.option import Option
from caddie.plan.putt.green import PuttGreen, disagreement, fall_words, falls
from caddie.plan.putt.wind import wind_slope
from caddie.situation import Grain, HazardKind, Situation
from caddie.units import FOOT_M, MPH_M_S, Unit, from_metres, in_feet

FELT_WIND_M_S = 15 * MPH_M_S
"""Wind that players say moves a long putt (common practice, no source)."""
LAST_BREAK_READ = (
    "Of two breaks the last is taken to hold for more than half of the way, where the ball is slowest."
)
GENTLE = 0.05
"""A pace that differs from the length by less than this share is not worth a reason."""


def putt_reasons(
    option: Option, situation: Situation, green: PuttGreen, unit: Unit = Unit.FEET
) -> tuple[str, ...]:
    """Reasons in order of weight: too steep a slope, clues that disagree, pace, break, the stop, wind."""
    assert option.line is not None and option.pace_m is not None
    line = option.line
    reasons = []
    if not line.holds:
        reasons.append(
            f"At {green.steepness:.0%} it is steeper than a ball can stop on: at this green speed that is "
            f"{float(steepest_hold(green.stimp_ft)):.1%}. {_runs_off(line.past_m, unit)}"
        )
    contradiction = disagreement(situation)
    if contradiction:
        reasons.append(contradiction)
    if abs(option.pace_m / green.pin_m - 1) > GENTLE:
        reasons.append(_pace_reason(option.pace_m, green.pin_m, situation, unit))
    across = falls(situation).get("across")
    if across and abs(option.aim_left_m) > 0.02:
        reasons.append(
            f"It breaks {fall_words(across[0])}, {_length(abs(option.aim_left_m), unit)} at this pace; "
            f"{line.low:.0%} of the misses are on the low side."
        )
    if line.told is not None and across and across[1]:
        reasons.append(f"Your line is that of a side slope of {across[1]:.1%}.")
    reasons += cautions(situation)
    reasons += _shape_reasons(situation)
    if line.holds:
        reasons.append(_where_it_stops(option, unit))
    if (situation.wind.speed_m_s or 0.0) >= FELT_WIND_M_S:
        reasons.append(_wind_reason(situation))
    if situation.green.double_break:
        reasons.append(LAST_BREAK_READ)
    if situation.green.grain is not None:
        reasons.append(
            "The grain is with you: an eighth is added to the green's speed."
            if situation.green.grain is Grain.WITH
            else "It is into the grain: an eighth is taken off the green's speed."
        )
    if situation.wet:
        reasons.append("Wet grass: a tenth is taken off the green's speed.")
    return tuple(reasons)


def _wind_reason(situation: Situation) -> str:
    slope = max(abs(each) for each in wind_slope(situation))
    return (
        f"The wind pushes a rolling ball as a slope of {slope:.1%} would (an estimate), most when it is slow: "
        "a firm pace, and wait for the lull."
    )


def _shape_reasons(situation: Situation) -> list[str]:
    there_and_back = {
        HazardKind.RIDGE: "What the climb of the ridge takes, the far side gives back: it must top the crest with some "
        "pace left.",
        HazardKind.SWALE: "What the swale gives on the way down, it takes on the way up.",
    }
    return [there_and_back[hazard.kind] for hazard in situation.hazards if hazard.kind in there_and_back]


def _length(length_m: float, unit: Unit) -> str:
    """A length to the tenth, in metres to who counts in them, else in feet."""
    return f"{from_metres(length_m, unit):.1f} {unit.value}"


def _runs_off(past_m: float, unit: Unit) -> str:
    if past_m > 20:
        return "A miss runs off the green."
    return f"A miss runs {from_metres(past_m, unit):.0f} {unit.value} away."


def _pace_reason(pace_m: float, pin_m: float, situation: Situation, unit: Unit) -> str:
    harder = pace_m > pin_m
    if situation.green.grain and not situation.hazards and "along" not in falls(situation):
        way = "Into the grain" if harder else "Down the grain"
    else:
        way = "Uphill" if harder else "Downhill"
    if situation.hazards:
        way += " on the whole"
    if pace_m < FOOT_M:
        return f"{way}: the slope does the work, it needs only to be set rolling."
    length, flat = (f"{from_metres(each, unit):.0f}" for each in (pin_m, pace_m))
    return f"{way}: its {length} {unit.value} take the pace of a flat {flat}."


def _where_it_stops(option: Option, unit: Unit) -> str:
    assert option.line is not None
    short = f"{option.line.short:.0%} of yours come up short"
    if option.line.past_m < 0.5 * FOOT_M:
        return f"This pace costs you the fewest putts: it dies at the hole, {short}."
    if unit is Unit.METRES:
        past = f"{option.line.past_m * 100:.0f} cm past"
        return f"This pace costs you the fewest putts: it would stop {past}, {short}."
    feet = f"{in_feet(option.line.past_m):.1f}".removesuffix(".0")
    counted = "foot" if feet == "1" else "feet"
    return f"This pace costs you the fewest putts: it would stop {feet} {counted} past, {short}."
