"""Whether the shot in play will do it: yes or no first, and how often in plain words."""

from caddie.bag import Bag, Family
from caddie.plan.called import caught_by, name_of
from caddie.plan.option import CAUGHT_ON, Option, Plan
from caddie.plan.patches import carry_needed_m
from caddie.plan.shapes import comes_down, top_m
from caddie.plan.strokes import strokes_to_hole_out
from caddie.plan.trust import stays_in
from caddie.reply.phrases import (
    landing_said,
    run_said,
    said,
    times_in_ten,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import near_said, pace_said, putt_unit
from caddie.situation import IN_SAND, Hazard, HazardKind, Lie, Side
from caddie.talk import lines
from caddie.talk.asked import asked_about, motion, of_the_shot, says_of
from caddie.talk.in_the_air import height
from caddie.talk.length_named import length_named_m
from caddie.talk.miss_side import NO_BAD_SIDE, safe_side
from caddie.talk.state import Desk, Known, Said
from caddie.talk.why_so import LEAST_PAST_M
from caddie.units import FOOT_M, spoken_number
from caddie.words import Understanding

NEARLY_SURE, LIKELY, MOSTLY, HALF, A_THIRD, NOT_OFTEN, SELDOM, HARDLY_EVER = (
    *(0.96, 0.75, 0.58, 0.42),
    *(0.38, 0.15, 0.1, 0.035),
)
"""Shares from which a chance is told in these words: nobody takes three times in ten for seldom."""
CLOSE_M = 2.0
NEAR_M = 5.0
"""A ball left no farther is close, or near, to the hole (common practice, no source)."""
BEST_HANDICAP = -5.0
USUAL_STROKES = 0.12
"""Two averages that differ by less are much the same."""


def yes_or_no(share: float) -> str:
    """A chance as a plain answer.

    >>> yes_or_no(0.9), yes_or_no(0.5), yes_or_no(0.3)
    ('yes, nine times in ten', 'about half the time', 'about one time in three')
    >>> yes_or_no(0.13), yes_or_no(0.05), yes_or_no(0.02)
    ('not often: once in eight', 'seldom: once in twenty', 'no: once in fifty')
    """
    if share >= NEARLY_SURE:
        return "yes, nearly always"
    if share >= LIKELY:
        return f"yes, {times_in_ten(share)}"
    if share >= MOSTLY:
        return f"mostly, {times_in_ten(share)}"
    if share >= HALF:
        return "about half the time"
    if share >= A_THIRD:
        return times_in_ten(share)
    if share >= NOT_OFTEN:
        return f"about one time in {spoken_number(round(1 / share))}"
    if share >= SELDOM:
        return f"not often: {times_in_ten(share)}"
    return f"{'seldom' if share >= HARDLY_EVER else 'no'}: {times_in_ten(share)}"


def over_back(plan: Plan, bag: Bag) -> list[str]:
    """Whether it goes through the green."""
    option = plan.chosen
    if option.line is not None:
        return past(plan, bag)
    return [f"{yes_or_no(option.through_green)} it goes through the green", *_goes(option, bag)]


def holds(plan: Plan, bag: Bag) -> list[str]:
    """Whether a ball on the green stays there."""
    option = plan.chosen
    if option.line is not None:
        return past(plan, bag)
    stays = option.on_green / max(option.on_green + option.through_green, 0.01)
    return [f"{yes_or_no(stays)} it stays on once it is there", run_said(option, bag)]


def reaches(plan: Plan, bag: Bag) -> list[str]:
    """Whether it gets to the green; of a putt, to the hole."""
    option = plan.chosen
    if option.line is not None:
        return [f"{yes_or_no(1.0 - option.line.short)} it gets to the hole", _past_said(option, bag)]
    if option.lay_up:
        return ["no: this is a lay-up, short of the trouble"]
    return [f"{yes_or_no(1.0 - option.short_of_green)} it gets to the green", *_goes(option, bag)]


def short(plan: Plan, bag: Bag) -> list[str]:
    """Whether it stays short."""
    option = plan.chosen
    if option.line is not None:
        return [f"{yes_or_no(option.line.short)} it stops short", _past_said(option, bag)]
    return [f"{yes_or_no(option.short_of_green)} it stays short of the green", *_goes(option, bag)]


def holed(plan: Plan, bag: Bag) -> list[str]:
    """Whether it goes in."""
    option = plan.chosen
    if option.make is not None:
        two = 1.0 - option.make - (option.three_putt or 0.0)
        return [f"{yes_or_no(option.make)} it drops", f"two putts {times_in_ten(two)}"]
    leave = near_said(max(option.leave_m, FOOT_M), putt_unit(bag))
    return ["hardly ever from there", f"half end within {leave}: think of that putt"]


def close(plan: Plan, bag: Bag) -> list[str]:
    """Whether it finishes close."""
    option = plan.chosen
    if option.make is not None:
        return holed(plan, bag)
    lead = "yes" if option.leave_m <= CLOSE_M else "near enough" if option.leave_m <= NEAR_M else "not very"
    leave = near_said(max(option.leave_m, FOOT_M), putt_unit(bag))
    return [f"{lead}: half end within {leave}", f"on the green {times_in_ten(option.on_green)}"]


def three_putts(plan: Plan, bag: Bag) -> list[str]:
    """Whether it takes three putts."""
    option = plan.chosen
    if option.three_putt is None:
        return [*close(plan, bag)[:1], "the putt I can tell once you are there"]
    return [yes_or_no(option.three_putt), f"you hole it {times_in_ten(option.make or 0.0)}"]


def three_putt_odds(plan: Plan, bag: Bag) -> list[str]:
    """How often it takes three putts, as a chance and not as a yes or no."""
    option = plan.chosen
    if option.three_putt is None:
        return three_putts(plan, bag)
    return [
        f"three putts {times_in_ten(option.three_putt)}",
        f"you hole it {times_in_ten(option.make or 0.0)}",
    ]


def past(plan: Plan, bag: Bag) -> list[str]:
    """Whether it goes by the hole."""
    option = plan.chosen
    if option.line is None:
        end_m = option.run_m - option.land_short_of_pin_m
        where = (
            "about level with"
            if abs(end_m) < 1.0
            else f"{said(end_m, bag)} {'past' if end_m > 0 else 'short of'}"
        )
        return [f"a clean one ends {where} the flag", run_said(option, bag)]
    share = max(1.0 - option.line.short - (option.make or 0.0), 0.0)
    return [f"{yes_or_no(share)} it goes by", _past_said(option, bag)]


def past_by(plan: Plan, bag: Bag) -> list[str]:
    """How far past the hole it is meant to finish."""
    option = plan.chosen
    if option.line is None:
        return past(plan, bag)
    meant = f"it is to stop {near_said(max(option.line.past_m, LEAST_PAST_M), putt_unit(bag))} past the hole"
    return [meant, pace_said(option, plan.situation, putt_unit(bag))]


def gets_to(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether the shot gets as far as is named: what a clean one carries, and where it ends."""
    named_m = length_named_m(heard.heard, desk.bag)

    def told(plan: Plan, bag: Bag) -> list[str]:
        option = plan.chosen
        if named_m is None or option.line is not None:
            return reaches(plan, bag)
        short_m = named_m - option.carry_m - option.run_m
        carried = f"it carries {said(option.carry_m, bag)} and {run_said(option, bag).removeprefix('it ')}"
        if short_m > AS_FAR_M:
            return [f"no: a clean one ends {said(short_m, bag)} short of that", carried]
        return ["yes, a clean one gets there", carried]

    return of_the_shot(told)(desk, known, heard)


AS_FAR_M = 1.5
"""A ball that ends no farther short of a length gets there as far as a player counts."""


def on_it_there(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Eighteen metres short of the flag, is that on the green?": by where the green begins and ends."""
    named_m = length_named_m(heard.heard, desk.bag)
    past = says_of("behind_it", heard.heard)

    def told(plan: Plan, bag: Bag) -> list[str]:
        option, there = plan.chosen, plan.situation
        if option.line is not None or there.pin_m is None or there.front_m is None:
            return reaches(plan, bag)
        room_m = there.pin_m - there.front_m
        if named_m is None:
            over_m = option.carry_m - there.front_m
            where = landing_said(option, there, bag)
            return [f"{'yes' if over_m >= 0 else 'no'}: {where}", run_said(option, bag)]
        known_green = known.situation.front_m is not None or known.situation.room_m is not None
        begins = f"{said(room_m, bag)} before the flag{'' if known_green else ', as I take it'}"
        if past:
            return ["behind the flag I know no edge", f"the green begins {begins}"]
        return [f"{'yes' if named_m <= room_m else 'no'}: the green begins {begins}"]

    return of_the_shot(told)(desk, known, heard)


def climbs(plan: Plan, bag: Bag) -> list[str]:
    """Whether it gets up the tier."""
    option, situation = plan.chosen, plan.situation
    steps = (HazardKind.TIER, HazardKind.RIDGE, HazardKind.UPSLOPE, HazardKind.FALSE_FRONT)
    step = next((hazard for hazard in situation.hazards if hazard.kind in steps), None)
    if step is None:
        return [lines.NO_TROUBLE.format(trouble="tier")]
    name = name_of(step)
    if comes_down(step, situation):
        return [f"it comes down the {name}, not up", run_said(option, bag)]
    if option.line is not None:
        return [f"{yes_or_no(1.0 - option.line.short)} it gets up to the hole"]
    over_m = option.carry_m - top_m(step, situation)
    end_m = over_m + option.run_m
    if over_m > 0:
        return [f"yes: a clean one lands {said(over_m, bag)} up on it", _mishit(option)]
    if end_m > 0:
        return [f"yes: a clean one runs up it and {said(end_m, bag)} on", _mishit(option)]
    return [f"no: it stops {said(end_m, bag)} short of the top"]


def _mishit(option: Option) -> str:
    share = option.heavy + option.thin
    return f"heavy or thin, {times_in_ten(share)}, it may not" if share >= 0.01 else ""


def clears(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether it carries the trouble, by how much, and how often it is caught."""
    return of_the_shot(lambda plan, bag: _clears(plan, bag, heard.heard))(desk, known, heard)


def _clears(plan: Plan, bag: Bag, text: str) -> list[str]:
    hazard, _ = asked_about(plan.situation, text)
    in_the_way = hazard is not None and hazard.side in (Side.SHORT, None)
    if hazard is None or not in_the_way or plan.chosen.line is not None:
        return what_it_covers(plan, bag, text)
    option, name = plan.chosen, name_of(hazard)
    margin_m = option.carry_m - carry_needed_m(hazard, plan.situation)
    if margin_m <= 0:
        stays = "it runs through it" if hazard.kind not in CAUGHT_ON else f"it stays short of the {name}"
        return [f"no: {stays}", f"it carries {said(option.carry_m, bag)}"]
    if hazard.kind not in CAUGHT_ON:
        return [f"yes: a clean one carries the {name} by {said(margin_m, bag)}"]
    share = option.caught_by(hazard.kind)
    return [
        f"{yes_or_no(1.0 - share)}, though none is certain",
        f"a clean one carries the {name} by {said(margin_m, bag)}",
        f"{caught_by(name_of(hazard))} {times_in_ten(share)}",
    ]


def covered(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What it takes to carry a piece of trouble, and whether this shot does."""
    return of_the_shot(lambda plan, bag: what_it_covers(plan, bag, heard.heard))(desk, known, heard)


def what_it_covers(plan: Plan, bag: Bag, text: str) -> list[str]:
    """What it takes to carry the trouble that ``text`` names, or the green's edge, and whether the shot does."""
    hazard, name = asked_about(plan.situation, text)
    if hazard is not None and hazard.side not in (Side.SHORT, None):
        return how_often_caught(hazard, plan, bag)
    if hazard is not None:
        needed = carry_needed_m(hazard, plan.situation)
        return [
            f"about {said(needed, bag)} to carry the {name_of(hazard)}",
            f"this one carries {said(plan.chosen.carry_m, bag)}",
            f"trouble {times_in_ten(plan.chosen.in_trouble)}",
        ]
    if name in ("edge", "front"):
        assert plan.situation.front_m is not None
        over = plan.chosen.carry_m - plan.situation.front_m
        lands = f"this lands {said(over, bag)} {'past' if over > 0 else 'short of'} it"
        return [f"{said(plan.situation.front_m, bag)} to the front edge", lands]
    if plan.situation.lie in IN_SAND:
        # From the sand it is the lip that is to be cleared where no other trouble was told.
        return over_lip(plan, bag)
    return [lines.NO_TROUBLE.format(trouble=name)]


def _over_the_lip(plan: Plan, bag: Bag) -> list[str]:
    """Whether a ball in the sand gets over what stands before it: the shot advised, or the one at the flag."""
    option = plan.chosen
    if not option.sideways:
        stays = stays_in(option)
        stopped = f"the lip stops it {times_in_ten(stays)}" if stays >= HARDLY_EVER else ""
        return [f"{yes_or_no(1.0 - stays)} it comes out", stopped, *motion(plan, bag)]
    going = min((each for each in plan.options if not each.sideways), key=stays_in, default=None)
    aside = lines.AWAY_FROM_THE_LIP
    if going is None:
        return [aside]
    return [aside, f"at the flag it comes out {times_in_ten(1.0 - stays_in(going))}"]


def over_lip(plan: Plan, bag: Bag) -> list[str]:
    """ "How high does it go over the lip, can I clear it?": whether it comes out, and how high it gets."""
    if plan.situation.lie not in IN_SAND:
        return what_it_covers(plan, bag, "lip")
    told = _over_the_lip(plan, bag)
    return told if plan.chosen.sideways else [*told[:2], height(plan, bag)[0], *told[2:]]


def caught(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether it ends in the trouble that is named."""

    def told(plan: Plan, bag: Bag) -> list[str]:
        hazard, name = asked_about(plan.situation, heard.heard)
        if hazard is None:
            return [lines.NO_TROUBLE.format(trouble=name)]
        return how_often_caught(hazard, plan, bag)

    return of_the_shot(told)(desk, known, heard)


def how_often_caught(hazard: Hazard, plan: Plan, bag: Bag) -> list[str]:
    """How often that trouble catches the ball; of a shape of ground, what the ball does there."""
    if hazard.kind not in CAUGHT_ON:
        return [trouble_said(hazard, plan.chosen, plan.situation, bag), run_said(plan.chosen, bag)]
    share = plan.chosen.caught_by(hazard.kind)
    return [f"{yes_or_no(share)} {caught_by(name_of(hazard))}", safe_side(plan, bag)]


def danger(plan: Plan, bag: Bag) -> list[str]:
    """What is most to be feared, how often, and the side where a miss costs least."""
    option, situation = plan.chosen, plan.situation
    if option.line is not None:
        most = "leaving it short" if option.line.short >= HALF else "running it by"
        return [f"{most}; three putts {times_in_ten(option.three_putt or 0.0)}", _past_said(option, bag)]
    misses = [(option.short_of_green, "coming up short"), (option.through_green, "running through the green")]
    share, worst = max(misses)
    hazard = trouble_that_matters(situation)
    named = ""
    if hazard is not None and hazard.kind in CAUGHT_ON:
        named = f"{caught_by(name_of(hazard))} {times_in_ten(option.caught_by(hazard.kind))}"
    other = f"{worst}, {times_in_ten(share)}" if share >= 0.03 else ""
    safe = safe_side(plan, bag)
    return [
        named,
        other or ("" if named else "a heavy strike, and little else"),
        "" if safe == NO_BAD_SIDE else safe,
    ]


def judged(plan: Plan, bag: Bag) -> list[str]:
    """Whether what was just said is good: beside what players of this handicap, and the best, take from there."""
    option, situation, handicap = plan.chosen, plan.situation, bag.player.handicap
    assert situation.pin_m is not None
    usual, best = (
        float(strokes_to_hole_out(situation.pin_m, situation.lie or Lie.FAIRWAY, each))
        for each in (handicap, BEST_HANDICAP)
    )
    gap = option.strokes - usual
    name = "putts" if option.line is not None else "strokes"
    verdict = (
        "about usual" if abs(gap) < USUAL_STROKES else "harder than most" if gap > 0 else "easier than most"
    )
    return [
        f"{verdict} for your handicap: {option.strokes:.1f} {name} from there",
        f"the best players take {best:.1f}",
    ]


def _goes(option: Option, bag: Bag) -> list[str]:
    if option.family is Family.PUTT:
        return []
    return [
        f"it carries {said(option.carry_m, bag)}, {run_said(option, bag, option.carry_m).removeprefix('it ')}"
    ]


def _past_said(option: Option, bag: Bag) -> str:
    assert option.line is not None
    return f"a miss stops {near_said(max(option.line.past_m, LEAST_PAST_M), putt_unit(bag))} past"
