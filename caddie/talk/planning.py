"""A shot told in one turn or in several: laid over what is known, planned, and one question asked."""

from dataclasses import replace
from typing import Any

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.assume import question_for
from caddie.plan.candidates import ANY
from caddie.plan.option import Plan
from caddie.plan.putt.clue import telling_clue
from caddie.plan.unknowns import most_telling
from caddie.plan.unplayable import before_the_distance
from caddie.reply import speak, write
from caddie.reply.cue import Cue, cue_for
from caddie.reply.obstacles import before_the_distance_said
from caddie.reply.phrases import landing_short, shot_said
from caddie.reply.putt import pace_said, putt_unit, start_said
from caddie.reply.rolled import rolled_said
from caddie.reply.situation import distance_said, situation_said
from caddie.reply.spoken import opening, sentences
from caddie.situation import Lie, Situation
from caddie.talk.advice import advice_of
from caddie.talk.as_counted import counted_as_told
from caddie.talk.as_wished import Wished, as_wished, is_a_kind, not_from_there
from caddie.talk.carry_asked import answering
from caddie.talk.denied import as_it_lies, said_back, still_gone, taken_out, without_gone, without_its_own
from caddie.talk.digits import digits, twin_of
from caddie.talk.ended import with_front
from caddie.talk.height_asked import height_question, height_unsaid
from caddie.talk.laid_over import merged
from caddie.talk.lasts import (
    GREENS_OWN,
    Step,
    carried_on,
)
from caddie.talk.lines import WIND_COMES_FROM
from caddie.talk.new_shot import of_this_green, on_the_way, starts_anew
from caddie.talk.on_hole import by_notes, from_notes, told_from_notes
from caddie.talk.question import HOW_FAR, PUTT
from caddie.talk.refused_clubs import unrefused
from caddie.talk.state import Desk, Known, Question, Said
from caddie.talk.which_sand import in_or_over
from caddie.talk.wish import asked_with_facts, without_putter
from caddie.words import Understanding
from caddie.words.sayings import begins
from caddie.words.turns import CARRY_LEAD

MOST_QUESTIONS = 2
"""Questions asked about one shot, the distance apart: a caddie does not quiz."""
WIND_WORTH_ASKING_M_S = 3.5
"""From where more than a breeze blows is asked, when nobody said it (common practice, no source)."""


