"""Doubts of the shot in play: each is answered in its kind, by why or by what the other choice costs.

"That seems a lot of club", "you sure?", "I'd never get there with that" tell no fact and change none. A reply that
was given since the shot was planned is not given twice.
"""

from collections.abc import Callable

from caddie.bag import Bag, Family
from caddie.plan.option import Option, Plan
from caddie.reply.phrases import said, small, swing_said
from caddie.reply.rivals import costs
from caddie.reply.rolled import rolled_said
from caddie.reply.situation import situation_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import why_said
from caddie.situation import IN_SAND
from caddie.talk import lines, will_it
from caddie.talk.asked import Answer, aim, in_play, of_the_shot
from caddie.talk.lore import remedy_for
from caddie.talk.safe_shots import gentler, safer, surest
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.talk.why_so import GRASSY, run, stops
from caddie.talk.why_so import line as why_line
from caddie.talk.why_so import swing as why_that_swing
from caddie.words import Understanding


def _first_new(*answers: Handler) -> Handler:
    """A turn answered by the first of these that was not said since the shot was planned."""

    def answered(desk: Desk, known: Known, heard: Understanding) -> Said:
        if known.played:
            return _as_told(known)
        if in_play(known) is None:
            return no_shot(known)
        replies: list[Said] = []
        for answer in answers:
            replies.append(answer(desk, known, heard))
            if replies[-1].spoken not in known.replied:
                return replies[-1]
        other = (each for each in reversed(replies) if each.spoken != known.spoken)
        return next(other, replies[-1])

    return answered


def _as_told(known: Known) -> Said:
    """What became of the shot, as it was written down."""
    told = small(known.short)
    return Said(known, lines.AS_TOLD.format(told=told) if told else lines.WHERE_NOW)


def _reasons(plan: Plan, bag: Bag) -> list[str]:
    return [why_said(plan, bag)]


def _your_call(plan: Plan, bag: Bag) -> list[str]:
    return [lines.YOUR_CALL_PUTT if plan.chosen.line is not None else lines.YOUR_CALL]


def _goes_as_far(plan: Plan, bag: Bag) -> list[str]:
    """How far a clean one goes beside how far it is."""
    option, pin_m = plan.chosen, plan.situation.pin_m
    if option.line is not None or option.family is Family.PUTT or pin_m is None:
        return why_that_swing(plan, bag)
    ends = f"a clean one carries {said(option.carry_m, bag)} and ends {_where_it_ends(option, bag)}"
    return [ends, f"to the flag it is {said(pin_m, bag)}"]


def _that_swing(plan: Plan, bag: Bag) -> list[str]:
    """What length of swing it is, and why."""
    why = why_that_swing(plan, bag)
    named = "" if plan.chosen.family is Family.PUTT else swing_said(plan.chosen)
    return why if why[0].startswith(named) else [f"{named}: {why[0]}", *why[1:]]


def _where_it_ends(option: Option, bag: Bag) -> str:
    past_m = option.run_m - option.land_short_of_pin_m
    if abs(past_m) < 1.0:
        return "level with the flag"
    return f"{said(past_m, bag)} {'past' if past_m > 0 else 'short of'} it"


def _through_the_grass(plan: Plan, bag: Bag) -> list[str]:
    """That the grass is in the pace, or what gets the club through it."""
    option = plan.chosen
    if option.line is not None:
        return why_that_swing(plan, bag)
    if option.family is Family.PUTT:
        return [f"the longer grass takes some of it, so {rolled_said(option, bag)}"]
    return [remedy_for("heavy", sand=plan.situation.lie in IN_SAND, grass=plan.situation.lie in GRASSY)]


def _with_another(fits: Callable[[Option, Option], bool]) -> Handler:
    """A turn that tells what the best shot of another kind costs; it can be adopted next."""

    def answered(desk: Desk, known: Known, heard: Understanding) -> Said:
        plan = in_play(known)
        if plan is None:
            return no_shot(known)
        rest = (option for option in plan.options if fits(option, plan.chosen))
        other = min(rest, key=lambda option: option.rank_score, default=None)
        if other is None:
            return of_the_shot(_your_call)(desk, known, heard)
        told = costs(other, plan.chosen, plan.situation, desk.on(known.day).bag)
        spoken = shortest([[told], [told.partition(":")[0]]])
        after = known.changed(
            spoken=spoken, said_of_other=spoken, question=None, other=other, supposed=None, verdict=""
        )
        return Said(after, spoken)

    return answered


def _shorter(other: Option, chosen: Option) -> bool:
    return other.club != chosen.club and other.loft_deg > chosen.loft_deg


def _longer(other: Option, chosen: Option) -> bool:
    return other.club != chosen.club and other.loft_deg < chosen.loft_deg


def _another_club(other: Option, chosen: Option) -> bool:
    return other.club != chosen.club


def _shot(*answers: Answer) -> tuple[Handler, ...]:
    return tuple(of_the_shot(answer) for answer in answers)


doubted = _first_new(
    *_shot(_reasons), _with_another(_another_club), *_shot(_goes_as_far, will_it.danger, _your_call)
)
"""Whether that is right at all."""


def _read_back(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The facts as they were taken, for one of them to be put right."""
    facts = situation_said(known.situation, desk.on(known.day).bag)
    spoken = sentences([lines.WHICH_IS_WRONG.format(told=facts)])
    return Said(known.changed(spoken=spoken), spoken)


wrong = _first_new(_read_back, *_shot(_reasons), _with_another(_another_club), *_shot(_your_call))
"""Said to be wrong, and not what of it."""
too_far = _first_new(*_shot(will_it.over_back, _goes_as_far), _with_another(_shorter), *_shot(_your_call))
"""Whether it goes too far: "that's a lot of club"."""
too_short = _first_new(*_shot(will_it.reaches, _goes_as_far), _with_another(_longer), *_shot(_your_call))
"""Whether it gets there: "I'd never reach with that"."""
too_small = _first_new(*_shot(_that_swing, _goes_as_far, will_it.reaches), _with_another(_longer))
"""Whether so small a swing is enough: "only hip high?"."""
no_stop = _first_new(*_shot(will_it.holds, stops, will_it.over_back), _with_another(_shorter))
"""Whether it stops."""
no_run = _first_new(*_shot(run, will_it.reaches, _goes_as_far, _your_call))
"""Whether it runs so far."""
no_break = _first_new(*_shot(why_line, aim, _reasons, _your_call))
"""Whether it moves so much sideways."""
no_way_through = _first_new(*_shot(_through_the_grass, _reasons, _your_call))
"""Whether the grass catches the ball or the club: "I reckon it'll grab"."""
no_hole = _first_new(*_shot(will_it.holed, will_it.close, _reasons))
"""Whether it may go in."""
no_carry = _first_new(will_it.clears, *_shot(will_it.danger), safer, *_shot(_your_call))
"""Whether it carries the trouble: "that won't clear the water"."""
not_able = _first_new(gentler, surest, *_shot(_reasons, _your_call))
"""A shot the player does not trust themselves with: "I'll only duff that"."""
too_bold = _first_new(safer, *_shot(will_it.danger, _reasons, _your_call))
"""A shot that looks risky."""
