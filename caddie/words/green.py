"""The green's fall, speed and firmness, and how far above or below the player it lies."""

from dataclasses import dataclass, field

from caddie.situation import Borrow, Fall, Grain, Green, Hazard, Side
from caddie.units import Unit
from caddie.words.adjectives import of_the_ground
from caddie.words.borrow import read_borrow
from caddie.words.breaks import SLOPES, how_much, two_ways
from caddie.words.crests import is_of_the_far_part
from caddie.words.green_kind import read_extent, read_firmness
from caddie.words.mentions import Mention
from caddie.words.rises import STEEPEST
from caddie.words.scene import Scene
from caddie.words.trouble import break_places

HEIGHTS_M = {"little": 1.5, "clear": 3.0, "much": 6.0}
"""A green that is "up a bit", "up" or "well up"."""
_FALL_TO = {
    Side.LEFT: Fall.RIGHT_TO_LEFT,
    Side.RIGHT: Fall.LEFT_TO_RIGHT,
    Side.LONG: Fall.AWAY,
    Side.SHORT: Fall.TOWARD,
}
_FALL_FROM = {Side.LEFT: Fall.LEFT_TO_RIGHT, Side.RIGHT: Fall.RIGHT_TO_LEFT}
_HOLES_UP = 10
"""A bare number below this is the state of a match: "two down"."""
_HILLY = frozenset({"uphill", "downhill", "hill", "slope"})
_MEDIUM_FT = 9.5
"""Of two words for the speed, the one that tells more: "lightning, a slippery one"."""
STIMP_FT = (3.0, 16.0)
HIGHEST_M = 40.0
NEAR_M = 25.0
"""Within this, "uphill" speaks of the green's fall; from farther away, of its height."""


@dataclass
class GreenSaid:
    """The surface and its height."""

    green: Green = field(default_factory=Green)
    elevation_m: float | None = None
    problem: str | None = None
    hill: int = 0
    """1 for uphill and -1 for downhill to a flag near by."""
    breaks: bool = False
    """Whether a break was named: only putts break."""
    borrow: Borrow | None = None


@dataclass
class _Ways:
    """Which ways the green falls, and the words that said so."""

    fall: Fall | None = None
    """Toward or away."""
    side: Fall | None = None
    told_by: dict[str, Mention] = field(default_factory=dict)
    """What told the "fall", the "side" and the "height": a slope belongs to the nearest."""
    both_ways: bool = False
    """Up and then down, or the other way round."""
    twice: bool = False
    """One sideways way and then the other."""


def read_green(
    scene: Scene, hazards: tuple[Hazard, ...] = (), *, on_green: bool, near: bool, putts: bool = False
) -> GreenSaid:
    """The green as said.

    Parameters:
        scene: the utterance.
        hazards: trouble that the green may run toward.
        on_green: the shot is a putt.
        near: the shot is a chip or a putt, so uphill means the fall of the green.
        putts: a putter may be played from off the green, and the player may tell its line.
    """
    said, ways = GreenSaid(), _Ways()
    for mention in scene.facts:
        if "stance" not in mention:
            _toward_trouble(scene, mention, hazards, ways)
            _falls(scene, mention, said, ways, on_green=on_green, hill_is_fall=near or on_green)
            _goes(scene, mention, ways, on_green=on_green)
            _breaks(mention, said, ways)
    _breaks_apart(scene, said, ways)
    if on_green or putts:
        _own_read(scene, said, ways)
    _heights(scene, said, ways.told_by, on_green=on_green, near=near)
    _settle_height(said, ways, on_green=on_green)
    if on_green and ways.side is not None and ways.fall is None and not ways.both_ways:
        flat = any("straight" not in mention for mention in scene.having("level"))
        said.elevation_m = 0.0 if flat else None
    said.green = _surface(scene, said, ways, on_green=on_green)
    level = any(_flat(scene, mention, on_green=False) for mention in scene.having("level"))
    if on_green and level and ways.fall is None and ways.side is not None:
        # "Left to right, flat": neither up nor down.
        said.elevation_m = 0.0
    return said


