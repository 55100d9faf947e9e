"""Questions about the flight of the shot in play: how high it goes, and how far the wind moves it sideways."""

import numpy as np

from caddie.bag import Bag, Family
from caddie.ball import fly, launch_for, speed_for_carry, splash_for
from caddie.ball.air import Air
from caddie.ball.flight import Landing
from caddie.plan.option import Option, Plan
from caddie.plan.scene import lay_out
from caddie.reply.aim import aim_said
from caddie.reply.phrases import run_said, said
from caddie.talk import lines

NOT_MOVED_M = 0.5
"""Moved sideways by less, a ball goes where it is aimed as far as anyone sees."""


def height(plan: Plan, bag: Bag) -> list[str]:
    """How high it goes, and what follows from that."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [lines.STAYS_DOWN]
    apex_m = float(_flown(option, lay_out(plan.situation, bag).air).apex_m)
    carried = f"it carries {said(option.carry_m, bag)}"
    return [f"about {said(apex_m, bag)} high at the top", carried, run_said(option, bag)]


def drift(plan: Plan, bag: Bag) -> list[str]:
    """How far the wind moves it sideways, and where that has it aimed."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [lines.NO_DRIFT]
    if plan.situation.wind.from_ is None:
        return [lines.NO_WIND_TOLD]
    left_m = float(_flown(option, lay_out(plan.situation, bag).air).y_m)
    aimed = aim_said(option, bag) or "aim at the flag"
    if abs(left_m) < NOT_MOVED_M:
        return ["hardly sideways", aimed]
    return [f"about {said(abs(left_m), bag)} to the {'left' if left_m > 0 else 'right'}", aimed]


def comes_down_rad(plan: Plan, bag: Bag) -> float:
    """The angle [rad] below the level at which it lands."""
    return float(_flown(plan.chosen, lay_out(plan.situation, bag).air).angle_rad)


def _flown(option: Option, air: Air) -> Landing:
    """A cleanly struck ball of this shot in the air of the day."""
    loft_rad, still = np.radians(option.loft_deg), Air.calm()
    splash = option.family is Family.SPLASH
    speed = speed_for_carry(option.carry_m, loft_rad, still, option.flight, splash=splash)
    launch = (splash_for if splash else launch_for)(loft_rad, speed, option.flight)
    return fly(launch, air)
