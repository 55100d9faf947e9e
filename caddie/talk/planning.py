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
from caddie.reply.phrases import club_said, shot_said
from caddie.reply.putt import putt_unit, start_said
from caddie.reply.situation import distance_said, situation_said
from caddie.reply.spoken import opening, sentences
from caddie.reply.why import strokes_said
from caddie.reply.written import shot_line
from caddie.situation import HazardKind, Lie, Side, Situation, Wind
from caddie.talk.answer import advice_of
from caddie.talk.carry_asked import answering
from caddie.talk.digits import FARTHEST_PUTT_M, digits, is_twin, twin_of
from caddie.talk.ended import with_front
from caddie.talk.lines import WIND_COMES_FROM
from caddie.talk.on_hole import by_notes, from_notes, told_from_notes
from caddie.talk.question import PUTT
from caddie.talk.state import Desk, Known, Question, Said, merged, same_hole
from caddie.words import Intent, Understanding
from caddie.words.gist import gists_of
from caddie.words.sayings import begins, clauses, says
from caddie.words.turns import CARRY_LEAD

MOST_QUESTIONS = 2
"""Questions asked about one shot, the distance apart: a caddie does not quiz."""
_ON_THE_GREEN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE, HazardKind.UPSLOPE)
_AT_THE_GREEN = (Lie.GREEN, Lie.FRINGE, Lie.BUNKER, Lie.PLUGGED)
_BEFORE_THE_BALL = (HazardKind.TREES, HazardKind.ROUGH)
"""Trouble that is mostly told because the ball lay behind it, and is passed by then."""
ANOTHER_HOLE = "next"
WIND_WORTH_ASKING_M_S = 3.5
"""From where more than a breeze blows is asked, when nobody said it (common practice, no source)."""
_KINDS_ASKED_FOR = (Family.PUTT, Family.BUMP_AND_RUN, Family.LOB)
STILL_TO_GO = 0.5
"""A ball with at least this share of the way left has the trouble of that way before it."""
SAME_PUTT_M = 0.15
"""Two putts that differ by less are told as one length."""
SAME_SHOT_RATIO = 1.7
"""A distance alone that differs by more belongs to another shot (common practice, no source)."""


