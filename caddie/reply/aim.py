"""Which side of the flag to aim, and why: what is planned beside the flag is said, with its reason."""

from caddie.bag import Bag, Family
from caddie.plan.called import name_of, with_the
from caddie.plan.green_size import HALF_WIDTH_M
from caddie.plan.in_the_air import blown_left_m
from caddie.plan.option import Option
from caddie.reply.phrases import WORTH_NAMING, said
from caddie.reply.putt import line_said
from caddie.situation import Fall, Side, Situation, Stance, WindFrom
from caddie.units import YARD_M, Unit, in_feet, spoken_length, spoken_number

STRAIGHT_M = 0.04
"""A putt from off the green is no finer than this."""
LEAST_CHIP_FEET, LEAST_M, LEAST_FREE_M = 2, 0.75 * YARD_M, 1.5 * YARD_M
"""A chip is aimed beside the flag by no less, any other shot by a pace for what moves it there, and by two for the sake
of more green: less is nothing beside how far it scatters (common practice, no source)."""
BY_WIND = 0.75
"""Share of an aim that the wind has to be for the aim to be the wind's."""
CHIP_M = 25 * YARD_M
GREEN_WIDE_M = 2 * HALF_WIDTH_M
"""An aim as wide as a green is told in greens: nobody paces so much out with the eye."""
_TO_THE_MIDDLE = "toward the middle of the green"
_FROM_LEFT = (WindFrom.LEFT, WindFrom.AHEAD_LEFT, WindFrom.BEHIND_LEFT)
_FROM_RIGHT = (WindFrom.RIGHT, WindFrom.AHEAD_RIGHT, WindFrom.BEHIND_RIGHT)


def aim_said(option: Option, bag: Bag) -> str:
    """Which side of the flag to aim, or nothing when it is at the flag."""
    if option.sideways:
        return ""
    if option.family is Family.PUTT:
        return "" if abs(option.aim_left_m) < STRAIGHT_M else line_said(option.aim_left_m)
    aside_m = abs(option.aim_left_m)
    if aside_m >= GREEN_WIDE_M:
        return f"aim {_greens_said(aside_m)} {_side(option).value}"
    if (round(in_feet(aside_m)) < LEAST_CHIP_FEET) if _is_near(option) else aside_m < LEAST_M:
        return ""
    return f"aim {_aside_said(aside_m, option, bag)} {_side(option).value}"


def _aside_said(aside_m: float, option: Option, bag: Bag) -> str:
    """A length at the flag as it is walked; of a chip as it is seen, in feet, for who does not count in metres."""
    if not _is_near(option):
        return said(max(aside_m, YARD_M), bag)
    return said(aside_m, bag) if bag.player.distances_in is Unit.METRES else spoken_length(aside_m, Unit.FEET)


def _greens_said(aside_m: float) -> str:
    """A wide aim in greens' widths to the half.

    >>> _greens_said(24.0), _greens_said(33.0), _greens_said(46.0)
    ("a green's width", 'a green and a half', "two greens' widths")
    """
    halves = max(round(2 * aside_m / GREEN_WIDE_M), 2)
    whole, half = divmod(halves, 2)
    if half:
        return "a green and a half" if whole == 1 else f"{spoken_number(whole)} and a half greens"
    return "a green's width" if whole == 1 else f"{spoken_number(whole)} greens' widths"


def _is_near(option: Option) -> bool:
    """Whether the flag is a chip away."""
    return option.carry_m + option.land_short_of_pin_m <= CHIP_M


def is_worth_saying(option: Option, reason: str) -> bool:
    """Whether an aim is told: one for the sake of more green alone is nothing before it is two paces."""
    for_green = reason in ("", _TO_THE_MIDDLE)
    return _is_near(option) or not for_green or abs(option.aim_left_m) >= LEAST_FREE_M


def aim_reason(option: Option, situation: Situation, bag: Bag) -> str:
    """Why it is aimed there: trouble on the other side, the wind, the stance, the green, the middle; or nothing."""
    side = _side(option)
    other = Side.RIGHT if side is Side.LEFT else Side.LEFT
    beside = [each for each in situation.hazards if each.side is other and each.kind in WORTH_NAMING]
    wind = situation.wind
    into_it = wind.speed_m_s and wind.from_ in (_FROM_LEFT if side is Side.LEFT else _FROM_RIGHT)
    blown_m = abs(blown_left_m(option, situation, bag)) if into_it else 0.0
    by_wind = f"{_count_beside_the_aim(blown_m, option, bag)} for the wind" if blown_m >= LEAST_M else ""
    if beside:
        away = f"away from {with_the(name_of(beside[0]))}"
        return f"{away}, {by_wind}" if by_wind and blown_m < BY_WIND * abs(option.aim_left_m) else away
    if into_it:
        wide = abs(option.aim_left_m) >= GREEN_WIDE_M
        return (
            "for the wind"
            if wide or blown_m >= BY_WIND * abs(option.aim_left_m)
            else by_wind or _TO_THE_MIDDLE
        )
    leans = {Stance.BALL_BELOW: Side.LEFT, Stance.BALL_ABOVE: Side.RIGHT}
    if any(stance in leans for stance in situation.stance):
        return "for the slope"
    high = {Fall.LEFT_TO_RIGHT: Side.LEFT, Fall.RIGHT_TO_LEFT: Side.RIGHT}
    if side in (high.get(fall) for fall in (situation.green.fall, situation.green.side_fall) if fall):
        return "for the break"
    return _TO_THE_MIDDLE if toward_middle(option, situation) else ""


def _count_beside_the_aim(part_m: float, option: Option, bag: Bag) -> str:
    """A part of the aim as a number alone, counted as the whole aim just was: "four paces left, one for the wind"."""
    number = _aside_said(part_m, option, bag).rpartition(" ")[0]
    return "one" if number in ("a", "an") else number


def answers_trouble(reason: str) -> bool:
    """Whether an aim's reason names the trouble at one side."""
    return reason.startswith("away from")


def toward_middle(option: Option, situation: Situation) -> bool:
    """Whether it is aimed from a flag at one side toward the middle of the green."""
    side = situation.pin_position.value.rpartition("_")[2] if situation.pin_position else ""
    return (side == "left" and option.aim_left_m < 0) or (side == "right" and option.aim_left_m > 0)


def _side(option: Option) -> Side:
    return Side.LEFT if option.aim_left_m > 0 else Side.RIGHT
