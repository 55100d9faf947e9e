"""Parts of a reply that speech and writing share: clubs, swings, landing, run and trouble in words."""

from caddie.bag import Bag, Club, ClubKind, Family
from caddie.ball.launch import Flight
from caddie.plan.assume import is_only_to_get_out
from caddie.plan.called import name_of
from caddie.plan.lip import before_a_lip, face_of
from caddie.plan.option import Option
from caddie.plan.patches import carry_needed_m
from caddie.plan.scene import CROWN_M
from caddie.plan.shapes import comes_down, lies_before_flag, top_m
from caddie.plan.trust import stays_in
from caddie.reply.rolled import rolled_said
from caddie.situation import (
    IN_SAND,
    USUAL_BRANCH_M,
    BallSide,
    Hazard,
    HazardKind,
    Lie,
    Side,
    Situation,
)
from caddie.units import YARD_M, Unit, spoken_length, spoken_number, without_unit

OPEN, SQUARE = "open", "square"


def small(text: str) -> str:
    """What begins a sentence, as it stands within another.

    >>> small("Fifty-six, hands to the hip")
    'fifty-six, hands to the hip'
    """
    return f"{text[:1].lower()}{text[1:]}"


PACES_UP_TO_M = 25 * YARD_M
"""Shorter distances are said in paces."""
AT_MARK_M = 0.55
"""A ball that lands no farther from the green's edge, or from the flag, lands at it."""
STOPS_M = 0.7
"""A run shorter than this is a ball that stops."""

LIP_WORTH_SAYING_M = 0.5
WARN_CAUGHT = 0.145
"""Trouble that catches a shot so often is said with its odds."""
WARN_STAYS_IN = 0.2
"""A ball that stays in the sand so often is warned of."""

WORTH_NAMING = (
    HazardKind.BUNKER,
    HazardKind.WATER,
    HazardKind.TREES,
    HazardKind.OUT_OF_BOUNDS,
    HazardKind.ROUGH,
    HazardKind.UNNAMED,
    HazardKind.RIDGE,
)


def club_said(option: Option, bag: Bag) -> str:
    """A club as players say it: wedges numbered by loft as the number, others by name.

    A bag whose wedge is called ``"56"`` hears "fifty-six"; one called ``"SW"`` hears "sand wedge".
    """
    club = bag.club_called(option.club)
    return option.club if club is None else club_called(club)


def club_called(club: Club) -> str:
    """A club of a bag as players say it."""
    return spoken_number(int(club.id)) if club.id.isdigit() and club.kind is ClubKind.WEDGE else club.name


def club_written(option: Option, bag: Bag) -> str:
    """A club with its loft: ``"56 (sand wedge, 56°)"``."""
    club = bag.club_called(option.club)
    return f"{option.club} ({club.name}, {club.loft_deg:g}°)" if club else option.club


def swing_said(option: Option) -> str:
    """The swing length in words: where the hands stop."""
    if option.family is Family.PUTT:
        return "putting stroke"
    if option.swing == "full":
        return "full swing"
    if option.swing == "just short of full":
        return "just short of a full swing"
    if option.swing.startswith("under "):
        return f"hands below the {option.swing.removeprefix('under ')}"
    if option.swing.startswith("just "):
        where, _, name = option.swing.rpartition(" ")
        return f"hands {where} the {name}"
    if " to " in option.swing:
        first, second = option.swing.split(" to ")
        return f"hands between {first} and {second}"
    return f"hands to the {option.swing}"


def flight_said(option: Option) -> str:
    """How the face or the ball position changes the stock shot, or nothing."""
    if option.family is Family.PUTT:
        return ""
    if option.family is Family.SPLASH:
        return {Flight.LOW: "square face", Flight.STOCK: "open face", Flight.HIGH: "wide open face"}[
            option.flight
        ]
    if option.wide_open:
        return "face wide open"
    return {Flight.HIGH: "face open", Flight.LOW: "ball back, low", Flight.STOCK: ""}[option.flight]


def face_said(option: Option) -> str:
    """How the face is set for the shot: open or square."""
    return OPEN if OPEN in flight_said(option) else SQUARE


def shot_said(option: Option, bag: Bag) -> str:
    """Club, flight and swing; a putter needs no more than its name."""
    swing = "" if option.family is Family.PUTT else swing_said(option)
    return ", ".join(filter(None, (club_said(option, bag), flight_said(option), swing)))


