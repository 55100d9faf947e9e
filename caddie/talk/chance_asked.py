"""Chances asked of the shot in play by a length or by name: inside six feet, stiff, up and down, holed from three feet.

Told from the balls that the shot was judged by; of the one just compared with it, too.
"""

from contextlib import suppress

from caddie.bag import Bag, ClubKind, Family
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.ends import BallEnds, ends_of
from caddie.plan.option import Option, Plan
from caddie.plan.putt.skill import make_chance
from caddie.plan.strokes import hole_out_table
from caddie.reply.phrases import club_said, shot_said, times_in_ten
from caddie.reply.putt import near_said, putt_unit
from caddie.reply.spoken import shortest
from caddie.talk import lines
from caddie.talk.asked import in_play, same_shot
from caddie.talk.new_shot import SAME_PUTT_M
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said, no_shot
from caddie.talk.today import progress
from caddie.talk.why_so import clubs_named
from caddie.units import FOOT_M
from caddie.words import Intent, Understanding
from caddie.words.in_kind import near_named_m, words_of_kind

_PUTTS_IT = "putts_it"
_Balls = list[tuple[Option, BallEnds]]


def near(desk: Desk, known: Known, clause: str) -> Said | None:
    """How often the ball ends within a length of the hole."""
    plan, bag = in_play(known), desk.bag
    near_m = near_named_m(clause, bag.player.pace_m)
    if plan is None or near_m is None:
        return None
    told = [(option, ends.within(near_m)) for option, ends in _balls(desk, known, plan, clause)]
    inside = f"inside {near_said(near_m, putt_unit(bag))}"
    return _said(known, _shares(told, inside, plan, bag)) if told else None


def in_two(desk: Desk, known: Known, clause: str) -> Said | None:
    """How often it is down in two from there."""
    plan, bag = in_play(known), desk.bag
    if plan is None:
        return None
    if plan.chosen.line is not None:
        two = 1.0 - (plan.chosen.three_putt or 0.0)
        return _said(known, [[f"{lines.DOWN_IN_TWO_PUTTS} {times_in_ten(two)}"]])
    told = [(option, ends.down_in_two(bag)) for option, ends in _balls(desk, known, plan, clause)]
    if len(told) != 1 or not same_shot(told[0][0], plan.chosen):
        return _said(known, _shares(told, lines.DOWN_IN_TWO, plan, bag)) if told else None
    leave = near_said(max(plan.chosen.leave_m, FOOT_M), putt_unit(bag))
    often = lines.YOU_GET_DOWN.format(often=times_in_ten(told[0][1]))
    return _said(known, [[often, lines.HALF_WITHIN.format(leave=leave)]])


def up_and_down(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The same of a whole turn."""
    return in_two(desk.on(known.day), known, heard.heard) or no_shot(known)


def made_from(desk: Desk, known: Known, clause: str) -> Said | None:
    """How often a putt of a length is holed, whatever is in play."""
    plan, bag = in_play(known), desk.bag
    from_m = near_named_m(clause, bag.player.pace_m)
    if plan is None or from_m is None:
        return None
    this_putt = plan.chosen.line is not None and abs((plan.situation.pin_m or 0.0) - from_m) < SAME_PUTT_M
    made = float(make_chance(from_m, hole_out_table(bag.player.handicap).putting))
    made = plan.chosen.make if this_putt and plan.chosen.make is not None else made
    return _said(
        known, [[lines.HOLED_FROM.format(far=near_said(from_m, putt_unit(bag)), often=times_in_ten(made))]]
    )


def on_average(desk: Desk, known: Known, clause: str) -> Said | None:
    """How near the hole it ends: half of the balls, and on average."""
    plan, bag = in_play(known), desk.bag
    balls = _balls(desk, known, plan, clause) if plan is not None else []
    if plan is None or not balls:
        return None
    told = [_nearness(option, ends, plan, bag) for option, ends in balls]
    return _said(known, [told, told[-1:]])


def of_the_log(desk: Desk, known: Known, clause: str) -> Said | None:
    """How often it was done today, where just that is asked."""
    return progress(desk, known, Understanding(heard=clause, intent=Intent.OUT_OF_SCOPE))


def names_a_length(clause: str, bag: Bag) -> bool:
    """Whether a length is named, by figure or by name."""
    return near_named_m(clause, bag.player.pace_m) is not None


def _nearness(option: Option, ends: BallEnds, plan: Plan, bag: Bag) -> str:
    half, mean = (near_said(max(each, FOOT_M), putt_unit(bag)) for each in (option.leave_m, ends.mean_m()))
    told = f"half end within {half}, {mean} on average"
    return (
        told
        if same_shot(option, plan.chosen)
        else f"{lines.WITH_THE.format(club=club_said(option, bag))}, {told}"
    )


def _balls(desk: Desk, known: Known, plan: Plan, clause: str) -> _Balls:
    """The shots that are asked about, with their balls: the clubs named, else the one in play and any beside it."""
    found = ((option, ends_of(plan, option, desk.bag)) for option in _shots(desk, known, plan, clause))
    return [(option, ends) for option, ends in found if ends is not None]


def _shots(desk: Desk, known: Known, plan: Plan, clause: str) -> list[Option]:
    bag = desk.bag
    clubs = (club for club in dict.fromkeys(clubs_named(clause, bag)) if club.kind is not ClubKind.PUTTER)
    named = [Only(club=club.id) for club in clubs]
    if _PUTTS_IT in words_of_kind(clause):
        named = [Only(family=Family.PUTT)]
    in_hand = [plan.chosen, *([known.other] if known.other is not None and known.supposed is None else [])]
    if not named:
        return in_hand
    found = []
    for only in named:
        own = (each for each in in_hand if each.club == only.club or each.family is only.family)
        if (option := next(own, None)) is not None:
            found.append(option)
            continue
        with suppress(CaddieError):
            found.append(advise(known.situation, bag, seed=plan.seed, only=only).chosen)
    return found


def _shares(told: list[tuple[Option, float]], what: str, plan: Plan, bag: Bag) -> list[list[str]]:
    """A chance of one shot or of two beside each other, the fullest way first."""
    often = [times_in_ten(share) for _, share in told]
    if len(told) == 1:
        option = told[0][0]
        club = (
            "" if same_shot(option, plan.chosen) else f" {lines.WITH_THE.format(club=club_said(option, bag))}"
        )
        return [[f"{what}{club}: {often[0]}"]]
    same_club = len({option.club for option, _ in told}) < len(told)
    names = [shot_said(option, bag) if same_club else f"the {club_said(option, bag)}" for option, _ in told]
    if len(set(often)) == 1:
        return [[f"{what}: {often[0]}, whichever of the two"]]
    return [[f"{what}: " + ", ".join(f"{name} {each}" for name, each in zip(names, often, strict=True))]]


def _said(known: Known, versions: list[list[str]]) -> Said:
    spoken = shortest(versions)
    return Said(known.changed(spoken=spoken, question=None), spoken, intent=ASKED_OF_THE_SHOT)
