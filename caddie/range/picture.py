"""The bag's carries drawn as SVG: a row a club, a mark a swing, black on white so that the sun does no harm.

Each swing is a box one standard deviation to either side of its mean, with the mean's 95 % interval as a
thick bar in it; an estimate is an empty, broken box. Shape and words carry the meaning, colour does not.
"""

from collections.abc import Callable
from html import escape

from caddie.bag.models import Bag, ClubKind
from caddie.range.gapping import FindingKind, Span, findings, spans
from caddie.units import Unit, from_metres

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW = 1000, 130, 30, 96, 74
Across = Callable[[float], float]
Order = Callable[[Span], tuple[bool, int, float]]

_HALO = 'stroke="#fff" stroke-width="4" paint-order="stroke"'
_TEXT = f'font-family="Helvetica, Arial, sans-serif" fill="#000" {_HALO}'


def bag_picture(bag: Bag) -> str:
    """The carries of ``bag`` as one SVG document with a title and a description for screen readers."""
    unit = bag.player.distances_in
    known = {sand: spans(bag, sand=sand) for sand in (False, True)}
    rows = [
        (club, [span for span in known[sand] if span.club == club.id])
        for sand in known
        for club in sorted(bag.clubs, key=lambda club: -club.loft_deg)
        if club.cells(sand) and club.kind is not ClubKind.PUTTER
    ]
    drawn = [span for _, swings in rows for span in swings]
    farthest = max((from_metres(span.carry_m + span.sd_m, unit) for span in drawn), default=100.0)
    end = (int(farthest) // 10 + 1) * 10
    height = _TOP + _ROW * len(rows) + 56
    scale = (_WIDTH - _LEFT - _RIGHT) / end

    def across(length_m: float) -> float:
        return _LEFT + from_metres(length_m, unit) * scale

    body = [_ruler(end, height, unit, scale), _holes(bag, across, height)]
    for row, (club, swings) in enumerate(rows):
        y = _TOP + _ROW * row + _ROW / 2
        place = " out of sand" if swings[0].sand else ""
        body.append(
            f'<text x="14" y="{y + 2:.0f}" font-size="24" font-weight="700" {_TEXT}>{escape(club.id)}</text>'
            f'<text x="14" y="{y + 22:.0f}" font-size="15" {_TEXT}>{club.loft_deg:g}°{place}</text>'
            f'<line x1="{_LEFT}" y1="{y:.0f}" x2="{_WIDTH - _RIGHT}" y2="{y:.0f}" stroke="#000"/>'
        )
        body += [_swing(span, y, across, unit) for span in swings]
    title = f"How far {bag.player.name} carries each club"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img" '
        f'aria-labelledby="bag-title bag-desc">'
        f'<title id="bag-title">{escape(title)}</title>'
        f'<desc id="bag-desc">{escape(_described(bag, drawn, unit))}</desc>'
        f'<rect width="{_WIDTH}" height="{height}" fill="#fff"/>'
        f'<text x="14" y="32" font-size="24" font-weight="700" {_TEXT}>{escape(title)}</text>'
        f'<text x="14" y="56" font-size="16" {_TEXT}>Box: most balls land here. Bar: where the mean is, '
        "19 times in 20. Broken box: estimate, no ball hit.</text>"
        f"{''.join(body)}</svg>\n"
    )


def _ruler(end: int, height: int, unit: Unit, scale: float) -> str:
    parts = []
    for mark in range(0, end + 1, 10):
        x = _LEFT + mark * scale
        heavy = mark % 50 == 0
        parts.append(
            f'<line x1="{x:.1f}" y1="{_TOP - 8}" x2="{x:.1f}" y2="{height - 44}" '
            f'stroke="{"#000" if heavy else "#999"}" stroke-width="{2 if heavy else 1}"/>'
        )
        if mark % 20 == 0 or end <= 100:
            parts.append(
                f'<text x="{x:.1f}" y="{_TOP - 14}" font-size="17" text-anchor="middle" {_TEXT}>{mark}</text>'
            )
    parts.append(
        f'<text x="{_WIDTH - _RIGHT}" y="{height - 14}" font-size="17" text-anchor="end" {_TEXT}>'
        f"carry, {unit.value}</text>"
    )
    return "".join(parts)


def _holes(bag: Bag, across: Across, height: int) -> str:
    """Ground that no carry covers, hatched."""
    carries = {(span.club, span.swing): span.carry_m for span in spans(bag)}
    stripes = []
    for finding in findings(bag):
        if finding.kind is FindingKind.HOLE:
            left, right = (across(carries[cell]) for cell in finding.cells)
            stripes.append(
                f'<rect x="{left:.1f}" y="{_TOP - 6}" width="{right - left:.1f}" '
                f'height="{height - 38 - _TOP}" '
                'fill="url(#hole)"/>'
                f'<text x="{(left + right) / 2:.1f}" y="{height - 14}" font-size="15" text-anchor="middle" '
                f"{_TEXT}>hole</text>"
            )
    pattern = (
        '<defs><pattern id="hole" width="10" height="10" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="10" stroke="#000" stroke-width="1.4"/>'
        "</pattern></defs>"
    )
    return pattern + "".join(stripes) if stripes else ""


def _swing(span: Span, y: float, across: Across, unit: Unit) -> str:
    left, right = across(span.carry_m - span.sd_m), across(span.carry_m + span.sd_m)
    middle = across(span.carry_m)
    broken = "" if span.shots else ' stroke-dasharray="6 4"'
    words = f"{_named(span)}: {_told(span, unit)}"
    bar = ""
    if span.low_m is not None and span.high_m is not None:
        low, high = across(span.low_m), across(span.high_m)
        bar = f'<rect x="{low:.1f}" y="{y - 5:.1f}" width="{high - low:.1f}" height="10" fill="#000"/>'
    return (
        f"<g><title>{escape(words)}</title>"
        f'<rect x="{left:.1f}" y="{y - 15:.1f}" width="{right - left:.1f}" height="30" rx="3" '
        f'fill="#fff" stroke="#000" stroke-width="3"{broken}/>{bar}'
        f'<line x1="{middle:.1f}" y1="{y - 15:.1f}" x2="{middle:.1f}" y2="{y + 15:.1f}" stroke="#000" '
        'stroke-width="3"/>'
        f'<text x="{middle:.1f}" y="{y - 20:.1f}" font-size="17" font-weight="700" text-anchor="middle" '
        f"{_TEXT}>{from_metres(span.carry_m, unit):.0f}</text>"
        f'<text x="{middle:.1f}" y="{y + 31:.1f}" font-size="13" text-anchor="middle" {_TEXT}>'
        f"{escape(span.swing)}</text></g>"
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
    holes = [each.text for each in findings(bag) if each.kind is FindingKind.HOLE]
    return ". ".join([*told, *holes]) + "."


def _by_club(bag: Bag) -> Order:
    place = {club.id: index for index, club in enumerate(bag.clubs)}
    return lambda span: (span.sand, place[span.club], span.share)
