"""The putt from above as the player sees it: ball below, hole above, left is left.

Dark marks on light green, as :mod:`caddie.reply.picture`: the line to start on, the way the ball rolls with
its speed, and where 200 of the player's putts finish.
"""

import math
from dataclasses import dataclass
from html import escape

import numpy as np

from caddie.bag import Bag
from caddie.ball.ground import Surface
from caddie.plan.putt.view import PuttView, view_putt
from caddie.plan.shot import Plan, PuttLine
from caddie.reply.picture import BALL, INK, document
from caddie.reply.putt import HOLE_M, aim_place, pace_said, slope_said
from caddie.units import FOOT_M

WIDTH, HEIGHT = 720, 960
TOP, BOTTOM = 92, 880
SIDE = 36
GREEN = "#d5ecc6"
STEP = "#b4d79e"
STEP_SLOPE = 0.03
FAST_M_S = 3.0
EVERY_S = 0.5
"""Time between the marks on the ball's way."""


@dataclass(frozen=True)
class Plot:
    """Metres to pixels, the same scale both ways: x along the putt goes up, y to the left goes left."""

    x0_m: float
    y_middle_m: float
    per_m: float

    def across(self, y_m: float) -> float:
        """Horizontal pixel."""
        return WIDTH / 2 - (y_m - self.y_middle_m) * self.per_m

    def up(self, x_m: float) -> float:
        """Vertical pixel."""
        return BOTTOM - (x_m - self.x0_m) * self.per_m


def draw_putt(plan: Plan, bag: Bag) -> str:
    """The plan's putt as an SVG document."""
    option, line, situation = plan.chosen, plan.chosen.line, plan.situation
    assert line is not None and situation.pin_m is not None
    view = view_putt(plan, bag)
    plot = _fit(view, option.aim_left_m)
    holed = int(view.holed.sum())
    heading = f"{situation.pin_m / FOOT_M:.0f} feet{slope_said(situation)}"
    aim, pace = aim_place(option.aim_left_m), pace_said(option, situation)
    parts = [
        f'<text x="{SIDE}" y="36" class="head">{escape(heading, quote=False)}</text>',
        f'<text x="{SIDE}" y="66">{escape(f"Aim {aim}. {pace}.", quote=False)}</text>',
        f'<clipPath id="green"><rect x="{SIDE}" y="{TOP}" width="{WIDTH - 2 * SIDE}" '
        f'height="{BOTTOM - TOP}" rx="24"/></clipPath>',
        '<g clip-path="url(#green)">',
        f'<rect x="{SIDE}" y="{TOP}" width="{WIDTH - 2 * SIDE}" height="{BOTTOM - TOP}" fill="{GREEN}"/>',
        *_steps(view, plot),
        *_hole(view, plot),
        *_spread(view, plot),
        *_start_line(option.aim_left_m, line, view, plot),
        *_way(view, plot),
        *_ball(plot),
        "</g>",
        *_fall_arrow(view),
        f'<text x="{SIDE}" y="{BOTTOM + 30}">200 of your putts: {holed} holed, dots are the misses</text>',
        f'<text x="{SIDE}" y="{BOTTOM + 54}" class="small">Bars: every half second, wide apart is fast. '
        "Thin line: with the hole covered.</text>",
    ]
    description = (
        f"Putt of {heading}, seen from above with the ball below. Aim {aim}; {pace}. "
        f"Of 200 putts {holed} are holed and {line.short:.0%} stop short of the hole."
    )
    return document("The putt from above", description, WIDTH, HEIGHT, parts)


