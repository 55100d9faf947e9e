"""What was told of a hole laid over its note, and what of it contradicts the note."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from caddie.errors import CaddieError
from caddie.notes.clash import OPPOSITE_FALL, Contradiction, contradictions, opposed, without
from caddie.notes.models import AXES, IN_THE_GREEN, MOST_BEFORE_M, HoleNote, Trouble
from caddie.situation import Fall, Hazard, HazardKind, Lie, Side, Situation
from caddie.units import Unit
from caddie.words import Understanding, understand
from caddie.words.told_note import NoteSaid, read_note

_FRONTS_YARDS = (100, 120)
"""With the front edge said to be so far, the reader tells how far before it trouble ends."""
TroublePlace = tuple[HazardKind, Side | None]
Ends = Mapping[TroublePlace, float]
"""How far before the green trouble ends [m]."""
_OF_THE_DAY = {
    "pin_m": "distance",
    "front_m": "distance",
    "room_m": "distance",
    "lie": "lie",
    "stance": "lie",
    "pin_position": "flag",
    "wind": "wind",
}
_ALONG = (Fall.TOWARD, Fall.AWAY)


def facts_told(
    course: str, number: int, said: Situation, *, told: NoteSaid | None = None, ends: Ends | None = None
) -> HoleNote:
    """What was told of a hole, as a note that holds nothing else.

    Args:
        course: its course.
        number: its number.
        said: the facts of the words.
        told: what only notes have words for.
        ends: as :func:`where_trouble_ends` gives it.
    """
    raised_m = told.height_m if told is not None else None
    return HoleNote(
        course=course,
        number=number,
        depth_m=told.depth_m if told is not None else None,
        height_m=raised_m if raised_m is not None else said.elevation_m,
        trouble=tuple(_trouble(each, ends or {}) for each in said.hazards),
        firmness=said.green.firmness,
        **_falls(said),
    )


def where_trouble_ends(text: str, unit: Unit, pace_m: float) -> Ends:
    """How far before the green each piece of trouble ends, where the text says so.

    It is read with the front edge at two known distances: a carry that grows with them was told from the green.
    "Water twenty yards short" is told of the hole, so that each clause may also be short of the green.
    """
    ways = [*(f"{clause} of the green" for clause in text.split(",")), text]
    found: dict[TroublePlace, float] = {}
    for way in ways:
        near, far = (
            understand(f"{way}, {front} yards to the front edge", unit=unit, pace_m=pace_m).situation
            for front in _FRONTS_YARDS
        )
        carries = {(each.kind, each.side): each.carry_m for each in far.hazards}
        for each in near.hazards:
            further_m = carries.get((each.kind, each.side))
            if near.front_m is None or each.carry_m is None or further_m in (None, each.carry_m):
                continue
            before_m = round(near.front_m - each.carry_m, 2)
            if 0 <= before_m <= MOST_BEFORE_M and each.kind not in IN_THE_GREEN:
                found[each.kind, each.side] = before_m
    return found


def not_kept(rest: Understanding, ends: Ends) -> tuple[str, ...]:
    """What was told beside that is of one day or one shot, and has no place in a note.

    Args:
        rest: what was told.
        ends: as :func:`where_trouble_ends` gives it; a carry from where the player stood is not among them.
    """
    blank = Situation()
    found = [
        name
        for field, name in _OF_THE_DAY.items()
        if getattr(rest.situation, field) not in (getattr(blank, field), Lie.GREEN)
        and not _of_trouble(field, rest.situation)
    ]
    if rest.situation.green.stimp_ft is not None:
        found.append("green speed")
    if any(
        each.carry_m is not None and (each.kind, each.side) not in ends for each in rest.situation.hazards
    ):
        found.append("distance")
    return tuple(dict.fromkeys(found))


def note_with(
    note: HoleNote, text: str, unit: Unit, pace_m: float, today: date
) -> tuple[HoleNote, tuple[Contradiction, ...]]:
    """The note with what is told of its hole laid over it, and what it said otherwise until now.

    Raises:
        CaddieError: when nothing of it is understood.
    """
    told = read_note(f"remember {text}", unit=unit, pace_m=pace_m)
    said = understand(told.rest, unit=unit, pace_m=pace_m)
    ends = where_trouble_ends(told.rest, unit, pace_m)
    facts = facts_told(note.course, note.number, said.situation, told=told, ends=ends)
    if facts.is_empty:
        raise CaddieError(
            f'"{text}": nothing of a green in it; say which way it falls, the trouble, how deep'
        )
    return settled(note, facts, "now", today), contradictions(note, facts)


def learned(note: HoleNote, told: HoleNote, today: date) -> HoleNote:
    """The note with what was told laid over it: a value takes the place of the old one, trouble is added to."""
    update: dict[str, Any] = {
        key: value
        for key, value in told.model_dump(exclude_none=True, exclude={"course", "number", "trouble"}).items()
        if value != getattr(note, key)
    }
    if told.flat:
        update |= {"fall": None, "side_fall": None, "fall_slope": 0.0, "side_slope": None}
    elif note.flat and (told.fall is not None or told.side_fall is not None):
        update |= {"fall_slope": told.fall_slope, "side_slope": told.side_slope}
    else:
        for axis, slope in AXES.items():
            if getattr(told, axis) not in (None, getattr(note, axis)):
                update |= {slope: getattr(told, slope)}
    update = {key: value for key, value in update.items() if value != getattr(note, key)}
    kept = [old for old in note.trouble if all(_place(old) != _place(new) for new in told.trouble)]
    known = {_place(old): old for old in note.trouble}
    update["trouble"] = (*kept, *(_with_known(each, known.get(_place(each))) for each in told.trouble))
    if set(update["trouble"]) == set(note.trouble):
        del update["trouble"]
    if told.firmness is not None:
        update["firmness_on"] = today
    if not update:
        return note
    return note.model_copy(update=update | {"noted": today})


def settled(note: HoleNote, told: HoleNote, which: str, today: date) -> HoleNote:
    """The note once a contradiction was answered: ``now``, ``before`` or ``both``."""
    if which == "before":
        return learned(note, without(told, note), today)
    if which == "now":
        gone = {(old.kind, old.side) for each in told.trouble if (old := opposed(each, note)) is not None}
        note = note.model_copy(
            update={"trouble": tuple(old for old in note.trouble if (old.kind, old.side) not in gone)}
        )
    return learned(note, told, today)


def taken_back(note: HoleNote, told: HoleNote, instead: HoleNote) -> HoleNote:
    """The note without what was told just now and is told otherwise: trouble of one kind elsewhere, another fall."""
    kinds = {each.kind for each in instead.trouble}
    places = {_place(each) for each in told.trouble if each.kind in kinds} - {
        _place(each) for each in instead.trouble
    }
    update: dict[str, Any] = {
        "trouble": tuple(each for each in note.trouble if _place(each) not in places),
    }
    if instead.fall is not None or instead.side_fall is not None:
        for axis, slope in AXES.items():
            if getattr(told, axis) is not None and getattr(instead, axis) is None:
                update |= {axis: None, slope: None}
    return note.model_copy(update=update)


def turned_round(note: HoleNote) -> HoleNote | None:
    """The note's fall the other way, as it is told; None when it knows none, or two."""
    falls = [axis for axis in AXES if getattr(note, axis) is not None]
    if len(falls) != 1:
        return None
    return HoleNote(
        course=note.course, number=note.number, **{falls[0]: OPPOSITE_FALL[getattr(note, falls[0])]}
    )