def _toward_trouble(scene: Scene, mention: Mention, hazards: tuple[Hazard, ...], ways: _Ways) -> None:
    """ "It runs to the water": the way the water lies."""
    if "fall_to" not in mention or mention.trouble_at is None:
        return
    kind = scene.pieces[mention.trouble_at].text.lower()
    side = next((hazard.side for hazard in hazards if hazard.kind == kind and hazard.side is not None), None)
    if side is None:
        return
    if side in (Side.LEFT, Side.RIGHT):
        ways.side, ways.told_by["side"] = _FALL_TO[side], mention
    else:
        ways.fall, ways.told_by["fall"] = _FALL_TO[side], mention


def _falls(
    scene: Scene, mention: Mention, said: GreenSaid, ways: _Ways, *, on_green: bool, hill_is_fall: bool
) -> None:
    value = mention.get("fall")
    if value is None or (on_green and ("tier_way" in mention or is_of_the_far_part(scene, mention))):
        return
    if "slope_word" in mention and not hill_is_fall:
        said.elevation_m = HEIGHTS_M["clear"] * (1 if mention.get("slope_word") == "up" else -1)
        ways.told_by["height"] = mention
        return
    both_ways = ways.fall not in (None, value) and _then(scene, ways.told_by["fall"], mention)
    ways.both_ways = ways.both_ways or both_ways
    ways.fall = None if both_ways else Fall(str(value))
    ways.told_by["fall"] = mention


def _goes(scene: Scene, mention: Mention, ways: _Ways, *, on_green: bool) -> None:
    """ "Eight feet, right to left, up", "up the bank": of a putt it is the way."""
    way = mention.get("alone") or mention.get("of_a_putt")
    before = [piece.text for piece in scene.pieces[: mention.start] if piece.text != "and"]
    if on_green and way is not None and ways.fall is None and before[-1:] != ["RIDGE"]:
        ways.fall, ways.told_by["fall"] = Fall.TOWARD if way == "up" else Fall.AWAY, mention


def _breaks(mention: Mention, said: GreenSaid, ways: _Ways) -> None:
    if (value := mention.get("break")) is not None:
        ways.side, ways.told_by["side"] = Fall(str(value)), mention
        said.breaks = True


def _own_read(scene: Scene, said: GreenSaid, ways: _Ways) -> None:
    """ "A cup outside the left": how far out, and that the left is the high side."""
    for mention in scene.having("last_break"):
        ways.side, ways.told_by["side"] = Fall(str(mention.get("last_break"))), mention
    if (twice := two_ways(scene)) is not None:
        ways.side, ways.twice = twice.last, True
    flat = any("straight" not in mention for mention in scene.having("level"))
    told = read_borrow(scene, falls_told=ways.side is not None or flat)
    if told is None:
        return
    said.borrow = told.borrow
    if told.high is not None and told.mention is not None:
        ways.side, ways.told_by["side"] = _FALL_FROM[told.high], told.mention


def _breaks_apart(scene: Scene, said: GreenSaid, ways: _Ways) -> None:
    """ "Breaks a lot to the left": what breaks, and a word or two later the way."""
    for way in break_places(scene).values():
        ways.side = Fall.LEFT_TO_RIGHT if way == "right" else Fall.RIGHT_TO_LEFT
        ways.told_by["side"] = next(scene.having("break_lead"))
        said.breaks = True


def _settle_height(said: GreenSaid, ways: _Ways, *, on_green: bool) -> None:
    """Of a putt, up and down are the fall; of a chip, "uphill" is the fall unless one was told."""
    if on_green and said.elevation_m is not None:
        if ways.fall is None and said.elevation_m != 0:
            ways.fall = Fall.TOWARD if said.elevation_m > 0 else Fall.AWAY
            if "height" in ways.told_by:
                ways.told_by["fall"] = ways.told_by.pop("height")
        said.elevation_m = None
    if said.hill and ways.fall is None:
        ways.fall = Fall.TOWARD if said.hill > 0 else Fall.AWAY


