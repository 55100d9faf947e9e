"""A kept shot in words: what was played and what became of it, in the player's units."""

from caddie.log.change import family_said
from caddie.log.shot import Shot
from caddie.log.store import Entry
from caddie.situation import Side
from caddie.units import FOOT_M, Unit, left_text, length_text

FAR_M = 60 * FOOT_M
"""What is left is counted like the shot from here on, and like a putt nearer (common practice, no source)."""
_SIDE_SAID = {Side.SHORT: "short", Side.LONG: "past", Side.LEFT: "left", Side.RIGHT: "right"}


def shot_line(entry: Entry, unit: Unit) -> str:
    """A shot on one line: when, what was said, what was played, where it ended."""
    shot = entry.shot
    when = shot.time.astimezone().strftime("%Y-%m-%d %H:%M")
    parts = (f"{entry.id:5d}", when, shot.player, shot.sentence, played_said(shot), ended_said(shot, unit))
    return "  ".join(part for part in parts if part)


def played_said(shot: Shot) -> str:
    """The club, the swing and the kind of shot, those that are known."""
    family = family_said(shot.family) if shot.family else None
    return " ".join(part for part in (shot.club, shot.swing, family) if part)


def ended_said(shot: Shot, unit: Unit) -> str:
    """All that was said to have become of it.

    Args:
        shot: a kept shot.
        unit: what the player's distances are in.

    >>> from caddie.situation import Result
    >>> ended_said(Shot(result=Result(distance_m=1.8, side=(Side.LONG, Side.LEFT))), Unit.YARDS)
    '6 feet past and left of the hole'
    >>> ended_said(Shot(result=Result(side=(Side.SHORT,))), Unit.METRES)
    'short of the hole'
    """
    result = shot.result
    parts = [
        result.finish.value.replace("_", " ") if result.finish else "",
        "" if result.holed else _where(result.distance_m, result.side, unit),
        f"carried {length_text(result.carry_m, unit)}" if result.carry_m is not None else "",
        f"ran {length_text(result.run_m, unit)}" if result.run_m is not None else "",
        *(str(part) for part in (result.strike, shot.commitment) if part),
        f"down in {shot.down_in}" if shot.down_in is not None else "",
    ]
    return ", ".join(part for part in parts if part)


def _where(distance_m: float | None, side: tuple[Side, ...], unit: Unit) -> str:
    """Where from the hole, as far as it was told: a length, a side, both or neither."""
    length = "" if distance_m is None else _length(distance_m, unit)
    if not side:
        return f"{length} from the hole" if length else ""
    sides = [_SIDE_SAID[each] for each in side]
    of = "the hole" if sides == [_SIDE_SAID[Side.LONG]] else "of the hole"
    return " ".join(part for part in (length, " and ".join(sides), of) if part)


def _length(distance_m: float, unit: Unit) -> str:
    if unit is Unit.METRES:
        return left_text(distance_m, unit)
    return length_text(distance_m, unit) if distance_m >= FAR_M else left_text(distance_m, Unit.FEET)
