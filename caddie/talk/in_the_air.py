"""Questions about the flight of the shot in play: how high it goes, and how far the wind moves it sideways."""

import numpy as np

from caddie.bag import Bag, Family
from caddie.plan.in_the_air import blown_left_m, flown
from caddie.plan.option import Plan
from caddie.reply.aim import aim_said
from caddie.reply.phrases import flag_said, run_said, said
from caddie.talk import lines
from caddie.talk.asked import how

PLAYS_AS_MEASURED_M = 1.0
"""A difference that no player can swing for."""

NOT_MOVED_M = 0.5
"""Moved sideways by less, a ball goes where it is aimed as far as anyone sees."""


def height(plan: Plan, bag: Bag) -> list[str]:
    """How high it goes, and what follows from that."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [lines.STAYS_DOWN]
    apex_m = float(flown(option, plan.situation, bag).apex_m)
    carried = f"it carries {said(option.carry_m, bag)}"
    return [f"about {said(apex_m, bag)} high at the top", carried, run_said(option, bag)]


def drift(plan: Plan, bag: Bag) -> list[str]:
    """How far the wind moves it sideways, and where that has it aimed."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [lines.NO_DRIFT]
    if plan.situation.wind.from_ is None:
        return [lines.NO_WIND_TOLD]
    left_m = blown_left_m(option, plan.situation, bag)
    aimed = aim_said(option, bag) or "aim at the flag"
    if abs(left_m) < NOT_MOVED_M:
        return ["hardly sideways", aimed]
    return [f"about {said(abs(left_m), bag)} to the {'left' if left_m > 0 else 'right'}", aimed]


def plays_like(plan: Plan, bag: Bag) -> list[str]:
    """How far it plays to the flag on level ground and in still air, and what makes the difference."""
    option, situation = plan.chosen, plan.situation
    if option.family is Family.PUTT or situation.pin_m is None:
        return how(plan, bag)
    flight = flown(option, situation, bag)
    # What the air takes from a ball that carries so far in calm is what must be hit more.
    by_air_m = option.carry_m - float(flight.x_m)
    by_height_m = (situation.elevation_m or 0.0) / float(np.tan(flight.angle_rad))
    more_m = by_air_m + by_height_m
    if abs(more_m) < PLAYS_AS_MEASURED_M:
        return [f"flown like this it plays the same, {flag_said(situation.pin_m, bag)}"]
    longer = "longer" if more_m > 0 else "shorter"
    causes = {"the wind": by_air_m, "the height": by_height_m}
    told = [cause for cause, by_m in causes.items() if abs(by_m) >= PLAYS_AS_MEASURED_M / 2]
    plays = f"it plays about {flag_said(situation.pin_m + more_m, bag)}"
    return [f"{plays}, {said(abs(more_m), bag)} {longer}", f"{' and '.join(told)}: the shot has it in"]


def comes_down_rad(plan: Plan, bag: Bag) -> float:
    """The angle [rad] below the level at which it lands."""
    return float(flown(plan.chosen, plan.situation, bag).angle_rad)
