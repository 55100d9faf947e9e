"""The shot as one SVG: from the side (flight and run) and from above (where 200 balls finish).

Dark lines on white with thick strokes, so that it can be read in sunlight; every mark has words beside it
and the file carries a title and a description for screen readers.
"""

from dataclasses import dataclass
from xml.sax.saxutils import escape

import numpy as np

from caddie.bag import Bag
from caddie.ball.ground import Patch, Surface
from caddie.plan.shot import Plan
from caddie.plan.view import View, surface_name, view_of
from caddie.reply.phrases import club_written, swing_said
from caddie.units import Unit, from_metres, length_text, to_metres

WIDTH = 900
MARGIN = 46
SIDE_TOP = 70
LEAST_SIDE, MOST_SIDE = 110, 260
GROUND_PX = 26
FLAG_PX = 64
ABOVE_PX = 290
UNDER_SIDE_PX = 70
UNDER_ABOVE_PX = 46
NAME_PX = 20

INK = "#111111"
BALL = "#b3261e"
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
    per_m = (WIDTH - 2 * MARGIN) / (end_m - start_m)
    side = _side_scale(view, start_m, per_m)
    side_bottom = side.foot_px
    above_top = side_bottom + UNDER_SIDE_PX
    heading = f"{club_written(plan.chosen, bag)}, {swing_said(plan.chosen)}"
    parts = [
        f'<text x="{MARGIN}" y="34" class="head">{escape(heading)}</text>',
        *_side(view, plan, bag, side),
        *_above(view, plan, start_m, per_m, above_top),
    ]
    height = round(above_top + ABOVE_PX + UNDER_ABOVE_PX)
    on_green = np.mean(view.ball_surface == int(Surface.GREEN))
    description = (
        f"{heading}: carries {_count(plan.chosen.carry_m, bag)}, then runs {_count(plan.chosen.run_m, bag)}. "
        f"Of {len(view.ball_x_m)} balls {on_green:.0%} finish on the green."
    )
    return document("The shot from the side and from above", description, WIDTH, height, parts)


def document(title: str, description: str, width: int, height: int, parts: list[str]) -> str:
    """An SVG document with its title, description and the project's type styles."""
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
            f'height="{height}" role="img" aria-labelledby="title description">',
            f'<title id="title">{escape(title)}</title>',
            f'<desc id="description">{escape(description)}</desc>',
            "<style>text{font:600 17px sans-serif;fill:#111}.head{font-size:23px}.small{font-size:14px}"
            ".middle{text-anchor:middle}.end{text-anchor:end}</style>",
            f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
            *parts,
            "</svg>",
            "",
        ]
    )


def _count(length_m: float, bag: Bag) -> str:
    return length_text(length_m, bag.player.distances_in, bag.player.pace_m)


def _side_scale(view: View, start_m: float, per_m: float) -> Scale:
    """Heights at the scale of lengths where they fit, so that the flight keeps its true shape."""
    top_m = max(float(view.flight_z_m.max()), view.scene.tree_height_m, float(view.ground_z_m.max()))
    low_m = min(float(view.ground_z_m.min()), 0.0)
    room_px = MOST_SIDE - GROUND_PX - FLAG_PX / 2
    tall = min(per_m, room_px / (top_m - low_m))
    height_px = max((top_m - low_m) * tall + FLAG_PX / 2, LEAST_SIDE - GROUND_PX)
    return Scale(start_m, per_m, SIDE_TOP + height_px + low_m * tall, tall, SIDE_TOP + height_px + GROUND_PX)


