"""A bunker told of with no place, and no lie: whether the ball is in it or has it on its way is asked."""

from caddie.situation import Hazard, HazardKind, Lie, Side, Situation
from caddie.talk.question import understood
from caddie.talk.state import Known, Question
from caddie.words import Intent, Understanding
from caddie.words.sayings import says

IN_OR_OVER = "in_or_over"
SAND_ASKED = "Are you in the bunker, or is it in the way?"


def in_or_over(known: Known) -> Question | None:
    """The question, where a bunker may be either."""
    unplaced = (
        hazard.kind is HazardKind.BUNKER and hazard.side is None and hazard.carry_m is None
        for hazard in known.situation.hazards
    )
    if known.situation.lie is not None or IN_OR_OVER in known.asked or not any(unplaced):
        return None
    return Question(IN_OR_OVER, SAND_ASKED)


def sand_answered(heard: Understanding, known: Known) -> Understanding:
    """ "In it" and "in the way", where that was asked."""
    if known.question is None or known.question.field != IN_OR_OVER:
        return heard
    if heard.intent is Intent.YES or says(heard.heard, "in_the_sand"):
        return understood(heard, Situation(lie=Lie.BUNKER))
    if heard.intent is Intent.NO or says(heard.heard, "past_the_sand"):
        return understood(heard, Situation(hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.SHORT),)))
    return heard
