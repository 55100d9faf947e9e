"""The one clue that would help a read most, found by what not knowing it costs in putts."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from caddie.arrays import Floats
from caddie.bag import Bag
from caddie.plan.assume import complete
from caddie.plan.option import Plan, PuttLine
from caddie.plan.putt.after import simulate
from caddie.plan.putt.borrow import as_read, lacks_last_break, lacks_side
from caddie.plan.putt.green import falls, green_of, with_green
from caddie.plan.putt.player import errors, stroke_for
from caddie.plan.putt.read import read_putt
from caddie.situation import Fall, HazardKind, Lie, Situation
from caddie.units import FOOT_M

PUTT_WORTH_ASKING = 0.03
"""Putts: a question is asked only when not knowing costs this much on average."""
PUTTS_AN_ANSWER = 200
SHORT_M = 6 * FOOT_M
"""A putt no longer is read once its line is told: it is struck, not paced (common practice, no source)."""
WAY_AT_THE_HOLE = "Which way does it break at the hole?"
HIGH_SIDE = "Which side of the hole is higher?"
HOW_MUCH = "How steep is that side slope: slight, clear or severe?"
SLIGHT_SLOPE, _USUAL, _STEEP = 0.01, 0.02, 0.035

FilledIn = Callable[[Situation], Situation]


@dataclass(frozen=True)
class Clue:
    """A question of one breath and its plausible answers, each with how likely it is."""

    question: str
    answers: tuple[tuple[float, FilledIn], ...]


def telling_clue(situation: Situation, plan: Plan, bag: Bag) -> str | None:
    """The question whose answer would narrow this putt's read most, or None when none would change it enough.

    ``situation`` is what was said, before anything was assumed; the plan is the one made from it.
    """
    line = plan.chosen.line
    if situation.lie is not Lie.GREEN or line is None:
        return None
    if lacks_side(situation):
        return HIGH_SIDE
    if lacks_last_break(situation):
        return WAY_AT_THE_HOLE
    weighed = [
        (sum(share * _cost(change(situation), line, plan, bag) for share, change in clue.answers), -i, clue)
        for i, clue in enumerate(_clues(situation))
    ]
    worth = [entry for entry in weighed if entry[0] >= PUTT_WORTH_ASKING]
    if not worth:
        return None
    # A side that was told without an amount is the read half told: how much comes before up or down.
    amount = [entry for entry in worth if entry[2].question == HOW_MUCH]
    return max(amount or worth, key=lambda entry: entry[:2])[2].question


def as_said(plan: Plan) -> Situation:
    """The plan's putt with what was assumed of its green taken out again."""
    fields = {name.removeprefix("green.") for name in plan.assumed if name.startswith("green.")}
    situation = with_green(plan.situation, **dict.fromkeys(fields))
    return situation.model_copy(update={"elevation_m": None}) if "elevation_m" in plan.assumed else situation


def _clues(situation: Situation) -> list[Clue]:
    """The clues that were not given."""
    green, found = situation.green, falls(situation)
    clues = []
    if green.fall is None and green.fall_slope == 0:
        # Said to be flat or straight.
        return [_SPEED] if green.stimp_ft is None else []
    if green.borrow is not None and (green.borrow.aim_m == 0 or "across" in found):
        pass
    elif "across" not in found:
        sides = (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT)
        clues.append(Clue(HIGH_SIDE, tuple((0.35, _falls(side, _USUAL)) for side in sides)))
    elif _slope_unsaid(situation, found["across"][0]):
        steepness = tuple((0.3, _falls(found["across"][0], slope)) for slope in (SLIGHT_SLOPE, _STEEP))
        clues.append(Clue(HOW_MUCH, steepness))
    if _told_by_shape(situation) or (green.borrow is not None and _is_read(situation, "along" in found)):
        pass
    elif "along" not in found and situation.elevation_m is None:
        ways = (Fall.TOWARD, Fall.AWAY)
        clues.append(Clue("Is it uphill or downhill?", tuple((0.35, _falls(way, _USUAL)) for way in ways)))
    elif "along" in found and _slope_unsaid(situation, found["along"][0]):
        steepness = tuple((0.3, _falls(found["along"][0], slope)) for slope in (SLIGHT_SLOPE, _STEEP))
        clues.append(Clue(f"How steep is it {_WAY[found['along'][0]]}?", steepness))
    if green.stimp_ft is None and green.borrow is None:
        # A line that was read was read on the green as it is today.
        clues.append(_SPEED)
    return clues


def _is_read(situation: Situation, along: bool) -> bool:
    """Whether a putt of which the player told the line is read: it is short, or its way up or down was told too."""
    return along or (situation.pin_m or 0.0) <= SHORT_M


_WAY = {Fall.TOWARD: "uphill", Fall.AWAY: "downhill"}


def _told_by_shape(situation: Situation) -> bool:
    """Whether a ridge, a swale or a tier up or down tells the way already."""
    return any(
        hazard.kind in (HazardKind.RIDGE, HazardKind.SWALE)
        or (hazard.kind is HazardKind.TIER and hazard.side is not None)
        for hazard in situation.hazards
    )


def _slope_unsaid(situation: Situation, fall: Fall) -> bool:
    green = situation.green
    return (green.fall_slope if green.fall is fall else green.side_slope) is None


def _falls(fall: Fall, slope: float) -> FilledIn:
    """Sets the slope of a fall, which may be new; the other fall stays."""

    def change(situation: Situation) -> Situation:
        green = situation.green
        if green.fall in (None, fall):
            return with_green(situation, fall=fall, fall_slope=slope)
        return with_green(situation, side_fall=fall, side_slope=slope)

    return change


def _speed(stimp_ft: float) -> FilledIn:
    return lambda situation: with_green(situation, stimp_ft=stimp_ft)


_SPEED = Clue("Are the greens slow, medium or quick?", ((0.25, _speed(8.0)), (0.25, _speed(11.0))))


def _cost(truth: Situation, line: PuttLine, plan: Plan, bag: Bag) -> float:
    """What the planned putt costs [putts] against the right one when ``truth`` is how the green lies."""
    green = green_of(as_read(complete(truth)[0], bag), bag)
    past = np.array([line.past_flat_m])
    right_speed, right_line = read_putt(green.ground, green.pin_m, past).at(past)
    speed: Floats = np.array([line.speed_m_s, float(right_speed[0])])
    azimuth: Floats = np.array([line.azimuth_rad, float(right_line[0])])
    handicap = bag.player.handicap
    drawn = errors(PUTTS_AN_ANSWER, plan.seed)
    putts = simulate(green, stroke_for(handicap), speed, azimuth, drawn, handicap).strokes.mean(axis=-1)
    return max(float(putts[0] - putts[1]), 0.0)
