"""Charts as SVG text: dots with intervals, quartile bars, places round the flag, strikes, and a trend.

Every chart carries its figures in words (``title`` and ``desc``) for screen readers, and its numbers in plain
sight, so that nothing is said by colour alone.
"""

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from caddie.reply.svg import (
    CLAY,
    INK,
    PLUM,
    QUIET,
    RULE,
    SAND,
    SLATE,
    TURF,
    TURF_PALE,
    circle,
    element,
    figure,
    line,
    path,
    place,
    polyline,
    rect,
    words,
)

STRIKE_COLOURS = (CLAY, SAND, SLATE, PLUM)
ROW = 22
LABEL = 150
CHART_WIDTH = 640


class Row(NamedTuple):
    """One line of a chart of dots: a value, its interval and what is printed at its right."""

    name: str
    value: float
    low: float
    high: float
    note: str


class Bars(NamedTuple):
    """One line of a chart of stacked bars: shares of 1, in the order of the legend."""

    name: str
    shares: tuple[float, ...]
    note: str


def dots(
    title: str, told: str, rows: Sequence[Row], ticks: Sequence[tuple[float, str]], zero: float | None = None
) -> str:
    """Dots with whiskers over a common scale whose ends are the outer ``ticks``; ``zero`` is drawn strong."""

    def dot(row: Row, y: float, at: Callable[[float], float]) -> list[str]:
        return [
            line(at(row.low), y, at(row.high), y, TURF_PALE, 7, stroke_linecap="round"),
            circle(at(row.value), y, 5.5, TURF),
        ]

    return _on_a_scale(title, told, rows, ticks, dot, zero)


def spans(title: str, told: str, rows: Sequence[Row], ticks: Sequence[tuple[float, str]]) -> str:
    """Bars from the lower to the upper quartile with a mark at the median."""

    def span(row: Row, y: float, at: Callable[[float], float]) -> list[str]:
        width = max(at(row.high) - at(row.low), 3)
        x = at(row.value)
        return [_bar(at(row.low), y - 7, width, 14, TURF_PALE), line(x, y - 9, x, y + 9, TURF, 3.5)]

    return _on_a_scale(title, told, rows, ticks, span)


def _on_a_scale(
    title: str,
    told: str,
    rows: Sequence[Row],
    ticks: Sequence[tuple[float, str]],
    mark: Callable[[Row, float, Callable[[float], float]], list[str]],
    zero: float | None = None,
) -> str:
    """Named rows over the scale of the ticks; ``mark`` draws a row at its height, given where values stand."""
    low, high = ticks[0][0], ticks[-1][0]
    left, right = LABEL, CHART_WIDTH - 136
    bottom = 8 + ROW * len(rows)

    def at(value: float) -> float:
        return _scale(min(max(value, low), high), low, high, left, right)

    body = []
    for value, text in ticks:
        strong = value == zero
        body.append(line(at(value), 4, at(value), bottom, INK if strong else RULE, 1.4 if strong else 1))
        body.append(_text(at(value), bottom + 16, text, anchor="middle", fill=QUIET, size=12))
    for number, row in enumerate(rows):
        y = 8 + ROW * (number + 0.5)
        body.append(_text(left - 12, y + 4.5, row.name, anchor="end"))
        body.append(_text(right + 14, y + 4.5, row.note, fill=QUIET, size=12.5))
        if not math.isnan(row.value):
            body += mark(row, y, at)
    return figure(title, told, CHART_WIDTH, bottom + 24, body)


def stacked(title: str, told: str, rows: Sequence[Bars], legend: Sequence[str]) -> str:
    """Stacked bars of shares; the axis ends at the largest sum, rounded up to ten per cent."""
    left, right = LABEL, CHART_WIDTH - 136
    most = max((sum(row.shares) for row in rows), default=0.0)
    end = max(math.ceil(most * 10 - 1e-9) / 10, 0.1)
    bottom = 30 + ROW * len(rows)
    body = []
    x = float(left)
    for name, colour in zip(legend, STRIKE_COLOURS, strict=False):
        body.append(_bar(x, 3, 11, 11, colour))
        body.append(_text(x + 16, 13, name, size=12.5))
        x += 34 + 7.2 * len(name)
    for value in (0.0, end / 2, end):
        at = _scale(value, 0, end, left, right)
        body.append(line(at, 24, at, bottom, RULE, 1))
        body.append(_text(at, bottom + 16, f"{value:.0%}", anchor="middle", fill=QUIET, size=12))
    for number, row in enumerate(rows):
        y = 30 + ROW * (number + 0.5)
        body.append(_text(left - 12, y + 4.5, row.name, anchor="end"))
        body.append(_text(right + 14, y + 4.5, row.note, fill=QUIET, size=12.5))
        start = 0.0
        for share, colour in zip(row.shares, STRIKE_COLOURS, strict=False):
            one, two = (_scale(start + part, 0, end, left, right) for part in (0, share))
            if share:
                body.append(_bar(one, y - 8, two - one, 16, colour))
            start += share
    return figure(title, told, CHART_WIDTH, bottom + 24, body)


