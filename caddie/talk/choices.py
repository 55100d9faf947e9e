"""Wishes for another shot than the one advised: safer, bolder, lower, higher, the middle, out sideways, X or Y."""

import math
import re
from collections.abc import Callable

from caddie.bag import Club, ClubKind, Family, Risk
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.scene import HALF_WIDTH_M, NEAR_SIDE_M
from caddie.plan.trust import AS_GOOD
from caddie.reply.obstacles import first_said
from caddie.reply.phrases import said, shot_said, times_in_ten
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.situation import PinPosition, Situation
from caddie.talk import lines
from caddie.talk.about import the_shot
from caddie.talk.about import why as reasons
from caddie.talk.asked import in_play, odds, same_shot
from caddie.talk.compare import another, asked_for, compared_with, told, what_if
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.words import Understanding, understand
from caddie.words.sayings import compared, plain

SAFER_BY = 0.05
"""Strokes that the worst tenth must cost less for a shot to be called safer."""
FROM_MIDDLE_M = 7.0
"""A flag at the front or back is so far from the middle (common practice, no source)."""
_OR = re.compile(r"\b(?:or|versus|vs|against|and|with|between)\b|,")
_NAMED_WORDS = 3


def safer(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The shot whose worst outcomes cost least, beside the one advised."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    careful = _with_risk(desk, known, plan, Risk.CAREFUL)
    no_riskier = [
        option for option in (*plan.options, *careful.options) if option.in_trouble <= plan.chosen.in_trouble
    ]
    safest = min(no_riskier, key=lambda option: (option.bad_tail, option.strokes), default=plan.chosen)
    if safest.bad_tail > plan.chosen.bad_tail - SAFER_BY or same_shot(safest, plan.chosen):
        spoken = sentences([lines.SAFEST, *odds(plan, desk.bag)[-1:]])
        return Said(known.changed(spoken=spoken, question=None, other=None, supposed=None), spoken)
    if known.other is not None and same_shot(known.other, safest):
        spoken = sentences([lines.SAFEST_TOLD, *odds(plan.model_copy(update={"chosen": safest}), desk.bag)])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    return _beside(desk, known, plan, safest, _risk_said(safest, plan.chosen))


def bolder(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The shot that leaves the shortest putt, and what its bad ones cost."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    brave = _with_risk(desk, known, plan, Risk.BOLD)
    closest = min((*plan.options, *brave.options), key=lambda option: (option.leave_m, option.strokes))
    if same_shot(closest, plan.chosen) or closest.leave_m >= plan.chosen.leave_m:
        spoken = sentences(["that is the one that gets closest", *odds(plan, desk.bag)])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    more = closest.in_trouble - plan.chosen.in_trouble
    verdict = f"closer, but trouble {times_in_ten(closest.in_trouble)}" if more >= 0.01 else ""
    return _beside(desk, known, plan, closest, verdict or f"closer, {_gap(closest, plan.chosen)}")


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
    spoken = sentences([first_said(known.situation)])
    rules = [reason for reason in plan.reasons if "Rule 1" in reason]
    return Said(known.changed(spoken=spoken, question=None), spoken, "\n".join([spoken, *rules]))


def lower(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Run in along the ground, or at least kept low."""
    return _in_one_of(
        desk, known, (Only(family=Family.BUMP_AND_RUN), Only(family=Family.CHIP), Only(flight=Flight.LOW))
    )


def higher(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Thrown up to stop."""
    return _in_one_of(desk, known, (Only(family=Family.LOB), Only(flight=Flight.HIGH)))


def either(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Two shots named: both against each other, and which it is."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    named = named_shots(heard.heard, desk)
    found: list[Option] = []
    for only in named[:2]:
        try:
            found.append(advise(known.situation, desk.bag, seed=desk.seed, only=only).chosen)
        except CaddieError:
            continue
    if not found:
        return another(desk, known)
    best, *rest = sorted(found, key=lambda option: option.rank_score)
    verdict = _gap_to(best, rest[0]) if rest else "the other does not play from here"
    against = f"{verdict} than the {shot_said(rest[0], desk.bag)}" if rest else verdict
    if same_shot(best, plan.chosen):
        spoken = shortest(
            [[f"the {shot_said(best, desk.bag)}", against], [shot_said(best, desk.bag), verdict]]
        )
        short = sentences([shot_said(best, desk.bag)])
        after = known.changed(spoken=spoken, short=short, question=None, other=None, verdict=verdict)
        return Said(after, spoken)
    return _beside(desk, known, plan, best, against)


def named_shots(text: str, desk: Desk) -> list[Only]:
    """The clubs and kinds of shot named in a question, in order."""
    found = []
    for part in _OR.split(text.lower()):
        words = plain(part).split()
        spans = (
            " ".join(words[start : start + size])
            for size in range(_NAMED_WORDS, 0, -1)
            for start in range(len(words) - size + 1)
        )
        named = [each for each in (_named(span, desk) for span in spans) if each != ANY]
        # A club outweighs a kind of shot that begins its name: "got my lob wedge".
        only = next((each for each in named if each.club), next(iter(named), None))
        if only is not None:
            found.append(only)
    return found


def _named(words: str, desk: Desk) -> Only:
    player = desk.bag.player
    return asked_for(understand(f"what about the {words}", unit=player.distances_in, pace_m=player.pace_m))


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
    spoken = sentences([verdict, green] if plan.chosen.line is None else [verdict])
    return Said(known.changed(spoken=spoken, question=None), spoken)


_OF_TWO = frozenset({"between", "them", "those", "two", "other"})


def _than_before(gap: float) -> str:
    """How much harder the shot is than before the facts changed."""
    if abs(gap) < AS_GOOD:
        return "no harder, no easier than before"
    return f"{strokes_said(gap)} {'harder' if gap > 0 else 'easier'} than before"


def why(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The reasons; "why that one" of a shot just compared is how it stands to the one advised."""
    compares = known.other is not None and known.supposed is None and in_play(known) is not None
    return (
        worse(desk, known, heard)
        if compares and _THAT in compared(heard.heard)
        else reasons(desk, known, heard)
    )


_THAT = "that"


def by_loft(pick: Callable[..., Club]) -> Handler:
    """The club with the most or the least loft, asked about by that: compared as if it were named."""

    def ask(desk: Desk, known: Known, heard: Understanding) -> Said:
        club = pick((club for club in desk.bag.clubs if club.kind is not ClubKind.PUTTER), key=_loft_deg)
        return what_if(desk, known, heard.model_copy(update={"club": club.id, "situation": Situation()}))

    return ask


def _loft_deg(club: Club) -> float:
    return club.loft_deg


def best(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The better of the shot advised and the one compared with it, or the advice once more."""
    plan = in_play(known)
    if plan is None or known.other is None or known.supposed is not None:
        return the_shot(desk, known)
    better = min((plan.chosen, known.other), key=lambda option: option.rank_score)
    spoken = sentences([f"{shot_said(better, desk.bag)}, by numbers"])
    other = None if same_shot(better, plan.chosen) else known.other
    return Said(known.changed(spoken=spoken, question=None, other=other), spoken)


def _with_risk(desk: Desk, known: Known, plan: Plan, risk: Risk) -> Plan:
    bag = desk.bag
    minded = bag.model_copy(update={"player": bag.player.model_copy(update={"risk": risk})})
    return advise(plan.situation, minded, seed=desk.seed, only=known.only)


def _beside(desk: Desk, known: Known, plan: Plan, option: Option, verdict: str) -> Said:
    compared = told(option, plan, desk, supposed=False, there=plan.situation, verdict=verdict)
    return compared_with(known, compared)


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


def _gap_to(best: Option, rest: Option) -> str:
    gap = rest.strokes - best.strokes
    return "by a whisker, better" if abs(gap) < AS_GOOD else f"{strokes_said(gap)} better"


def _risk_said(safest: Option, chosen: Option) -> str:
    if chosen.in_trouble - safest.in_trouble >= 0.01:
        now, before = times_in_ten(safest.in_trouble), times_in_ten(chosen.in_trouble)
        if now != before:
            return f"trouble {now} instead of {before}"
    gap = safest.strokes - chosen.strokes
    worse = f"{strokes_said(gap)} worse, but" if gap >= AS_GOOD else "as good, and"
    return f"{worse} its bad ones cost less"
