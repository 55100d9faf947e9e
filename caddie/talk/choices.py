"""Wishes for another shot than the one advised: bolder, lower, higher, the middle, the best of two."""

import math
from collections.abc import Callable
from dataclasses import replace

from caddie.bag import Club, ClubKind, Family, Risk
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.green_size import HALF_WIDTH_M, NEAR_SIDE_M
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.obstacles import first_said
from caddie.reply.phrases import club_said, said, shot_said, small, times_in_ten
from caddie.reply.rivals import differences
from caddie.reply.situation import wind_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import costs_said, strokes_said
from caddie.situation import PinPosition, Situation
from caddie.talk import lines
from caddie.talk.about import the_shot
from caddie.talk.about import why as reasons
from caddie.talk.asked import in_play, odds, same_shot, says_of
from caddie.talk.compare import another, names_another, what_if, wind_from_where
from caddie.talk.comparison import AIMED_APART_M, compared_with, told
from caddie.talk.planning import planned
from caddie.talk.safe_shots import beside, gentler, with_risk
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.talk.why_so import not_that_club, of_the_other, other_club_named
from caddie.words import Intent, Understanding
from caddie.words.rules import rule_of
from caddie.words.sayings import compared

FROM_MIDDLE_M = 7.0
"""A flag at the front or back is so far from the middle (common practice, no source)."""


