"""A situation in a few words, as a caddie repeats it: distance, lie, flag, trouble, green, wind."""

from caddie.bag import Bag
from caddie.plan.called import name_of
from caddie.plan.unplayable import is_awash
from caddie.reply.phrases import flag_said, said, side_said
from caddie.reply.putt import amount_said, putt_unit
from caddie.situation import (
    Against,
    Extent,
    Fall,
    Green,
    Hazard,
    HazardKind,
    Lie,
    Situation,
    Stance,
    Wind,
    WindFrom,
)
from caddie.units import SpeedUnit, from_metres_per_second, spoken_length, spoken_number

MOST_WORDS_REPEATED = 26

LIE_SAID = {
    Lie.FAIRWAY: "fairway",
    Lie.FRINGE: "fringe",
    Lie.FIRST_CUT: "first cut",
    Lie.LIGHT_ROUGH: "light rough",
    Lie.HEAVY_ROUGH: "heavy rough",
    Lie.BARE: "bare lie",
    Lie.DIVOT: "divot",
    Lie.BUNKER: "sand",
    Lie.PLUGGED: "plugged in sand",
    Lie.PINE_STRAW: "pine straw",
    Lie.GREEN: "on the green",
}
_STANCE = {
    Stance.UPHILL: "uphill lie",
    Stance.DOWNHILL: "downhill lie",
    Stance.BALL_ABOVE: "ball above your feet",
    Stance.BALL_BELOW: "ball below your feet",
}
_FALL = {
    Fall.TOWARD: "green falls toward you",
    Fall.AWAY: "green falls away",
    Fall.LEFT_TO_RIGHT: "falls left to right",
    Fall.RIGHT_TO_LEFT: "falls right to left",
}
_WIND = {
    WindFrom.AHEAD: "wind against",
    WindFrom.BEHIND: "wind behind",
    WindFrom.LEFT: "wind from the left",
    WindFrom.RIGHT: "wind from the right",
    WindFrom.AHEAD_LEFT: "wind against from the left",
    WindFrom.AHEAD_RIGHT: "wind against from the right",
    WindFrom.BEHIND_LEFT: "wind behind from the left",
    WindFrom.BEHIND_RIGHT: "wind behind from the right",
}


def situation_said(situation: Situation, bag: Bag) -> str:
    """What was said of a shot, in at most :data:`MOST_WORDS_REPEATED` words; empty when nothing was."""
    words = 0
    kept = []
    for part in _parts(situation, bag):
        words += len(part.split())
        if words > MOST_WORDS_REPEATED:
            break
        kept.append(part)
    return ", ".join(kept)


def distance_said(length_m: float, situation: Situation, bag: Bag) -> str:
    """A distance to the hole in words: feet or metres for a putt, else the unit that suits it."""
    if situation.lie is Lie.GREEN:
        return spoken_length(length_m, putt_unit(bag))
    return flag_said(length_m, bag)


def hazard_said(hazard: Hazard, bag: Bag) -> str:
    """One piece of trouble with its side, and its carry when that was said; a tier by the way over it."""
    if hazard.kind is HazardKind.TIER and hazard.down is not None and not hazard.carry_m:
        return "down a tier" if hazard.down else "up a tier"
    carry = f", {said(hazard.carry_m, bag)} to carry" if hazard.carry_m else ""
    return f"{name_of(hazard)} {side_said(hazard)}{carry}"


