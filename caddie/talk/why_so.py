"""Why the shot in play does what it does: why it runs, stops, lands there, leaves so much, and why no more often."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import degrees

from caddie.bag import Bag, Club, Family
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.called import name_of
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.plan.patches import carry_needed_m
from caddie.plan.trust import AS_GOOD
from caddie.reply.aim import aim_said
from caddie.reply.phrases import (
    STOPS_M,
    club_said,
    landing_said,
    run_said,
    said,
    swing_said,
    times_in_ten,
    trouble_that_matters,
)
from caddie.reply.putt import near_said, putt_unit, slope_said, start_said
from caddie.reply.rivals import LONGER_SWING, costs, differences
from caddie.reply.rolled import rolled_said
from caddie.reply.situation import LIE_SAID
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import putt_why, why_said
from caddie.situation import Fall, Firmness, Lie, Side, Situation, WindFrom
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.in_the_air import comes_down_rad
from caddie.talk.miss_side import NO_BAD_SIDE, safe_side
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.units import FOOT_M, spoken_length, spoken_number
from caddie.words import Understanding, understand
from caddie.words.sayings import clauses

GRASSY = (Lie.FIRST_CUT, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH)
_BEHIND = (WindFrom.BEHIND, WindFrom.BEHIND_LEFT, WindFrom.BEHIND_RIGHT)
_AHEAD = (WindFrom.AHEAD, WindFrom.AHEAD_LEFT, WindFrom.AHEAD_RIGHT)
DOUBT_COST = "doubt_cost"
"""What a doubt is called about what another shot costs, whatever figure it begins with."""


def run(plan: Plan, bag: Bag) -> list[str]:
    """Why it runs on after landing."""
    option, situation = plan.chosen, plan.situation
    if option.family is Family.PUTT:
        return pace(plan, bag)
    if abs(option.run_m) < STOPS_M:
        return ["it hardly does: it stops where it lands", *stops(plan, bag)[:1]]
    green = situation.green
    causes = [
        "it is kept low" * (option.flight is Flight.LOW),
        "grass takes the spin off" * (situation.lie in GRASSY),
        "sand takes the spin off" * (option.family is Family.SPLASH),
        "the green is firm" * (green.firmness is Firmness.FIRM),
        "the green falls away" * (green.fall is Fall.AWAY),
        "the wind is behind" * (situation.wind.from_ in _BEHIND),
    ]
    told = _listed([_comes_down(plan, bag), *filter(None, causes)])
    where = landing_said(option, situation, bag).removeprefix("land it ")
    return [told, f"so it lands {where}, and {run_said(option, bag).removeprefix('it ')}"]


def stops(plan: Plan, bag: Bag) -> list[str]:
    """Why it stops."""
    option, situation = plan.chosen, plan.situation
    if option.family is Family.PUTT:
        return pace(plan, bag)
    green = situation.green
    causes = [
        "a clean lie lets the face spin it" * (situation.lie in (Lie.FAIRWAY, Lie.FRINGE)),
        "the green is soft" * (green.firmness is Firmness.SOFT),
        "it lands uphill" * (green.fall is Fall.TOWARD),
        "the wind is against it" * (situation.wind.from_ in _AHEAD),
    ]
    return [_listed([_comes_down(plan, bag), *filter(None, causes)]), run_said(option, bag)]


def land(plan: Plan, bag: Bag) -> list[str]:
    """Why it lands where it does."""
    option, situation = plan.chosen, plan.situation
    if option.family is Family.PUTT:
        return pace(plan, bag)
    where = landing_said(option, situation, bag)
    if abs(option.run_m) < STOPS_M:
        return [f"it stops where it lands: {where}"]
    hazard = trouble_that_matters(situation)
    over = ""
    if hazard is not None and hazard.side in (Side.SHORT, None):
        margin_m = option.carry_m - carry_needed_m(hazard, situation)
        over = f"and that is {said(margin_m, bag)} past the {name_of(hazard)}" if margin_m > 0 else ""
    if option.land_short_of_pin_m < -LEAST_PAST_M:
        return [lines.SHORTER_COSTS, over.removeprefix("and ")]
    flown = "flown to the flag it would run that far past" if option.run_m > 0 else ""
    return [f"because {run_said(option, bag)} after landing", flown or where, over]


def left(plan: Plan, bag: Bag) -> list[str]:
    """Why so much is left; of a putt "that far left" is its line."""
    option, situation = plan.chosen, plan.situation
    if option.line is not None:
        return line(plan, bag)
    leave = near_said(max(option.leave_m, FOOT_M), putt_unit(bag))
    where = f"half end within {leave}: that counts every strike, the heavy and thin ones too"
    return [where, _harder(situation)]


def odds(plan: Plan, bag: Bag) -> list[str]:
    """Where the balls go that do not come off."""
    option, situation = plan.chosen, plan.situation
    if option.make is not None:
        assert situation.pin_m is not None
        two = 1.0 - option.make - (option.three_putt or 0.0)
        length = spoken_length(situation.pin_m, putt_unit(bag))
        return [
            f"from {length}{slope_said(situation)}, line and pace must both be right",
            f"two putts {times_in_ten(two)}",
        ]
    misses = [
        (option.short_of_green, "short"),
        (option.through_green, "through the green"),
        (option.in_trouble, "in trouble"),
    ]
    told = [f"{name} {times_in_ten(share)}" for share, name in sorted(misses, reverse=True) if share >= 0.03]
    return [f"the others: {', '.join(told)}" if told else "few others miss", _harder(situation)]


def _harder(situation: Situation) -> str:
    """What makes the shot harder than a plain one, as far as it is known."""
    green = situation.green
    causes = [
        LIE_SAID[situation.lie] if situation.lie in (*GRASSY, Lie.BUNKER, Lie.PLUGGED, Lie.BARE) else "",
        "a firm green" * (green.firmness is Firmness.FIRM),
        "a green that falls away" * (green.fall is Fall.AWAY),
        "the wind" * (situation.wind.from_ is not None and bool(situation.wind.speed_m_s)),
        "the slope you stand on" * bool(situation.stance),
    ]
    told = _listed([cause for cause in causes if cause])
    return f"{told} {'make' if ' and ' in told else 'makes'} it harder" if told else ""


def swing(plan: Plan, bag: Bag) -> list[str]:
    """Why that length of swing."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return pace(plan, bag)
    club = bag.club_called(option.club)
    cells = club.cells(option.family is Family.SPLASH) if club is not None else ()
    shares = {each.name: each.share for each in bag.swings}
    longer = next(
        (
            cell
            for cell in cells
            if cell.carry_m > option.carry_m * (1 + LONGER_SWING)
            and shares.get(cell.swing, 1.0) > option.share
        ),
        None,
    )
    carried = f"that carries {said(option.carry_m, bag)}, which is what it takes"
    if longer is None:
        return [f"{swing_said(option)}: {carried}"]
    name = "full" if longer.swing == "full" else f"to the {longer.swing}"
    return [carried, f"{name} your {club_said(option, bag)} carries {said(longer.carry_m, bag)}, too far"]


