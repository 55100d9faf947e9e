"""A putt put into words: how far outside the hole to start it and how long to roll it."""

from caddie.bag import Bag
from caddie.ball.hole import HOLE_RADIUS_M
from caddie.plan.option import Option, Plan, PuttLine
from caddie.plan.putt.borrow import lacks_last_break, lacks_side, told_aim_left_m
from caddie.plan.putt.green import fall_words, falls
from caddie.plan.shapes import comes_down, lies_before_flag, turns_over
from caddie.reply.cue import Cue
from caddie.reply.rolled import rolled_as
from caddie.situation import Borrow, BorrowUnit, Grain, Hazard, HazardKind, Lie, Situation
from caddie.units import INCH_M, Unit, in_feet, in_inches, left_text, spoken_length, spoken_number

HOLE_M = 2 * HOLE_RADIUS_M
"""Diameter of the hole, a cup's width."""
MOST_CUPS = 4
"""Beyond so many cups outside the hole feet say it better."""
SAME_PACE = 0.06
"""A pace closer than this share to the length is that of the flat putt itself."""
RUNS_OFF_M = 15.0
TWO_BREAKS = "Two breaks: the last counts most"
OVER_THE_CREST, OVER_THE_EDGE = "See it well over the crest", "Just over the edge, then it runs"
OVER_THE_TOP = "Die it over the top, then it runs down"
_GRAIN_SAID = {Grain.WITH: "down grain", Grain.AGAINST: "into the grain"}


def putt_versions(plan: Plan, bag: Bag, cue: Cue) -> list[list[str]]:
    """Length and slope as understood, line, pace and cue, the fullest version first."""
    option, line = _putt(plan)
    assert plan.situation.pin_m is not None
    length = spoken_length(plan.situation.pin_m, putt_unit(bag))
    slope = slope_said(plan.situation)
    warning = _warning(plan, line, putt_unit(bag))
    unit = putt_unit(bag)
    pace = pace_said(option, plan.situation, unit)
    start = line_told(plan, unit)
    return [
        [f"{length}{slope}", start, pace, warning, cue.say],
        [f"{length}{shapes_said(plan.situation)}", start, pace, warning, cue.say],
        [length, start, pace, warning, cue.say],
        [length, start, pace, warning],
    ]


def line_told(plan: Plan, unit: Unit) -> str:
    """The start of a putt, or nothing where a break was told and no way."""
    no_way = lacks_last_break(plan.situation) or (
        lacks_side(plan.situation) and plan.situation.green.borrow is None
    )
    return "" if no_way else start_said(plan.chosen, unit)


def _warning(plan: Plan, line: PuttLine, unit: Unit) -> str:
    """Of two breaks of which one is read, of a slope too steep to stop on, or of a told break that no green gives."""
    if not line.holds:
        return f"Too steep to stop: a miss {_runs(line, unit)}"
    if lacking := side_lacking_said(plan.situation):
        return f"{lacking}, but to which side?"
    if lacks_last_break(plan.situation):
        return "Two breaks: which way is the last, at the hole?"
    if minded := minded_said(plan.situation):
        return minded
    told_m = told_aim_left_m(plan.situation)
    return "More break than a green gives: look again" if told_m and line.told is None else ""


def _line_written(plan: Plan, unit: Unit) -> str:
    if lacks_last_break(plan.situation):
        return "that of the last break, when its way is told"
    return f"{start_said(plan.chosen, unit)}{_measured(plan.chosen.aim_left_m, unit)}"


WIPE_IT = "mark it and wipe the mud off"


def minded_said(situation: Situation) -> str:
    """What a putt over two breaks, a crest or an edge asks for beside its line and pace, or nothing.

    Mud comes off first: on the green the ball may be marked, lifted and wiped (Rule 14.1c).
    """
    if situation.mud_on_ball and situation.lie is Lie.GREEN:
        return WIPE_IT
    if situation.green.double_break and situation.green.borrow is None:
        return TWO_BREAKS
    steps = [hazard for hazard in situation.hazards if lies_before_flag(hazard, situation)]
    if any(hazard.kind is HazardKind.RIDGE for hazard in steps):
        return OVER_THE_CREST
    down = any(hazard.kind is HazardKind.TIER and comes_down(hazard, situation) for hazard in steps)
    if any(turns_over(hazard, situation) for hazard in steps) and not down:
        return OVER_THE_TOP
    return OVER_THE_EDGE if down else ""