def _parts(situation: Situation, bag: Bag) -> list[str]:
    green, wind = situation.green, situation.wind
    parts = []
    if situation.pin_m is not None:
        parts.append(distance_said(situation.pin_m, situation, bag))
    if situation.lie is not None:
        parts.append("half in water" if is_awash(situation) else LIE_SAID[situation.lie])
    parts += _ball_lies(situation, bag)
    if situation.pin_position is not None:
        parts.append(f"flag {situation.pin_position.value.replace('_', ' ')}")
    if situation.front_m:
        parts.append(f"{said(situation.front_m, bag)} to the front")
    if situation.room_m is not None:
        parts.append(f"{said(situation.room_m, bag)} of room")
    if situation.behind_m is not None:
        parts.append(f"{said(situation.behind_m, bag)} of green behind the flag")
    parts += [hazard_said(hazard, bag) for hazard in situation.hazards]
    parts += [_STANCE[stance] for stance in situation.stance]
    parts += [_FALL[fall] for fall in (green.fall, green.side_fall) if fall]
    if green.break_part is not None:
        parts.append(f"over {green.break_part:.0%} of the way")
    if green.borrow is not None:
        parts.append(amount_said(green.borrow))
    if green.firmness is not None:
        parts.append(f"green {green.firmness.value}")
    parts += size_said(green)
    parts += [f"open {side.value}" for side in situation.open_sides]
    if green.stimp_ft is not None:
        parts.append(f"stimp {spoken_number(round(green.stimp_ft))}")
    if situation.elevation_m:
        height = spoken_length(situation.elevation_m, putt_unit(bag))
        parts.append(f"green {height} {'above' if situation.elevation_m > 0 else 'below'} you")
    told = wind_said(wind, bag)
    return [part for part in (*parts, told) if part]


def wind_said(wind: Wind, bag: Bag) -> str:
    """The wind as it was told, in the player's own unit; nothing when none was.

    >>> from caddie.bag.file import load_bag
    >>> wind_said(Wind(from_=WindFrom.AHEAD, speed_m_s=4.4704), load_bag())
    'wind against, ten miles an hour'
    """
    if wind.speed_m_s == 0:
        return "no wind"
    if wind.from_ is None:
        return ""
    unit = bag.player.wind_unit
    name = "kilometres an hour" if unit is SpeedUnit.KMH else "miles an hour"
    speed = wind.speed_m_s and round(from_metres_per_second(wind.speed_m_s, unit))
    return f"{_WIND[wind.from_]}{f', {spoken_number(speed)} {name}' if speed else ''}"


def size_said(green: Green) -> list[str]:
    """How big the green was said to be.

    >>> size_said(Green(depth=Extent.SMALL, width=Extent.SMALL)), size_said(Green(width=Extent.SMALL))
    (['a small green'], ['a narrow green'])
    """
    if green.depth is None and green.width is None:
        return []
    if green.depth is green.width:
        return ["a small green" if green.depth is Extent.SMALL else "a large green"]
    deep = {None: "", Extent.SMALL: "shallow", Extent.LARGE: "long"}[green.depth]
    wide = {None: "", Extent.SMALL: "narrow", Extent.LARGE: "wide"}[green.width]
    return [f"a {' '.join(filter(None, (deep, wide)))} green"]


def _ball_lies(situation: Situation, bag: Bag) -> list[str]:
    """How the ball sits, and what is under, before and behind it."""
    parts = []
    if situation.sitting is not None:
        parts.append(f"sitting {situation.sitting.value}")
    if situation.sand is not None:
        parts.append(f"{situation.sand.value} sand")
    if situation.under_lip:
        parts.append("under the lip")
    elif situation.lip_m is not None:
        lip = spoken_length(situation.lip_m, bag.player.putt_unit)
        parts.append(f"lip {lip}" if situation.lip_m else "no lip")
    if situation.deep_bunker:
        parts.append("a deep bunker")
    if situation.lip_away_m is not None:
        parts.append(f"lip {said(situation.lip_away_m, bag)} ahead")
    if situation.sand_behind:
        parts.append("sand behind the club")
    if situation.against is Against.WATER:
        parts.append("in water" if situation.unplayable or situation.lie is None else "")
    elif situation.against is not None:
        parts.append(f"against a {situation.against.value}")
    if situation.unplayable:
        parts.append("unplayable")
    if situation.mud_on_ball:
        side = f"the {situation.mud_side.value} of " if situation.mud_side else ""
        parts.append(f"mud on {side}the ball")
    return parts