def _side(view: View, plan: Plan, bag: Bag, scale: Scale) -> list[str]:
    parts = [*_ground_profile(view, scale)]
    if view.scene.tree_x_m is not None:
        x, top = scale.x(view.scene.tree_x_m), scale.y(view.scene.tree_height_m)
        parts.append(
            f'<rect x="{x - 6:.1f}" y="{top:.1f}" width="12" height="{scale.foot_px - top:.1f}" '
            f'fill="{_FILL[Surface.TREES]}"/>'
        )
    points = " ".join(
        f"{scale.x(x):.1f},{scale.y(z):.1f}" for x, z in zip(view.flight_x_m, view.flight_z_m, strict=True)
    )
    pin_m = view.scene.pin_m
    pin_ground = _height_on_line(view, pin_m)
    land = (scale.x(view.land_x_m), scale.y(_height_on_line(view, view.land_x_m)))
    rest = (scale.x(view.rest_x_m), scale.y(_height_on_line(view, view.rest_x_m)))
    flag_top = scale.y(pin_ground) - FLAG_PX
    run = plan.chosen.run_m
    label = f"runs {_count(run, bag)}" if run > 0.7 else ("comes back" if run < -0.7 else "stops")
    run_line = _polyline_over_ground(
        view, scale, min(view.land_x_m, view.rest_x_m), max(view.land_x_m, view.rest_x_m)
    )
    return [
        *parts,
        f'<polyline points="{points}" fill="none" stroke="{BALL}" stroke-width="4"/>',
        f'<polyline points="{run_line}" fill="none" stroke="{BALL}" stroke-width="5" stroke-dasharray="3 7" '
        'stroke-linecap="round"/>',
        f'<line x1="{scale.x(pin_m):.1f}" y1="{scale.y(pin_ground):.1f}" x2="{scale.x(pin_m):.1f}" '
        f'y2="{flag_top:.1f}" stroke="{INK}" stroke-width="3"/>',
        f'<path d="M{scale.x(pin_m):.1f} {flag_top:.1f} l26 9 l-26 9 z" fill="{INK}"/>',
        f'<circle cx="{land[0]:.1f}" cy="{land[1]:.1f}" r="8" fill="#ffffff" stroke="{BALL}" '
        'stroke-width="4"/>',
        f'<circle cx="{rest[0]:.1f}" cy="{rest[1]:.1f}" r="6" fill="{BALL}"/>',
        f'<text x="{land[0]:.1f}" y="{scale.foot_px + 24:.1f}" class="middle">'
        f"lands {_count(view.land_x_m, bag)}, {label}</text>",
        *_ticks(scale, view, bag),
    ]


def _ground_profile(view: View, scale: Scale) -> list[str]:
    """The ground as one polygon per surface, down to the panel's foot."""
    cuts = np.flatnonzero(np.diff(view.ground_surface)) + 1
    parts = []
    for span in np.split(np.arange(len(view.ground_x_m)), cuts):
        last = min(int(span[-1]) + 1, len(view.ground_x_m) - 1)
        index = [*span, last]
        top = " ".join(f"{scale.x(view.ground_x_m[i]):.1f},{scale.y(view.ground_z_m[i]):.1f}" for i in index)
        x0, x1 = scale.x(view.ground_x_m[index[0]]), scale.x(view.ground_x_m[index[-1]])
        foot, fill = scale.foot_px, _FILL[Surface(int(view.ground_surface[span[0]]))]
        parts.append(f'<polygon points="{x0:.1f},{foot:.1f} {top} {x1:.1f},{foot:.1f}" fill="{fill}"/>')
    line = " ".join(
        f"{scale.x(x):.1f},{scale.y(z):.1f}" for x, z in zip(view.ground_x_m, view.ground_z_m, strict=True)
    )
    parts.append(f'<polyline points="{line}" fill="none" stroke="{INK}" stroke-width="2"/>')
    return parts


def _height_on_line(view: View, x_m: float) -> float:
    return float(np.interp(x_m, view.ground_x_m, view.ground_z_m))


def _polyline_over_ground(view: View, scale: Scale, from_m: float, to_m: float) -> str:
    xs = np.linspace(from_m, to_m, 20)
    return " ".join(f"{scale.x(x):.1f},{scale.y(_height_on_line(view, x)) - 3:.1f}" for x in xs)


def _ticks(scale: Scale, view: View, bag: Bag) -> list[str]:
    """Distances from the ball under the side view."""
    unit: Unit = bag.player.distances_in
    span = from_metres(view.scene.back_m, unit)
    step = next(size for size in (2, 5, 10, 20) if span / size <= 9) if span <= 180 else 20
    foot, parts = scale.foot_px, []
    for count in range(0, int(span) + step, step):
        x = scale.x(to_metres(count, unit))
        if x > WIDTH - 8:
            break
        parts.append(f'<line x1="{x:.1f}" y1="{foot:.1f}" x2="{x:.1f}" y2="{foot + 7:.1f}" stroke="{INK}"/>')
        parts.append(f'<text x="{x:.1f}" y="{foot + 46:.1f}" class="small middle">{count or "ball"}</text>')
    return parts