def side_lacking_said(situation: Situation) -> str:
    """A break of which the amount alone was told: "two cups of break"; else nothing."""
    borrow = situation.green.borrow
    if not lacks_side(situation):
        return ""
    return f"{_count_said(borrow.amount, borrow.unit)} of break" if borrow else "It breaks"


def putt_lines(plan: Plan, bag: Bag) -> list[str]:
    """The full read as plain lines of text, but for what was assumed and the cue."""
    option, line = _putt(plan)
    situation, unit = plan.situation, putt_unit(bag)
    assert situation.pin_m is not None
    return [
        f"Putt of {left_text(situation.pin_m, unit)}{slope_said(situation)}",
        f"Line:  {_line_written(plan, unit)}",
        f"Spot:  {_spot(line, bag)}",
        f"Pace:  {pace_said(option, situation, unit)}",
        f"Odds:  holed {option.make or 0:.0%}, three putts {option.three_putt or 0:.0%}; "
        f"{option.strokes:.1f} putts"
        f"{'' if line.holds else ', if the slope is even'}",
        f"Miss:  {_miss(option, line, unit)}",
        *_range(line, unit),
        *_clue(plan, bag),
        *(f"Why:   {reason}" for reason in plan.reasons),
    ]


def slope_said(situation: Situation) -> str:
    """The falls as understood, after a comma each, or nothing on the level.

    >>> slope_said(Situation())
    ''
    """
    found = falls(situation)
    said = [fall_words(found[axis][0]) for axis in ("along", "across") if axis in found]
    if any(turns_over(hazard, situation) for hazard in situation.hazards):
        said[0] = f"then {said[0]}"
    said += [_GRAIN_SAID[situation.green.grain]] if situation.green.grain else []
    return shapes_said(situation) + "".join(f", {each}" for each in said)


def shapes_said(situation: Situation) -> str:
    """The shapes on the way of a putt, after a comma each."""
    shapes = [_shape_said(hazard, situation) for hazard in situation.hazards]
    return "".join(f", {shape}" for shape in shapes if shape)


def _shape_said(hazard: Hazard, situation: Situation) -> str | None:
    if hazard.kind is HazardKind.TIER:
        return "down a tier" if comes_down(hazard, situation) else "up a tier"
    return {HazardKind.RIDGE: "over a ridge", HazardKind.SWALE: "through a swale"}.get(hazard.kind)


def start_said(option: Option, unit: Unit = Unit.FEET) -> str:
    """Where to start it: as the player read it, when that is the line."""
    told = option.line.told if option.line is not None else None
    if told is None:
        return line_said(option.aim_left_m, unit)
    return f"{borrow_said(told, option.aim_left_m)}, as you read it"


def borrow_said(borrow: Borrow, aim_left_m: float) -> str:
    """The player's own read in the player's own measure.

    >>> from caddie.situation import BorrowUnit
    >>> borrow_said(Borrow(amount=1, unit=BorrowUnit.CUPS, outside=True), 0.162)
    'A cup outside the left'
    >>> borrow_said(Borrow(amount=6, unit=BorrowUnit.INCHES), -0.1524)
    'Six inches right of the middle'
    """
    side = "left" if aim_left_m > 0 else "right"
    if aim_left_m == 0:
        return "Straight at the middle"
    if borrow.outside and borrow.amount <= 0:
        return f"{side.capitalize()} edge" if borrow.amount == 0 else f"Just inside the {side} edge"
    if not borrow.outside and borrow.aim_m < HOLE_M / 2:
        return f"{side.capitalize()} half of the hole"
    amount = _count_said(borrow.amount, borrow.unit)
    where = f"outside the {side}" if borrow.outside else f"{side} of the middle"
    return f"{amount} {where}".capitalize()


def amount_said(borrow: Borrow) -> str:
    """The player's own read without its side.

    >>> from caddie.situation import BorrowUnit
    >>> amount_said(Borrow(amount=1.5, unit=BorrowUnit.BALLS, outside=True))
    'a ball and a half outside'
    """
    if borrow.aim_m == 0:
        return "straight"
    if borrow.outside and borrow.amount <= 0:
        return "at the edge" if borrow.amount == 0 else "inside the edge"
    return f"{_count_said(borrow.amount, borrow.unit)} {'outside' if borrow.outside else 'of break'}"