def low(plan: Plan, bag: Bag) -> list[str]:
    """Why it is played low, or that it is not."""
    option, situation = plan.chosen, plan.situation
    if option.flight is not Flight.LOW or option.family in (Family.PUTT, Family.SPLASH):
        return ["it is not played low here", *stops(plan, bag)[:1]]
    windy = situation.wind.from_ in _AHEAD
    why = (
        "under the wind it keeps its length"
        if windy
        else "a low ball runs like a putt, and that is surer here"
    )
    return [f"ball back brings it out low: {why}", run_said(option, bag)]


def line(plan: Plan, bag: Bag) -> list[str]:
    """Why it is aimed there."""
    option = plan.chosen
    if option.line is not None:
        told = [each for each in putt_why(plan, bag) if each.startswith(("it breaks", "misses end"))]
        return [start_said(option, putt_unit(bag)), *told]
    aimed = aim_said(option, bag)
    if not aimed:
        safe = safe_side(plan, bag, None)
        return ["nothing moves it sideways: aim at the flag", *([] if safe == NO_BAD_SIDE else [safe])]
    found = [reason for reason in plan.reasons if reason.startswith("Aim")]
    return [aimed, *found[:1]]


def pace(plan: Plan, bag: Bag) -> list[str]:
    """Why that pace."""
    option, fall = plan.chosen, plan.situation.green.fall
    if option.line is None and option.family is Family.PUTT:
        way = (
            {Fall.AWAY: "it goes downhill, so less", Fall.TOWARD: "it goes uphill, so more"}.get(fall)
            if fall
            else ""
        )
        return [
            "a putt rolls all the way",
            rolled_said(option, bag),
            way or "the longer grass takes some of it",
        ]
    told = [each for each in putt_why(plan, bag) if not each.startswith(("it breaks", "misses end"))]
    return told or [why_said(plan, bag)]