def _falls(said: Situation) -> dict[str, Any]:
    """Falls by axis: the reader puts a lone fall first, whichever way it goes."""
    green = said.green
    if green.flat:
        return {"fall_slope": 0.0}
    found: dict[str, Any] = {}
    for fall, slope in ((green.fall, green.fall_slope), (green.side_fall, green.side_slope)):
        if fall is not None:
            axis = ("fall", "fall_slope") if fall in _ALONG else ("side_fall", "side_slope")
            found |= dict(zip(axis, (fall, slope), strict=True))
    return found


def _trouble(hazard: Hazard, ends: Ends) -> Trouble:
    return Trouble(
        kind=hazard.kind,
        side=hazard.side,
        before_green_m=ends.get((hazard.kind, hazard.side)),
        height_m=hazard.height_m,
        called=hazard.called,
    )


def _of_trouble(field: str, said: Situation) -> bool:
    """Whether a distance is how far trouble ends before the green, which the note keeps."""
    return field == "front_m" and any(each.side is Side.SHORT for each in said.hazards)


def _place(each: Trouble) -> TroublePlace:
    return each.kind, each.side


def _with_known(told: Trouble, known: Trouble | None) -> Trouble:
    """Trouble as told now, with the measures that were told before and not now."""
    if known is None:
        return told
    return known.model_copy(update=told.model_dump(exclude_none=True))