def _surface(scene: Scene, said: GreenSaid, ways: _Ways, *, on_green: bool) -> Green:
    fall_slope, side_slope = _steepness(scene, said, ways.told_by)
    level = any(_flat(scene, mention, on_green) for mention in scene.having("level"))
    if ways.fall is None and (level or (ways.both_ways and on_green)):
        fall_slope = 0.0
        side_slope = 0.0 if ways.side is None else side_slope
    only_sideways = ways.fall is None and ways.side is not None
    if on_green and (ways.side, said.borrow, side_slope) == (None, None, None):
        side_slope = how_much(scene)
    return Green(
        fall=ways.side if only_sideways else ways.fall,
        fall_slope=side_slope if only_sideways else fall_slope,
        side_fall=None if only_sideways else ways.side,
        side_slope=None if only_sideways else side_slope,
        stimp_ft=_stimp(scene, said),
        firmness=read_firmness(scene),
        grain=next((Grain(str(mention.get("grain"))) for mention in scene.having("grain")), None),
        double_break=(on_green and (ways.twice or any(scene.having("last_break", "double_break")))) or None,
        borrow=said.borrow,
        depth=read_extent(scene, "green_depth"),
        width=read_extent(scene, "green_width"),
    )


def _then(scene: Scene, first: Mention, second: Mention) -> bool:
    """ "Uphill then downhill" is neither."""
    return scene.gap(first, second.start, second.end) <= 1


def _flat(scene: Scene, mention: Mention, on_green: bool) -> bool:
    """ "Straight" speaks of a putt, or else of the wind."""
    return on_green or all(piece.text != "straight" for piece in scene.pieces[mention.start : mention.end])


def _heights(
    scene: Scene, said: GreenSaid, targets: dict[str, Mention], *, on_green: bool, near: bool
) -> None:
    told = list(scene.having("elevation", "height"))
    for mention in (m for m in told if "from_hollow" not in m or not _told_besides_a_hollow(told)):
        way = mention.get("elevation") or mention.get("height")
        sign = {"up": 1, "down": -1, "level": 0}[str(way)]
        sign = 1 if sign < 0 and _is_below_a_raised_green(scene, mention) else sign
        quantity = mention.quantity
        at = mention.quantity_at
        hilly = _HILLY & {piece.text for piece in scene.pieces[mention.start : mention.end]}
        told_on_the_way = mention.get("distance") == "front"
        if quantity is not None and at in scene.used and not (hilly or told_on_the_way):
            continue
        if "elevation" in mention and quantity is not None and at not in scene.used:
            if at is None:
                continue
            if (
                quantity.unit is None
                and quantity.middle < _HOLES_UP
                and not (hilly or _is_a_height(scene, mention))
            ):
                continue
            metres = scene.length_m(quantity)
            if abs(metres) <= HIGHEST_M:
                said.elevation_m = sign * metres
                scene.used.add(at)
            elif hilly and said.elevation_m is None:
                said.elevation_m = sign * HEIGHTS_M["clear"]
        elif hilly and near and not on_green:
            targets["fall"] = mention
            said.hill = sign
        elif said.elevation_m is None or "elevation" not in mention:
            said.elevation_m = sign * float(str(mention.get("rise_m") or HEIGHTS_M["clear"]))
            targets["height"] = mention


def _told_besides_a_hollow(told: list[Mention]) -> bool:
    """Whether the height is told too, and not only by the hollow that the ball lies in."""
    return any("from_hollow" not in mention for mention in told)


def _is_below_a_raised_green(scene: Scene, mention: Mention) -> bool:
    """ "A raised green, two yards below": the ball is."""
    below = scene.pieces[mention.end - 1].text in ("below", "beneath")
    return below and any(
        each.get("height") == "up" and each.start < mention.start for each in scene.having("height")
    )


def _is_a_height(scene: Scene, mention: Mention) -> bool:
    """ "Green 4 below", "102, up 4": a small number is a height of what is named, or behind how far it is.

    "Two down" alone is the state of a match.
    """
    if any(piece.text in ("GREEN", "FLAG") for piece in scene.pieces[mention.start : mention.end]):
        return True
    before = (scene.pieces[at].quantity for at in scene.used if at < mention.start)
    told = any(q is not None and q.is_length and q.low > _HOLES_UP for q in before)
    return told and scene.pieces[mention.start].after_break