def _count_said(amount: float, unit: BorrowUnit) -> str:
    """A count to the nearest half: "a cup and a half", "half a ball", "two feet"."""
    one = {BorrowUnit.FEET: "foot", BorrowUnit.INCHES: "inch"}.get(unit, unit.value.removesuffix("s"))
    article = "an" if unit is BorrowUnit.INCHES else "a"
    halves = max(round(2 * amount), 1)
    whole, half = divmod(halves, 2)
    if whole == 0:
        return f"half {article} {one}"
    if whole == 1:
        return f"{article} {one}{' and a half' if half else ''}"
    return f"{spoken_number(whole)}{' and a half' if half else ''} {unit.value}"


def line_said(aim_left_m: float, unit: Unit = Unit.FEET) -> str:
    """Where to start it, from the hole's middle outward.

    >>> line_said(0.0), line_said(0.05), line_said(-0.28)
    ('Straight at the middle', 'Start it at the left edge', 'Start it two cups outside the right')
    """
    place = aim_place(aim_left_m, unit)
    return place.capitalize() if place.startswith("straight") else f"Start it {place}"


def aim_place(aim_left_m: float, unit: Unit = Unit.FEET) -> str:
    """The aim as a place at the hole."""
    side = "left" if aim_left_m > 0 else "right"
    offset_m = abs(aim_left_m)
    outside_m = offset_m - HOLE_M / 2
    if offset_m < 0.015:
        return "straight at the middle"
    if outside_m < -0.015:
        return f"just inside the {side} edge"
    if outside_m < 0.3 * HOLE_M:
        return f"at the {side} edge"
    if outside_m < 0.75 * HOLE_M:
        return f"half a cup outside the {side}"
    cups = round(outside_m / HOLE_M)
    if cups <= MOST_CUPS:
        return f"{spoken_number(cups) if cups > 1 else 'a'} cup{'s' if cups > 1 else ''} outside the {side}"
    far = _centimetres_said(offset_m) if unit is Unit.METRES else _feet_said(offset_m)
    return f"{far} {side} of the hole"


def putt_unit(bag: Bag) -> Unit:
    """What a putt is counted in."""
    return bag.player.putt_unit


def pace_said(option: Option, situation: Situation, unit: Unit = Unit.FEET) -> str:
    """The flat putt of the same pace, or its own when the green hardly changes it."""
    assert situation.pin_m is not None and option.pace_m is not None and option.line is not None
    near = abs(option.pace_m - situation.pin_m) < 0.12 + SAME_PACE * situation.pin_m
    if near and option.line.holds and not _is_paced(situation):
        return f"Flat pace, {_past_said(option.line, unit)}"
    if option.line.holds and rolled_as(option.pace_m, unit) == rolled_as(situation.pin_m, unit):
        harder = option.pace_m > situation.pin_m
        return f"A touch {'firmer' if harder else 'softer'} than flat, {_past_said(option.line, unit)}"
    return _rolled_as(option.pace_m, unit)


def _is_paced(situation: Situation) -> bool:
    """Whether up or down, or the grain, was told, which asks for another pace than that of a flat putt."""
    return "along" in falls(situation) or situation.green.grain is not None


def _past_said(line: PuttLine, unit: Unit) -> str:
    past_ft = round(in_feet(line.past_m))
    if past_ft == 0:
        return "to die at the hole"
    if unit is Unit.METRES:
        return f"to finish {spoken_number(round(10 * line.past_m) * 10)} centimetres past"
    return f"to finish {'a foot' if past_ft == 1 else f'{spoken_number(past_ft)} feet'} past"


def _rolled_as(pace_m: float, unit: Unit) -> str:
    """The pace as the length of a flat putt."""
    flat = rolled_as(pace_m, unit)
    return f"Roll it as {flat}" if flat else "Just set it rolling"


def _putt(plan: Plan) -> tuple[Option, PuttLine]:
    assert plan.chosen.line is not None
    return plan.chosen, plan.chosen.line


def near_said(length_m: float, unit: Unit) -> str:
    """A length beside the hole: in centimetres below two metres to who counts in metres, else in feet."""
    return _centimetres_said(length_m) if unit is Unit.METRES else spoken_length(length_m, unit)


