"""The bag's carries drawn: a row a club, a mark a swing.

Each swing is a box one standard deviation to either side of its mean, with the mean's 95 % interval as a
thick bar in it; an estimate is an empty, broken box.
"""

from collections.abc import Callable
from html import escape

from caddie.bag.models import Bag, Club, ClubKind
from caddie.range.gapping import GapKind, Span, findings, spans
from caddie.reply.svg import INK, PAPER, document, element, group, line, rect, words
from caddie.units import Unit, from_metres

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW = 1000, 130, 30, 96, 74
_FOOT = 56
_LEGEND = (
    "Box: most balls land here. Bar: where the mean is, 19 times in 20. Broken box: estimate, no ball hit."
)
Across = Callable[[float], float]
SpanOrder = Callable[[Span], tuple[bool, int, float]]


def bag_picture(bag: Bag) -> str:
    """The carries of ``bag`` as one SVG document with a title and a description for screen readers."""
    unit = bag.player.distances_in
    rows = _rows(bag)
    drawn = [span for _, swings in rows for span in swings]
    farthest = max((from_metres(span.carry_m + span.sd_m, unit) for span in drawn), default=100.0)
    end = (int(farthest) // 10 + 1) * 10
    height = _TOP + _ROW * len(rows) + _FOOT
    scale = (_WIDTH - _LEFT - _RIGHT) / end

    def across(length_m: float) -> float:
        return _LEFT + from_metres(length_m, unit) * scale

    title = f"How far {bag.player.name} carries each club"
    parts = [
        words(14, 32, title, "head"),
        words(14, 56, _LEGEND, "small"),
        *_ruler(end, height, unit, scale),
        *_holes(bag, across, height),
    ]
    for row, (club, swings) in enumerate(rows):
        y = _TOP + _ROW * row + _ROW / 2
        parts += _club(club, swings[0].sand, y)
        parts += [_swing(span, y, across, unit) for span in swings]
    return document(title, _described(bag, drawn, unit), _WIDTH, height, parts)


def _rows(bag: Bag) -> list[tuple[Club, list[Span]]]:
    """From grass, then out of sand: each club that has a carry there, the most lofted first."""
    return [
        (club, [span for span in spans(bag, sand=sand) if span.club == club.id])
        for sand in (False, True)
        for club in sorted(bag.clubs, key=lambda club: -club.loft_deg)
        if club.cells(sand) and club.kind is not ClubKind.PUTTER
    ]


def _club(club: Club, sand: bool, y: float) -> list[str]:
    place = " out of sand" if sand else ""
    return [
        words(14, y + 2, club.id, "head halo"),
        words(14, y + 22, f"{club.loft_deg:g}°{place}", "small halo"),
        line(_LEFT, y, _WIDTH - _RIGHT, y),
    ]


def _ruler(end: int, height: int, unit: Unit, scale: float) -> list[str]:
    parts = []
    for mark in range(0, end + 1, 10):
        x = _LEFT + mark * scale
        heavy = mark % 50 == 0
        parts.append(line(x, _TOP - 8, x, height - 44, INK if heavy else "#999999", 2 if heavy else 1))
        if mark % 20 == 0 or end <= 100:
            parts.append(words(x, _TOP - 14, str(mark), "middle halo"))
    return [*parts, words(_WIDTH - _RIGHT, height - 14, f"carry, {unit.value}", "end halo")]


def _holes(bag: Bag, across: Across, height: int) -> list[str]:
    """Ground that no carry covers, hatched."""
    carries = {(span.club, span.swing): span.carry_m for span in spans(bag)}
    found = [
        sorted(across(carries[cell]) for cell in finding.cells)
        for finding in findings(bag)
        if finding.kind is GapKind.HOLE
    ]
    if not found:
        return []
    pattern = element(
        "pattern",
        line(0, 0, 0, 10, width=1.4),
        id="hole",
        width=10,
        height=10,
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )
    return [
        element("defs", pattern),
        *(rect(left, _TOP - 6, right - left, height - 38 - _TOP, "url(#hole)") for left, right in found),
        *(words((left + right) / 2, height - 14, "hole", "small middle halo") for left, right in found),
    ]


def _swing(span: Span, y: float, across: Across, unit: Unit) -> str:
    left, right = across(span.carry_m - span.sd_m), across(span.carry_m + span.sd_m)
    middle = across(span.carry_m)
    broken = None if span.shots else "6 4"
    parts = [
        element("title", escape(f"{_named(span)}: {_told(span, unit)}", quote=False)),
        rect(
            left, y - 15, right - left, 30, PAPER, rx=3, stroke=INK, stroke_width=3, stroke_dasharray=broken
        ),
    ]
    if span.low_m is not None and span.high_m is not None:
        low, high = across(span.low_m), across(span.high_m)
        parts.append(rect(low, y - 5, high - low, 10, INK))
    carry = f"{from_metres(span.carry_m, unit):.0f}"
    return group(
        [
            *parts,
            line(middle, y - 15, middle, y + 15, width=3),
            words(middle, y - 20, carry, "number middle halo"),
            words(middle, y + 31, span.swing, "tiny middle halo"),
        ]
    )


def _named(span: Span) -> str:
    return f"{span.club} {span.swing}{' out of sand' if span.sand else ''}"


def _told(span: Span, unit: Unit) -> str:
    carry = f"{from_metres(span.carry_m, unit):.0f} {unit.value}"
    if not span.shots:
        return f"about {carry}, an estimate"
    balls = "ball" if span.shots == 1 else "balls"
    known = ""
    if span.low_m is not None and span.high_m is not None:
        low, high = from_metres(span.low_m, unit), from_metres(span.high_m, unit)
        known = f", mean between {low:.0f} and {high:.0f}"
    return f"{carry}{known}, spread {from_metres(span.sd_m, unit):.0f}, {span.shots} {balls}"


def _described(bag: Bag, drawn: list[Span], unit: Unit) -> str:
    told = [f"{_named(span)} {_told(span, unit)}" for span in sorted(drawn, key=_by_club(bag))]
    holes = [each.text for each in findings(bag) if each.kind is GapKind.HOLE]
    return ". ".join([*told, *holes]) + "."


def _by_club(bag: Bag) -> SpanOrder:
    place = {club.id: index for index, club in enumerate(bag.clubs)}
    return lambda span: (span.sand, place[span.club], span.share)