def distance_unit(length_m: float, bag: Bag) -> Unit:
    """Paces for what is walked, the player's unit beyond."""
    if abs(length_m) <= PACES_UP_TO_M and bag.player.distances_in is Unit.YARDS:
        return Unit.PACES
    return bag.player.distances_in


def said(length_m: float, bag: Bag, beside_m: float = 0.0) -> str:
    """A length on the ground in words in the unit that suits it, and the one ``beside_m`` it in the same sentence."""
    unit = distance_unit(max(abs(length_m), abs(beside_m)), bag)
    return spoken_length(length_m, unit, bag.player.pace_m, halves=False)


def flag_said(length_m: float, bag: Bag) -> str:
    """A length to the flag in the unit that the player counts in: nobody who says yards is told paces."""
    return spoken_length(length_m, bag.player.distances_in, bag.player.pace_m)


def ball_said(option: Option, situation: Situation, bag: Bag) -> str:
    """Where it lands and what it does then; a putt's pace."""
    if option.family is Family.PUTT:
        return rolled_said(option, bag)
    if option.lay_up:
        return lay_up_said(option, bag)
    if option.turned:
        return f"toe down, just out, leave {flag_said(option.leave_m, bag)}"
    if option.sideways:
        return f"out sideways to the grass, leave {flag_said(option.leave_m, bag)}"
    return ", ".join(landing_and_run_said(option, situation, bag))


def lay_up_said(option: Option, bag: Bag) -> str:
    """How far a lay-up carries and what it leaves."""
    carry, left = flag_said(option.carry_m, bag), flag_said(option.leave_m, bag)
    return f"lay up: carry it {carry}, leave {left}"


def landing_and_run_said(option: Option, situation: Situation, bag: Bag) -> tuple[str, str]:
    """Where it lands and what it does then, in one unit."""
    return landing_said(option, situation, bag), run_said(option, bag, _mark(option, situation)[0])


def _mark(option: Option, situation: Situation) -> tuple[float, str]:
    """How far from the nearest mark that the player sees it lands [m], and on which side of it.

    The marks are the green's edge, the flag and the ball itself; nothing is said of one that it lands at.
    """
    assert situation.front_m is not None
    on_green_m, short_m = option.carry_m - situation.front_m, option.land_short_of_pin_m
    if short_m < -AT_MARK_M:
        return -short_m, "past the flag"
    if on_green_m < -AT_MARK_M:
        if option.carry_m < -on_green_m:
            return option.carry_m, "out"
        return -on_green_m, "short of the green"
    if on_green_m <= short_m:
        return (0.0, "on the front edge") if on_green_m < AT_MARK_M else (on_green_m, "on the green")
    return (0.0, "") if short_m < AT_MARK_M else (short_m, "short of the flag")


def landing_said(option: Option, situation: Situation, bag: Bag) -> str:
    """Where it lands, told from the nearest mark."""
    length_m, where = _mark(option, situation)
    if situation.lie is Lie.PLUGGED and (where == "past the flag" or is_only_to_get_out(situation)):
        return "anywhere on the green will do"
    if length_m:
        return f"land it {said(length_m, bag, option.run_m)} {where}"
    return f"land it {where}" if where else "fly it to the flag"


def landing_short(option: Option, situation: Situation, bag: Bag) -> str:
    """Where it lands and what it does then, in as few words as make sense."""
    if option.turned:
        return f"just out, leave {flag_said(option.leave_m, bag)}"
    if option.lay_up or option.sideways:
        return f"{'lay up' if option.lay_up else 'out sideways'}, leave {flag_said(option.leave_m, bag)}"
    where = landing_said(option, situation, bag)
    if where.endswith(("short of the flag", "past the flag")):
        where = where.removesuffix(" the flag").removesuffix(" of")
    if abs(option.run_m) < STOPS_M:
        return where
    run = said(option.run_m, bag, _mark(option, situation)[0])
    if not run.startswith("a"):
        run = without_unit(run)
    return f"{where}, {'runs' if option.run_m > 0 else 'comes back'} {run}"