def describe(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Take the facts of an utterance in, and advise on the shot as it is known now."""
    fresh = starts_anew(known, heard)
    after, taken = from_notes(desk, taken_in(known, heard), heard)
    kept = on_the_way(known, heard) if known.played else None
    said = planned(desk, after, heard, before=kept if fresh else known.situation)
    return told_from_notes(desk, said, heard, taken)


def taken_in(known: Known, heard: Understanding) -> Known:
    """What is known with the facts of an utterance: a new shot, or more about this one."""
    fresh = starts_anew(known, heard)
    before = on_the_way(known, heard) if fresh and known.played else Situation()
    if not fresh:
        before = known.situation
    if before.lie is not None and before.lie.value in heard.not_lying:
        # "It's not plugged": in the sand all the same.
        lie = Lie.BUNKER if before.lie is Lie.PLUGGED else None
        before = before.model_copy(update={"lie": lie})
    if heard.situation.lie is Lie.GREEN and before.lie is not Lie.GREEN:
        before = of_the_green(before)
    now = with_front(heard.situation, known) if fresh and known.played else heard.situation
    situation = on_the_green(merged(before, now, heard.corrected))
    # "No, a three-quarter fifty-two": of a shot already talked about, the swing is meant with its club.
    swing = None if fresh else heard.swing
    named = Only(
        club=heard.club,
        swing=swing if heard.club else None,
        family=kind_asked_for(heard),
        longest=longest_swing(heard) if heard.club else None,
    )
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


def longest_swing(heard: Understanding) -> str | None:
    """The longest swing of one that is to be less than full: "smooth" is three-quarter, "little" half.

    Common practice, no source.
    """
    return _LONGEST.get(heard.effort or "") if heard.swing is None else None


_LONGEST = {"eased": "shoulder", "little": "chest"}


def on_the_way(known: Known, heard: Understanding) -> Situation:
    """What holds of the last shot for one from nearer: the wind, and for a ball that stayed short the trouble.

    Nothing does on another hole.
    """
    before, now = known.situation, heard.situation
    if known.hole_over or _is_on_another_hole(heard):
        return Situation()
    kept = same_hole(before)
    nearer = now.pin_m is None or before.pin_m is None or now.pin_m <= before.pin_m
    if not nearer:
        # Most often another hole, which plays another way.
        return kept.model_copy(update={"wind": Wind()})
    if now.lie in _AT_THE_GREEN or not _stayed_short(known, now):
        return kept
    there = tuple(hazard for hazard in before.hazards if hazard.kind not in _BEFORE_THE_BALL)
    return kept.model_copy(update={"hazards": there})


def _is_on_another_hole(heard: Understanding) -> bool:
    """ "I'm forty yards on the next one": told of a shot, it is one on another hole."""
    return heard.situation.pin_m is not None and ANOTHER_HOLE in gists_of(heard.heard)


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
    twin_m = twin_of(heard, situation)
    distance = by_notes(_distance(heard, situation, before, twin_m, desk.bag), known, desk.bag)
    if not lead and not begins(heard.heard, CARRY_LEAD):
        _open(desk, situation, distance)
    try:
        plan = advise(situation, desk.bag, seed=desk.seed, only=known.only)
    except CaddieError as error:
        if known.only == ANY:
            raise
        return _not_so(desk, known, heard, before, str(error))
    question = _question(known, plan, desk.bag)
    against = against_the_best(plan, known, desk)
    cue = cue_for(plan, desk.bag, desk.cue_weights)
    spoken = speak(
        plan,
        desk.bag,
        cue,
        distance=answering(heard, plan, distance, desk.bag, lead),
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


def _open(desk: Desk, situation: Situation, distance: str) -> None:
    """Tell with what the reply begins, where somebody wants to know and it is certain."""
    if desk.opens is not None and (start := opening(situation, desk.bag, distance)):
        desk.opens(start)


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
        return sentences([start_said(option, putt_unit(bag)), cue])
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
    if known.plan is not None and _is_on_another_hole(heard):
        return True
    if known.plan is None or heard.intent is Intent.CORRECT or now.pin_m is None:
        return False
    if _is_near(now, known.plan) and _puts_right(known, heard):
        return False
    if _is_the_same_putt(now, known.situation):
        return False
    return not (is_twin(now.pin_m, known) or (_is_distance_alone(now) and _is_near(now, known.plan)))


def _puts_right(known: Known, heard: Understanding) -> bool:
    """ "Not much, slightly up. And correction, it's more like fifteen feet": a clause of it puts a fact right."""
    same_lie = heard.situation.lie in (None, known.situation.lie)
    return same_lie and any(
        begins(clause, "puts_right") or says(clause, "puts_right")
        for clause in (heard.heard, *clauses(heard.heard))
    )


def _is_of_an_approach(situation: Situation) -> bool:
    """Whether a ball on the green is another than the one talked about: that lies elsewhere, or is no putt away."""
    if situation.lie is not None:
        return situation.lie is not Lie.GREEN
    return (situation.pin_m or 0.0) > FARTHEST_PUTT_M


def _is_the_same_putt(now: Situation, before: Situation) -> bool:
    """Whether a putt is told again from where it lies: it keeps its slope, its break and the speed of the green."""
    on_green = now.lie is Lie.GREEN and before.lie is Lie.GREEN
    return on_green and abs((now.pin_m or 0.0) - (before.pin_m or 0.0)) < SAME_PUTT_M


def _is_distance_alone(now: Situation) -> bool:
    if now.lie is Lie.GREEN:
        # How fast the greens are is no other putt's.
        now = now.model_copy(update={"lie": None, "green": now.green.model_copy(update={"stimp_ft": None})})
    rest = now.model_copy(update={"pin_m": None})
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
