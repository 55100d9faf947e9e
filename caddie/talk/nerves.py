"""What a player wants to hear before a shot they are afraid of: the worry by its name, the margin, one thing to do.

And that what they told of is in the shot, and how one gets out of there at all.
"""

from caddie.bag import Bag, Family
from caddie.plan.called import name_of
from caddie.plan.option import CAUGHT_ON, Plan
from caddie.plan.patches import carry_needed_m
from caddie.reply.phrases import (
    OPEN,
    SQUARE,
    caught_said,
    run_said,
    said,
    shot_said,
    small,
    stays_in_said,
    times_in_ten,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import pace_said, putt_unit, slope_said
from caddie.reply.situation import LIE_SAID, situation_said, wind_said
from caddie.reply.spoken import shortest
from caddie.situation import IN_SAND, Green, Hazard, HazardKind, Lie, Sand, Side, Situation
from caddie.talk import lines
from caddie.talk.asked import asked_about, how_played, in_play
from caddie.talk.compare import wind_from_where
from caddie.talk.lore import technique
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.trouble_named import troubles_named

_STRIKE = frozenset(
    "thin duff chunk fat skull top shank mess fluff blade thinned duffed chunked heavy thinning duffing".split()
)
_SITS = frozenset("sat sitting nestled buried plugged".split())
_GREEN = frozenset("green greens firm soft".split())
_SLOPE = frozenset("slope fall hill downhill uphill break borrow turn side height elevation".split())
_WIND = frozenset("wind breeze gust gusts".split())
_LIE = frozenset("lie rough fairway wet rain sat sitting nestled buried plugged".split())

SURELY_STRUCK = 0.9
"""Of a shot struck well so often no figure helps who fears the strike."""


def nervous(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The worry named with how often it comes, and the one thought."""
    plan = in_play(known)
    if plan is None or known.cue is None:
        return Said(known, lines.BREATHE)
    option, words = plan.chosen, set(compared(heard.heard))
    thought = f"breathe out, then one thought: {small(known.cue.say)}"
    hazard = asked_about(plan.situation, heard.heard)[0] if troubles_named(heard.heard) else None
    hazard = hazard or (trouble_that_matters(plan.situation) if words.isdisjoint(_STRIKE) else None)
    if option.line is not None:
        told = f"two putts or better {times_in_ten(1.0 - (option.three_putt or 0.0))}"
    elif hazard is not None and hazard.kind in CAUGHT_ON:
        told = _margin(plan, hazard, desk.bag)
    elif not words.isdisjoint(_STRIKE):
        well = 1.0 - option.heavy - option.thin
        told = f"you strike it well {times_in_ten(well)}" if well < SURELY_STRUCK else lines.ONE_SWING
    else:
        told = f"it finds the green {times_in_ten(option.on_green)}"
    spoken = shortest([[told, thought], [told, known.cue.say], [told]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _margin(plan: Plan, hazard: Hazard, bag: Bag) -> str:
    option, name = plan.chosen, name_of(hazard)
    missed = 1.0 - option.caught_by(hazard.kind)
    over_m = option.carry_m - carry_needed_m(hazard, plan.situation)
    over = f", by {said(over_m, bag)} when clean" if hazard.side in (Side.SHORT, None) and over_m > 0 else ""
    return f"you miss the {name} {times_in_ten(missed)}{over}"


def taken_in(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Did you mind the bunker?": yes, and what it does to the shot; or that it was not told of."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    words = set(compared(heard.heard))
    if words & _WIND and known.situation.wind.from_ is None and known.situation.wind.speed_m_s is None:
        return wind_from_where(desk, known, heard)
    parts = _of_what_is_named(plan, desk.bag, words, heard.heard)
    spoken = shortest([parts, parts[:2], parts[:1]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _of_what_is_named(plan: Plan, bag: Bag, words: set[str], text: str) -> list[str]:
    option, situation = plan.chosen, plan.situation
    does = run_said(option, bag)
    if option.line is not None:
        does = pace_said(option, situation, putt_unit(bag))
    elif option.family is Family.PUTT:
        does = shot_said(option, bag)
    if words & _WIND:
        return [f"yes: {wind_said(situation.wind, bag)}", shot_said(option, bag)]
    lie = LIE_SAID[situation.lie] if situation.lie is not None else ""
    of_the_lie = words & _LIE and not words.isdisjoint({*lie.split(), *_SITS})
    if troubles_named(text) and not of_the_lie:
        hazard, name = asked_about(situation, text)
        if hazard is not None:
            told, share = trouble_said(hazard, option, situation, bag), caught_said(hazard, option, situation)
            caught = option.caught_by(hazard.kind)
            often = f"caught {times_in_ten(caught)}" if caught and not (share and share in told) else ""
            return [f"yes, it is in the shot: {told}", often]
        if situation.lie in IN_SAND and HazardKind.BUNKER in troubles_named(text):
            return ["yes: you are in it", stays_in_said(option, situation) or shot_said(option, bag)]
        return [lines.NO_TROUBLE.format(trouble=name)]
    if words & _LIE:
        sits = f", sitting {situation.sitting.value}" if situation.sitting is not None else ""
        return [f"yes: {LIE_SAID[situation.lie or Lie.FAIRWAY]}{sits}", does]
    if words & _SLOPE:
        slopes = _slopes(situation, bag)
        return [f"yes: {slopes}" if slopes else lines.NO_SLOPE, does]
    if words & _GREEN:
        firm = situation.green.firmness
        return [f"yes: a {firm.value} green" if firm is not None else "yes", does]
    where = situation.pin_position.value.replace("_", " ") if situation.pin_position else ""
    return [f"yes: flag {where}" if where else "yes", does]


def _slopes(situation: Situation, bag: Bag) -> str:
    """The slopes that are known: of a putt, or under the ball, on the way and of the green; empty on the level."""
    if situation.lie is Lie.GREEN:
        return slope_said(situation).removeprefix(", ")
    green = Green(fall=situation.green.fall, side_fall=situation.green.side_fall)
    return situation_said(
        Situation(stance=situation.stance, elevation_m=situation.elevation_m, green=green), bag
    )


def how_to(desk: Desk, known: Known, heard: Understanding) -> Said:
    """How that shot is played at all: the one in play, out of the sand that is named, or from where the ball lies."""
    plan = in_play(known)
    if plan is not None:
        return how_played(desk, known, heard)
    if known.situation.lie in IN_SAND or HazardKind.BUNKER in troubles_named(heard.heard):
        spoken = technique(_of_sand(known.situation))
    else:
        return no_shot(known)
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _of_sand(situation: Situation) -> set[str]:
    """What a splash is that no shot is planned for, by what is known of the sand."""
    square = situation.lie is Lie.PLUGGED or situation.sand in (Sand.FIRM, Sand.THIN)
    lie = [situation.lie.value] if situation.lie is not None else []
    stances = [stance.value for stance in situation.stance]
    return {Family.SPLASH.value, SQUARE if square else OPEN, *lie, *stances}