def run_said(option: Option, bag: Bag, beside_m: float = 0.0) -> str:
    """What it does after landing, in the unit of a length ``beside_m`` it in the same sentence."""
    if option.run_m < -STOPS_M:
        return f"it comes back {said(option.run_m, bag, beside_m)}"
    if option.run_m < STOPS_M:
        return "it stops there"
    return f"it runs {said(option.run_m, bag, beside_m)}"


MUD_CURVES_M = 15.0
"""Nearer by, mud of which no side was told sends a ball nowhere that is worth a word (common practice, no source)."""


def mud_said(situation: Situation) -> str:
    """Which side the mud is on, where that sends the ball the other way.

    >>> mud_said(Situation(mud_on_ball=True, mud_side=BallSide.RIGHT))
    'mud right, it flies left'
    """
    if situation.mud_side is None:
        far = situation.mud_on_ball and (situation.pin_m or 0.0) >= MUD_CURVES_M
        return "muddy ball, it may curve and run on" if far else ""
    other = BallSide.LEFT if situation.mud_side is BallSide.RIGHT else BallSide.RIGHT
    return f"mud {situation.mud_side.value}, it flies {other.value}"


def lip_said(option: Option, situation: Situation) -> str:
    """That the ball clears a lip worth speaking of."""
    told = before_a_lip(situation) and face_of(situation)[0] >= LIP_WORTH_SAYING_M
    return "clears the lip" if told and not option.sideways else ""


def picked_said(option: Option, situation: Situation) -> str:
    """The danger of a ball picked clean from sand, where it is one."""
    picked = situation.lie is Lie.BUNKER and option.family is not Family.SPLASH and not option.sideways
    astray = stays_in(option) + option.through_green
    return "heavy stays in, thin goes over" if picked and astray >= WARN_CAUGHT else ""


def trouble_that_matters(situation: Situation) -> Hazard | None:
    """The one piece of trouble to name: what must be carried first, then behind, then beside, then what shapes it."""
    order = {Side.SHORT: 0, None: 0, Side.LONG: 1, Side.LEFT: 2, Side.RIGHT: 2}
    real = [hazard for hazard in situation.hazards if hazard.kind in WORTH_NAMING]
    shaped = (hazard for hazard in situation.hazards if hazard.kind not in WORTH_NAMING)
    return min(real, key=lambda hazard: order[hazard.side], default=None) or next(shaped, None)


def side_said(hazard: Hazard) -> str:
    """Where a piece of trouble was told to be."""
    if hazard.beside:
        return "on one side"
    return hazard.side.value if hazard.side else "on the way"


def shape_said(hazard: Hazard, option: Option, situation: Situation) -> str:
    """What the ball does with a tier, a bank, a swale, a false front or a run-off on its way."""
    name = name_of(hazard)
    if hazard.kind is HazardKind.RUN_OFF:
        where = {Side.LEFT: "left", Side.RIGHT: "right", Side.SHORT: "in front"}
        return f"falls off {where.get(hazard.side, 'behind') if hazard.side else 'behind'}"
    if not lies_before_flag(hazard, situation):
        return f"{name} behind the flag"
    if comes_down(hazard, situation):
        return f"comes down the {name}"
    flown = option.carry_m > top_m(hazard, situation) - AT_MARK_M
    if hazard.kind is HazardKind.UPSLOPE:
        return "carries the bank" if flown else "runs up the bank"
    if hazard.kind is HazardKind.FALSE_FRONT:
        return f"{'lands past' if flown else 'runs through'} the {name}"
    if hazard.kind is HazardKind.SWALE:
        return f"{'flies' if flown else 'runs through'} the {name}"
    return "lands up on the tier" if flown else "runs up the tier"


