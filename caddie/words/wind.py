"""The wind: where it comes from and how strong."""

import math
from dataclasses import dataclass, field, replace

from caddie.situation import Wind, WindFrom, WindKnownBy
from caddie.units import MPH_M_S
from caddie.words.adjectives import of_the_ground
from caddie.words.mentions import Mention
from caddie.words.quantities import SPEEDS, Quantity
from caddie.words.scene import Scene
from caddie.words.wind_numbers import follows_wind, is_bare_speed, is_likely_speed, precedes_wind

STRONGEST_M_S = 30.0
CLUB_M_S = 10 * MPH_M_S
"""Wind that costs one club, as players count it (common practice, no source)."""
_CHANGES = frozenset(
    {"up", "stronger", "lighter", "harder", "windier", "increased", "dropped", "eased", "risen", "worse"}
)
"""Words that tell of a wind that it blows otherwise than it did."""
MOST_MPH = 40
"""Nobody plays in more; a larger bare number tells how far."""
_HOURS = {
    WindFrom.AHEAD: (12,),
    WindFrom.AHEAD_RIGHT: (1, 2),
    WindFrom.RIGHT: (3,),
    WindFrom.BEHIND_RIGHT: (4, 5),
    WindFrom.BEHIND: (6,),
    WindFrom.BEHIND_LEFT: (7, 8),
    WindFrom.LEFT: (9,),
    WindFrom.AHEAD_LEFT: (10, 11),
}
"""Where a clock-face wind comes from, the flag at twelve."""
_TELLING = frozenset(
    "wind breeze headwind tailwind crosswind downwind helping hurting into against cross across blowing upwind "
    "breezing gusting howling whistling".split()
)
"""Words that tell by themselves that a wind is meant."""
_ALSO_OF_THE_BODY = frozenset({"hurting"})
"""Said of the wind, and of a wrist or a back."""
_KEYS = ("wind_clock", "wind_from", "wind_speed", "wind_number", "wind_word", "wind_clubs", "wind_force")


@dataclass
class WindSaid:
    """The wind as said."""

    wind: Wind = field(default_factory=Wind)
    problem: str | None = None
    said: bool = False


def read_wind(scene: Scene) -> WindSaid:
    """The wind; strength words and "into" count only beside it."""
    mentions = list(scene.having(*_KEYS))
    speeds = [
        at
        for at, piece in enumerate(scene.pieces)
        if piece.quantity is not None
        and at not in scene.denied
        and (piece.quantity.unit in SPEEDS or (mentions and _in_kilometres(scene, at) is not piece.quantity))
    ]
    if not mentions and not speeds and not _said_after(scene, mentions):
        calm = Wind(speed_m_s=0.0) if scene.wind_denied else Wind()
        return WindSaid(wind=calm, said=scene.wind_denied)
    result = WindSaid()
    speed = _measured(scene, mentions, speeds, result)
    origin = None
    crosses = any(mention.get("wind_from") == "across" for mention in mentions)
    for mention in mentions:
        value = mention.get("wind_from")
        if value is not None and value != "across" and _is_wind(scene, mention, mentions, speeds):
            origin = _joined(origin, WindFrom(str(value)))
            if "where" in mention:
                scene.facts.remove(mention)
        if speed is None and (said := mention.get("wind_speed")) is not None:
            speed = float(said)
        hour_at = _hour_at(scene, mention) if "wind_clock" in mention else None
        if hour_at is not None:
            hour = scene.pieces[hour_at].quantity
            origin = next((way for way, hours in _HOURS.items() if hour and hour.middle in hours), origin)
            scene.used.add(hour_at)
    if origin is None:
        origin = _led(scene, mentions, speeds)
    if origin is None or crosses:
        beside = _beside(scene, mentions, speeds)
        origin = _joined(origin, beside) if beside is not None else origin
    if speed is None:
        speed = _in_clubs(scene, mentions)
    if speed is None:
        speed = _by_force(scene)
    if speed is None:
        speed = _strength(scene, mentions)
    result.wind = Wind(from_=origin, speed_m_s=speed, known_by=_known_by(scene) if speed else None)
    result.said = origin is not None or speed is not None
    return result


def _known_by(scene: Scene) -> WindKnownBy | None:
    """Whether the speed is said to be a forecast's or felt; the last one said."""
    said = [str(mention.get("wind_known_by")) for mention in scene.having("wind_known_by")]
    return WindKnownBy(said[-1]) if said else None


