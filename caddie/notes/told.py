"""Notes in words: a piece of trouble, a hole, everything that is remembered."""

from collections.abc import Callable
from datetime import date

from caddie.notes.models import HoleNote, Trouble, Usual
from caddie.plan.called import name_of
from caddie.situation import Fall
from caddie.units import Unit, spoken_length, spoken_number

Length = Callable[[float, Unit], str]

_FALLS = {
    Fall.TOWARD: "falls toward you",
    Fall.AWAY: "falls away",
    Fall.LEFT_TO_RIGHT: "falls left to right",
    Fall.RIGHT_TO_LEFT: "falls right to left",
}


def fall_told(fall: Fall | None) -> str:
    """Which way the green falls; None is no way."""
    return "flat" if fall is None else _FALLS[fall]


def slope_told(fall: Fall, slope: float) -> str:
    """Which way the green falls, and how steeply."""
    return f"{fall_told(fall)} at {spoken_number(round(100 * slope))} percent"


def depth_told(depth_m: float, unit: Unit = Unit.YARDS, length: Length = spoken_length) -> str:
    """How deep the green is."""
    return f"{length(depth_m, unit)} deep"


def height_told(height_m: float, unit: Unit = Unit.FEET, length: Length = spoken_length) -> str:
    """How far the green lies above the fairway, or below."""
    if not height_m:
        return "level with the fairway"
    return f"{length(abs(height_m), unit)} {'up' if height_m > 0 else 'down'}"


def length_told(length_m: float, unit: Unit = Unit.YARDS) -> str:
    """A length in words."""
    return spoken_length(length_m, unit)


def trouble_told(each: Trouble, unit: Unit = Unit.YARDS, length: Length = spoken_length) -> str:
    """A piece of trouble with its side, and how far before the green it ends."""
    side = f" {each.side.value}" if each.side is not None else ""
    ends = ""
    if each.before_green_m is not None:
        ends = f", {length(each.before_green_m, unit)} before the green"
    return f"{name_of(each)}{side}{ends}"


def hole_facts(
    note: HoleNote, today: date, unit: Unit = Unit.YARDS, length: Length = spoken_length
) -> list[str]:
    """What a note says, a few words a fact, what matters most first; ``length`` says or writes its lengths."""
    facts = [fall_told(fall) for fall in (note.fall, note.side_fall) if fall is not None]
    facts += [fall_told(None)] if note.flat else []
    facts += [trouble_told(each, unit, length) for each in note.trouble]
    if note.depth_m is not None:
        facts.append(depth_told(note.depth_m, unit, length))
    if note.height_m is not None:
        small = Unit.METRES if unit is Unit.METRES else Unit.FEET
        facts.append(height_told(note.height_m, small, length))
    if note.firmness is not None:
        facts.append(f"{note.firmness.value} {day_told(note.firmness_on, today)}".strip())
    return facts


def day_told(day: date | None, today: date) -> str:
    """When something was told: today, or the date."""
    if day is None:
        return ""
    return (
        "today"
        if day == today
        else f"on {day.day} {day:%B}{'' if day.year == today.year else f' {day.year}'}"
    )


def usual_facts(usual: Usual) -> list[str]:
    """The usual settings, a few words each."""
    facts = []
    if usual.stimp_ft is not None:
        facts.append(f"greens at stimp {usual.stimp_ft:g}")
    if usual.firmness is not None:
        facts.append(f"{usual.firmness.value} greens")
    if usual.unit is not None:
        facts.append(f"counted in {usual.unit}")
    if usual.brief is not None:
        facts.append("just the club aloud" if usual.brief else "everything aloud")
    if usual.rate is not None:
        facts.append(f"{usual.rate} words a minute")
    return facts