def _fit(view: PuttView, aim_left_m: float) -> Plot:
    """The scale at which ball, hole, way, aim and nine tenths of the putts are inside."""
    missed = ~view.holed
    ends_x = np.quantile(view.ball_x_m[missed], [0.05, 0.95]) if missed.any() else np.zeros(2)
    ends_y = np.quantile(view.ball_y_m[missed], [0.05, 0.95]) if missed.any() else np.zeros(2)
    pin_m = view.green.pin_m
    low = max(min(0.0, float(ends_x[0])), -0.5 * pin_m)
    high = min(max(pin_m, float(ends_x[1]), float(view.x_m.max())), 1.6 * pin_m)
    left = min(max(0.0, aim_left_m, float(view.y_m.max()), float(ends_y[1])), pin_m)
    right = max(min(0.0, aim_left_m, float(view.y_m.min()), float(ends_y[0])), -pin_m)
    length, width = (high - low) * 1.14, (left - right) * 1.3 + 3 * HOLE_M
    per_m = min((BOTTOM - TOP) / length, (WIDTH - 2 * SIDE) / width)
    spare = (BOTTOM - TOP) / per_m - (high - low)
    return Plot(low - 0.5 * spare, 0.5 * (left + right), per_m)


def _steps(view: PuttView, plot: Plot) -> list[str]:
    """Tiers and ridges: bands where the green tilts otherwise than at the hole, with their slope."""
    ground, parts = view.green.ground, []
    for i, slope in enumerate(ground.slope):
        if ground.surface[i] != int(Surface.GREEN) or abs(slope - view.green.along) < STEP_SLOPE:
            continue
        near, far = max(float(ground.begin_m[i]), -100.0), min(float(ground.end_m[i]), 200.0)
        top, foot = plot.up(far), plot.up(near)
        word = "up" if slope > 0 else "down"
        parts.append(
            f'<rect x="{SIDE}" y="{top:.1f}" width="{WIDTH - 2 * SIDE}" height="{foot - top:.1f}" '
            f'fill="{STEP}"/>'
        )
        parts.append(f'<text x="{SIDE + 14}" y="{(top + foot) / 2 + 6:.1f}">{word} {abs(slope):.0%}</text>')
    return parts


def _hole(view: PuttView, plot: Plot) -> list[str]:
    x, y = plot.across(0.0), plot.up(view.green.pin_m)
    radius = max(HOLE_M / 2 * plot.per_m, 6.0)
    return [
        f'<line x1="{plot.across(0):.1f}" y1="{plot.up(0):.1f}" x2="{x:.1f}" y2="{y:.1f}" stroke="{INK}" '
        'stroke-width="1.5" stroke-dasharray="2 8"/>',
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="#ffffff" stroke="{INK}" '
        'stroke-width="4"/>',
    ]


def _spread(view: PuttView, plot: Plot) -> list[str]:
    return [
        f'<circle cx="{plot.across(y):.1f}" cy="{plot.up(x):.1f}" r="4" fill="{INK}" fill-opacity="0.45"/>'
        for x, y in zip(view.ball_x_m[~view.holed], view.ball_y_m[~view.holed], strict=True)
    ]


def _start_line(aim_left_m: float, line: PuttLine, view: PuttView, plot: Plot) -> list[str]:
    """From ball to aim point, with the spot to roll over."""
    x, y = plot.across(aim_left_m), plot.up(view.green.pin_m)
    spot_x, spot_y = plot.across(line.spot_left_m), plot.up(line.spot_ahead_m)
    parts = [
        f'<line x1="{plot.across(0):.1f}" y1="{plot.up(0):.1f}" x2="{x:.1f}" y2="{y:.1f}" stroke="{INK}" '
        'stroke-width="3" stroke-dasharray="12 8"/>',
        f'<path d="M{spot_x - 9:.1f} {spot_y:.1f}h18m-9 -9v18" stroke="{INK}" stroke-width="4"/>',
        _label(spot_x, spot_y + 6, "roll it over here", to_left=aim_left_m > 0),
    ]
    if abs(aim_left_m) > 0.015:
        parts.append(
            f'<path d="M{x - 9:.1f} {y - 9:.1f}l18 18m0 -18l-18 18" stroke="{INK}" stroke-width="4"/>'
        )
        parts.append(_label(x, y - 18, "aim", to_left=aim_left_m > 0))
    least, most = plot.across(line.aim_least_left_m), plot.across(line.aim_most_left_m)
    if abs(most - least) > 12:
        parts.append(
            f'<path d="M{least:.1f} {y - 8:.1f}v16m0 -8H{most:.1f}m0 -8v16" fill="none" stroke="{INK}" '
            'stroke-width="2"/>'
        )
    return parts