def _is_wind(scene: Scene, mention: Mention, mentions: list[Mention], speeds: list[int]) -> bool:
    """A bare "off the left" or "behind me" is the wind's only when one is spoken of."""
    if "where" in mention:
        return any(
            other is not mention
            and scene.gap(other, mention.start, mention.end) == 0
            and scene.breaks_between(other.start, mention.start) == 0
            for other in mentions
        )
    plain = {piece.text for piece in scene.pieces[mention.start : mention.end]}
    telling = plain & _TELLING
    if telling == {"into"} and scene.pieces[mention.end - 1].text == "into":
        after = scene.pieces[mention.end] if mention.end < len(scene.pieces) else None
        if after is None or after.after_break or _leads(scene, mention.end, mentions, speeds):
            return True
        return is_likely_speed(scene, mention.end)
    if telling and telling == plain and telling <= _ALSO_OF_THE_BODY and not _is_spoken_of(scene):
        return of_the_ground(scene, mention)
    numbered = "wind_speed" in mention or "wind_number" in mention
    if telling or "FLAG" in plain or numbered or "_" in str(mention.get("wind_from")):
        return True
    return any(other is not mention for other in mentions) or bool(speeds) or _is_spoken_of(scene)


def _hour_at(scene: Scene, mention: Mention) -> int | None:
    """Where the hour of a wind by the clock stands; its speed may stand beside it."""
    within = range(mention.start, mention.end)
    return next((at for at in within if (q := scene.pieces[at].quantity) and q.unit == "oclock"), None)


def _is_spoken_of(scene: Scene) -> bool:
    """ "Wind off the left, no, off the right": a wind was named, if only in what was taken back."""
    return any(
        piece.text in ("wind", "breeze") and at not in scene.aside for at, piece in enumerate(scene.pieces)
    )


def _leads(scene: Scene, at: int, mentions: list[Mention], speeds: list[int]) -> bool:
    """Whether a wind begins here or one word later."""
    starts = (
        {mention.start for mention in mentions}
        | {m.start for m in scene.having("wind_strength")}
        | set(speeds)
    )
    return at in starts


def _led(scene: Scene, mentions: list[Mention], speeds: list[int]) -> WindFrom | None:
    winds = [m for m in mentions if "wind_from" not in m or _is_wind(scene, m, mentions, speeds)]
    for lead in scene.having("wind_lead"):
        apart = lead.end < len(scene.pieces) and scene.pieces[lead.end].after_break
        if not apart and _leads(scene, lead.end, winds, speeds):
            return WindFrom(str(lead.get("wind_lead")))
    return None


def _joined(first: WindFrom | None, second: WindFrom) -> WindFrom:
    """Into and off the left is ahead and left."""
    if first is None or "_" in first + second:
        return second
    ends, sides = {WindFrom.AHEAD, WindFrom.BEHIND}, {WindFrom.LEFT, WindFrom.RIGHT}
    if first in ends and second in sides:
        return WindFrom(f"{first}_{second}")
    if first in sides and second in ends:
        return WindFrom(f"{second}_{first}")
    return second


def _beside(scene: Scene, mentions: list[Mention], speeds: list[int]) -> WindFrom | None:
    """A wind with its way said beside it: "ten knots, left to right", "quartering from behind on the left".

    What it takes is no fall of the green and no place of trouble any more.
    """
    winds = [m for m in mentions if "wind_from" not in m or _is_wind(scene, m, mentions, speeds)]
    starts = [(mention.start, mention.end) for mention in winds] + [(at, at + 1) for at in speeds]
    origin: WindFrom | None = None
    for start, end in starts:
        for other in list(scene.facts):
            way = _way(scene, other)
            gap = scene.gap(other, start, end)
            low, high = (end, other.start) if other.start >= end else (other.end, start)
            headed = any(piece.text.isupper() for piece in scene.pieces[low:high])
            crossed = scene.breaks_between(start, other.start)
            if way is None or headed or gap > 3 or crossed > ("break" in other and other.start >= end):
                continue
            origin = _joined(origin, way)
            scene.facts.remove(other)
    return origin


def _way(scene: Scene, mention: Mention) -> WindFrom | None:
    words = [piece.text for piece in scene.pieces[mention.start : mention.end]]
    if mention.get("break") is not None and words[-1] in ("lefttoright", "righttoleft") and len(words) <= 2:
        return WindFrom.LEFT if words[-1] == "lefttoright" else WindFrom.RIGHT
    where = mention.get("where") in ("left", "right") and len(words) <= 2 and mention.trouble_at is None
    if where and not _places_what_is_before(scene, mention):
        return WindFrom(str(mention.get("where")))
    return WindFrom.BEHIND if words == ["behind"] else None


def _places_what_is_before(scene: Scene, mention: Mention) -> bool:
    """ "Water on the left and the wind blowing": the side of the water."""
    at = mention.start
    scenery = any(other.start < at <= other.end for other in scene.having("absent"))
    return at > 0 and scene.is_trouble(at - 1) and not scenery and not scene.pieces[at].after_break


