"""How far the aim moves within what was said: the spoken slope is a range, and so is the green's speed."""

import numpy as np

from caddie.plan.putt_green import PuttGreen


def aim_range(green: PuttGreen, past_flat_m: float, aim_left_m: float) -> tuple[float, float]:
    """Least and most left aim [m at the hole]."""
    return aim_left_m, aim_left_m
