"""An earlier place told as the one of this shot: "same spot again", "second ball, same bunker, 14 yards".

What was told of that place holds again, its bunker's lip and sand above all, with what is told now laid over it.
"""

from functools import reduce

from caddie.plan.candidates import ANY, Only
from caddie.situation import IN_SAND, Finish, Lie, Situation
from caddie.talk import lines
from caddie.talk.laid_over import merged
from caddie.talk.lasts import Step, carried_on
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.talk.wish import asked_with_facts
from caddie.words import Intent, Understanding
from caddie.words.facts import Another
from caddie.words.gist import is_question
from caddie.words.sayings import clauses, says, stands_in
from caddie.words.then_told import ANOTHER_BALL

SAME_PLACE, SAME_SHOT = "same_place_lead", "same_shot_lead"
_ONE_MORE, _SAME_LIE = "one_more_ball_lead", "same_lie"
_STAYS_BESIDE = (Intent.RESULT, Intent.UNDO, Intent.NEXT_HOLE)


def is_known(known: Known, text: str) -> bool:
    """Whether an earlier place may be meant: behind a shot that is over, or from the green one that is not on it."""
    if not known.places or _is_asked(text):
        return False
    return known.plan is None or known.played or known.situation.lie is Lie.GREEN


def from_the_same_place(
    text: str, parts: tuple[Understanding, ...], known: Known
) -> tuple[Understanding, ...]:
    """The parts of a turn, with all that tells of an earlier place as one of them."""
    one_more = _is_one_more_ball(text)
    if not (stands_in(text, SAME_PLACE) or one_more):
        return parts
    beside = tuple(
        part
        for part in parts
        if part.intent in _STAYS_BESIDE and not (one_more and part.intent is Intent.NEXT_HOLE)
    )
    told = tuple(part for part in parts if part.intent not in _STAYS_BESIDE)
    another = one_more or any(part.another is Another.BALL for part in told)
    if not (told or one_more) or _is_asked(text) or not (another or beside or is_known(known, text)):
        return parts
    facts = reduce(merged, (part.situation for part in told), Situation())
    in_play = known.plan is not None and not known.played
    if _place(known, facts.lie) is None:
        return parts
    read = Understanding(
        heard=text,
        intent=Intent.OUT_OF_SCOPE,
        situation=facts,
        club=next((part.club for part in told if part.club), None),
        family=next((part.family for part in told if part.family), None),
        another=Another.BALL if another and in_play else None,
        asks=(SAME_PLACE,),
    )
    return (*beside, read)


def tells_it_again(text: str) -> bool:
    """Whether an earlier place or stroke is told as the one of this shot, whatever is asked of it besides."""
    return stands_in(text, SAME_PLACE) and not _is_asked(text)


def _is_asked(text: str) -> bool:
    """Whether the place is what is asked; "same shot, ten yards now, what changes?" tells it and asks another thing."""
    *before, last = clauses(text) or [text]
    told = ", ".join(before)
    return is_question(text) and (
        is_question(told) or stands_in(last, SAME_PLACE) or not stands_in(told, SAME_PLACE)
    )


def _is_one_more_ball(text: str) -> bool:
    """ "Next ball", "another ball, same lie": nothing is told of where it lies but that it is there again."""
    first, *rest = clauses(text) or (text,)
    next_one = says(first, _ONE_MORE) or (rest and says(first, ANOTHER_BALL))
    return bool(next_one) and all(says(clause, _SAME_LIE) for clause in rest)


def again(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The shot from an earlier place, with what is told otherwise of it now."""
    now = heard.situation
    there = _place(known, now.lie)
    if there is None:
        return Said(known, lines.NOT_KNOWN_FROM_WHERE)
    stayed = known.result is not None and known.result.finish is Finish.BUNKER and there.lie in IN_SAND
    if now.pin_m is not None or stayed:
        far_m = there.pin_m
        lie = Lie.BUNKER if there.lie is Lie.PLUGGED else there.lie
        there = carried_on(there, Step.STAYED_IN_SAND).model_copy(update={"lie": lie, "pin_m": far_m})
    situation = merged(there, now)
    named = asked_with_facts(heard, None)
    if named == ANY and now.lie is None and stands_in(heard.heard, SAME_SHOT):
        named = _played_there(known, there)
    fresh = known.afresh(
        situation=situation,
        of_this_green=known.of_this_green,
        sentence=heard.heard,
        only=named if named != ANY else _taken_there(known, there),
        pins_m=() if situation.pin_m is None else (situation.pin_m,),
    )
    lead = lines.SAME_BUNKER if now.lie in IN_SAND else lines.IN_THE_SAME_PLACE
    return planned(desk, fresh, heard, lead=lead)


def _taken_there(known: Known, there: Situation) -> Only:
    """The club that the player took there in place of the one advised: that one again."""
    plan, advised = known.plan, known.advised
    if plan is None or advised is None or known.situation.pin_m != there.pin_m:
        return known.only
    return known.only if plan.chosen.club == advised.club else Only(club=plan.chosen.club)


def _played_there(known: Known, there: Situation) -> Only:
    """The club of the shot that is to be played again, from wherever it is now."""
    plan = known.plan
    if plan is None or known.situation.pin_m != there.pin_m or plan.chosen.line is not None:
        return ANY
    return Only(club=plan.chosen.club)


def _place(known: Known, told: Lie | None) -> Situation | None:
    """The place meant: the last one in such a lie, or the last of all; once on the green, the last that is not."""
    if told in IN_SAND or told is Lie.GREEN:
        alike = IN_SAND if told in IN_SAND else (Lie.GREEN,)
        return next((each for each in known.places if each.lie in alike), None)
    in_play = known.plan is not None and not known.played
    off_green = (each for each in known.places if each.lie is not Lie.GREEN)
    if known.hole_over or in_play:
        return next(off_green, None)
    measured = (each for each in known.places if each.pin_m is not None)
    return next(measured, None) or next(iter(known.places), None)
