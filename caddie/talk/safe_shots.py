"""Wishes for a shot that keeps out of trouble: safer, short of it, gentler, sideways, anywhere on the green."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import wraps

from caddie.bag import Bag, Risk
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.beyond import past_the_flag
from caddie.plan.candidates import Only
from caddie.plan.careful import CLEARER, clear_of_trouble, laid_up_before_it, over_it
from caddie.plan.choose import advise, aside_of, way_out
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import flag_said, lay_up_said, shot_said, small, stays_in_said, times_in_ten
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.situation import IN_SAND, Lie, Side
from caddie.talk import lines
from caddie.talk.about import adopted, kept_to
from caddie.talk.asked import in_play, odds, same_shot
from caddie.talk.comparison import compared_with, told
from caddie.talk.go_or_not import going, one_of_two
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.units import YARD_M
from caddie.words import Understanding
from caddie.words.alternatives import alternatives
from caddie.words.gist import gists_of
from caddie.words.sayings import compared

SAFER_BY = 0.05
"""Strokes that the worst tenth must cost less for a shot to be called safer."""
LESS_TROUBLE, MOST_FOR_LESS = 0.03, 0.25
"""A shot that finds trouble so much less often is safer, too, where it costs no more strokes than that."""
MUCH_LESS_TROUBLE, MOST_FOR_MUCH_LESS = 0.25, 0.75
"""So is one that finds it so very much less often, at up to so many strokes: it was asked for."""
SAME_CARRY_M = 0.5
GENTLER_BY = 0.08
"""Share of a full swing that a gentler one must be less."""
GENTLER_COSTS = 0.1
"""Strokes that a smaller swing may cost to be the one for who asks for a simple shot."""
TROUBLE_FOR_GENTLER = 0.1
"""A smaller swing that finds trouble more often by more gets nobody out of it."""
GIVEN_UP = 0.5
"""A way out sideways that costs as many strokes more than the shot advised is no gentler one (common practice, no
source)."""
SURER_BY = 0.03
NO_LAY_UP_M = 40 * YARD_M
"""From nearer nobody lays up unless he says so himself (common practice, no source)."""
SHORT_OF_IT, BESIDE_IT = "short_of_it", "beside_it"


def _off_the_green(answer: Callable[[Desk, Known, Understanding, Plan], Said]) -> Handler:
    """A wish answered for the shot in play, where there is one and it is no putt."""

    @wraps(answer)
    def answered(desk: Desk, known: Known, heard: Understanding) -> Said:
        plan = in_play(known)
        if plan is None:
            return no_shot(known)
        return (
            answer(desk, known, heard, plan) if plan.chosen.line is None else Said(known, lines.ON_THE_GREEN)
        )

    return answered


@_off_the_green
def safer(desk: Desk, known: Known, heard: Understanding, plan: Plan) -> Said:
    """The shot whose worst outcomes cost least, beside the one advised."""
    careful = with_risk(desk, known, plan, Risk.CAREFUL)
    clear = [each for each in clear_of_trouble(plan, desk.bag) if not each.lay_up or _is_far(plan)]
    no_riskier = [
        option
        for option in (*plan.options, *careful.options, *clear, *_past_it(plan, desk.bag))
        if option.in_trouble <= plan.chosen.in_trouble
    ]
    safest = min(no_riskier, key=lambda option: (option.bad_tail, option.strokes), default=plan.chosen)
    if safest.bad_tail > plan.chosen.bad_tail - SAFER_BY:
        # Its bad ones cost no less, but there are fewer of them.
        safest = min(no_riskier, key=lambda option: (option.in_trouble, option.strokes), default=plan.chosen)
        fewer = plan.chosen.in_trouble - safest.in_trouble
        most = MOST_FOR_MUCH_LESS if fewer >= MUCH_LESS_TROUBLE else MOST_FOR_LESS
        if fewer < LESS_TROUBLE or safest.strokes - plan.chosen.strokes > most:
            return none_more(known, [lines.SAFEST, *odds(plan, desk.bag)[-1:]])
    if same_shot(safest, plan.chosen) and abs(safest.carry_m - plan.chosen.carry_m) < SAME_CARRY_M:
        return none_more(known, [lines.SAFEST, *odds(plan, desk.bag)[-1:]])
    if known.other is not None and same_shot(known.other, safest):
        spoken = sentences([lines.SAFEST_TOLD, *odds(plan.model_copy(update={"chosen": safest}), desk.bag)])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    return beside(desk, known, plan, safest, _risk_said(safest, plan.chosen))


def safe_of_two(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "The safe one please" behind a shot that was compared: of the two the one whose bad ones cost less."""
    plan, other = in_play(known), known.other
    if plan is None or other is None:
        return safer(desk, known, heard)
    ours = plan.chosen
    no_riskier = (other.in_trouble, other.bad_tail) <= (ours.in_trouble, ours.bad_tail)
    if no_riskier or (other.in_trouble <= ours.in_trouble + LESS_TROUBLE and other.bad_tail < ours.bad_tail):
        return adopted(desk, known, heard)
    # The one in play is kept, also where the player took it in place of the one advised.
    kept = kept_to(lines.STICKS)(desk, known.changed(advised=ours), heard)
    return replace(kept, known=kept.known.changed(advised=known.advised))


