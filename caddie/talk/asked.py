"""Questions about the shot in play: where, how hard, how far it runs, the odds, something safer, the miss."""

from caddie.bag import Bag, Family, Risk
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import (
    aim_said,
    landing_said,
    rolled_said,
    run_said,
    said,
    shot_said,
    trouble_that_matters,
)
from caddie.reply.putt import line_said, pace_said
from caddie.reply.spoken import sentences
from caddie.reply.why import strokes_said, times_in_ten
from caddie.situation import Fall, Side, Situation
from caddie.talk import lines
from caddie.talk.about import the_shot
from caddie.talk.compare import compared_with, told
from caddie.talk.planning import planned
from caddie.talk.sayings import begins, says
from caddie.talk.state import Desk, Known, Said
from caddie.units import FOOT_M, Unit, spoken_length
from caddie.words import Understanding

QUESTIONS = ("where", "how", "run", "odds", "safer", "thought", "miss", "best")
SAFER_BY = 0.05
"""Strokes that the worst tenth must cost less for a shot to be called safer."""


def asks(text: str) -> str | None:
    """Which of :data:`QUESTIONS` the words are, or None."""
    return next((name for name in QUESTIONS if says(text, name)), None)


def asked(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to a question about the shot advised; None when the words ask nothing of the kind."""
    question = asks(heard.heard)
    if question is None:
        return None
    plan = known.plan
    if plan is None or known.played or known.cue is None:
        return Said(known, known.question.text if known.question else lines.NOTHING_KNOWN)
    if question == "safer":
        return safer(desk, known, plan)
    if question == "best":
        return _best(desk, known, plan)
    answers = {
        "where": _where,
        "how": _how,
        "run": _run,
        "odds": _odds,
    }
    if question == "thought":
        spoken = known.cue.say
    elif question == "miss":
        spoken = sentences([safe_side(plan.situation)])
    else:
        spoken = sentences(answers[question](plan, desk.bag))
    return Said(known.changed(spoken=spoken), spoken)


def without(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """ "I hate the lob wedge": the shot without that club; None when no club is turned down."""
    if not heard.club or known.plan is None or known.played or not begins(heard.heard, "without_lead"):
        return None
    club = desk.bag.club_called(heard.club)
    if club is None:
        return None
    only = Only(without=tuple(sorted({*known.only.without, club.id})))
    return planned(desk, known.changed(only=only, question=None, other=None), heard)


def safer(desk: Desk, known: Known, plan: Plan) -> Said:
    """The shot whose worst outcomes cost least, beside the one advised.

    Raises:
        CaddieError: when nothing can be played from there.
    """
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    bag = desk.bag
    wary = bag.model_copy(update={"player": bag.player.model_copy(update={"risk": Risk.CAREFUL})})
    careful = advise(plan.situation, wary, seed=desk.seed, only=known.only)
    no_riskier = [
        option for option in (*plan.options, *careful.options) if option.in_trouble <= plan.chosen.in_trouble
    ]
    safest = min(no_riskier, key=lambda option: (option.bad_tail, option.strokes), default=plan.chosen)
    if safest.bad_tail > plan.chosen.bad_tail - SAFER_BY or _same(safest, plan.chosen):
        spoken = sentences([lines.SAFEST, *_odds(plan, bag)[-1:]])
        return Said(known.changed(spoken=spoken), spoken)
    risk = _risk_said(safest, plan.chosen)
    return compared_with(known, told(safest, plan, desk, supposed=False, there=plan.situation, verdict=risk))


def safe_side(situation: Situation) -> str:
    """Where a miss costs least, from the trouble, the flag's place and the fall, as far as they are known."""
    bad = {hazard.side for hazard in situation.hazards if hazard.side}
    position = situation.pin_position.value if situation.pin_position else ""
    short_sided = {"front": Side.SHORT, "back": Side.LONG, "left": Side.LEFT, "right": Side.RIGHT}
    bad_by_flag = {side for word, side in short_sided.items() if word in position}
    opposite = {Side.LEFT: "right", Side.RIGHT: "left", Side.SHORT: "long", Side.LONG: "short"}
    for known_bad in (bad, bad_by_flag):
        good = [opposite[side] for side in Side if side in known_bad and _free(side, known_bad)]
        if good:
            return f"miss it {' and '.join(good)}"
    if situation.green.fall is Fall.TOWARD:
        return "miss it short: that leaves the uphill putt"
    if situation.green.fall is Fall.AWAY:
        return "miss it long: that leaves the uphill putt"
    return "no bad side that I know of"


def _free(side: Side, bad: set[Side]) -> bool:
    other = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.SHORT: Side.LONG, Side.LONG: Side.SHORT}
    return other[side] not in bad


def _best(desk: Desk, known: Known, plan: Plan) -> Said:
    """The better of the shot advised and the one compared with it, or the advice once more."""
    if known.other is None:
        return the_shot(desk, known)
    better = min((plan.chosen, known.other), key=lambda option: option.rank_score)
    spoken = sentences([f"{shot_said(better, desk.bag)}, by numbers"])
    return Said(known.changed(spoken=spoken), spoken)


def _where(plan: Plan, bag: Bag) -> list[str]:
    option = plan.chosen
    if option.line is not None:
        return [line_said(option.aim_left_m)]
    aim = aim_said(option, bag) or "aim at the flag"
    if option.family is Family.PUTT:
        return [aim]
    return [landing_said(option, plan.situation, bag), aim]


def _how(plan: Plan, bag: Bag) -> list[str]:
    option = plan.chosen
    if option.line is not None:
        return [pace_said(option, plan.situation)]
    if option.family is Family.PUTT:
        return [rolled_said(option)]
    return [shot_said(option, bag), f"it carries {said(option.carry_m, bag)}"]


def _run(plan: Plan, bag: Bag) -> list[str]:
    option = plan.chosen
    if option.line is not None or option.family is Family.PUTT:
        return _how(plan, bag)
    return [run_said(option, bag)]


def _odds(plan: Plan, bag: Bag) -> list[str]:
    option = plan.chosen
    if option.make is not None:
        three = f"three putts {times_in_ten(option.three_putt or 0.0)}"
        return [f"you hole it {times_in_ten(option.make)}", three]
    leave = spoken_length(max(option.leave_m, FOOT_M), Unit.FEET)
    found = [f"it finds the green {times_in_ten(option.on_green)}, half within {leave}"]
    if trouble_that_matters(plan.situation) or option.in_trouble >= 0.01:
        found.append(f"trouble {times_in_ten(option.in_trouble)}")
    return found


def _risk_said(safest: Option, chosen: Option) -> str:
    if chosen.in_trouble - safest.in_trouble >= 0.01:
        now, before = times_in_ten(safest.in_trouble), times_in_ten(chosen.in_trouble)
        if now != before:
            return f"trouble {now} instead of {before}"
    gap = safest.strokes - chosen.strokes
    worse = f"{strokes_said(gap)} worse, but" if gap >= AS_GOOD else "as good, and"
    return f"{worse} its bad ones cost less"


def _same(one: Option, other: Option) -> bool:
    return (one.club, one.swing, one.flight, one.wide_open) == (
        other.club,
        other.swing,
        other.flight,
        other.wide_open,
    )