def nine_places(title: str, told: str, grid: Sequence[Sequence[int]]) -> str:
    """Where balls ended as the player looks at the flag, long above: shares of those that missed."""
    total = sum(map(sum, grid))
    size, gap, top, left = 66, 4, 22, 60
    most = max((count for row in grid for count in row), default=0) or 1
    body = []
    for row, counts in enumerate(grid):
        for column, count in enumerate(counts):
            x, y = left + column * (size + gap), top + row * (size + gap)
            if (row, column) == (1, 1):
                body.append(_flag(x + size / 2, y + size / 2))
                continue
            # Dark figures can still be read on the darkest shade.
            shade = 0.06 + 0.56 * count / most
            body.append(rect(x, y, size, size, TURF, rx=6, fill_opacity=shade))
            share = f"{count / total:.0%}" if total else "–"
            body.append(_text(x + size / 2, y + size / 2 + 6, share, anchor="middle", size=17))
    middle = left + 1.5 * size + gap
    end = top + 3 * size + 2 * gap
    body.append(_text(middle, top - 8, "long", anchor="middle", fill=QUIET, size=12.5))
    body.append(_text(middle, end + 17, "short", anchor="middle", fill=QUIET, size=12.5))
    beside = top + 1.5 * size + gap + 4
    body.append(_text(left - 8, beside, "left", anchor="end", fill=QUIET, size=12.5))
    body.append(_text(left + 3 * size + 2 * gap + 8, beside, "right", fill=QUIET, size=12.5))
    return figure(title, told, left + 3 * size + 2 * gap + 60, end + 26, body)


def trend(title: str, told: str, points: Sequence[Row], ticks: Sequence[tuple[float, str]]) -> str:
    """Values in time with whiskers, evenly spaced, joined by a line; zero is drawn strong."""
    low, high = ticks[0][0], ticks[-1][0]
    left, right, top, bottom = 66, CHART_WIDTH - 20, 12, 186
    body = []
    for value, text in ticks:
        y = _scale(value, low, high, bottom, top)
        body.append(line(left, y, right, y, INK if value == 0 else RULE, 1.4 if value == 0 else 1))
        body.append(_text(left - 8, y + 4, text, anchor="end", fill=QUIET, size=12))
    step = (right - left) / max(len(points), 1)
    places = [
        (
            left + step * (number + 0.5),
            _scale(min(max(point.value, low), high), low, high, bottom, top),
            point,
        )
        for number, point in enumerate(points)
    ]
    for x, _, point in places:
        ends = [_scale(min(max(end, low), high), low, high, bottom, top) for end in (point.low, point.high)]
        body.append(line(x, ends[0], x, ends[1], TURF_PALE, 7, stroke_linecap="round"))
    body.append(polyline([(x, y) for x, y, _ in places], TURF, 1.6))
    for x, y, point in places:
        body.append(circle(x, y, 4.5, TURF))
        body.append(_text(x, bottom + 18, point.name, anchor="middle", fill=QUIET, size=11.5))
    return figure(title, told, CHART_WIDTH, bottom + 28, body)


def _scale(value: float, low: float, high: float, start: float, end: float) -> float:
    return start + (value - low) / (high - low) * (end - start)


def _bar(x: float, y: float, width: float, height: float, colour: str) -> str:
    return rect(x, y, width, height, colour, rx=2)


def _text(
    x: float, y: float, text: str, anchor: str | None = None, fill: str = INK, size: float = 13.5
) -> str:
    return words(x, y, text, anchor=anchor, fill=fill, size=size)


def _flag(x: float, y: float) -> str:
    return (
        element("ellipse", cx=x, cy=y + 19, rx=8, ry=3.2, fill=INK)
        + line(x, y + 19, x, y - 20, INK, 2)
        + path(f"M{place(x, y - 20)} l20 6.5 l-20 6.5 z", fill=CLAY)
    )