def _steepness(
    scene: Scene, said: GreenSaid, targets: dict[str, Mention]
) -> tuple[float | None, float | None]:
    slopes: dict[str, float] = {}
    for mention in scene.having("slope", "degree"):
        own = next((n for n, t in targets.items() if t is mention and "slope" in mention), None)
        if own is not None and mention.quantity is not None and mention.quantity_at is not None:
            slopes[own] = min(abs(mention.quantity.slope()), STEEPEST)
            scene.used.add(mention.quantity_at)
            continue
        # "Goes a touch to the left" tells of its own way, and not of the hill beside it.
        own_way = "degree" in mention and "break" in mention
        candidates = {name: t for name, t in targets.items() if (t is mention) is own_way} or targets
        if "degree" in mention and _is_of_the_putt(scene, mention):
            continue
        if "degree" in mention:
            candidates = {name: target for name, target in candidates.items() if "borrow" not in target}
        if not candidates:
            continue
        name = min(candidates, key=lambda n: _apart(scene, mention, candidates[n]))
        if _apart(scene, mention, candidates[name]) > 3:
            continue
        if "slope" in mention and mention.quantity is not None and mention.quantity_at is not None:
            if mention.quantity.unit in (None, "percent", "degrees"):
                slopes[name] = min(abs(mention.quantity.slope()), STEEPEST)
                scene.used.add(mention.quantity_at)
            continue
        word = mention.get("degree")
        if word is None or (name == "side" and said.borrow is not None):
            continue
        if name == "height" and said.elevation_m is not None:
            said.elevation_m = HEIGHTS_M[str(word)] * (1 if said.elevation_m > 0 else -1)
        else:
            slopes.setdefault(name, SLOPES[str(word)])
    for at, piece in enumerate(scene.pieces):
        quantity = piece.quantity
        if quantity is None or at in scene.used or quantity.unit not in ("percent", "degrees"):
            continue
        near = {n: t for n, t in targets.items() if n in ("fall", "side")}
        if near:
            name = min(near, key=lambda n: _from_piece(scene, at, near[n]))
            slopes[name] = min(abs(quantity.slope()), STEEPEST)
            scene.used.add(at)
    return slopes.get("fall"), slopes.get("side")


def _is_of_the_putt(scene: Scene, degree: Mention) -> bool:
    """ "A little four-footer downhill": the putt is little, and not the slope."""
    after = scene.pieces[degree.end] if degree.end < len(scene.pieces) else None
    return after is not None and not after.after_break and after.text in ("#", "putt")


def _from_piece(scene: Scene, at: int, target: Mention) -> float:
    gap = target.start - at - 1 if target.start > at else at - target.end + (0.4 if at > target.end else -0.1)
    return gap + 2.5 * scene.breaks_between(at, target.start)


def _apart(scene: Scene, mention: Mention, target: Mention) -> float:
    gap = scene.gap(mention, target.start, target.end)
    crossed = scene.breaks_between(mention.start, target.start)
    behind = 0.4 if target.start < mention.start and (gap or crossed) else -0.1
    return gap + 2.5 * crossed + (behind if target.start < mention.start else 0.0)


def _stimp(scene: Scene, said: GreenSaid) -> float | None:
    speed: float | None = None
    for mention in scene.having("stimp", "stimp_ft"):
        if "stimp" in mention and mention.quantity is not None and mention.quantity_at is not None:
            if mention.quantity_at in scene.used or mention.quantity.unit not in (None, Unit.FEET):
                continue
            reading = mention.quantity.middle
            possible = STIMP_FT[0] <= reading <= STIMP_FT[1]
            if not possible and mention.quantity.unit is not None:
                continue  # "The green's a foot up" tells no speed.
            scene.used.add(mention.quantity_at)
            if possible:
                return reading
            said.problem = (
                f"a stimp reading of {reading:.10g} is outside {STIMP_FT[0]:.0f} to {STIMP_FT[1]:.0f} feet: "
                "say the reading again, or slow, medium or fast"
            )
        elif (value := mention.get("stimp_ft")) is not None and of_the_ground(scene, mention):
            said_ft = float(value)
            farther = speed is None or abs(said_ft - _MEDIUM_FT) > abs(speed - _MEDIUM_FT)
            speed = said_ft if farther else speed
    return speed


def is_near(pin_m: float | None, front_m: float | None, *, chips: bool) -> bool:
    """Whether the shot is close enough for "uphill" to speak of the green."""
    if chips:
        return True
    length_m = pin_m if pin_m is not None else front_m
    return length_m is not None and length_m <= NEAR_M
