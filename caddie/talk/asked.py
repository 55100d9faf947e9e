"""Questions about the shot in play: what it carries, where it lands, how far it runs, how it is hit, the odds.

Each answer is a function of the desk and what is known, in at most thirty words; :mod:`caddie.talk.kinds` says which
saying it answers.
"""

from collections.abc import Callable

from caddie.bag import Bag, Family
from caddie.plan.called import HAZARD_SAID, caught_by, name_of
from caddie.plan.choose import advise
from caddie.plan.option import CAUGHT_ON, Option, Plan
from caddie.plan.patches import carry_needed_m
from caddie.reply.aim import aim_reason, aim_said
from caddie.reply.cue import traits_of
from caddie.reply.phrases import (
    club_said,
    flag_said,
    landing_and_run_said,
    landing_said,
    run_said,
    said,
    shot_said,
    small,
    swing_said,
    times_in_ten,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import near_said, pace_said, putt_unit, start_said
from caddie.reply.rolled import rolled_said
from caddie.reply.spoken import sentences, shortest
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation, Stance
from caddie.talk import lines
from caddie.talk.in_unit import counted_as_asked
from caddie.talk.lore import meaning_of, technique
from caddie.talk.miss_side import NO_BAD_SIDE, safe_side
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.units import FOOT_M, spoken_number, to_metres
from caddie.words import Understanding
from caddie.words.gist import supposes, word_asked_about
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data
from caddie.words.trouble_named import troubles_named

Answer = Callable[[Plan, Bag], list[str]]

GOES_STRAIGHT_M = 0.05
"""Aimed off by less, a ball goes straight as far as anyone sees."""
NEAREST_SPLASH_M = 6.0
USUAL_SPLASH_M = 12.0
"""How far the flag mostly is from a bunker beside the green (common practice, no source)."""


def in_play(known: Known) -> Plan | None:
    """The plan that questions are about; none once the shot is over."""
    return None if known.played or known.cue is None else known.plan


def of_the_shot(answer: Answer, *, whatever_the_club: bool = False) -> Handler:
    """A turn that answers from the plan in play; of a shot just compared with it, unless the club matters not."""

    def answered(desk: Desk, known: Known, heard: Understanding) -> Said:
        plan = in_play(known)
        if plan is None:
            return no_shot(known)
        known = counted_as_asked(known, plan, heard.heard)
        desk = desk.on(known.day)
        other = None if whatever_the_club else _the_other(plan, known, heard)
        if other is not None:
            club = club_said(other.chosen, desk.bag)
            told = [part for part in answer(other, desk.bag) if part]
            names_it = any(part.lower().startswith(club.lower()) for part in told)
            wished = other.chosen.lay_up or other.chosen.sideways
            if not (names_it or wished):
                first = small(told[0])
                told = [f"{lines.WITH_THE.format(club=club)}: {first}", *told[1:]]
            spoken = shortest([told[:count] for count in range(len(told), 0, -1)])
            known = known.changed(said_of_other=spoken)
        else:
            told = answer(plan, desk.bag)
            spoken = shortest([told[:count] for count in range(len(told), 0, -1)])
        return Said(known.changed(spoken=spoken, question=None), spoken)

    return answered


def _the_other(plan: Plan, known: Known, heard: Understanding) -> Plan | None:
    """The plan as if the shot just compared were played, when "that" asks about it."""
    if known.other is None or same_shot(known.other, plan.chosen):
        return None
    just_told = known.said_of_other == known.spoken
    goes_on = just_told and (known.supposed is None or known.spoken.startswith(_WITH_THE))
    wished = known.other.lay_up or known.other.sideways
    if _THAT.isdisjoint(compared(heard.heard)) and not (goes_on or wished):
        return None
    there = known.supposed if known.supposed is not None else plan.situation
    situation = plan.situation.model_copy(update={"wind": there.wind, "hazards": there.hazards})
    return plan.model_copy(update={"chosen": known.other, "situation": situation})


_THAT = frozenset({"that", "other"})
_WITH_THE = lines.WITH_THE.partition(" {")[0].capitalize()


def carry(plan: Plan, bag: Bag) -> list[str]:
    """How far it flies."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return how(plan, bag)
    parts = [f"it carries {said(option.carry_m, bag)}"]
    hazard = trouble_that_matters(plan.situation)
    if hazard is not None and hazard.side in (Side.SHORT, None):
        parts.append(trouble_said(hazard, option, plan.situation, bag))
    return [", ".join(parts), run_said(option, bag, option.carry_m)]


def land(plan: Plan, bag: Bag) -> list[str]:
    """Where it comes down."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return aim(plan, bag)
    return [*landing_and_run_said(option, plan.situation, bag), aim_said(option, bag)]


def aim(plan: Plan, bag: Bag) -> list[str]:
    """The line."""
    option = plan.chosen
    if option.sideways:
        return [lines.AIM_ASIDE]
    if option.line is not None:
        return [start_said(option, putt_unit(bag))]
    if option.family is Family.PUTT:
        return [aim_said(option, bag) or AT_THE_FLAG]
    aimed = _aimed_and_why(plan, bag)
    side = safe_side(plan, bag)
    return [aimed, landing_said(option, plan.situation, bag), "" if side == NO_BAD_SIDE else side]


def _aimed_and_why(plan: Plan, bag: Bag) -> str:
    """The aim with its reason; at the flag, that the slope underfoot is in it."""
    aimed = aim_said(plan.chosen, bag)
    if aimed:
        return ", ".join(filter(None, (aimed, aim_reason(plan.chosen, plan.situation, bag))))
    across = {Stance.BALL_ABOVE, Stance.BALL_BELOW} & {*plan.situation.stance}
    return f"{AT_THE_FLAG}: {lines.SLOPE_TURNS_LITTLE}" if across else AT_THE_FLAG


AT_THE_FLAG = "aim at the flag"


def how(plan: Plan, bag: Bag) -> list[str]:
    """How hard."""
    option = plan.chosen
    if option.line is not None:
        return [pace_said(option, plan.situation, putt_unit(bag))]
    if option.family is Family.PUTT:
        return [rolled_said(option, bag)]
    return [shot_said(option, bag), f"it carries {said(option.carry_m, bag)}"]


def swing(plan: Plan, bag: Bag) -> list[str]:
    """How big a swing, and what that means."""
    option = plan.chosen
    if option.family is Family.PUTT:
        return [*how(plan, bag), "back and through the same length"]
    meant = meaning_of(swing_said(option)) or ""
    return [swing_said(option), meant.partition(": ")[2]]


def leaves(plan: Plan, bag: Bag) -> list[str]:
    """How far from the hole it is over."""
    option = plan.chosen
    left = near_said(max(option.leave_m, FOOT_M), putt_unit(bag))
    if option.sideways or option.lay_up:
        return [f"it leaves {flag_said(option.leave_m, bag)} to the flag"]
    return [f"half end within {left} of the hole"]


def run(plan: Plan, bag: Bag) -> list[str]:
    """How far it goes on after landing."""
    if plan.chosen.family is Family.PUTT:
        return how(plan, bag)
    return [run_said(plan.chosen, bag)]


def motion(plan: Plan, bag: Bag) -> list[str]:
    """Setup and motion of this shot, from this lie and slope, with this face."""
    return [technique({trait for _, trait in traits_of(plan.chosen, plan.situation, bag)})]


how_played = of_the_shot(motion)
"""How it is played: setup and motion."""


def odds(plan: Plan, bag: Bag) -> list[str]:
    """How often it comes off."""
    option = plan.chosen
    if option.make is not None:
        three = f"three putts {times_in_ten(option.three_putt or 0.0)}"
        return [f"you hole it {times_in_ten(option.make)}", three]
    leave = near_said(max(option.leave_m, FOOT_M), putt_unit(bag))
    found = [f"it finds the green {times_in_ten(option.on_green)}, half within {leave}"]
    if trouble_that_matters(plan.situation) or option.in_trouble >= 0.01:
        found.append(f"trouble {times_in_ten(option.in_trouble)}")
    return found


def loft(plan: Plan, bag: Bag) -> list[str]:
    """The loft of the club."""
    option = plan.chosen
    return [f"{club_said(option, bag)}, {spoken_number(round(option.loft_deg))} degrees of loft"]


def curve(plan: Plan, bag: Bag) -> list[str]:
    """Which way the ball goes off the slope, in the wind or on the green."""
    left_m = plan.chosen.aim_left_m
    if abs(left_m) < GOES_STRAIGHT_M:
        return ["it goes straight", *aim(plan, bag)[:1]]
    return [f"it moves to the {'right' if left_m > 0 else 'left'}", *aim(plan, bag)[:1]]


def chances(desk: Desk, known: Known, heard: Understanding) -> Said:
    """How often it comes off, the trouble first when it is named; and what a ball in it leaves."""

    def told(plan: Plan, bag: Bag) -> list[str]:
        hazard = asked_about(plan.situation, heard.heard)[0] if troubles_named(heard.heard) else None
        if hazard is None:
            return odds(plan, bag)
        option = plan.chosen
        if hazard.kind not in CAUGHT_ON:
            return [trouble_said(hazard, option, plan.situation, bag), *odds(plan, bag)]
        parts = [f"{caught_by(name_of(hazard))} {times_in_ten(option.caught_by(hazard.kind))}"]
        if supposes(heard.heard) and hazard.kind is HazardKind.BUNKER:
            parts.append(_from_the_sand(desk.on(known.day), plan, hazard))
        if supposes(heard.heard) and hazard.kind is HazardKind.WATER:
            parts.append(lines.AFTER_WATER)
        return [*parts, f"it finds the green {times_in_ten(option.on_green)}"]

    return of_the_shot(told)(desk, known, heard)


def _from_the_sand(desk: Desk, plan: Plan, hazard: Hazard) -> str:
    """The shot out of a bunker that is told of, were the ball in it."""
    situation = plan.situation
    if hazard.side in (Side.SHORT, None) and situation.pin_m is not None:
        far_m = max(situation.pin_m - carry_needed_m(hazard, situation), NEAREST_SPLASH_M)
    else:
        far_m = USUAL_SPLASH_M
    splash = advise(Situation(pin_m=far_m, lie=Lie.BUNKER), desk.bag, seed=desk.seed).chosen
    return f"from there a splash, {shot_said(splash, desk.bag)}"


def says_of(group: str, text: str) -> bool:
    """Whether a word of the group is said: what is asked about another shot."""
    return not set(lore_data()["asked_beside"][group].split()).isdisjoint(compared(text))


def asked_about(situation: Situation, text: str) -> tuple[Hazard | None, str]:
    """The trouble named in ``text``, or what is in the way when none is, and its name."""
    named = troubles_named(text)
    if named:
        found = (hazard for kind in named for hazard in situation.hazards if hazard.kind is kind)
        hazard = next(found, None)
        return hazard, name_of(hazard) if hazard else HAZARD_SAID[named[0]]
    if not {"edge", "front"}.isdisjoint(compared(text)):
        return None, "edge"
    return trouble_that_matters(situation), "trouble"


def same_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether the last facts changed the club."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    shot = shot_said(plan.chosen, desk.bag)
    changed = known.before is not None and known.before.club != plan.chosen.club
    was = f"it was the {club_said(known.before, desk.bag)}" if known.before and changed else ""
    spoken = sentences([f"{was}, now {shot}" if was else f"the same, {shot}"])
    return Said(known.changed(spoken=spoken, question=None), spoken)


GRIPPED_DOWN = 0.04
"""Share of the carry that an inch down the grip takes (common practice, no source)."""


def grip_down(plan: Plan, bag: Bag) -> list[str]:
    """What an inch down the grip changes."""
    shorter_m = max(GRIPPED_DOWN * plan.chosen.carry_m, to_metres(1.0, bag.player.distances_in))
    return [lines.GRIP_DOWN.format(shorter=said(shorter_m, bag))]


def thought(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The cue alone."""
    if in_play(known) is None or known.cue is None:
        return no_shot(known)
    return Said(known.changed(spoken=known.cue.say, question=None), known.cue.say)


def meaning(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What a word of the game means."""
    return Said(known, meaning_of(word_asked_about(heard.heard)) or lines.NO_MEANING)


def same_shot(one: Option, other: Option) -> bool:
    """Whether two options are one shot."""
    return (one.club, one.swing, one.flight, one.wide_open) == (
        other.club,
        other.swing,
        other.flight,
        other.wide_open,
    )