def _label(x: float, y: float, words: str, to_left: bool) -> str:
    """Words beside a mark, kept inside the picture."""
    wide = 9.5 * len(words)
    if to_left and x - wide - 18 < SIDE:
        to_left = False
    elif not to_left and x + wide + 18 > WIDTH - SIDE:
        to_left = True
    place = f'x="{x - 18:.1f}" class="end"' if to_left else f'x="{x + 18:.1f}"'
    return f'<text {place} y="{y:.1f}">{words}</text>'


def _way(view: PuttView, plot: Plot) -> list[str]:
    """The ball's way, thicker where it is fast, with a bar across it every half second."""
    distance = np.hypot(view.x_m - view.green.pin_m, view.y_m)
    nearest = int(np.argmin(distance))
    drops = bool(distance[nearest] < HOLE_M / 2)
    last = nearest if drops else len(view.x_m) - 1
    points = [(plot.across(float(y)), plot.up(float(x))) for x, y in zip(view.x_m, view.y_m, strict=True)]
    parts = []
    if drops:
        rest = " ".join(f"{x:.1f},{y:.1f}" for x, y in points[last::3] + points[-1:])
        parts.append(f'<polyline points="{rest}" fill="none" stroke="{BALL}" stroke-width="1.5"/>')
    for first in range(0, last, 3):
        until = min(first + 3, last)
        speed = min(float(view.speed_m_s[first]), FAST_M_S)
        (x1, y1), (x2, y2) = points[first], points[until]
        parts.append(
            f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{BALL}" '
            f'stroke-width="{3 + 6 * speed / FAST_M_S:.1f}" stroke-linecap="round"/>'
        )
    gap = max(round(EVERY_S / float(view.time_s[1] - view.time_s[0])), 1)
    for mark in range(gap, last, gap):
        (x1, y1), (x2, y2) = points[mark - 1], points[mark]
        size = max(math.hypot(x2 - x1, y2 - y1), 1e-6)
        dx, dy = 9 * (y2 - y1) / size, -9 * (x2 - x1) / size
        parts.append(
            f'<line x1="{x2 - dx:.1f}" y1="{y2 - dy:.1f}" x2="{x2 + dx:.1f}" y2="{y2 + dy:.1f}" '
            f'stroke="{INK}" stroke-width="2.5"/>'
        )
    return parts


def _ball(plot: Plot) -> list[str]:
    x, y = plot.across(0.0), plot.up(0.0)
    return [
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="9" fill="#ffffff" stroke="{BALL}" stroke-width="4"/>',
        f'<text x="{x + 18:.1f}" y="{y + 22:.1f}">ball</text>',
    ]


def _fall_arrow(view: PuttView) -> list[str]:
    """Which way water would run at the hole, and how steep that is."""
    steep = view.green.steepness
    if steep < 0.001:
        return [f'<text x="{WIDTH - SIDE}" y="36" class="end">level</text>']
    x, y = WIDTH - SIDE - 44, 52
    right, down = view.green.across / steep, view.green.along / steep
    tip_x, tip_y = x + 30 * right, y + 30 * down
    tail_x, tail_y = x - 30 * right, y - 30 * down
    wing_x, wing_y = -10 * down, 10 * right
    back_x, back_y = tip_x - 16 * right, tip_y - 16 * down
    return [
        f'<line x1="{tail_x:.1f}" y1="{tail_y:.1f}" x2="{back_x:.1f}" y2="{back_y:.1f}" stroke="{INK}" '
        'stroke-width="5"/>',
        f'<path d="M{tip_x:.1f} {tip_y:.1f}L{back_x + wing_x:.1f} {back_y + wing_y:.1f}'
        f'L{back_x - wing_x:.1f} {back_y - wing_y:.1f}z" fill="{INK}"/>',
        f'<text x="{x - 50:.1f}" y="{y - 10:.1f}" class="end">falls {steep:.1%}</text>',
    ]
