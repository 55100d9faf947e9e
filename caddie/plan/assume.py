"""Fill what was not said with named assumptions, or find the one question that must be asked first."""

from typing import Any

from caddie.errors import CaddieError
from caddie.plan.assume_trouble import trouble_filled
from caddie.plan.green_size import depth_of_green_m
from caddie.plan.lip import before_a_lip, face_of, told_face_m
from caddie.situation import (
    FARTHEST_M,
    IN_SAND,
    Fall,
    Firmness,
    Grain,
    Green,
    HazardKind,
    Lie,
    PinPosition,
    Sitting,
    Situation,
    Wind,
    WindKnownBy,
)
from caddie.units import YARD_M, in_yards

EDGE_ROOM_M = 5 * YARD_M
"""Green between a front (or back) flag and its edge."""
FALSE_FRONT_M = 4.0
"""Length of a false front along the line, on which no hole is cut (common practice, no source)."""
MOST_ROOM_M = 60.0
"""No green has more before the flag."""
GREENSIDE_M = 2 * YARD_M
"""From ball to green when only "greenside" was said."""
OFF_GREEN_M = {Lie.FRINGE: 0.5, Lie.BUNKER: 4.5, Lie.PLUGGED: 4.5}
"""From ball to green by lie where it is not greenside rough: the sand, its face and a collar lie between
(common practice, no source)."""
LONG_FRINGE_M = 1.8
"""The same of a fringe in which a ball sits down (common practice, no source)."""
GUESSED_NEAR_M, GUESSED_M = 12 * YARD_M, 30 * YARD_M
"""From beside the green, and from farther."""
LIP_INCLUDED_M, FACE = 0.6, 0.5
"""Height of a face that is in those lengths, and its slope: a higher one takes more ground."""
ONLY_OUT_LIP_M = 1.0
"""A lip to the hip is a high one (common practice, no source)."""
BELOW_STEP_M = 6.0
"""Green in front of a step whose top is told to stand so far before the flag, at least (common practice, no source)."""
SAND_BEFORE_GREEN_M = 2.0
"""Less than this from a ball in a bunker to the green is no bunker."""
FALL_SLOPE = 0.02
"""A green said to slope, with no word of how much (common practice, no source)."""
USUAL_STIMP_FT = 9.5
"""A club's everyday green (common practice, no source)."""

WET_STIMP = 0.9
"""Wet grass rolls a tenth shorter (common practice, no source)."""

GRAIN = {Grain.WITH: 1.125, Grain.AGAINST: 0.875}
"""What the grain makes of the speed of a green: an eighth, the more feet the quicker it is (common practice, no
source)."""
BLADES = {Grain.WITH: 0.85, Grain.AGAINST: 1.6}
"""What the grain makes of the resistance of the longer grass round the green (common practice, no source)."""
HARD_BLADES, WET_BLADES, DOWN_BLADES = 0.8, 1.25, 1.8
"""The same of baked or frozen ground, of wet, and of a fringe so long that a ball sits down in it (common practice, no
source)."""
SLOWEST_FT = 3.0
"""No green is slower."""

USUAL_WIND_M_S = 4.0
"""A wind of which only the way is said (common practice, no source)."""

ASK_DISTANCE = "How far is it to the flag?"


def depth_of(position: PinPosition) -> PinPosition:
    """Front, middle or back, without the side.

    >>> depth_of(PinPosition.BACK_LEFT).value
    'back'
    """
    return PinPosition(position.value.split("_")[0])


def room_in_depth(depth_m: float, position: PinPosition) -> float:
    """Green before the flag [m] on one so deep, by where the hole is cut.

    >>> round(room_in_depth(40.0, PinPosition.BACK_LEFT), 1)
    35.4
    """
    room_m = {
        PinPosition.FRONT: min(EDGE_ROOM_M, depth_m / 3),
        PinPosition.MIDDLE: depth_m / 2,
        PinPosition.BACK: max(depth_m - EDGE_ROOM_M, depth_m * 2 / 3),
    }[depth_of(position)]
    return min(room_m, MOST_ROOM_M)


def _usual_room_m(situation: Situation, position: PinPosition) -> float:
    """Green before the flag [m] by where the hole is cut, on a green of the size told."""
    return room_in_depth(depth_of_green_m(situation.green), position)


def question_for(situation: Situation) -> str | None:
    """The question without whose answer no shot can be planned, or None."""
    if situation.pin_m is not None:
        return None
    known = situation.lie is not Lie.GREEN and (
        situation.front_m is not None
        or _greenside_pin(situation) is not None
        or is_only_to_get_out(situation)
    )
    return None if known else ASK_DISTANCE


def guessed_m(situation: Situation) -> float:
    """A distance to the flag where nobody tells any [m]: from beside the green or not (common practice, no source)."""
    near = situation.greenside or situation.lie in (*IN_SAND, Lie.FRINGE)
    return GUESSED_NEAR_M if near else GUESSED_M


def is_only_to_get_out(situation: Situation) -> bool:
    """Whether no distance would change the shot: plugged under a high lip anything out is good."""
    return situation.lie is Lie.PLUGGED and told_face_m(situation) >= ONLY_OUT_LIP_M