def pace_judged(plan: Plan, bag: Bag) -> list[str]:
    """Whether it should die in the hole, or so far past is too much: what this pace is meant to do, and why."""
    option = plan.chosen
    if option.line is None:
        return pace(plan, bag)
    unit = putt_unit(bag)
    past = near_said(max(option.line.past_m, LEAST_PAST_M), unit)
    return [
        f"no: to stop {past} past costs you fewest putts",
        "dying at the hole more stay short, and it takes more break",
        f"short now {times_in_ten(option.line.short)}",
    ]


LEAST_PAST_M = 0.1


def not_that_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Why not my sixty?": what it costs beside the shot advised, and by what."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    named = desk.bag.club_called(heard.club or "") or other_club_named(heard, plan, desk.bag)
    # "Why the sixty now?" asks of the club that was advised before the facts changed.
    before = known.before.club if known.before is not None else ""
    club = named or desk.bag.club_called(before)
    if club is None:
        return _spoken(known, why_said(plan, desk.bag).split(". "))
    if club.id == plan.chosen.club:
        return _spoken(
            known, [f"it is the {club_said(plan.chosen, desk.bag)}", *why_said(plan, desk.bag).split(". ")]
        )
    try:
        other = advise(known.situation, desk.bag, seed=desk.seed, only=Only(club=club.id)).chosen
    except CaddieError as error:
        kept = lines.STAYS_WITH.format(club=club_said(plan.chosen, desk.bag))
        return _spoken(known, [str(error).partition(":")[0], kept])
    told = costs(other, plan.chosen, plan.situation, desk.bag)
    written = sentences([told, f"{other.strokes:.2f} strokes against {plan.chosen.strokes:.2f}"])
    spoken = sentences([told])
    return Said(
        known.changed(spoken=spoken, question=None, other=other, supposed=None), spoken, written=written
    )


def of_the_other(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Why is it so much worse?", of the shot just compared: what it does that the one advised does not."""
    plan, other = in_play(known), known.other
    if plan is None or other is None:
        return no_shot(known)
    named = other_club_named(heard, plan, desk.bag)
    if named is not None and named.id != other.club:
        return not_that_club(desk, known, heard)
    found = differences(other, plan.chosen, plan.situation, desk.bag)
    if other.strokes - plan.chosen.strokes < AS_GOOD or not found:
        return _spoken(known, [costs(other, plan.chosen, plan.situation, desk.bag)])
    said = _spoken(known, [f"the {club_said(other, desk.bag)} {_listed(found[:3])}"])
    return replace(said, known=said.known.changed(said_of_other=said.spoken))


def other_club_named(heard: Understanding, plan: Plan, bag: Bag) -> Club | None:
    """ "Why the sixty now, wasn't it the fifty-two?": the club named that is not the one in play."""
    return next((club for club in clubs_named(heard.heard, bag) if club.id != plan.chosen.club), None)


def clubs_named(text: str, bag: Bag) -> Iterator[Club]:
    """Every club of the bag that is named, those that a clause is about first."""
    found = (bag.club_called(understand(part).club or "") for part in _clauses_and_pairs(text))
    return (club for club in found if club is not None)


def _clauses_and_pairs(text: str) -> Iterator[str]:
    """The clauses, then every two words: a question of another kind names its club in these alone."""
    parts = clauses(text)
    yield from parts
    for part in parts:
        words = part.split()
        yield from map(" ".join, pairwise(words))


def _comes_down(plan: Plan, bag: Bag) -> str:
    steep = 5 * round(degrees(comes_down_rad(plan, bag)) / 5)
    how = "low, about" if steep < LOW_DEG else "steeply, about" if steep >= STEEP_DEG else "at about"
    return f"it comes down {how} {spoken_number(steep)} degrees"


LOW_DEG = 35
STEEP_DEG = 50
"""Landing angles called low and steep (common practice, no source)."""


def _listed(parts: list[str]) -> str:
    *first, last = parts or [""]
    return f"{', '.join(first)} and {last}" if first else last


def _spoken(known: Known, parts: list[str]) -> Said:
    spoken = shortest([parts, parts[:2], parts[:1]])
    return Said(known.changed(spoken=spoken, question=None), spoken)
