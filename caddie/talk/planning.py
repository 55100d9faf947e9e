"""A shot told in one turn or in several: laid over what is known, planned, and one question asked."""

from contextlib import suppress
from dataclasses import replace
from typing import Any

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.assume import question_for
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.plan.putt.clue import telling_clue
from caddie.plan.trust import AS_GOOD
from caddie.plan.unknowns import most_telling
from caddie.reply import speak, write
from caddie.reply.cue import cue_for
from caddie.reply.phrases import club_said, shot_said, times_in_ten
from caddie.reply.putt import putt_unit, start_said
from caddie.reply.situation import distance_said, situation_said
from caddie.reply.spoken import sentences
from caddie.reply.why import strokes_said
from caddie.reply.written import shot_line
from caddie.situation import HazardKind, Lie, Side, Situation, Wind
from caddie.talk.answer import advice_of
from caddie.talk.digits import FARTHEST_PUTT_M, digits, is_twin, twin_of
from caddie.talk.on_hole import by_notes, from_notes, told_from_notes
from caddie.talk.question import PUTT
from caddie.talk.state import Desk, Known, Question, Said, merged, same_hole
from caddie.words import Intent, Understanding
from caddie.words.sayings import begins

MOST_QUESTIONS = 2
"""Questions asked about one shot, the distance apart: a caddie does not quiz."""
_ON_THE_GREEN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE, HazardKind.UPSLOPE)
_AT_THE_GREEN = (Lie.GREEN, Lie.FRINGE, Lie.BUNKER, Lie.PLUGGED)
_BEFORE_THE_BALL = (HazardKind.TREES, HazardKind.ROUGH)
"""Trouble that is mostly told because the ball lay behind it, and is passed by then."""
_KINDS_ASKED_FOR = (Family.PUTT, Family.BUMP_AND_RUN, Family.LOB)
SURELY_CARRIES, HARDLY_CARRIES = 0.08, 0.3
"""A carry that fails no oftener is one to count on, and one that fails oftener is none (common practice, no source)."""
STILL_TO_GO = 0.5
"""A ball with at least this share of the way left has the trouble of that way before it."""
SAME_SHOT_RATIO = 1.7
"""A distance alone that differs by more belongs to another shot (common practice, no source)."""


