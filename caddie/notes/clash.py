"""What was told of a hole and cannot be together with its note: one rule for each kind of fact that lasts.

>>> noted = HoleNote(number=4, side_fall=Fall.LEFT_TO_RIGHT)
>>> flat = HoleNote(number=4, fall_slope=0.0)
>>> [(each.before, each.now) for each in contradictions(noted, flat)]
[('falls left to right', 'flat')]
"""

from typing import Any

from caddie.notes.models import AXES, HoleNote, Trouble
from caddie.notes.told import depth_told, fall_told, height_told, length_told, slope_told, trouble_told
from caddie.situation import Fall, Frozen, Side
from caddie.units import Unit

OPPOSITE_SIDE = {
    Side.LEFT: Side.RIGHT,
    Side.RIGHT: Side.LEFT,
    Side.SHORT: Side.LONG,
    Side.LONG: Side.SHORT,
}
OPPOSITE_FALL = {
    Fall.TOWARD: Fall.AWAY,
    Fall.AWAY: Fall.TOWARD,
    Fall.LEFT_TO_RIGHT: Fall.RIGHT_TO_LEFT,
    Fall.RIGHT_TO_LEFT: Fall.LEFT_TO_RIGHT,
}
ABOUT_THE_SAME = 0.15
"""Two lengths told on two days that differ by no more are one (common practice, no source)."""
SLOPES_THE_SAME = 0.5
"""Slopes are told more roughly: two that differ by no more than this share of the steeper are one (common
practice, no source)."""


class Contradiction(Frozen):
    """One thing that the note says otherwise."""

    before: str
    """As the note has it."""
    now: str
    """As it was said."""
    field: str
    """Of the note; of trouble, the field of :class:`Trouble` behind a point."""


def contradictions(note: HoleNote, told: HoleNote) -> tuple[Contradiction, ...]:
    """Everything told that cannot be together with what the note says.

    Firmness is of one day: what is said of it now is no contradiction.
    """
    return (*_falls(note, told), *_lengths(note, told), *_troubles(note, told))


def without(told: HoleNote, note: HoleNote) -> HoleNote:
    """What was told, less all that contradicts the note."""
    fields = {each.field for each in contradictions(note, told)}
    update: dict[str, Any] = {}
    if told.flat and not fields.isdisjoint(AXES):
        update["fall_slope"] = None
    for axis, slope in AXES.items():
        if axis in fields:
            update |= {axis: None, slope: None}
        elif slope in fields:
            update[slope] = None
    update |= {field: None for field in ("depth_m", "height_m") if field in fields}
    if told.trouble:
        kept = (each for each in told.trouble if opposed(each, note) is None)
        update["trouble"] = tuple(_as_measured(each, note) for each in kept)
    return told.model_copy(update=update)


def opposed(each: Trouble, note: HoleNote) -> Trouble | None:
    """The trouble that the note has on the other side, and not on this one."""
    there = {old.side: old for old in note.trouble if old.kind is each.kind}
    return None if each.side is None or each.side in there else there.get(OPPOSITE_SIDE[each.side])


def _falls(note: HoleNote, told: HoleNote) -> list[Contradiction]:
    found = []
    for axis, slope in AXES.items():
        before, now = getattr(note, axis), getattr(told, axis)
        if told.flat and before is not None:
            found.append(Contradiction(before=fall_told(before), now=fall_told(None), field=axis))
        elif note.flat and now is not None:
            found.append(Contradiction(before=fall_told(None), now=fall_told(now), field=axis))
        elif now is not None and OPPOSITE_FALL[now] is before:
            found.append(Contradiction(before=fall_told(before), now=fall_told(now), field=axis))
        elif now is not None and now is before:
            steep = getattr(note, slope), getattr(told, slope)
            if _apart(*steep, SLOPES_THE_SAME):
                said = [slope_told(now, each) for each in steep]
                found.append(Contradiction(before=said[0], now=said[1], field=slope))
    return found


def _lengths(note: HoleNote, told: HoleNote) -> list[Contradiction]:
    found = []
    if _apart(note.depth_m, told.depth_m):
        said = [depth_told(each.depth_m or 0.0) for each in (note, told)]
        found.append(Contradiction(before=said[0], now=said[1], field="depth_m"))
    if _apart(note.height_m, told.height_m):
        said = [height_told(each.height_m or 0.0) for each in (note, told)]
        found.append(Contradiction(before=said[0], now=said[1], field="height_m"))
    return found


def _troubles(note: HoleNote, told: HoleNote) -> list[Contradiction]:
    found = []
    known = {(old.kind, old.side): old for old in note.trouble}
    for each in told.trouble:
        other = opposed(each, note)
        if other is not None:
            bare = [Trouble(kind=one.kind, side=one.side, called=one.called) for one in (other, each)]
            found.append(
                Contradiction(before=trouble_told(bare[0]), now=trouble_told(bare[1]), field="trouble.side")
            )
        same = known.get((each.kind, each.side))
        if same is None:
            continue
        if _apart(same.before_green_m, each.before_green_m):
            found.append(
                Contradiction(
                    before=trouble_told(same), now=trouble_told(each), field="trouble.before_green_m"
                )
            )
        if _apart(same.height_m, each.height_m):
            said = [
                f"{trouble_told(Trouble(kind=one.kind, side=one.side, called=one.called))}, "
                f"{length_told(one.height_m or 0.0, Unit.FEET)} high"
                for one in (same, each)
            ]
            found.append(Contradiction(before=said[0], now=said[1], field="trouble.height_m"))
    return found


def _as_measured(each: Trouble, note: HoleNote) -> Trouble:
    """Trouble as told, with the note's measures where the two differ."""
    same = next((old for old in note.trouble if (old.kind, old.side) == (each.kind, each.side)), None)
    if same is None:
        return each
    measures = ("before_green_m", "height_m")
    return each.model_copy(
        update={name: None for name in measures if _apart(getattr(same, name), getattr(each, name))}
    )


def _apart(one: float | None, other: float | None, allowed: float = ABOUT_THE_SAME) -> bool:
    """Whether two measures are both known and are not about the same."""
    if one is None or other is None:
        return False
    return one * other < 0 or abs(one - other) > allowed * max(abs(one), abs(other))