def _centimetres_said(length_m: float) -> str:
    """An aim as who counts in metres says it: tens of centimetres below two metres.

    >>> _centimetres_said(0.83), _centimetres_said(1.5), _centimetres_said(2.6)
    ('eighty centimetres', 'a metre and fifty', 'two and a half metres')
    """
    tens = max(round(10 * abs(length_m)), 1) * 10
    if tens < 100:
        return f"{spoken_number(tens)} centimetres"
    if tens < 200:
        return "a metre" if tens == 100 else f"a metre and {spoken_number(tens - 100)}"
    return spoken_length(length_m, Unit.METRES)


def _feet_said(length_m: float) -> str:
    halves = round(2 * in_feet(length_m))
    if halves % 2 == 0 or halves > 8:
        return spoken_length(length_m, Unit.FEET)
    return f"{spoken_number(halves // 2)} and a half feet" if halves > 1 else "half a foot"


def _inches(left_m: float, unit: Unit = Unit.FEET) -> str:
    """An aim in inches, or feet when it is far; in centimetres for who counts in metres.

    >>> _inches(0.254), _inches(-2.0)
    ('10 inches left', '6.6 feet right')
    """
    inches = round(in_inches(abs(left_m)))
    if inches == 0:
        return "the middle"
    side = "left" if left_m > 0 else "right"
    if unit is Unit.METRES:
        return f"{abs(left_m) * 100:.0f} cm {side}"
    if inches > 36:
        return f"{in_feet(abs(left_m)):.1f} feet {side}"
    return f"{inches} inch{'es' if inches > 1 else ''} {side}"


def _spot(line: PuttLine, bag: Bag) -> str:
    unit = putt_unit(bag)
    a_pace = abs(line.spot_ahead_m - bag.player.pace_m) < 0.01
    ahead = "a pace" if a_pace else _inches_of(line.spot_ahead_m, unit)
    if abs(line.spot_left_m) < 0.5 * INCH_M:
        return f"over a spot {ahead} ahead, on the straight line to the hole"
    return f"over a spot {ahead} ahead, {_inches(line.spot_left_m, unit)} of the straight line to the hole"


def aim_apart_said(apart_m: float, unit: Unit) -> str:
    """How far apart two lines are at the hole: in inches, from two feet on in feet; in centimetres for metres.

    >>> aim_apart_said(0.05, Unit.FEET), aim_apart_said(-0.4, Unit.FEET), aim_apart_said(0.05, Unit.METRES)
    ('two inches', 'sixteen inches', 'five centimetres')
    """
    if unit is Unit.METRES:
        centimetres = max(round(abs(apart_m) * 100), 1)
        return f"{spoken_number(centimetres)} centimetre{'s' * (centimetres > 1)}"
    inches = max(round(in_inches(abs(apart_m))), 1)
    if inches >= 24:
        return near_said(apart_m, unit)
    return "an inch" if inches == 1 else f"{spoken_number(inches)} inches"


def _inches_of(length_m: float, unit: Unit) -> str:
    if unit is Unit.METRES:
        return f"{length_m * 100:.0f} cm"
    return f"{round(in_inches(length_m))} inches"


def _measured(aim_left_m: float, unit: Unit) -> str:
    inches = _inches(aim_left_m, unit)
    return "" if inches == "the middle" else f" ({inches} of the middle)"


def _miss(option: Option, line: PuttLine, unit: Unit) -> str:
    if not line.holds:
        return _runs(line, unit)
    left = f"{option.leave_m:.1f} metres" if unit is Unit.METRES else f"{in_feet(option.leave_m):.1f} feet"
    return f"leaves {left} as often as not"


def _runs(line: PuttLine, unit: Unit) -> str:
    if line.past_m > RUNS_OFF_M:
        return "runs off the green"
    return f"runs {spoken_length(line.past_m, unit)}"


def _range(line: PuttLine, unit: Unit) -> list[str]:
    """The aim's range, when its two ends are different places."""
    ends = sorted((line.aim_least_left_m, line.aim_most_left_m), key=abs)
    first, last = (aim_place(end, unit) for end in ends)
    if first == last or abs(ends[1] - ends[0]) < 0.5 * HOLE_M:
        return []
    return [f"Range: {first} (gentler or slower than said) to {last} (steeper or quicker)"]


def _clue(plan: Plan, bag: Bag) -> list[str]:
    """The clue that would help most; fields that were assumed count as not said."""
    # What a putt needs is not imported for a chip.
    from caddie.plan.putt.clue import as_said, telling_clue

    question = telling_clue(as_said(plan), plan, bag)
    return [f"Ask:   {question} That would help the read most."] if question else []
