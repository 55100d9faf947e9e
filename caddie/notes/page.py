"""A course as one page to print before the round: a box a hole, the green with what falls and what lies around it."""

from collections.abc import Mapping, Sequence
from datetime import date
from html import escape
from types import MappingProxyType

from caddie.notes.models import IN_THE_GREEN, HoleNote, Trouble
from caddie.notes.told import hole_facts, trouble_told
from caddie.plan.called import name_of
from caddie.reply.svg import INK, PAPER, RULE, TURF, TURF_PALE, element, figure, line, polygon, words
from caddie.situation import Fall, Side
from caddie.units import Unit, from_metres, length_text

RULE_TOLD = (
    "Your own notes, made before the round: Rule 4.3a(3) allows information gathered before it. "
    "The committee's local rules decide."
)
GREEN_WIDTH, GREEN_HEIGHT = 270.0, 170.0
_MIDDLE = (GREEN_WIDTH / 2, GREEN_HEIGHT / 2)
_DEEPEST_M = 45.0
_USUAL_M = 23.0
_ARROWS = {Fall.TOWARD: (0, 1), Fall.AWAY: (0, -1), Fall.LEFT_TO_RIGHT: (1, 0), Fall.RIGHT_TO_LEFT: (-1, 0)}
_PLACES = {Side.SHORT: (0, 1), Side.LONG: (0, -1), Side.LEFT: (-1, 0), Side.RIGHT: (1, 0)}
_STYLE = f"""
* {{ box-sizing: border-box }}
body {{ margin: 0 auto; max-width: 48rem; padding: 1rem; color: {INK}; background: {PAPER};
  font: 1rem/1.35 system-ui, 'Segoe UI', Helvetica, Arial, sans-serif }}
h1 {{ font-size: 1.5rem; margin: 0 }}
h2 {{ font-size: 1.05rem; margin: 0 }}
p {{ margin: .2rem 0 }}
main {{ display: grid; grid-template-columns: repeat(3, 1fr); gap: .7rem; margin-top: .7rem }}
section {{ border: 1px solid {RULE}; padding: .5rem; break-inside: avoid }}
svg {{ display: block; width: 100%; height: auto }}
small {{ display: block; border-bottom: 1px solid {RULE}; height: 1.5rem; color: {INK} }}
@page {{ margin: 12mm }}
@media print {{ body {{ padding: 0; max-width: none; font-size: 9.5pt }} }}
"""


def course_page(
    course: str,
    notes: Sequence[HoleNote],
    today: date,
    unit: Unit,
    shots_say: Mapping[int, str] = MappingProxyType({}),
) -> str:
    """The page as one HTML file; what holds on one day alone is left out, with a line to write it down.

    Args:
        course: as the player calls it.
        notes: of its holes.
        today: when it is made.
        unit: what the player counts in.
        shots_say: by hole, how the player's shots to it ended.
    """
    boxes = "\n".join(_box(note, today, unit, shots_say.get(note.number, "")) for note in notes)
    return (
        f'<!doctype html>\n<html lang="en">\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>{escape(course)}</title>\n<style>{_STYLE}</style>\n"
        f"<h1>{escape(course)}</h1>\n<p>Seen from the fairway. Made {today.isoformat()}.</p>\n<p>{RULE_TOLD}</p>\n"
        f"<main>\n{boxes}\n</main>\n</html>\n"
    )


def course_text(course: str, notes: Sequence[HoleNote], today: date, unit: Unit) -> str:
    """The same in plain lines, a hole a line."""
    lines = [f"{course}: {len(notes)} hole{'' if len(notes) == 1 else 's'}, seen from the fairway"]
    lines += [hole_line(note, today, unit) for note in notes]
    return "\n".join([*lines, RULE_TOLD])


def hole_line(note: HoleNote, today: date, unit: Unit) -> str:
    """A hole on one line."""
    facts = ", ".join(hole_facts(note, today, unit, length_text)) or "nothing noted"
    return f"{note.number:>3}  {f'{note.name}: ' if note.name else ''}{facts}"


def _box(note: HoleNote, today: date, unit: Unit, shots_say: str) -> str:
    lasting = note.model_copy(update={"firmness": None, "firmness_on": None})
    facts = ", ".join(hole_facts(lasting, today, unit, length_text)) or "nothing noted"
    named = f" {escape(note.name)}" if note.name else ""
    shots = f"<p>Your shots: {escape(shots_say)}</p>" if shots_say else ""
    return (
        f"<section><h2>{note.number}{named}</h2>{green_picture(note, unit)}<p>{escape(facts)}</p>{shots}"
        "<small>Flag, wind, firmness:</small></section>"
    )


def green_picture(note: HoleNote, unit: Unit) -> str:
    """The green from above, the fairway below it: its depth, its falls as arrows, trouble by name around it."""
    middle_x, middle_y = _MIDDLE
    half = 45.0 * min((note.depth_m or _USUAL_M) / _DEEPEST_M, 1.0) + 8
    parts = [element("ellipse", cx=middle_x, cy=middle_y, rx=46, ry=half, fill=TURF_PALE, stroke=TURF)]
    if note.depth_m is not None:
        parts.append(
            words(middle_x + 50, middle_y - half + 4, f"{from_metres(note.depth_m, unit):.0f}", font_size=12)
        )
    parts += [_arrow(fall) for fall in (note.fall, note.side_fall) if fall is not None]
    count = dict.fromkeys(Side, 0)
    for each in note.trouble:
        if each.side is not None and each.kind not in IN_THE_GREEN:
            parts.append(_named(each, half, count[each.side]))
            count[each.side] += 1
    told = ", ".join(trouble_told(each, unit, length_text) for each in note.trouble)
    return figure(
        f"Green of hole {note.number}", told or "No trouble noted.", GREEN_WIDTH, GREEN_HEIGHT, parts
    )


def _arrow(fall: Fall) -> str:
    across, down = _ARROWS[fall]
    x, y = _MIDDLE
    tip = (x + 24 * across, y + 24 * down)
    head = [
        tip,
        (tip[0] - 9 * across + 5 * down, tip[1] - 9 * down + 5 * across),
        (tip[0] - 9 * across - 5 * down, tip[1] - 9 * down - 5 * across),
    ]
    shaft = line(x - 20 * across, y - 20 * down, x + 16 * across, y + 16 * down, width=3)
    return shaft + polygon(head, INK)


def _named(each: Trouble, half: float, place: int) -> str:
    assert each.side is not None
    across, down = _PLACES[each.side]
    x, y = _MIDDLE
    at = (x + 52 * across, y + (half + 16) * down + 13 * place * (down or 1) + 4)
    anchor = {-1: "end", 0: "middle", 1: "start"}[across]
    return words(*at, name_of(each), text_anchor=anchor, font_size=12)
