"""What is told of the next stroke after a result, which is played from where the ball ended."""

from typing import Any

from caddie.situation import Lie, Situation
from caddie.talk.ended import NEAREST_SAND_M, of_the_putt
from caddie.talk.laid_over import merged
from caddie.talk.played import OF_THE_NEXT, next_situation
from caddie.talk.state import Known
from caddie.words import Intent, Understanding
from caddie.words.sayings import begins, says_in_part


def goes_on_from(heard: Understanding, known: Known) -> Understanding:
    """ "Uphill, swings left to right" after a result: the stroke from where that ball ended."""
    now, there = heard.situation, next_situation(known)
    if not known.played or heard.intent not in OF_THE_NEXT or now == Situation():
        return heard
    if known.hole_over:
        return heard
    if there.lie is Lie.GREEN and now.lie is None and now.elevation_m is not None:
        now = of_the_putt(heard, now)
        if now.pin_m == there.pin_m:
            return heard.model_copy(update={"situation": now, "intent": Intent.PUTT})
    if now.lie is None and says_in_part(heard.heard, "same_lie"):
        return heard.model_copy(update={"situation": now.model_copy(update=_same_lie(known))})
    if _told_from_there(heard, known, there):
        return heard.model_copy(update={"situation": now.model_copy(update={"lie": there.lie})})
    if _lies_otherwise(known, now) and there.pin_m is not None and there.pin_m >= NEAREST_SAND_M:
        there = merged(there.model_copy(update={"lie": None}), now)
        return heard.model_copy(update={"situation": there, "intent": Intent.SITUATION})
    on_the_edge = there.lie is Lie.FRINGE and now.lie is Lie.GREEN
    if there.pin_m is None or now.pin_m is not None or not (on_the_edge or now.lie in (None, there.lie)):
        return heard
    intent = Intent.PUTT if Lie.GREEN in (now.lie, there.lie) else Intent.SITUATION
    return heard.model_copy(update={"situation": merged(there, now), "intent": intent})


def _lies_otherwise(known: Known, now: Situation) -> bool:
    """ "Chip from the collar" of a ball told only by how far past it went: it lies there, as far away."""
    ended = known.result
    return (
        ended is not None and ended.finish is None and now.pin_m is None and now.lie not in (None, Lie.GREEN)
    )


def _told_from_there(heard: Understanding, known: Known, there: Situation) -> bool:
    """ "Ten yards now" of a ball told to be in the sand: how far it is from there."""
    now, before_m = heard.situation, known.situation.pin_m
    if there.lie in (None, Lie.GREEN) or now.lie is not None or now.pin_m is None or now.hazards:
        return False
    nearer = before_m is None or now.pin_m < before_m
    return nearer and heard.intent is Intent.SITUATION and not begins(heard.heard, "next_shot_lead")


def _same_lie(known: Known) -> dict[str, Any]:
    """How the last ball lay, as told or as it was taken."""
    before = known.plan.situation if known.plan is not None else known.situation
    return {"lie": before.lie, "stance": known.situation.stance, "sitting": known.situation.sitting}
