"""The shot as one SVG: from the side (flight and run) and from above (where 200 balls finish).

Every mark has words beside it.
"""

from dataclasses import dataclass

import numpy as np

from caddie.bag import Bag
from caddie.ball.ground import Patch, Surface
from caddie.plan.option import Plan
from caddie.plan.scene import Barrier
from caddie.plan.view import View, view_of
from caddie.reply.phrases import club_written, swing_said
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
    polygon,
    polyline,
    rect,
    words,
)
from caddie.units import Unit, from_metres, length_text, to_metres

PICTURE_WIDTH = 900
MARGIN = 46
SIDE_TOP = 70
LEAST_SIDE, MOST_SIDE = 110, 260
GROUND_PX = 26
FLAG_PX = 64
ABOVE_PX = 290
UNDER_SIDE_PX = 70
UNDER_ABOVE_PX = 46
NAME_PX = 20

_FILL = {
    Surface.GREEN: "#7fc97f",
    Surface.FRINGE: "#a9cf8e",
    Surface.FAIRWAY: "#cfe3b4",
    Surface.LIGHT_ROUGH: "#b7b57a",
    Surface.HEAVY_ROUGH: "#8f8a4e",
    Surface.SAND: "#f4e3a1",
    Surface.WATER: "#6fa8dc",
    Surface.OUT_OF_BOUNDS: "#d9d9d9",
    Surface.TREES: "#5b7f5b",
    Surface.BARE: "#d8c3a5",
    Surface.PINE_STRAW: "#c9a27c",
}


@dataclass(frozen=True)
class Scale:
    """Metres to pixels for one panel."""

    x0_m: float
    per_m: float
    y0_px: float
    y_per_m: float
    foot_px: float = 0.0
    """Lower edge of the panel."""

    def x(self, x_m: float) -> float:
        """Horizontal pixel of a distance along the line."""
        return MARGIN + (x_m - self.x0_m) * self.per_m

    def y(self, y_m: float) -> float:
        """Vertical pixel of a height, or of a distance to the left."""
        return self.y0_px - y_m * self.y_per_m


def draw_picture(plan: Plan, bag: Bag) -> str:
    """The plan's chosen shot as an SVG document."""
    if plan.chosen.pace_m is not None:
        from caddie.reply.putt_picture import draw_putt

        return draw_putt(plan, bag)
    view = view_of(plan, bag)
    start_m, end_m = float(view.ground_x_m[0]), float(view.ground_x_m[-1])
    per_m = (PICTURE_WIDTH - 2 * MARGIN) / (end_m - start_m)
    side = _side_scale(view, start_m, per_m)
    side_bottom = side.foot_px
    above_top = side_bottom + UNDER_SIDE_PX
    heading = f"{club_written(plan.chosen, bag)}, {swing_said(plan.chosen)}"
    parts = [
        words(MARGIN, 34, heading, "head"),
        *_side(view, plan, bag, side),
        *_above(view, plan, start_m, per_m, above_top),
    ]
    height = round(above_top + ABOVE_PX + UNDER_ABOVE_PX)
    on_green = np.mean(view.ball_surface == int(Surface.GREEN))
    description = (
        f"{heading}: carries {_count(plan.chosen.carry_m, bag)}, then runs {_count(plan.chosen.run_m, bag)}. "
        f"Of {len(view.ball_x_m)} balls {on_green:.0%} finish on the green."
    )
    return document("The shot from the side and from above", description, PICTURE_WIDTH, height, parts)


def _count(length_m: float, bag: Bag) -> str:
    return length_text(length_m, bag.player.distances_in, bag.player.pace_m)


def _tree_top_m(view: View) -> float:
    barrier = view.scene.barrier
    return barrier.height_m if barrier is not None and barrier.surface is Surface.TREES else 0.0


def _open_px(barrier: Barrier, scale: Scale) -> float:
    """How much of a tree is left out at its foot, where the ball may pass."""
    return scale.foot_px - scale.y(barrier.clear_m) if barrier.clear_m else 0.0