def _above(view: View, plan: Plan, start_m: float, per_m: float, top: float) -> list[str]:
    scene = view.scene
    middle = top + ABOVE_PX / 2
    wide = min(per_m, ABOVE_PX / 34.0)
    scale = Scale(start_m, per_m, middle, wide)
    half_m = ABOVE_PX / 2 / wide
    beyond = int(np.sum((view.ball_x_m > view.ground_x_m[-1]) | (np.abs(view.ball_y_m) > half_m)))
    parts = [
        f'<clipPath id="above"><rect x="{MARGIN}" y="{top:.1f}" width="{WIDTH - 2 * MARGIN}" '
        f'height="{ABOVE_PX}"/></clipPath>',
        f'<g clip-path="url(#above)"><rect x="{MARGIN}" y="{top:.1f}" width="{WIDTH}" '
        f'height="{ABOVE_PX}" fill="#dfe8cf"/>',
        *_green_from_above(view, scale),
        *(_patch(patch, scale, half_m) for patch in scene.ground.patches),
    ]
    names = [_patch_name(patch, scale, half_m) for patch in scene.ground.patches]
    aim_y = scale.y(plan.chosen.aim_left_m)
    parts.append(
        f'<line x1="{scale.x(0):.1f}" y1="{middle:.1f}" x2="{scale.x(scene.pin_m):.1f}" y2="{aim_y:.1f}" '
        f'stroke="{INK}" stroke-width="1.5" stroke-dasharray="8 6"/>'
    )
    for x_m, y_m, clean in zip(view.ball_x_m, view.ball_y_m, view.clean, strict=True):
        x, y = scale.x(x_m), scale.y(y_m)
        parts.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{BALL}" fill-opacity="0.75"/>'
            if clean
            else f'<path d="M{x - 4:.1f} {y - 4:.1f}l8 8m0 -8l-8 8" stroke="{INK}" stroke-width="2.5"/>'
        )
    x = scale.x(scene.pin_m)
    outside = f"; {beyond} outside the picture" if beyond else ""
    return [
        *parts,
        *names,
        f'<circle cx="{x:.1f}" cy="{middle:.1f}" r="7" fill="#ffffff" stroke="{INK}" stroke-width="4"/>',
        "</g>",
        f'<text x="{MARGIN}" y="{top + ABOVE_PX + 28:.1f}">{len(view.ball_x_m)} balls: '
        f"dots clean, crosses heavy or thin, ring the hole{outside}</text>",
    ]


def _green_from_above(view: View, scale: Scale) -> list[str]:
    ground, scene = view.scene.ground, view.scene
    on_green = np.flatnonzero(ground.surface == int(Surface.GREEN))
    left_m, right_m = float(ground.left_m[on_green[0]]), float(ground.right_m[on_green[0]])
    x0, x1 = scale.x(max(scene.front_m, 0.0)), scale.x(scene.back_m)
    y0, y1 = scale.y(left_m), scale.y(-right_m)
    return [
        f'<rect x="{x0:.1f}" y="{y0:.1f}" width="{x1 - x0:.1f}" height="{y1 - y0:.1f}" rx="40" '
        f'fill="{_FILL[Surface.GREEN]}" stroke="{INK}" stroke-width="2"/>'
    ]


def _patch(patch: Patch, scale: Scale, half_m: float) -> str:
    x0, x1 = scale.x(patch.x0_m), scale.x(patch.x1_m)
    y0, y1 = scale.y(min(patch.y1_m, half_m)), scale.y(max(patch.y0_m, -half_m))
    return (
        f'<rect x="{x0:.1f}" y="{y0:.1f}" width="{max(x1 - x0, 1):.1f}" '
        f'height="{max(y1 - y0, 1):.1f}" rx="10" '
        f'fill="{_FILL[Surface(patch.surface)]}" stroke="{INK}" stroke-width="1.5"/>'
    )


def _patch_name(patch: Patch, scale: Scale, half_m: float) -> str:
    """What the patch is, at its upper edge, where fewer balls lie."""
    x = (scale.x(patch.x0_m) + scale.x(patch.x1_m)) / 2
    y0, y1 = scale.y(min(patch.y1_m, half_m)), scale.y(max(patch.y0_m, -half_m))
    y = min(y0 + NAME_PX, (y0 + y1) / 2 + 5)
    name = "bunker" if patch.surface is Surface.SAND else surface_name(patch.surface)
    return f'<text x="{x:.1f}" y="{y:.1f}" class="small middle">{name}</text>'