@_off_the_green
def short_of_it(desk: Desk, known: Known, heard: Understanding, plan: Plan) -> Said:
    """The shot that stays short of the trouble on the way, or goes past its side, with what it costs."""
    wished = set(gists_of(heard.heard))
    clear = clear_of_trouble(plan, desk.bag)
    if SHORT_OF_IT in wished and BESIDE_IT not in wished:
        laid_up = laid_up_before_it(plan, desk.bag)
        clear = clear if laid_up is None else (laid_up,)
    if not clear:
        return safer(desk, known, heard)
    if alternatives(heard.heard) and not {SHORT_OF_IT, BESIDE_IT} <= wished:
        other = going(plan) if plan.chosen.lay_up else clear[0]
        return one_of_two(desk, known, plan, other or clear[0])
    return beside(desk, known, plan, clear[0], _risk_said(clear[0], plan.chosen))


def sideways(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The way out to short grass: where to, what it leaves and what it costs beside going for it."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    out = aside_of(plan, desk.bag)
    if out is None and plan.situation.hazards:
        return short_of_it(desk, known, heard)
    if out is None:
        return none_more(known, [lines.NO_GAIN_ASIDE, *odds(plan, desk.bag)])
    at_it = (going(plan) if plan.chosen.sideways else plan.chosen) or plan.chosen
    if alternatives(heard.heard):
        return one_of_two(desk, known, plan, at_it if plan.chosen.sideways else out)
    cost = _cost(out.strokes - at_it.strokes)
    parts = [
        shot_said(out, desk.bag),
        f"{lines.OUT_SIDEWAYS}, leave {flag_said(out.leave_m, desk.bag)}",
        cost,
    ]
    spoken = shortest([parts, parts[1:]])
    written = sentences([*parts, f"{out.strokes:.2f} strokes against {at_it.strokes:.2f}"])
    other = None if plan.chosen.sideways else out
    brief = f"{lines.OUT_SIDEWAYS}, leave {flag_said(out.leave_m, desk.bag)}"
    after = known.changed(
        spoken=spoken, short=sentences(parts[:1]), question=None, other=other, supposed=None, verdict=cost
    )
    return Said(
        after,
        spoken,
        written=written,
        brief=sentences([brief]),
        settles=True,
    )


@_off_the_green
def gentler(desk: Desk, known: Known, heard: Understanding, plan: Plan) -> Said:
    """The smallest swing that costs next to nothing, or the next smaller one with what it costs."""
    most = plan.chosen.in_trouble + TROUBLE_FOR_GENTLER
    smaller = [option for option in _smaller(desk, known, plan) if option.in_trouble <= most]
    smaller.sort(key=lambda option: option.share)
    if plan.chosen.wide_open:
        # What is plain has a square face, too.
        smaller = [option for option in smaller if option.flight is not Flight.HIGH] or smaller
    free = [option for option in smaller if option.strokes - plan.chosen.strokes < GENTLER_COSTS]
    found = free[0] if free else min(smaller, key=_rank, default=None)
    out = way_out(plan.situation, desk.bag) if found is None and not plan.chosen.sideways else None
    if out is not None and out.strokes - plan.chosen.strokes < GIVEN_UP:
        return sideways(desk, known, heard)
    if found is None or same_shot(found, plan.chosen):
        gentlest = f"{lines.GENTLEST} {shot_said(plan.chosen, desk.bag)}"
        return none_more(known, [gentlest, _why_so_big(plan) or odds(plan, desk.bag)[0]])
    return beside(desk, known, plan, found)


def _why_so_big(plan: Plan) -> str:
    """What takes so much swing at so short a shot (common practice, no source)."""
    if plan.situation.lie is Lie.HEAVY_ROUGH:
        return lines.GRASS_TAKES_SPEED
    return lines.FACE_SENDS_UP if plan.chosen.wide_open else ""


@_off_the_green
def surest(desk: Desk, known: Known, heard: Understanding, plan: Plan) -> Said:
    """The shot that finds the green most often; out of sand that may hold the ball, the way round its lip if any."""
    wants_it_out = _wants_it_out(heard.heard)
    may_stay = wants_it_out and stays_in_said(plan.chosen, plan.situation)
    out = aside_of(plan, desk.bag) if may_stay else None
    if out is not None and out.strokes - plan.chosen.strokes <= GIVEN_UP and not same_shot(out, plan.chosen):
        return sideways(desk, known, heard)
    careful = with_risk(desk, known, plan, Risk.CAREFUL)
    found = max((*plan.options, *careful.options), key=lambda option: (option.on_green, -option.strokes))
    if found.on_green < plan.chosen.on_green + SURER_BY or same_shot(found, plan.chosen):
        surest_is = f"{lines.SUREST} {shot_said(plan.chosen, desk.bag)}"
        change = lines.CHANGE_NOTHING if known.cue is not None and wants_it_out else ""
        cue = change.format(cue=small(known.cue.say.rstrip("."))) if change and known.cue else ""
        return none_more(known, [surest_is, *([cue] if cue else odds(plan, desk.bag)[:1])])
    often, mine = (times_in_ten(option.on_green) for option in (found, plan.chosen))
    verdict = f"on the green {often}" if often == mine else f"on the green {often} instead of {mine}"
    return beside(desk, known, plan, found, verdict)


def _is_far(plan: Plan) -> bool:
    """Whether a lay-up is a thought from there: from nearer it is what nobody asks for by "safer"."""
    return (plan.situation.pin_m or 0.0) > NO_LAY_UP_M


def _wants_it_out(text: str) -> bool:
    """ "I just want it out, what do I change?"."""
    return "out" in compared(text)


def _past_it(plan: Plan, bag: Bag) -> tuple[Option, ...]:
    """With trouble on the way and none told behind, the shots that carry it even when they come up short."""
    there = plan.situation
    if not there.hazards or any(hazard.side is Side.LONG for hazard in there.hazards):
        return ()
    past = past_the_flag(plan, bag, CLEARER * plan.chosen.in_trouble)
    over = over_it(there, bag, plan.seed) if "room_m" in plan.assumed else None
    return tuple(each for each in (past, over) if each is not None)


def with_risk(desk: Desk, known: Known, plan: Plan, risk: Risk) -> Plan:
    """The plan of a player who minds the bad ones so much."""
    bag = desk.bag
    minded = bag.model_copy(update={"player": bag.player.model_copy(update={"risk": risk})})
    return advise(plan.situation, minded, seed=desk.seed, only=known.only)


def beside(desk: Desk, known: Known, plan: Plan, option: Option, verdict: str = "") -> Said:
    """Another shot for the same situation, compared; it can be adopted next."""
    compared = told(option, plan, desk, supposed=False, there=plan.situation, verdict=verdict)
    said = replace(compared_with(known, compared), settles=True)
    if not option.lay_up:
        return said
    brief = sentences([shot_said(option, desk.bag), lay_up_said(option, desk.bag)])
    return replace(said, brief=brief)


def none_more(known: Known, parts: list[str]) -> Said:
    """The shot advised is the one wished for already: nothing stands beside it."""
    spoken = sentences(parts)
    return Said(known.changed(spoken=spoken, question=None, other=None, supposed=None), spoken)


def _smaller(desk: Desk, known: Known, plan: Plan) -> list[Option]:
    """Shots with less of a swing than the one advised, the best of each length."""
    most = plan.chosen.share - GENTLER_BY
    # Out of sand a ball picked clean is no gentler shot: it forgives least (common practice, no source).
    kind = plan.chosen.family if plan.situation.lie in IN_SAND else None
    smaller = (option for option in plan.options if 0.0 < option.share <= most and not option.sideways)
    found = [option for option in smaller if kind in (None, option.family)]
    for swing in desk.bag.swings:
        if swing.share <= most:
            with suppress(CaddieError):
                only = Only(longest=swing.name, without=known.only.without, family=kind)
                best = advise(known.situation, desk.bag, seed=desk.seed, only=only).chosen
                found += [best] if 0.0 < best.share <= most else []
    return found


def _rank(option: Option) -> float:
    return option.rank_score


def _cost(gap: float) -> str:
    if abs(gap) < AS_GOOD:
        return "as good as going for it"
    return f"{strokes_said(gap)} {'more' if gap > 0 else 'less'} than going for it"


def _risk_said(safest: Option, chosen: Option) -> str:
    gap = safest.strokes - chosen.strokes
    costs = f"costs {strokes_said(gap)}" if gap >= AS_GOOD else "as good by numbers"
    if chosen.in_trouble - safest.in_trouble >= 0.01:
        now, before = times_in_ten(safest.in_trouble), times_in_ten(chosen.in_trouble)
        if now != before:
            return f"trouble {now} instead of {before}; {costs}"
    worse = f"{strokes_said(gap)} worse, but" if gap >= AS_GOOD else "as good, and"
    return f"{worse} its bad ones cost less"