def _side_scale(view: View, start_m: float, per_m: float) -> Scale:
    """Heights at the scale of lengths where they fit, so that the flight keeps its true shape."""
    top_m = max(float(view.flight_z_m.max()), _tree_top_m(view), float(view.ground_z_m.max()))
    low_m = min(float(view.ground_z_m.min()), 0.0)
    room_px = MOST_SIDE - GROUND_PX - FLAG_PX / 2
    tall = min(per_m, room_px / (top_m - low_m))
    height_px = max((top_m - low_m) * tall + FLAG_PX / 2, LEAST_SIDE - GROUND_PX)
    return Scale(start_m, per_m, SIDE_TOP + height_px + low_m * tall, tall, SIDE_TOP + height_px + GROUND_PX)


def _side(view: View, plan: Plan, bag: Bag, scale: Scale) -> list[str]:
    parts = _ground_profile(view, scale)
    barrier = view.scene.barrier
    if barrier is not None and barrier.surface is Surface.TREES:
        x, top, foot = scale.x(barrier.x_m), scale.y(barrier.height_m), scale.foot_px
        parts.append(rect(x - 6, top, 12, foot - top - _open_px(barrier, scale), _FILL[Surface.TREES]))
        parts.append(words(x + 10, max(top + NAME_PX, SIDE_TOP), barrier.called, "small"))
    flight = [(scale.x(x), scale.y(z)) for x, z in zip(view.flight_x_m, view.flight_z_m, strict=True)]
    run = plan.chosen.run_m
    after = f"runs {_count(run, bag)}" if run > 0.7 else ("comes back" if run < -0.7 else "stops")
    land_x, land_y = _on_ground(view, scale, view.land_x_m)
    rest_x, rest_y = _on_ground(view, scale, view.rest_x_m)
    return [
        *parts,
        polyline(flight, BALL, 4),
        polyline(_over_ground(view, scale), BALL, 5, stroke_dasharray="3 7", stroke_linecap="round"),
        *_flag(view, scale),
        circle(land_x, land_y, 8, PAPER, stroke=BALL, stroke_width=4),
        circle(rest_x, rest_y, 6, BALL),
        words(land_x, scale.foot_px + 24, f"lands {_count(view.land_x_m, bag)}, {after}", "middle"),
        *_ticks(scale, view, bag),
    ]


def _flag(view: View, scale: Scale) -> list[str]:
    x, foot = _on_ground(view, scale, view.scene.pin_m)
    top = foot - FLAG_PX
    return [line(x, foot, x, top, width=3), path(f"M{place(x, top)} l26 9 l-26 9 z", fill=INK)]


def _ground_profile(view: View, scale: Scale) -> list[str]:
    """The ground as one polygon per surface, down to the panel's foot."""
    top = [(scale.x(x), scale.y(z)) for x, z in zip(view.ground_x_m, view.ground_z_m, strict=True)]
    cuts = np.flatnonzero(np.diff(view.ground_surface)) + 1
    parts = []
    for span in np.split(np.arange(len(top)), cuts):
        until = min(int(span[-1]) + 1, len(top) - 1)
        edge = top[int(span[0]) : until + 1]
        foot = [(edge[-1][0], scale.foot_px), (edge[0][0], scale.foot_px)]
        parts.append(polygon([*edge, *foot], _FILL[Surface(int(view.ground_surface[span[0]]))]))
    return [*parts, polyline(top, INK, 2)]


def _height_on_line(view: View, x_m: float) -> float:
    return float(np.interp(x_m, view.ground_x_m, view.ground_z_m))


def _on_ground(view: View, scale: Scale, x_m: float) -> tuple[float, float]:
    return scale.x(x_m), scale.y(_height_on_line(view, x_m))


def _over_ground(view: View, scale: Scale) -> list[tuple[float, float]]:
    """The run from landing to rest, just above the ground."""
    start_m, end_m = sorted((view.land_x_m, view.rest_x_m))
    points = [_on_ground(view, scale, float(x_m)) for x_m in np.linspace(start_m, end_m, 20)]
    return [(x, y - 3) for x, y in points]