def describe(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Take the facts of an utterance in, and advise on the shot as it is known now."""
    before = on_the_way(known, heard) if starts_anew(known, heard) else known.situation
    now = taken_in(known, heard)
    only = unrefused(now.only, heard, now.situation, desk.bag)
    if now.day.chips and only == ANY and now.situation.lie is not Lie.GREEN:
        only = without_putter(only, desk.bag)
    now = now.changed(only=only)
    after, taken = from_notes(desk, now, heard)
    lead = said_back(heard, before, desk.bag) if known.plan is not None or heard.gone else ""
    said = planned(desk, without_gone(after), heard, before=before, lead=lead)
    return told_from_notes(desk, said, heard, taken)


def taken_in(known: Known, heard: Understanding) -> Known:
    """What is known with the facts of an utterance: a new shot, or more about this one."""
    fresh = starts_anew(known, heard)
    before = on_the_way(known, heard) if fresh else known.situation
    before = without_its_own(taken_out(before, heard), heard.situation)
    if heard.situation.lie is Lie.GREEN and before.lie is not Lie.GREEN:
        before = carried_on(before, Step.PUTT)
    now = as_it_lies(heard, before)
    now = with_front(now, known) if fresh and known.played else now
    situation = on_the_green(merged(before, now, heard.corrected))
    # "No, a three-quarter fifty-two": of a shot already talked about, the swing is meant with its club.
    swing = None if fresh else heard.swing
    named = asked_with_facts(heard, swing)
    only = named if named != ANY else ANY if fresh else known.only
    told_of_it = of_this_green(known, heard)
    pins_m = () if now.pin_m is None else (now.pin_m,)
    if fresh:
        return known.afresh(
            situation=situation,
            of_this_green=told_of_it,
            sentence=heard.heard,
            only=only,
            walk=known.walk,
            gone=frozenset(heard.gone),
            pins_m=pins_m,
        )
    sentence = f"{known.sentence}; {heard.heard}" if known.sentence else heard.heard
    return known.changed(
        situation=situation,
        of_this_green=told_of_it,
        sentence=sentence,
        only=only,
        other=None,
        supposed=None,
        verdict="",
        question=None,
        gone=still_gone(known, heard),
        pins_m=(*known.pins_m, *pins_m),
    )


def on_the_green(situation: Situation) -> Situation:
    """A putt without the trouble that lies off the green: "it went over the bunker, on the green, thirty feet"."""
    if situation.lie is not Lie.GREEN:
        return situation
    kept = tuple(hazard for hazard in situation.hazards if hazard.kind in GREENS_OWN)
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
        return _asking_first(known, first, lead, situation)
    twin_m = twin_of(heard, situation)
    distance = by_notes(_distance(heard, situation, before, twin_m, desk.bag), known, desk)
    if not lead and known.only == ANY:
        _open(desk, heard, situation, distance)
    try:
        wished = as_wished(heard, situation, known.only, desk.bag, desk.seed)
    except CaddieError as error:
        if known.only == ANY:
            raise
        return _not_so(desk, known, heard, before, str(error))
    plan = wished.plan
    question = None if wished.told else _height_question(known, heard) or _question(known, plan, desk.bag)
    cue = cue_for(plan, desk.bag, desk.cue_weights)
    spoken = speak(
        plan,
        desk.bag,
        cue,
        distance=answering(heard, plan, distance, desk.bag, lead or wished.first),
        question=question.text if question else wished.told,
        left_out=heard.numbers_left_over,
    )
    after = known.changed(
        plan=plan,
        advised=plan.chosen,
        before=known.advised,
        cue=cue,
        only=ANY if wished.turned_down else known.only,
        other=wished.turned_down,
        supposed=None,
        verdict="",
        spoken=spoken,
        short=short_of(plan, desk.bag, cue.say),
        question=question,
        asked=_asked_with(known, question),
        twin_m=twin_m if heard.situation.pin_m is not None else known.twin_m,
    )
    return Said(
        after,
        spoken,
        written=_written(wished, cue, heard, desk.bag, _kept(heard, situation, before, desk.bag)),
        advice=advice_of(plan, desk.bag, cue, spoken, heard),
        step=True,
        shot=with_where_it_goes(plan, desk.bag),
        brief=short_of(plan, desk.bag, ""),
    )


def _written(wished: Wished, cue: Cue, heard: Understanding, bag: Bag, kept: str) -> str:
    """The screen's words: the plan, what the wish costs, and the facts that were kept."""
    return "\n".join(filter(None, (write(wished.plan, bag, cue, heard.left_over), wished.written, kept)))


def _open(desk: Desk, heard: Understanding, situation: Situation, distance: str) -> None:
    """Tell with what the reply begins, where somebody wants to know and it is certain."""
    if begins(heard.heard, CARRY_LEAD):
        return
    if desk.opens is not None and (start := opening(situation, desk.bag, distance)):
        desk.opens(start)


def _not_so(desk: Desk, known: Known, heard: Understanding, before: Situation | None, reason: str) -> Said:
    """That the shot asked for does not go from there; where its kind was asked for, with the one that is advised."""
    if not is_a_kind(known.only, desk.bag):
        return _without_the_club(known, reason)
    first = sentences([not_from_there(known.only, known.situation)])
    said = planned(desk, known.changed(only=ANY), heard, before=before, lead=first.rstrip("."))
    return replace(said, written=f"{first}\n{said.written}")


def _asked_with(known: Known, question: Question | None) -> tuple[str, ...]:
    if question is None:
        return known.asked
    return (*known.asked, question.text if question.field == PUTT else question.field)


def _without_the_club(known: Known, reason: str) -> Said:
    """The facts are good, the club is not: they are kept for the next club named."""
    kept = known.changed(plan=None, advised=None, cue=None, only=ANY, question=None)
    return Said(kept, sentences([reason]), step=True)


def _asking_first(known: Known, question: str, lead: str, situation: Situation) -> Said:
    """What must be known before anything can be planned, behind what the Rules offer of the ball where it lies."""
    offered = before_the_distance_said(situation)
    asked = known.changed(
        plan=None,
        advised=None,
        cue=None,
        spoken=question,
        short=question,
        question=Question(HOW_FAR, question),
    )
    spoken = sentences([lead, offered, question])
    written = "\n".join([spoken, *before_the_distance(situation)]) if offered else ""
    return Said(asked, spoken, written=written, step=True)


def short_of(plan: Plan, bag: Bag, cue: str) -> str:
    """Club, swing and cue: the shortest form of the advice."""
    option = plan.chosen
    if option.line is not None:
        return sentences([start_said(option, putt_unit(bag)), cue])
    return sentences([shot_said(option, bag), cue])


def with_where_it_goes(plan: Plan, bag: Bag) -> str:
    """The shot and where it goes, without the distance and the cue."""
    option, there = plan.chosen, plan.situation
    if option.line is not None:
        return sentences([start_said(option, putt_unit(bag)), pace_said(option, there, putt_unit(bag))])
    if option.family is Family.PUTT:
        return sentences([f"{shot_said(option, bag)}, {rolled_said(option, bag)}"])
    return sentences([shot_said(option, bag), landing_short(option, there, bag)])


def _height_question(known: Known, heard: Understanding) -> Question | None:
    unsaid = height_unsaid(heard, known.situation)
    return (
        Question(unsaid, height_question(unsaid, known.situation))
        if unsaid and unsaid not in known.asked
        else None
    )


def _question(known: Known, plan: Plan, bag: Bag) -> Question | None:
    asked_besides = [each for each in known.asked if each != HOW_FAR]
    if len(asked_besides) >= MOST_QUESTIONS or known.only != ANY:
        return None
    if plan.chosen.line is not None:
        clue = telling_clue(known.situation, plan, bag)
        return Question(PUTT, clue) if clue and clue not in known.asked else None
    if (sand := in_or_over(known)) is not None:
        return sand
    wind = known.situation.wind
    if (wind.speed_m_s or 0.0) > WIND_WORTH_ASKING_M_S and wind.from_ is None and "wind" not in known.asked:
        return Question("wind", WIND_COMES_FROM)
    gap = most_telling(known.situation, plan, bag, known.asked)
    return Question(gap.field, gap.question) if gap else None


def _distance(
    heard: Understanding, situation: Situation, before: Situation | None, twin_m: float | None, bag: Bag
) -> str:
    """How the distance is said when there is more to say about it than its number."""
    pin_m = heard.situation.pin_m
    if pin_m is None:
        return ""
    told = counted_as_told(heard, situation, bag)
    said = told or distance_said(pin_m, situation, bag)
    if twin_m is not None:
        unit = putt_unit(bag) if situation.lie is Lie.GREEN else bag.player.distances_in
        return f"{said}, {digits(pin_m, unit, bag)}"
    changed = before is not None and before.pin_m is not None and before.pin_m != pin_m
    return f"now {said}" if changed else told


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
