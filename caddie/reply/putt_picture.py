"""The putt from above as the player sees it: ball below, hole above, left is left.

Dark marks on light green: the line to start on, the way the ball rolls with
its speed, and where 200 of the player's putts finish.
"""

import math
from dataclasses import dataclass

import numpy as np

from caddie.bag import Bag
from caddie.ball.ground import Surface
from caddie.plan.option import Plan, PuttLine
from caddie.plan.putt.view import PuttView, view_putt
from caddie.reply.putt import HOLE_M, aim_place, pace_said, slope_said
from caddie.reply.svg import (
    BALL,
    INK,
    PAPER,
    circle,
    document,
    element,
    group,
    line,
    path,
    place,
    polyline,
    rect,
    words,
)
from caddie.units import left_text

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
    option, meant, situation = plan.chosen, plan.chosen.line, plan.situation
    assert meant is not None and situation.pin_m is not None
    view = view_putt(plan, bag)
    plot = _fit(view, option.aim_left_m)
    holed = int(view.holed.sum())
    heading = f"{left_text(situation.pin_m, bag.player.putt_unit)}{slope_said(situation)}"
    unit = bag.player.putt_unit
    aim, pace = aim_place(option.aim_left_m, unit), pace_said(option, situation, unit)
    field = rect(SIDE, TOP, WIDTH - 2 * SIDE, BOTTOM - TOP, GREEN)
    marks = [
        *_steps(view, plot),
        *_hole(view, plot),
        *_spread(view, plot),
        *_start_line(option.aim_left_m, meant, view, plot),
        *_way(view, plot),
        *_ball(plot),
    ]
    parts = [
        words(SIDE, 36, heading, "head"),
        words(SIDE, 66, f"Aim {aim}. {pace}."),
        element("clipPath", rect(SIDE, TOP, WIDTH - 2 * SIDE, BOTTOM - TOP, PAPER, rx=24), id="green"),
        group([field, *marks], clip_path="url(#green)"),
        *_fall_arrow(view),
        words(SIDE, BOTTOM + 30, f"200 of your putts: {holed} holed, dots are the misses"),
        words(
            SIDE,
            BOTTOM + 54,
            "Bars: every half second, wide apart is fast. Thin line: with the hole covered.",
            "small",
        ),
    ]
    description = (
        f"Putt of {heading}, seen from above with the ball below. Aim {aim}; {pace}. "
        f"Of 200 putts {holed} are holed and {meant.short:.0%} stop short of the hole."
    )
    return document("The putt from above", description, WIDTH, HEIGHT, parts)


def _fit(view: PuttView, aim_left_m: float) -> Plot:
    """The scale at which ball, hole, way, aim and nine tenths of the putts are inside."""
    missed = ~view.holed
    ends_x = np.quantile(view.ball_x_m[missed], [0.05, 0.95]) if missed.any() else np.zeros(2)
    ends_y = np.quantile(view.ball_y_m[missed], [0.05, 0.95]) if missed.any() else np.zeros(2)
    pin_m = view.green.pin_m
    low = max(min(0.0, float(ends_x[0])), -0.5 * pin_m)
    high = min(max(pin_m, float(ends_x[1]), float(view.path.x_m.max())), 1.6 * pin_m)
    left = min(max(0.0, aim_left_m, float(view.path.y_m.max()), float(ends_y[1])), pin_m)
    right = max(min(0.0, aim_left_m, float(view.path.y_m.min()), float(ends_y[0])), -pin_m)
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
        parts.append(rect(SIDE, top, WIDTH - 2 * SIDE, foot - top, STEP))
        parts.append(words(SIDE + 14, (top + foot) / 2 + 6, f"{word} {abs(slope):.0%}"))
    return parts


def _hole(view: PuttView, plot: Plot) -> list[str]:
    x, y = plot.across(0.0), plot.up(view.green.pin_m)
    radius = max(HOLE_M / 2 * plot.per_m, 6.0)
    return [
        line(plot.across(0), plot.up(0), x, y, width=1.5, stroke_dasharray="2 8"),
        circle(x, y, radius, PAPER, stroke=INK, stroke_width=4),
    ]


def _spread(view: PuttView, plot: Plot) -> list[str]:
    missed = ~view.holed
    return [
        circle(plot.across(y), plot.up(x), 4, INK, fill_opacity=0.45)
        for x, y in zip(view.ball_x_m[missed], view.ball_y_m[missed], strict=True)
    ]


