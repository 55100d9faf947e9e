"""How deep and wide the green is: the usual size, or less or more where a player says so."""

from caddie.situation import Extent, Green, Situation
from caddie.units import YARD_M

GREEN_DEPTH_M = 25 * YARD_M
"""Depth of the green when nothing says otherwise (common practice, no source)."""
HALF_WIDTH_M = 11.0
"""Half the green's width when the flag is in its middle."""
NEAR_SIDE_M = 5.0
"""From the flag to the near side when it is cut left or right."""
NEAR_SIDE_SHARE = 0.6
"""Of a narrow green it is no more than so much of half the width."""
EXTENT_SHARE = {None: 1.0, Extent.SMALL: 0.6, Extent.LARGE: 1.4}
"""A green that players call small is so much of the usual one, either way; and a large one (common practice, no
source)."""


def depth_of_green_m(green: Green) -> float:
    """From front to back [m].

    >>> round(depth_of_green_m(Green(depth=Extent.SMALL)), 1)
    13.7
    """
    return GREEN_DEPTH_M * EXTENT_SHARE[green.depth]


def half_width_m(green: Green) -> float:
    """From the middle to either side [m]."""
    return HALF_WIDTH_M * EXTENT_SHARE[green.width]


def near_side_m(green: Green) -> float:
    """From a flag cut left or right to that side [m]."""
    return min(NEAR_SIDE_M, NEAR_SIDE_SHARE * half_width_m(green))


def half_widths(situation: Situation) -> tuple[float, float]:
    """Green left and right of the flag's line [m]."""
    position = situation.pin_position.value if situation.pin_position else ""
    half_m, near_m = half_width_m(situation.green), near_side_m(situation.green)
    if position.endswith("left"):
        return near_m, 2 * half_m - near_m
    if position.endswith("right"):
        return 2 * half_m - near_m, near_m
    return half_m, half_m