def _measured(scene: Scene, mentions: list[Mention], speeds: list[int], result: WindSaid) -> float | None:
    numbers = [m.quantity_at for m in mentions if is_bare_speed(scene, m) and m.quantity_at is not None]
    for at in [*speeds, *numbers, *_said_after(scene, mentions)]:
        quantity = _in_kilometres(scene, at)
        if quantity is None or at in scene.used:
            continue
        scene.used.add(at)
        if quantity is not scene.pieces[at].quantity:
            scene.covered.add(at + 1)
        speed = quantity.metres_per_second()
        if 0 <= speed <= STRONGEST_M_S:
            return speed
        result.problem = f"a wind of {quantity.middle:.10g} is not one to play in: say its speed again"
    return None


def _in_kilometres(scene: Scene, at: int) -> Quantity | None:
    """ "Fifteen k": of a wind it is kilometres an hour."""
    quantity, after = scene.pieces[at].quantity, scene.pieces[at + 1 : at + 2]
    if quantity is None or quantity.unit is not None or [piece.text for piece in after] != ["k"]:
        return quantity
    return replace(quantity, unit="km/h")


def _in_clubs(scene: Scene, mentions: list[Mention]) -> float | None:
    for clubs in scene.having("wind_clubs"):
        if clubs.quantity is not None and 0 < clubs.quantity.middle <= 5 and mentions:
            return clubs.quantity.middle * CLUB_M_S
    return None


def _by_force(scene: Scene) -> float | None:
    """The middle of a Beaufort force: 0.836 B^1.5 m/s (WMO 1970, the scale's defining formula)."""
    for force in scene.having("wind_force"):
        if force.quantity is not None and force.quantity_at is not None and 0 <= force.quantity.middle <= 10:
            scene.used.add(force.quantity_at)
            return round(0.836 * math.pow(force.quantity.middle, 1.5), 2)
    return None


def _said_after(scene: Scene, mentions: list[Mention]) -> list[int]:
    """ "Wind off the left at about 12", when another number says how far it is."""
    numbers = [at for at, piece in enumerate(scene.pieces) if piece.text == "#"]
    if len(numbers) == 1 and _is_the_new_speed(scene, numbers[0]):
        return numbers
    return [
        at
        for at in numbers
        if at > 0
        and len(numbers) > 1
        and (follows_wind(scene, at, mentions, first=at == numbers[0]) or precedes_wind(scene, at, mentions))
        and (quantity := scene.pieces[at].quantity) is not None
        and quantity.unit is None
    ]


def _is_the_new_speed(scene: Scene, at: int) -> bool:
    """ "The wind's picked up, maybe fifteen": the one number of a turn that tells how the wind has changed."""
    quantity = scene.pieces[at].quantity
    changed = not _CHANGES.isdisjoint(piece.text for piece in scene.pieces[:at]) and _is_spoken_of(scene)
    measures = any(m.quantity_at == at and m.end - m.start > 2 for m in scene.having("distance"))
    return (
        changed
        and not measures
        and quantity is not None
        and quantity.unit is None
        and quantity.middle <= MOST_MPH
    )


def _is_little(scene: Scene, word: Mention) -> bool:
    """ "Helping and off the right a bit": how far from the side, not how strong."""
    return {p.text for p in scene.pieces[word.start : word.end]} <= {
        "bit",
        "touch",
        "tad",
        "little",
        "slightly",
        "wee",
        "shade",
        "hair",
    }


def _from_two_ways(mentions: list[Mention]) -> bool:
    """ "At my back, wee bit off the left": how far from its side the wind comes, not how strong it is."""
    ways = {mention.get("wind_from") for mention in mentions}
    return not ways.isdisjoint((WindFrom.LEFT, WindFrom.RIGHT)) and not ways.isdisjoint(
        (WindFrom.AHEAD, WindFrom.BEHIND)
    )


def _strength(scene: Scene, mentions: list[Mention]) -> float | None:
    best: tuple[int, float] | None = None
    for word in scene.having("wind_strength"):
        if _is_little(scene, word) and _from_two_ways(mentions):
            continue
        for wind in mentions:
            gap = scene.gap(word, wind.start, wind.end)
            if word.start >= wind.end and "_" in str(wind.get("wind_from")) and _is_little(scene, word):
                continue
            crossed = scene.breaks_between(word.start, wind.start)
            if crossed and word.start < wind.start:
                continue
            near = gap + crossed <= 1 or _says_of_it(scene, word, wind)
            if near and (best is None or gap < best[0]):
                best = gap, float(word.get("wind_strength") or 0)
    return best[1] if best else None


def _says_of_it(scene: Scene, word: Mention, wind: Mention) -> bool:
    """ "Wind's from behind and left, it's strong": a clause of its own about the wind that ends the one before."""
    at = word.start - 1
    ends = word.end == len(scene.pieces) or scene.pieces[word.end].after_break
    return wind.end == at and scene.pieces[at].text == "it" and scene.pieces[at].after_break and ends
