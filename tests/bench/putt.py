"""The putt's read against a search: balls of every speed and line rolled step by step over the same green.

The search rolls a grid of starts with the integrator `roll2d`. At the read's own speed the
middle of the lines that drop is the search's line; the difference is told where it matters, at the hole.
"""

import numpy as np
from roll2d import roll2d
from rows import Part, Row, Size, busy_ms, values_row

from caddie.ball.ground import Ground, Strip, Surface
from caddie.plan.putt.read import read_putt

APART = "a putt's read against a search: line apart at the hole"
DROPS = "putts started on the read that drop"
RATIO = "a search of speeds and lines, times as long as the read"
GREENS = (
    (0.0, 0.02, 10.0, 3.0),
    (0.02, 0.02, 10.0, 3.0),
    (-0.03, 0.02, 10.0, 2.5),
    (0.0, 0.04, 9.0, 2.5),
    (0.04, -0.03, 11.0, 4.0),
    (-0.02, -0.01, 11.0, 6.0),
    (0.01, 0.02, 9.0, 10.0),
)
"""Slope along and across, green speed [ft], length [m]."""
PASTS_M = np.array([0.2, 0.4, 0.7])
LINES, SPEEDS = 161, 25
"""Of the search that is timed."""
FINE_LINES = 1501
RIGHT, LEFT = -0.10, 0.13
"""Lines searched beside the read's [rad]; lopsided, so that a search that finds nothing does not agree."""


def measure(size: Size) -> list[Row]:
    apart, ratio, dropped, count = [], [], 0, 0
    for along, across, stimp_ft, pin_m in GREENS[: size.take(len(GREENS), 3)]:
        strip = Strip(0.0, Surface.GREEN, slope=along, cross_slope=across)
        ground = Ground.of_strips([strip], stimp_ft=stimp_ft)
        hole = (pin_m, 0.0)
        speed, line = read_putt(ground, pin_m).at(PASTS_M)
        dropped += int(roll2d(speed, line, ground, hole=hole).holed.sum())
        count += PASTS_M.size
        near = min(1.0, 2.0 / pin_m)
        tried = line[:, None] + np.linspace(RIGHT, LEFT, FINE_LINES) * near
        holed = roll2d(np.broadcast_to(speed[:, None], tried.shape), tried, ground, hole=hole).holed
        for which in range(PASTS_M.size):
            # A read so wrong that no line near it drops is as far off as the search is wide.
            middle = tried[which][holed[which]].mean() if holed[which].any() else tried[which].max()
            apart.append(100 * pin_m * abs(float(np.tan(middle) - np.tan(line[which]))))
        speeds, lines = np.meshgrid(
            np.linspace(0.9, 1.1, SPEEDS) * speed.mean(), line[1] + np.linspace(RIGHT, LEFT, LINES) * near
        )
        searched = busy_ms(lambda s=speeds, a=lines, g=ground, h=hole: roll2d(s, a, g, hole=h))
        ours = [busy_ms(lambda g=ground, p=pin_m: read_putt(g, p)) for _ in range(5)]
        ratio.append(searched / float(np.median(ours)))
    return [
        values_row(APART, apart, "cm", "putts"),
        Row(DROPS, dropped, f"of {count}", count, "putts"),
        values_row(RATIO, ratio, "times", "greens"),
    ]


PART = Part((APART, DROPS, RATIO), measure)
