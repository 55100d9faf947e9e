"""A shot told on a known hole, with what its note knows: said facts stay, gaps are filled."""

from datetime import date
from typing import Any, NamedTuple

from caddie.notes.models import IN_THE_GREEN, HoleNote, Trouble, Usual
from caddie.notes.told import depth_told, fall_told, height_told, trouble_told
from caddie.plan.assume import room_in_depth
from caddie.plan.green_size import GREEN_DEPTH_M
from caddie.situation import FARTHEST_M, Fall, Green, Hazard, Lie, Side, Situation
from caddie.units import Unit

_ALONG = (Fall.TOWARD, Fall.AWAY)
USUAL_SAID = {"firmness": "{value}", "stimp_ft": "stimp {value:g}"}


class Filled(NamedTuple):
    """What a note adds to a shot."""

    situation: Situation
    """What it adds, and nothing else."""
    of_the_hole: tuple[str, ...]
    """What was taken from the hole's note, a few words each."""
    usual: tuple[str, ...]
    """What was taken from the usual settings."""


def filled(
    note: HoleNote | None,
    usual: Usual,
    said: Situation,
    known: Situation,
    today: date,
    unit: Unit = Unit.YARDS,
) -> Filled:
    """Fill the gaps of a shot.

    The note tells how the hole looks from the fairway. From beside the green it may look another way round, so
    nothing with a side is taken there.

    Args:
        note: the hole's, when it has one.
        usual: the player's usual settings, which fill what the note leaves.
        said: what was said in this turn.
        known: the same laid over what was said before.
        today: what is firm or soft for one day only is taken on that day.
        unit: what the player counts in.
    """
    update: dict[str, Any] = {}
    green: dict[str, Any] = {}
    taken: list[str] = []
    if note is not None and not _beside_the_green(note, known):
        green |= _falls(note, known, taken)
        update |= _height(note, known, taken)
        update |= _room(note, said, known, taken, unit)
        hazards = _hazards(note, said, known, update, taken)
        if hazards:
            update["hazards"] = tuple(hazards)
    if (
        note is not None
        and note.firmness is not None
        and note.firmness_on == today
        and known.green.firmness is None
    ):
        green["firmness"] = note.firmness
        taken.append(f"{note.firmness.value} today")
    usually = _usual_surface(usual, known, green)
    return Filled(
        Situation(**update, green=Green(**usually, **green)),
        tuple(taken),
        tuple(
            f"{USUAL_SAID[key].format(value=getattr(value, 'value', value))} as usual"
            for key, value in usually.items()
        ),
    )


def _beside_the_green(note: HoleNote, known: Situation) -> bool:
    if known.lie in (Lie.GREEN, Lie.FRINGE) or known.greenside:
        return True
    distance_m = known.pin_m if known.pin_m is not None else known.front_m
    return distance_m is None or distance_m <= (note.depth_m or GREEN_DEPTH_M)


def _falls(note: HoleNote, known: Situation, taken: list[str]) -> dict[str, Any]:
    """The fields of the green that say its falls, when the note knows one that was not said."""
    green = known.green
    told = _by_axis((green.fall, green.fall_slope), (green.side_fall, green.side_slope))
    if green.flat:
        return {}
    if note.flat and not told:
        taken.append(fall_told(None))
        return {"fall_slope": 0.0, "side_slope": 0.0}
    noted = _by_axis((note.fall, note.fall_slope), (note.side_fall, note.side_slope))
    new = [fall for axis, fall in noted.items() if axis not in told]
    taken += [fall_told(fall) for fall, _ in new]
    # A lone fall stands first, whichever way it goes, as the reader of words has it.
    names = (("fall", "fall_slope"), ("side_fall", "side_slope"))
    return {
        name: value
        for pair, fall in zip(names, new, strict=False)
        for name, value in zip(pair, fall, strict=True)
    }


def _by_axis(*falls: tuple[Fall | None, float | None]) -> dict[str, tuple[Fall, float | None]]:
    return {
        "along" if fall in _ALONG else "across": (fall, slope) for fall, slope in falls if fall is not None
    }


def _height(note: HoleNote, known: Situation, taken: list[str]) -> dict[str, Any]:
    if note.height_m is None or known.elevation_m is not None:
        return {}
    taken.append(height_told(note.height_m))
    return {"elevation_m": note.height_m}


def _room(note: HoleNote, said: Situation, known: Situation, taken: list[str], unit: Unit) -> dict[str, Any]:
    """Green before the flag, from the green's depth and where the hole is cut today."""
    told = said.room_m is not None or known.front_m is not None
    if note.depth_m is None or known.pin_position is None or told:
        return {}
    if known.room_m is not None and said.pin_position is None and said.pin_m is None:
        return {}
    taken.append(depth_told(note.depth_m, unit))
    return {"room_m": round(room_in_depth(note.depth_m, known.pin_position), 3)}


def _hazards(
    note: HoleNote, said: Situation, known: Situation, update: dict[str, Any], taken: list[str]
) -> list[Hazard]:
    named = {(each.kind, each.side) for each in known.hazards}
    if said.pin_m is not None:
        # Carries were worked out from the distance before.
        named = {(each.kind, each.side) for each in said.hazards}
    found = []
    for each in note.trouble:
        if (each.kind, each.side) not in named:
            found.append(
                Hazard(
                    kind=each.kind,
                    side=each.side,
                    carry_m=_carry(each, known, update),
                    height_m=each.height_m,
                    called=each.called,
                )
            )
            taken.append(trouble_told(each))
    return found


def _carry(each: Trouble, known: Situation, update: dict[str, Any]) -> float | None:
    """Flight needed to clear trouble before the green, when it is known how far the front edge is."""
    if each.before_green_m is None or each.side not in (None, Side.SHORT) or each.kind in IN_THE_GREEN:
        return None
    room_m = update.get("room_m", known.room_m)
    front_m = known.front_m
    if front_m is None and known.pin_m is not None and room_m is not None:
        front_m = known.pin_m - room_m
    carry_m = None if front_m is None else front_m - each.before_green_m
    return carry_m if carry_m is not None and 0 < carry_m <= FARTHEST_M else None


def _usual_surface(usual: Usual, known: Situation, noted: dict[str, Any]) -> dict[str, Any]:
    """Firmness and speed as they are at home, where neither word nor note of today says otherwise.

    Wet grass is not as usual.
    """
    if known.wet is not None:
        return {}
    return {
        key: value
        for key in USUAL_SAID
        if (value := getattr(usual, key)) is not None
        and getattr(known.green, key) is None
        and key not in noted
    }