def bolder(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The shot that leaves the shortest putt, and what its bad ones cost."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    brave = with_risk(desk, known, plan, Risk.BOLD)
    closest = min((*plan.options, *brave.options), key=lambda option: (option.leave_m, option.strokes))
    if same_shot(closest, plan.chosen) or closest.leave_m >= plan.chosen.leave_m:
        spoken = sentences(["that is the one that gets closest", *odds(plan, desk.bag)])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    more = closest.in_trouble - plan.chosen.in_trouble
    verdict = f"closer, but trouble {times_in_ten(closest.in_trouble)}" if more >= 0.01 else ""
    return beside(desk, known, plan, closest, verdict or f"closer, {_gap(closest, plan.chosen)}")


def middle(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The shot to the middle of the green, whatever the flag."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    position = plan.situation.pin_position.value if plan.situation.pin_position else "middle"
    depth, _, side = position.partition("_")
    if plan.chosen.line is not None or (depth == "middle" and not side):
        return Said(known, sentences([lines.FLAG_IS_MIDDLE, *odds(plan, desk.bag)[:1]]))
    shift = {"front": FROM_MIDDLE_M, "back": -FROM_MIDDLE_M}.get(depth, 0.0)
    aside_m = HALF_WIDTH_M - NEAR_SIDE_M if side else 0.0
    assert known.situation.pin_m is not None
    there = known.situation.model_copy(
        update={
            "pin_m": max(known.situation.pin_m + shift, 1.0),
            "pin_position": PinPosition.MIDDLE,
            "room_m": None,
        }
    )
    other = advise(there, desk.bag, seed=desk.seed, only=known.only)
    putt = "leaves a putt to the flag, trouble " + times_in_ten(other.chosen.in_trouble)
    if side:
        away = "right" if side == "left" else "left"
        putt = f"aim {said(aside_m, desk.bag)} {away} of the flag, trouble {times_in_ten(other.chosen.in_trouble)}"
    option = _seen_from_the_flag(other.chosen, shift, aside_m)
    compared = told(option, plan, desk, supposed=True, there=plan.situation, verdict=putt)
    return compared_with(known, compared)


def _seen_from_the_flag(option: Option, shift_m: float, aside_m: float) -> Option:
    """A shot planned for a place ``shift_m`` beyond the flag and ``aside_m`` beside it, as it lies to the flag."""
    return option.model_copy(
        update={
            "land_short_of_pin_m": option.land_short_of_pin_m - shift_m,
            "leave_m": math.hypot(option.leave_m, shift_m, aside_m),
        }
    )


def a_stroke_spent(line: str) -> Handler:
    """What a stroke given away, to get out sideways or to drop, buys beside going for it; ``line`` says so."""

    def cost(desk: Desk, known: Known, heard: Understanding) -> Said:
        plan = in_play(known)
        if plan is None:
            return no_shot(known)
        option = plan.chosen
        spoken = line.format(strokes=f"{option.strokes:.1f}", worst=f"{option.bad_tail:.1f}")
        return Said(known.changed(spoken=spoken, question=None), spoken)

    return cost


def relief(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What the Rules offer for the ball where it lies: said in short, and written with their numbers."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    rule = rule_of(known.situation)
    spoken = rule.say if rule else sentences([first_said(known.situation)])
    rules = [rule.rule] if rule else [reason for reason in plan.reasons if "Rule 1" in reason]
    return Said(known.changed(spoken=spoken, question=None), spoken, "\n".join([spoken, *rules]))


def lower(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Run in along the ground, or at least kept low."""
    return _in_one_of(
        desk, known, (Only(family=Family.BUMP_AND_RUN), Only(family=Family.CHIP), Only(flight=Flight.LOW))
    )


def not_low(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Not the low one": the shot with the ball where it mostly lies in the stance, with the club in hand."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    low = plan.chosen.flight is Flight.LOW and plan.chosen.family is not Family.PUTT
    club = plan.chosen.club if low else known.only.club
    only = known.only.model_copy(update={"club": club, "flight": Flight.STOCK})
    return planned(desk, known.changed(only=only, question=None, other=None), heard)


def higher(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Thrown up to stop."""
    return _in_one_of(desk, known, (Only(family=Family.LOB), Only(flight=Flight.HIGH)))


def gentler_or_named(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Is the sixty any use with less of a swing?": that club, square unless told; with none a gentler shot."""
    if heard.club is None or not names_another(desk, known, heard):
        return gentler(desk, known, heard)
    asked = {"intent": Intent.WHAT_IF, "asks": (), "situation": Situation(), "face": heard.face or "square"}
    return what_if(desk, known, heard.model_copy(update={**asked, "swing": None}))


def worse(desk: Desk, known: Known, heard: Understanding) -> Said:
    """How much the shot last compared costs; with none, what the next best would."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    of_two = not _OF_TWO.isdisjoint(compared(heard.heard))
    if known.other is None and known.before is not None and not of_two:
        gap = plan.chosen.strokes - known.before.strokes
        spoken = sentences([_than_before(gap), odds(plan, desk.bag)[0]])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    if known.other is None:
        beside = another(desk, known)
        return beside if beside.known.other else Said(known, lines.NO_COMPARISON)
    gap = known.other.strokes - plan.chosen.strokes
    verdict = "as good by numbers" if abs(gap) < AS_GOOD else _gap(known.other, plan.chosen)
    ours, theirs = (times_in_ten(option.on_green) for option in (plan.chosen, known.other))
    green = f"it finds the green {theirs}, mine {ours}" if ours != theirs else f"the green {ours} both ways"
    green = "" if plan.chosen.line is not None else green
    before = known.spoken.lower()
    just_told = small(verdict) in before
    apart = differences(known.other, plan.chosen, plan.situation, desk.bag) if just_told else []
    if apart:
        # What it costs was just told: a figure is told once, and then its reason.
        told = "" if theirs in before and ours in before else green
        reason = f"the {club_said(known.other, desk.bag)} {' and '.join(apart[:2])}"
        spoken = sentences([told, reason])
    else:
        spoken = sentences([verdict, green])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def still(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Would you still go with the fifty-two?": yes or no first, then the shot, or what the other costs."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    club = desk.bag.club_called(heard.club or "")
    shot = shot_said(plan.chosen, desk.bag)
    if club is None or club.id == plan.chosen.club:
        spoken = sentences([f"yes: {shot}"])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    said = not_that_club(desk, known, heard)
    spoken = shortest(
        [[f"no: {shot}", said.spoken], [f"no: {club_said(plan.chosen, desk.bag)}", said.spoken]]
    )
    return replace(said, known=said.known.changed(spoken=spoken), spoken=spoken)


_OF_TWO = frozenset({"between", "them", "those", "two", "other"})


def _than_before(gap: float) -> str:
    """How much more or less the shot costs than before the facts changed."""
    if abs(gap) < AS_GOOD:
        return "it costs no more than before, and no less"
    return f"{costs_said(gap)}{' than before' if gap > 0 else ''}"


def why_not_that_one(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What a club that is named costs; "why the sixty now?" is told first which one it is."""
    said, plan = not_that_club(desk, known, heard), in_play(known)
    if plan is None or said.known.other is None or not says_of("now", heard.heard):
        return said
    spoken = shortest([[f"it is the {club_said(plan.chosen, desk.bag)}", said.spoken], [said.spoken]])
    return replace(said, spoken=spoken, known=said.known.changed(spoken=spoken))


def why(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The reasons; "why that one" of a shot just compared, or of a club that is named, is how it stands to ours."""
    plan = in_play(known)
    if plan is not None and other_club_named(heard, plan, desk.bag) is not None:
        return why_not_that_one(desk, known, heard)
    compares = known.other is not None and known.supposed is None and in_play(known) is not None
    of_it = compares and _THAT in compared(heard.heard)
    return of_the_other(desk, known, heard) if of_it else reasons(desk, known, heard)


_THAT = "that"


def by_loft(pick: Callable[..., Club]) -> Handler:
    """The club with the most or the least loft, asked about by that: compared as if it were named."""

    def ask(desk: Desk, known: Known, heard: Understanding) -> Said:
        club = pick((club for club in desk.bag.clubs if club.kind is not ClubKind.PUTTER), key=_loft_deg)
        return what_if(desk, known, heard.model_copy(update={"club": club.id, "situation": Situation()}))

    return ask


def club_beside(*, longer: bool) -> Handler:
    """One club more or less than the shot in play: the next in loft, compared as if it were named."""

    def ask(desk: Desk, known: Known, heard: Understanding) -> Said:
        plan = in_play(known)
        if plan is None:
            return no_shot(known)
        clubs = sorted((club for club in desk.bag.clubs if club.kind is not ClubKind.PUTTER), key=_loft_deg)
        at = next((at for at, club in enumerate(clubs) if club.id == plan.chosen.club), None)
        if at is None:
            return another(desk, known)
        beside = at + (-1 if longer else 1)
        if not 0 <= beside < len(clubs):
            more = "less" if longer else "more"
            return Said(known, lines.NO_CLUB_BESIDE.format(more=more, club=club_said(plan.chosen, desk.bag)))
        named = Understanding(heard=heard.heard, intent=Intent.WHAT_IF, club=clubs[beside].id)
        return what_if(desk, known, named)

    return ask


def _loft_deg(club: Club) -> float:
    return club.loft_deg


def best(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The better of the shot advised and the one compared with it, or the advice once more."""
    plan = in_play(known)
    if plan is None or known.other is None or known.supposed is not None:
        return the_shot(desk, known)
    aside = abs(known.other.aim_left_m - plan.chosen.aim_left_m) > AIMED_APART_M
    if known.other.lay_up or known.other.sideways or aside:
        # It was wished for, and is no rival by numbers.
        return Said(known, known.spoken)
    better = min((plan.chosen, known.other), key=lambda option: option.rank_score)
    spoken = sentences([f"{shot_said(better, desk.bag)}, by numbers"])
    other = None if same_shot(better, plan.chosen) else known.other
    return Said(known.changed(spoken=spoken, question=None, other=other), spoken)


def which_now(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Which is it in the wind": the shot, and that the wind as it was told is in it."""
    plan = in_play(known)
    if plan is None or known.other is not None:
        return best(desk, known, heard)
    wind = wind_said(known.situation.wind, desk.bag)
    if not wind:
        return wind_from_where(desk, known, heard)
    spoken = sentences([shot_said(plan.chosen, desk.bag), f"that is for the {wind.removeprefix('the ')}"])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _in_one_of(desk: Desk, known: Known, wishes: tuple[Only, ...]) -> Said:
    """The first of the wishes that can be played from here, compared."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    for number, only in enumerate(wishes, start=1):
        try:
            other = advise(known.situation, desk.bag, seed=desk.seed, only=only)
        except CaddieError:
            if number == len(wishes):
                raise
            continue
        return compared_with(known, told(other.chosen, plan, desk, supposed=False, there=other.situation))
    return Said(known, lines.NO_OTHER)


def _gap(other: Option, chosen: Option) -> str:
    gap = other.strokes - chosen.strokes
    return (
        "as good by numbers"
        if abs(gap) < AS_GOOD
        else f"{strokes_said(gap)} {'worse' if gap > 0 else 'better'}"
    )