def _start_line(aim_left_m: float, meant: PuttLine, view: PuttView, plot: Plot) -> list[str]:
    """From ball to aim point, with the spot to roll over."""
    x, y = plot.across(aim_left_m), plot.up(view.green.pin_m)
    spot_x, spot_y = plot.across(meant.spot_left_m), plot.up(meant.spot_ahead_m)
    to_left = aim_left_m > 0
    parts = [
        line(plot.across(0), plot.up(0), x, y, width=3, stroke_dasharray="12 8"),
        path(f"M{place(spot_x - 9, spot_y)}h18m-9 -9v18", stroke=INK, stroke_width=4),
        _label(spot_x, spot_y + 6, "roll it over here", to_left),
    ]
    if abs(aim_left_m) > 0.015:
        parts.append(path(f"M{place(x - 9, y - 9)}l18 18m0 -18l-18 18", stroke=INK, stroke_width=4))
        parts.append(_label(x, y - 18, "aim", to_left))
    least, most = plot.across(meant.aim_least_left_m), plot.across(meant.aim_most_left_m)
    if abs(most - least) > 12:
        span = f"M{place(least, y - 8)}v16m0 -8L{place(most, y)}m0 -8v16"
        parts.append(path(span, fill="none", stroke=INK, stroke_width=2))
    return parts


def _label(x: float, y: float, text: str, to_left: bool) -> str:
    """Words beside a mark, kept inside the picture."""
    wide = 9.5 * len(text)
    if to_left and x - wide - 18 < SIDE:
        to_left = False
    elif not to_left and x + wide + 18 > WIDTH - SIDE:
        to_left = True
    return words(x - 18, y, text, "end") if to_left else words(x + 18, y, text)


def _way(view: PuttView, plot: Plot) -> list[str]:
    """The ball's way, thicker where it is fast, with a bar across it every half second."""
    distance = np.hypot(view.path.x_m - view.green.pin_m, view.path.y_m)
    nearest = int(np.argmin(distance))
    drops = bool(distance[nearest] < HOLE_M / 2)
    last = nearest if drops else len(view.path.x_m) - 1
    points = [
        (plot.across(float(y)), plot.up(float(x))) for x, y in zip(view.path.x_m, view.path.y_m, strict=True)
    ]
    past_hole = [polyline(points[last::3] + points[-1:], BALL, 1.5)] if drops else []
    return [*past_hole, *_rolled(view, points, last), *_time_bars(view, points, last)]


def _rolled(view: PuttView, points: list[tuple[float, float]], last: int) -> list[str]:
    parts = []
    for first in range(0, last, 3):
        (x1, y1), (x2, y2) = points[first], points[min(first + 3, last)]
        share = min(float(view.path.speed_m_s[first]), FAST_M_S) / FAST_M_S
        parts.append(line(x1, y1, x2, y2, BALL, round(3 + 6 * share, 1), stroke_linecap="round"))
    return parts


def _time_bars(view: PuttView, points: list[tuple[float, float]], last: int) -> list[str]:
    gap = max(round(EVERY_S / float(view.path.time_s[1] - view.path.time_s[0])), 1)
    parts = []
    for mark in range(gap, last, gap):
        (x1, y1), (x2, y2) = points[mark - 1], points[mark]
        size = max(math.hypot(x2 - x1, y2 - y1), 1e-6)
        dx, dy = 9 * (y2 - y1) / size, -9 * (x2 - x1) / size
        parts.append(line(x2 - dx, y2 - dy, x2 + dx, y2 + dy, width=2.5))
    return parts


def _ball(plot: Plot) -> list[str]:
    x, y = plot.across(0.0), plot.up(0.0)
    return [circle(x, y, 9, PAPER, stroke=BALL, stroke_width=4), words(x + 18, y + 22, "ball")]


def _fall_arrow(view: PuttView) -> list[str]:
    """Which way water would run at the hole, and how steep that is."""
    steep = view.green.steepness
    if steep < 0.001:
        return [words(WIDTH - SIDE, 36, "level", "end")]
    x, y = WIDTH - SIDE - 44, 52
    right, down = view.green.across / steep, view.green.along / steep
    back_x, back_y = x + 14 * right, y + 14 * down
    wing_x, wing_y = -10 * down, 10 * right
    head = " L".join(
        place(*point)
        for point in (
            (x + 30 * right, y + 30 * down),
            (back_x + wing_x, back_y + wing_y),
            (back_x - wing_x, back_y - wing_y),
        )
    )
    return [
        line(x - 30 * right, y - 30 * down, back_x, back_y, width=5),
        path(f"M{head}z", fill=INK),
        words(x - 50, y - 10, f"falls {steep:.1%}", "end"),
    ]