def describe(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Take the facts of an utterance in, and advise on the shot as it is known now."""
    fresh = starts_anew(known, heard)
    after, taken = from_notes(desk, taken_in(known, heard), heard)
    kept = on_the_way(known, heard.situation) if known.played else None
    said = planned(desk, after, heard, before=kept if fresh else known.situation)
    return told_from_notes(desk, said, heard, taken)


def taken_in(known: Known, heard: Understanding) -> Known:
    """What is known with the facts of an utterance: a new shot, or more about this one."""
    fresh = starts_anew(known, heard)
    before = on_the_way(known, heard.situation) if fresh and known.played else Situation()
    if not fresh:
        before = known.situation
    if heard.situation.lie is Lie.GREEN and before.lie is not Lie.GREEN:
        before = of_the_green(before)
    situation = on_the_green(merged(before, heard.situation, heard.corrected))
    # "No, a three-quarter fifty-two": of a shot already talked about, the swing is meant with its club.
    swing = None if fresh else heard.swing
    kind = kind_asked_for(heard)
    named = Only(club=heard.club, swing=swing if heard.club else None, family=kind)
    only = named if named != ANY else ANY if fresh else known.only
    if fresh:
        return known.afresh(situation=situation, sentence=heard.heard, only=only, walk=known.walk)
    sentence = f"{known.sentence}; {heard.heard}" if known.sentence else heard.heard
    return known.changed(
        situation=situation,
        sentence=sentence,
        only=only,
        other=None,
        supposed=None,
        verdict="",
        question=None,
    )


def kind_asked_for(heard: Understanding) -> Family | None:
    """The kind of shot that the player would play, where its name leaves others out: many shots are called a chip."""
    off_green = heard.situation.lie is not Lie.GREEN
    return heard.family if off_green and heard.family in _KINDS_ASKED_FOR else None


def on_the_way(known: Known, now: Situation) -> Situation:
    """What holds of the last shot for one from nearer: the wind, and for a ball that stayed short the trouble."""
    before = known.situation
    kept = same_hole(before)
    nearer = now.pin_m is None or before.pin_m is None or now.pin_m <= before.pin_m
    if not nearer:
        # Most often another hole, which plays another way.
        return kept.model_copy(update={"wind": Wind()})
    if now.lie in _AT_THE_GREEN or not _stayed_short(known, now):
        return kept
    there = tuple(hazard for hazard in before.hazards if hazard.kind not in _BEFORE_THE_BALL)
    return kept.model_copy(update={"hazards": there})


def _stayed_short(known: Known, now: Situation) -> bool:
    """Whether most of the way is still to go, and the ball did not pass the flag."""
    if known.result is None or now.pin_m is None or known.situation.pin_m is None:
        return False
    return Side.LONG not in known.result.side and now.pin_m >= STILL_TO_GO * known.situation.pin_m


def of_the_green(before: Situation) -> Situation:
    """What was told of an approach that holds for a putt: the green, its trouble and how far; no wind or height."""
    kept = {"pin_m": before.pin_m, "pin_position": before.pin_position, "hazards": before.hazards}
    return Situation(green=before.green).model_copy(update=kept)


def on_the_green(situation: Situation) -> Situation:
    """A putt without the trouble that lies off the green: "it went over the bunker, on the green, thirty feet"."""
    if situation.lie is not Lie.GREEN:
        return situation
    kept = tuple(hazard for hazard in situation.hazards if hazard.kind in _ON_THE_GREEN)
    return situation.model_copy(update={"hazards": kept})


def planned(
    desk: Desk, known: Known, heard: Understanding, *, before: Situation | None = None, lead: str = ""
) -> Said:
    """Advice for what is known, with the one question that would change it most, if any would.

    Parameters:
        before: the situation before this turn; a distance that differs from it is repeated as new.
        lead: said first, as when an answer was taken for granted.

    Raises:
        CaddieError: when the distances contradict each other, or nothing can be played from there.
    """
    situation = known.situation
    if first := question_for(situation):
        return _asking_first(known, first, lead)
    try:
        plan = advise(situation, desk.bag, seed=desk.seed, only=known.only)
    except CaddieError as error:
        if known.only == ANY:
            raise
        return _not_so(desk, known, heard, before, str(error))
    question = _question(known, plan, desk.bag)
    against = against_the_best(plan, known, desk)
    cue = cue_for(plan, desk.bag, desk.cue_weights)
    twin_m = twin_of(heard, situation)
    distance = _answering(heard, plan, _distance(heard, situation, before, twin_m, desk.bag), desk.bag, lead)
    spoken = speak(
        plan,
        desk.bag,
        cue,
        distance=by_notes(distance, known, desk.bag),
        question=question.text if question else against[0],
        left_out=heard.numbers_left_over,
    )
    written = "\n".join(filter(None, (write(plan, desk.bag, cue, heard.left_over), against[1])))
    after = known.changed(
        plan=plan,
        advised=plan.chosen,
        before=known.advised,
        cue=cue,
        other=None,
        supposed=None,
        verdict="",
        spoken=spoken,
        short=short_of(plan, desk.bag, cue.say),
        question=question,
        asked=_asked_with(known, question),
        twin_m=twin_m if heard.situation.pin_m is not None else known.twin_m,
    )
    carried = _kept(heard, situation, before, desk.bag)
    return Said(
        after,
        spoken,
        written=f"{written}\n{carried}" if carried else written,
        advice=advice_of(plan, desk.bag, cue, spoken, heard),
        step=True,
        brief=short_of(plan, desk.bag, ""),
    )


def _not_so(desk: Desk, known: Known, heard: Understanding, before: Situation | None, reason: str) -> Said:
    """That the shot asked for does not go from there; where its kind was asked for, with the one that is advised."""
    if known.only.family is None and not known.only.is_putting(desk.bag):
        return _without_the_club(known, reason)
    first = sentences([_not_from_there(known.only)])
    said = planned(desk, known.changed(only=ANY), heard, before=before, lead=first.rstrip("."))
    return replace(said, written=f"{first}\n{said.written}")


def against_the_best(plan: Plan, known: Known, desk: Desk) -> tuple[str, str]:
    """What a kind of shot asked for costs against the one that would be advised, aloud and written, or nothing."""
    if known.only.family is None and not known.only.is_putting(desk.bag):
        return "", ""
    with suppress(CaddieError):
        free = advise(known.situation, desk.bag, seed=desk.seed).chosen
        gap = plan.chosen.strokes - free.strokes
        written = f"Else:  {shot_line(free, desk.bag)}: {free.strokes:.2f} strokes against {plan.chosen.strokes:.2f}"
        if free.club == plan.chosen.club and free.family is plan.chosen.family:
            return "", ""
        aloud = f"The {club_said(free, desk.bag)} is {strokes_said(gap)} better" if gap >= AS_GOOD else ""
        return aloud, written
    return "", ""


def _answering(heard: Understanding, plan: Plan, distance: str, bag: Bag, lead: str) -> str:
    """The distance, behind what is said first or the answer to "can I carry it?" where that was asked."""
    pin_m = plan.situation.pin_m
    answer = lead or (carries_said(plan) if begins(heard.heard, "carry_lead") else "")
    if not answer or pin_m is None:
        return distance
    length = distance or distance_said(pin_m, plan.situation, bag)
    return f"{answer}. {length[:1].upper()}{length[1:]}"


def carries_said(plan: Plan) -> str:
    """Whether the advised shot carries what lies before the green, for who asks; nothing when nothing does."""
    surfaces = {"water": HazardKind.WATER, "sand": HazardKind.BUNKER, "trees": HazardKind.TREES}
    before = {each.kind for each in plan.situation.hazards if each.side in (Side.SHORT, None)}
    caught = [plan.chosen.trouble.get(name, 0.0) for name, kind in surfaces.items() if kind in before]
    if not caught:
        return ""
    share = max(caught)
    if plan.chosen.lay_up or share > HARDLY_CARRIES:
        return "No, not to count on"
    return "Yes" if share < SURELY_CARRIES else f"Yes, {times_in_ten(1.0 - share)}"


def _not_from_there(only: Only) -> str:
    if only.family in (None, Family.PUTT):
        return "no putter from there"
    assert only.family is not None
    return f"no {only.family.value.replace('_and_', '-and-').replace('_', ' ')} from there"


def _asked_with(known: Known, question: Question | None) -> tuple[str, ...]:
    if question is None:
        return known.asked
    return (*known.asked, question.text if question.field == PUTT else question.field)


def _without_the_club(known: Known, reason: str) -> Said:
    """The facts are good, the club is not: they are kept for the next club named."""
    kept = known.changed(plan=None, advised=None, cue=None, only=ANY, question=None)
    return Said(kept, sentences([reason]), step=True)


def _asking_first(known: Known, question: str, lead: str) -> Said:
    """What must be known before anything can be planned."""
    asked = known.changed(
        plan=None,
        advised=None,
        cue=None,
        spoken=question,
        short=question,
        question=Question("pin_m", question),
    )
    return Said(asked, sentences([lead, question]), step=True)


def short_of(plan: Plan, bag: Bag, cue: str) -> str:
    """Club, swing and cue: the shortest form of the advice."""
    option = plan.chosen
    if option.line is not None:
        return sentences([start_said(option), cue])
    return sentences([shot_said(option, bag), cue])


def starts_anew(known: Known, heard: Understanding) -> bool:
    """Whether a new shot is told.

    After a played shot everything is; with advice given, a distance together with something else is, and so
    is one far from the last. A distance near it alone, or a fact alone, changes the shot talked about.
    """
    if known.played:
        return True
    now = heard.situation
    if known.situation.lie is Lie.GREEN and now.lie is None and (now.pin_m or 0.0) > FARTHEST_PUTT_M:
        return True
    if now.lie is Lie.GREEN and known.plan is not None and _is_of_an_approach(known.situation):
        return True
    if known.plan is None or heard.intent is Intent.CORRECT or now.pin_m is None:
        return False
    if begins(heard.heard, "puts_right") and _is_near(now, known.plan):
        return False
    return not (is_twin(now.pin_m, known) or (_is_distance_alone(now) and _is_near(now, known.plan)))


def _is_of_an_approach(situation: Situation) -> bool:
    """Whether a ball on the green is another than the one talked about: that lies elsewhere, or is no putt away."""
    if situation.lie is not None:
        return situation.lie is not Lie.GREEN
    return (situation.pin_m or 0.0) > FARTHEST_PUTT_M


def _is_distance_alone(now: Situation) -> bool:
    rest = now.model_copy(update={"pin_m": None, "lie": None if now.lie is Lie.GREEN else now.lie})
    return rest == Situation()


def _is_near(now: Situation, plan: Plan) -> bool:
    """Whether a distance is another reading of the one planned for, and no other shot's."""
    assert now.pin_m is not None and plan.situation.pin_m is not None
    return 1 / SAME_SHOT_RATIO <= now.pin_m / plan.situation.pin_m <= SAME_SHOT_RATIO


def _question(known: Known, plan: Plan, bag: Bag) -> Question | None:
    if len(known.asked) >= MOST_QUESTIONS or known.only != ANY:
        return None
    if plan.chosen.line is not None:
        clue = telling_clue(known.situation, plan, bag)
        return Question(PUTT, clue) if clue and clue not in known.asked else None
    gap = most_telling(known.situation, plan, bag, known.asked)
    return Question(gap.field, gap.question) if gap else None


def _distance(
    heard: Understanding, situation: Situation, before: Situation | None, twin_m: float | None, bag: Bag
) -> str:
    """How the distance is said when there is more to say about it than its number."""
    pin_m = heard.situation.pin_m
    if pin_m is None:
        return ""
    said = distance_said(pin_m, situation, bag)
    if twin_m is not None:
        unit = putt_unit(bag) if situation.lie is Lie.GREEN else bag.player.distances_in
        return f"{said}, {digits(pin_m, unit, bag)}"
    changed = before is not None and before.pin_m is not None and before.pin_m != pin_m
    return f"now {said}" if changed else ""


def _kept(heard: Understanding, situation: Situation, before: Situation | None, bag: Bag) -> str:
    """The facts of earlier turns that this advice still counts on."""
    if before is None or before == Situation():
        return ""
    now = heard.situation
    update: dict[str, Any] = {
        name: getattr(Situation(), name)
        for name in type(now).model_fields
        if getattr(now, name) == getattr(situation, name)
    }
    if situation.lie is Lie.GREEN:
        update.pop("lie", None)
    rest = situation.model_copy(update=update)
    said = situation_said(rest, bag)
    return f"Kept:  {said}" if said else ""