def complete(situation: Situation) -> tuple[Situation, dict[str, Any]]:
    """The situation with every gap filled, and what was taken for each gap.

    Raises:
        CaddieError: when the distances contradict each other or lie outside the short game, or when
            :func:`question_for` has a question.
    """
    if question := question_for(situation):
        raise CaddieError(f"the distance is not known: {question}")
    taken: dict[str, Any] = {}
    lie = situation.lie or usual_lie(situation)
    if situation.lie is None or situation.lie_guessed:
        taken["lie"] = lie
    position = situation.pin_position or taken.setdefault("pin_position", _position(situation))
    pin_m, front_m, room_m = _distances(situation, position, lie, taken)
    green = situation.green
    surface = {
        "fall_slope": _slope("green.fall_slope", green.fall, green.fall_slope, taken),
        "side_slope": _slope("green.side_slope", green.side_fall, green.side_slope, taken),
        "stimp_ft": green.stimp_ft or taken.setdefault("green.stimp_ft", _speed_ft(situation, lie)),
        "firmness": green.firmness
        or taken.setdefault("green.firmness", Firmness.SOFT if situation.wet else Firmness.MEDIUM),
    }
    wind = _wind(situation.wind, taken)
    if before_a_lip(situation) and situation.lip_m is None:
        taken["lip_m"] = face_of(situation)[0]
    elevation_m = situation.elevation_m
    if elevation_m is None:
        elevation_m = 0.0 if _told_by_fall(situation, lie) else taken.setdefault("elevation_m", 0.0)
    done = situation.model_copy(
        update={
            "pin_m": pin_m,
            "front_m": front_m,
            "room_m": room_m,
            "lie": lie,
            "pin_position": position,
            "green": green.model_copy(update=surface),
            "wind": wind,
            "elevation_m": elevation_m,
            "hazards": trouble_filled(situation, lie, pin_m, front_m, position, taken),
        }
    )
    return done, taken


def usual_lie(situation: Situation) -> Lie:
    """What a ball lies on where nothing was told of it: one that is down in something is no ball on mown grass."""
    return Lie.LIGHT_ROUGH if situation.sitting is Sitting.DOWN else Lie.FAIRWAY


def rolling_ft(green: Green) -> float:
    """The green's speed on the way that a ball rolls: with the grain it is quicker, into it slower."""
    speed_ft = green.stimp_ft or 0.0
    return max(speed_ft * GRAIN[green.grain], SLOWEST_FT) if green.grain and speed_ft else speed_ft


def is_shaggy(lie: Lie | None, sitting: Sitting | None) -> bool:
    """Whether the ball sits down in a fringe too long to roll through."""
    return lie is Lie.FRINGE and sitting is Sitting.DOWN


def blades_of(situation: Situation) -> float:
    """How many times as much as usual the mown grass off the green takes from a rolling ball."""
    blades = BLADES[situation.green.grain] if situation.green.grain else 1.0
    if situation.green.firmness in (Firmness.FIRM, Firmness.FROZEN):
        blades *= HARD_BLADES
    if situation.wet:
        blades *= WET_BLADES
    if is_shaggy(situation.lie, situation.sitting):
        blades *= DOWN_BLADES
    return blades


def _told_by_fall(situation: Situation, lie: Lie) -> bool:
    """Whether the fall of the green under a putt says already how the hole lies to the ball."""
    return lie in (Lie.GREEN, Lie.FRINGE) and bool(
        {Fall.TOWARD, Fall.AWAY} & {situation.green.fall, situation.green.side_fall}
    )


def _wind(wind: Wind, taken: dict[str, Any]) -> Wind:
    """The wind filled; a speed of which no more is known is taken for a forecast's.

    Players may not measure the wind (Rule 4.3a(2)), so a number is a forecast's, and the words for a wind's
    strength are those of the Beaufort scale, whose speeds hold for the same height (WMO Guide No. 8).
    """
    if wind.from_ is None:
        taken["wind"] = "left out: no side told" if wind.speed_m_s else "calm"
        return Wind(from_=None, speed_m_s=0.0)
    if wind.speed_m_s is None:
        wind = wind.model_copy(update={"speed_m_s": taken.setdefault("wind.speed_m_s", USUAL_WIND_M_S)})
    elif wind.speed_m_s and wind.known_by is None:
        taken["wind.known_by"] = WindKnownBy.FORECAST
    return wind.model_copy(update={"known_by": wind.known_by or WindKnownBy.FORECAST})


def _speed_ft(situation: Situation, lie: Lie) -> float:
    """The everyday green, slower when it is wet; a putt takes the wet off for itself, said speed or not."""
    return USUAL_STIMP_FT * WET_STIMP if situation.wet and lie is not Lie.GREEN else USUAL_STIMP_FT


def _slope(field: str, fall: Fall | None, slope: float | None, taken: dict[str, Any]) -> float | None:
    if fall is None or slope is not None:
        return slope
    return float(taken.setdefault(field, FALL_SLOPE))


