"""What a picture of a putt needs: its way, its speed along it, and where 200 of the player's putts finish."""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Bools, Floats
from caddie.bag import Bag
from caddie.ball.path import Path, roll_path
from caddie.plan.option import Plan
from caddie.plan.putt.after import simulate
from caddie.plan.putt.green import PuttGreen, green_of
from caddie.plan.putt.player import stroke_for

SHOWN_PUTTS = 200


@dataclass(frozen=True)
class PuttView:
    """The putt as meant with the hole covered, and the putts as struck, (200,) each."""

    green: PuttGreen
    path: Path
    ball_x_m: Floats
    ball_y_m: Floats
    holed: Bools


def view_putt(plan: Plan, bag: Bag) -> PuttView:
    """Roll the plan's putt and 200 of the player's."""
    line = plan.chosen.line
    assert line is not None
    green = green_of(plan.situation, bag)
    speed, azimuth = np.array(line.speed_m_s), np.array(line.azimuth_rad)
    path = roll_path(green.ground, line.speed_m_s, line.azimuth_rad)
    handicap = bag.player.handicap
    # Free draws: the evenly spread errors of the plan would draw a pattern.
    drawn = np.random.default_rng(plan.seed).standard_normal((2, SHOWN_PUTTS))
    rolled = simulate(green, stroke_for(handicap), speed, azimuth, drawn, handicap).rolled.end
    return PuttView(
        green=green,
        path=path,
        ball_x_m=rolled.x_m,
        ball_y_m=rolled.y_m,
        holed=rolled.holed,
    )