def _ticks(scale: Scale, view: View, bag: Bag) -> list[str]:
    """Distances from the ball under the side view."""
    unit: Unit = bag.player.distances_in
    span = from_metres(view.scene.back_m, unit)
    step = next(size for size in (2, 5, 10, 20) if span / size <= 9) if span <= 180 else 20
    foot, parts = scale.foot_px, []
    for count in range(0, int(span) + step, step):
        x = scale.x(to_metres(count, unit))
        if x > PICTURE_WIDTH - 8:
            break
        parts += [line(x, foot, x, foot + 7), words(x, foot + 46, str(count or "ball"), "small middle")]
    return parts


def _above(view: View, plan: Plan, start_m: float, per_m: float, top: float) -> list[str]:
    scene = view.scene
    middle = top + ABOVE_PX / 2
    wide = min(per_m, ABOVE_PX / 34.0)
    scale = Scale(start_m, per_m, middle, wide)
    half_m = ABOVE_PX / 2 / wide
    beyond = int(np.sum((view.ball_x_m > view.ground_x_m[-1]) | (np.abs(view.ball_y_m) > half_m)))
    outside = f"; {beyond} outside the picture" if beyond else ""
    hole_x = scale.x(scene.pin_m)
    ground = [
        rect(MARGIN, top, PICTURE_WIDTH, ABOVE_PX, "#dfe8cf"),
        _green_from_above(view, scale),
        *(_patch(patch, scale, half_m) for patch in scene.ground.patches),
        line(scale.x(0), middle, hole_x, scale.y(plan.chosen.aim_left_m), width=1.5, stroke_dasharray="8 6"),
        *_balls(view, scale),
        *(_patch_name(patch, scale, half_m) for patch in scene.ground.patches),
        circle(hole_x, middle, 7, PAPER, stroke=INK, stroke_width=4),
    ]
    told = f"{len(view.ball_x_m)} balls: dots clean, crosses heavy or thin, ring the hole{outside}"
    return [
        element("clipPath", rect(MARGIN, top, PICTURE_WIDTH - 2 * MARGIN, ABOVE_PX, PAPER), id="above"),
        group(ground, clip_path="url(#above)"),
        words(MARGIN, top + ABOVE_PX + 28, told),
    ]


def _balls(view: View, scale: Scale) -> list[str]:
    places = [(scale.x(x), scale.y(y)) for x, y in zip(view.ball_x_m, view.ball_y_m, strict=True)]
    return [
        circle(x, y, 4, BALL, fill_opacity=0.75)
        if clean
        else path(f"M{place(x - 4, y - 4)}l8 8m0 -8l-8 8", stroke=INK, stroke_width=2.5)
        for (x, y), clean in zip(places, view.clean, strict=True)
    ]


def _green_from_above(view: View, scale: Scale) -> str:
    ground, scene = view.scene.ground, view.scene
    on_green = np.flatnonzero(ground.surface == int(Surface.GREEN))
    left_m, right_m = float(ground.left_m[on_green[0]]), float(ground.right_m[on_green[0]])
    x0, x1 = scale.x(max(scene.front_m, 0.0)), scale.x(scene.back_m)
    y0, y1 = scale.y(left_m), scale.y(-right_m)
    return rect(x0, y0, x1 - x0, y1 - y0, _FILL[Surface.GREEN], rx=40, stroke=INK, stroke_width=2)


def _patch(patch: Patch, scale: Scale, half_m: float) -> str:
    x0, x1 = scale.x(patch.x0_m), scale.x(patch.x1_m)
    y0, y1 = scale.y(min(patch.y1_m, half_m)), scale.y(max(patch.y0_m, -half_m))
    fill = _FILL[Surface(patch.surface)]
    return rect(x0, y0, max(x1 - x0, 1), max(y1 - y0, 1), fill, rx=10, stroke=INK, stroke_width=1.5)


def _patch_name(patch: Patch, scale: Scale, half_m: float) -> str:
    """What the patch is, at its upper edge, where fewer balls lie."""
    x = (scale.x(patch.x0_m) + scale.x(patch.x1_m)) / 2
    y0, y1 = scale.y(min(patch.y1_m, half_m)), scale.y(max(patch.y0_m, -half_m))
    return words(x, min(y0 + NAME_PX, (y0 + y1) / 2 + 5), patch.called or "", "small middle")