def trouble_said(hazard: Hazard, option: Option, situation: Situation, bag: Bag) -> str:
    """One trouble in a few words, with the flight's margin over it when its carry is known."""
    name = name_of(hazard)
    if hazard.kind not in WORTH_NAMING:
        return shape_said(hazard, option, situation)
    if option.sideways:
        return ""
    if hazard.round is not None and goes_round(hazard.round, option):
        return f"round the {name}, {hazard.round.value} side"
    if hazard.clear_m:
        return "through the gap, under the branch" if hazard.gap_m else under_said(hazard.clear_m, bag)
    if hazard.gap_m:
        return "through the gap"
    if hazard.side in (Side.SHORT, None):
        if hazard.kind is HazardKind.RIDGE and not hazard.carry_m:
            return "up over the ridge"
        margin_m = option.carry_m - carry_needed_m(hazard, situation)
        if hazard.kind is HazardKind.RIDGE and margin_m <= 0.0:
            return "up over the ridge"
        if odds := "" if option.lay_up else caught_said(hazard, option, situation):
            return f"{name} {odds}"
        if margin_m <= 0.0:
            return f"stays short of the {name}"
        if hazard.kind is HazardKind.TREES:
            return f"over the {name}"
        if hazard.carry_m and margin_m > 0.5:
            return f"clears the {name} by {said(margin_m, bag)}"
        return f"flies the {name}"
    odds = caught_said(hazard, option, situation)
    if hazard.side is Side.LONG:
        short = ", miss short" if misses_short(situation) else ""
        return f"{name} behind {odds}".strip() + short
    if hazard.beside:
        return f"{name} {side_said(hazard)}"
    other = Side.RIGHT if hazard.side is Side.LEFT else Side.LEFT
    if any(each.side is other and each.kind in WORTH_NAMING for each in situation.hazards):
        return "trouble on both sides"
    return f"{name} {hazard.side.value}, miss {other.value}"


def misses_short(situation: Situation) -> bool:
    """Whether short is where a ball does no harm: off grass, with nothing in the way that would catch it."""
    before = (each for each in situation.hazards if each.side in (Side.SHORT, None))
    return situation.lie not in IN_SAND and not any(each.kind in WORTH_NAMING for each in before)


def caught_said(hazard: Hazard, option: Option, situation: Situation) -> str:
    """How often trouble that the ball does not lie in catches it, where that is often enough to be told aloud."""
    share = option.caught_by(hazard.kind)
    in_it = situation.lie in IN_SAND and hazard.kind is HazardKind.BUNKER
    return one_in(share) if share >= WARN_CAUGHT and not in_it else ""


def one_in(share: float) -> str:
    """A chance as a teacher says it of trouble: the same figure as `times_in_ten` gives.

    >>> one_in(0.17), one_in(0.22), one_in(0.33), one_in(0.55)
    ('one in six', 'one in five', 'three in ten', 'more often than not')
    """
    if share >= 0.5:
        return "more often than not"
    return times_in_ten(share).replace("once in", "one in").replace(" times in", " in")


def goes_round(side: Side, option: Option) -> bool:
    """Whether the shot is sent past on that side."""
    aside_m = option.aim_left_m if side is Side.LEFT else -option.aim_left_m
    return aside_m >= CROWN_M


def under_said(clear_m: float, bag: Bag) -> str:
    """How low it stays: under the branch, or under the height that was told."""
    if clear_m == USUAL_BRANCH_M:
        return "stays under the branch"
    unit = Unit.METRES if bag.player.distances_in is Unit.METRES else Unit.FEET
    return f"keep it under {spoken_length(clear_m, unit)}"


def times_in_ten(share: float) -> str:
    """A chance as it is said; less than a quarter as once in so many.

    >>> times_in_ten(0.81), times_in_ten(0.16), times_in_ten(0.03), times_in_ten(1.0)
    ('eight times in ten', 'once in six', 'once in thirty', 'nearly always')
    """
    if share >= 0.96:
        return "nearly always"
    if share < 0.01:
        return "hardly ever"
    if share < RARELY:
        return f"once in {'twenty' if share >= 0.04 else 'thirty' if share >= 0.026 else 'fifty'}"
    if share < MOST_ONCE_IN:
        return f"once in {spoken_number(10 if share < LEAST_COUNTED else round(1 / share))}"
    return f"{spoken_number(min(max(round(share * 10), 3), 9))} times in ten"


RARELY, LEAST_COUNTED, MOST_ONCE_IN = 0.075, 0.115, 0.25
"""Shares up to which a chance is told in round figures, as once in ten and as once in so many."""


def stays_in_said(option: Option, situation: Situation) -> str:
    """How often a ball stays in the sand it lies in, where that is often enough to be told aloud."""
    share = stays_in(option)
    if situation.lie not in IN_SAND or option.sideways or share < WARN_STAYS_IN:
        return ""
    if before_a_lip(situation) and face_of(situation)[0] >= LIP_WORTH_SAYING_M:
        return f"lip stops {times_in_ten(share).replace(' times in', ' in')}"
    return f"stays in {times_in_ten(share)}"
