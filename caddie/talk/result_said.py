"""A result in a few words, so that a misheard one is noticed."""

from caddie.bag import Player
from caddie.log.shot import Commitment, Mode
from caddie.situation import Finish, Result, Side, Strike
from caddie.talk import lines
from caddie.talk.state import Desk
from caddie.units import Unit, from_metres, spoken_length, spoken_number, to_metres
from caddie.words import Understanding
from caddie.words.golf_talk import unit_said
from caddie.words.results import NEAR_M
from caddie.words.sayings import says_in_part
from caddie.words.trouble_named import name_given

LONGEST_IN_FEET_M = 15.0
"""What is left is counted in feet up to here, as putts are (common practice, no source)."""
_SIDE = {Side.LONG: "past", Side.SHORT: "short", Side.LEFT: "left", Side.RIGHT: "right"}
_STRIKE = {
    Strike.CLEAN: "clean strike",
    Strike.HEAVY: "heavy",
    Strike.THIN: "thin",
    Strike.TOPPED: "topped",
    Strike.SHANK: "off the hosel",
}
_FINISH = {
    Finish.GREEN: "on the green",
    Finish.FRINGE: "on the fringe",
    Finish.FAIRWAY: "on the fairway",
    Finish.ROUGH: "in the rough",
    Finish.BUNKER: "in the sand",
    Finish.WATER: "in the water",
    Finish.TREES: "in the trees",
    Finish.OUT_OF_BOUNDS: "out of bounds",
}
_COMMITMENT = {
    Commitment.COMMITTED: "committed",
    Commitment.QUIT: "quit on it",
    Commitment.RUSH: "rushed",
}


_IN_HALVES = tuple(whole + 0.5 for whole in range(10))
"""Counts told with a half that is not to be rounded away."""
_HALF_OF_ALL = 0.1
_HALF_M = 0.5
_LEAST_IN_METRES_M = 0.95
"""What is left is told in centimetres up to here (common practice, no source)."""


def left_said(length_m: float, unit: Unit) -> str:
    """A length as it was told, "a metre and a half" too; less than a metre in centimetres.

    >>> left_said(1.5, Unit.METRES), left_said(0.3, Unit.METRES)
    ('a metre and a half', 'thirty centimetres')
    >>> left_said(0.4572, Unit.YARDS), left_said(0.762, Unit.FEET)
    ('half a yard', 'two and a half feet')
    """
    if unit is Unit.METRES and length_m < _LEAST_IN_METRES_M and round(length_m, 2) != _HALF_M:
        return spoken_length(length_m, Unit.CENTIMETRES)
    count = from_metres(length_m, unit)
    half = next((each for each in _IN_HALVES if abs(count - each) < _HALF_OF_ALL), None)
    if half is None or unit is Unit.INCHES:
        return spoken_length(length_m, unit)
    one = spoken_length(to_metres(1.0, unit), unit)
    if half < 1:
        return f"half {one}"
    return f"{one} and a half" if half < 2 else f"{spoken_number(int(half))} and a half {unit.value}"


def with_club(said: str, heard: Understanding, desk: Desk) -> str:
    """What is written down, led by the club when one was told; in a competition no club is named."""
    told = heard.club if desk.mode is not Mode.COMPETITION else None
    club = desk.bag.club_called(told) if told else None
    return said if club is None else f"{club.name}, {said}"


def acknowledgement(
    told: Result,
    commitment: Commitment | None,
    heard: Understanding,
    player: Player,
    front_m: float | None = None,
    *,
    putting: bool = False,
) -> str:
    """What was understood of the result, so that a misheard one is noticed; in the unit it was told in.

    With none told, it is counted as the ``player`` counts putts, and from farther than a putt as shots;
    ``front_m`` is how far short of the green it ended, when that was told; strokes ``putting`` are putts.
    """
    parts, in_unit = [], unit_said(heard.heard)
    if told.strike is not None:
        parts.append(_STRIKE[told.strike])
    if told.holed:
        parts.append("holed")
    elif told.distance_m == NEAR_M and not told.side:
        missed = "missed" in heard.asks or says_in_part(heard.heard, "missed")
        parts.append("missed, close" if missed else "close")
    elif front_m is not None:
        parts.append(f"{left_said(front_m, in_unit or player.distances_in)} short of the green")
    elif told.distance_m is not None:
        beyond = told.distance_m > LONGEST_IN_FEET_M
        length = left_said(told.distance_m, in_unit or (player.distances_in if beyond else player.putt_unit))
        parts.append(f"{length} {' and '.join(_SIDE[side] for side in told.side) or 'from the hole'}")
    elif told.side:
        first = [lines.MISSED] if putting and "missed" in heard.asks else []
        parts += [*first, " and ".join(_SIDE[side] for side in told.side)]
    elif "missed" in heard.asks:
        parts.append(lines.MISSED)
    if told.finish is not None and not told.holed:
        parts.append(_ended_in(told.finish, heard.heard))
    if heard.down_in is not None:
        strokes = spoken_number(heard.down_in)
        parts.append(f"{strokes} putts" if putting and heard.down_in > 1 else f"down in {strokes}")
    if commitment is not None:
        parts.append(_COMMITMENT[commitment])
    return ", ".join(parts) or lines.NOTED


def _ended_in(finish: Finish, said: str) -> str:
    """Where the ball ended, in water or trees by the name that was given there: "in the ravine"."""
    name = name_given(said) if finish in (Finish.WATER, Finish.TREES) else None
    return f"in the {name}" if name else _FINISH[finish]