def _greenside_pin(situation: Situation) -> float | None:
    """Beside the green with the room known, the flag is the room and a couple of paces away.

    A flag told to be so far past the lip before the ball is as much farther as sand, face and collar take.
    """
    if situation.lie in IN_SAND and situation.lip_m is not None and situation.room_m:
        face_m = max(situation.lip_m - LIP_INCLUDED_M, 0.0) / FACE
        return OFF_GREEN_M[situation.lie] + face_m + situation.room_m
    near = situation.greenside or situation.lie is Lie.FRINGE
    return GREENSIDE_M + situation.room_m if near and situation.room_m else None


def _position(situation: Situation) -> PinPosition:
    room_m = situation.room_m
    if room_m is None and situation.pin_m is not None and situation.front_m is not None:
        room_m = situation.pin_m - situation.front_m
    if room_m is None and situation.behind_m is not None:
        return PinPosition.BACK if situation.behind_m <= 1.5 * EDGE_ROOM_M else PinPosition.MIDDLE
    if room_m is None:
        return PinPosition.MIDDLE
    if room_m <= 1.5 * EDGE_ROOM_M:
        return PinPosition.FRONT
    return PinPosition.BACK if room_m > depth_of_green_m(situation.green) * 0.65 else PinPosition.MIDDLE


def _distances(
    situation: Situation, position: PinPosition, lie: Lie, taken: dict[str, Any]
) -> tuple[float, float, float]:
    """Ball to flag, ball to the front edge, and green between them [m], each said or derived."""
    front_m, room_m = situation.front_m, situation.room_m
    pin_m = situation.pin_m if situation.pin_m is not None else _pin(situation, position, taken)
    if lie is Lie.GREEN:
        return pin_m, 0.0, pin_m
    if front_m is not None:
        if front_m >= pin_m:
            raise CaddieError("the front edge cannot be as far as the flag: say both distances again")
        return pin_m, front_m, pin_m - front_m
    if room_m is not None:
        room_m = min(room_m, _most_room(pin_m, lie))
        return pin_m, taken.setdefault("front_m", pin_m - room_m), room_m
    room_m = _room_before(pin_m, position, lie, situation)
    taken["room_m"] = room_m
    return pin_m, taken.setdefault("front_m", pin_m - room_m), room_m


def _pin(situation: Situation, position: PinPosition, taken: dict[str, Any]) -> float:
    """Ball to flag [m] when only the front edge, or only the room beside the green, was said."""
    if situation.front_m is not None:
        room_m = situation.room_m
        if room_m is None:
            room_m = float(taken.setdefault("room_m", _usual_room_m(situation, position)))
        pin_m = situation.front_m + room_m
    else:
        told = situation
        if is_only_to_get_out(situation) and not situation.room_m:
            told = situation.model_copy(update={"room_m": _usual_room_m(situation, position)})
        greenside_m = _greenside_pin(told)
        assert greenside_m is not None
        pin_m = greenside_m
    if pin_m > FARTHEST_M:
        raise CaddieError(
            f"the flag would be {in_yards(pin_m):.0f} yards away; the short game ends at 120 yards"
        )
    return float(taken.setdefault("pin_m", pin_m))


def _most_room(pin_m: float, lie: Lie) -> float:
    """The most green [m] there can be before the flag with the ball lying off the green."""
    between_m = SAND_BEFORE_GREEN_M if lie in IN_SAND else OFF_GREEN_M[Lie.FRINGE]
    return max(pin_m - between_m, 0.4 * pin_m)


def _room_before(pin_m: float, position: PinPosition, lie: Lie, situation: Situation) -> float:
    """Green to work with, from the flag's place; never the whole way when the ball is off the green.

    A ball on the fringe lies at the green's edge: all before the flag is green.
    """
    off_green_m = OFF_GREEN_M.get(lie, GREENSIDE_M)
    if is_shaggy(lie, situation.sitting):
        off_green_m = LONG_FRINGE_M
    if lie in IN_SAND:
        off_green_m += max(told_face_m(situation) - LIP_INCLUDED_M, 0.0) / FACE
    room_m = max(pin_m - off_green_m, 0.4 * pin_m)
    false_front = any(hazard.kind is HazardKind.FALSE_FRONT for hazard in situation.hazards)
    if lie is not Lie.FRINGE:
        room_m = min(_usual_room_m(situation, position) + FALSE_FRONT_M * false_front, room_m)
    before_green = [h for h in situation.hazards if h.kind not in (HazardKind.RIDGE, HazardKind.TIER)]
    beyond = [pin_m - h.carry_m for h in before_green if h.carry_m and 0 < h.carry_m < pin_m]
    upper = [pin_m - h.carry_m for h in situation.hazards if h.kind is HazardKind.TIER and h.carry_m]
    # A step stands on the green: there is some of it below the step, too.
    room_m = max([room_m, *(min(up_m + BELOW_STEP_M, pin_m - off_green_m) for up_m in upper if up_m > 0)])
    return max(min([room_m, *beyond]), 0.5)
