"""Several balls hit from one place, as on a practice green: "second one four feet past", "another, thinned it".

What became of such a ball is a shot of its own from where the one before it was played, and no next stroke.
"""

from caddie.bag import Player
from caddie.situation import BorrowUnit, Finish, Lie
from caddie.talk.right_after import ended_as_told
from caddie.talk.same_place import SAME_PLACE
from caddie.talk.state import Known
from caddie.words import Intent, Understanding, understand_turn
from caddie.words.next_putt import next_putt_as_it
from caddie.words.sayings import behind, says, stands_in

_ONE_MORE, _BY_ITS_NUMBER, _NEXT = "one_more_go_lead", "go_by_number_lead", "next_go_lead"
_MISSED = "missed"
_LEADS = (_ONE_MORE, _BY_ITS_NUMBER, _NEXT)
Parts = tuple[Understanding, ...]
_BALLS_LEFT = "balls_left"
_SEVERAL, _CHIPS, _ON_THE_COURSE = "more_balls", "of_chips", "on_the_course"


def several_told(known: Known, text: str) -> Known:
    """What is known, with whether several balls are hit from one place today."""
    if known.day.several and stands_in(text, _ON_THE_COURSE):
        return known.on_the_day(several=False, chips=False)
    if not known.day.chips and stands_in(text, _CHIPS):
        return known.on_the_day(several=True, chips=True)
    several = known.day.several or stands_in(text, _SEVERAL) or behind(text, _ONE_MORE) is not None
    return known.on_the_day(several=several) if several is not known.day.several else known


def without_balls_to_play(text: str, parts: Parts, known: Known) -> Parts:
    """The parts of a turn in which "two balls left, same spot" counts balls to play, and breaks no putt."""
    counted = stands_in(text, SAME_PLACE) or (known.day.several and known.situation.lie is not Lie.GREEN)
    if not counted or not stands_in(text, _BALLS_LEFT):
        return parts
    return tuple(_without_break_by_balls(part) for part in parts)


def _without_break_by_balls(heard: Understanding) -> Understanding:
    now = heard.situation
    if now.green.borrow is None or now.green.borrow.unit is not BorrowUnit.BALLS:
        return heard
    green = now.green.model_copy(update={"borrow": None, "fall": None, "side_fall": None})
    lie = None if now.lie is Lie.GREEN and now.pin_m is None else now.lie
    return heard.model_copy(update={"situation": now.model_copy(update={"green": green, "lie": lie})})


def result_of_another(text: str, parts: Parts, known: Known, player: Player) -> tuple[Parts, Known]:
    """The parts of a turn that tells what became of the next ball, and what is known as before it was hit."""
    if known.day.several and known.played and says(text, _ONE_MORE):
        return (Understanding(heard=text, intent=Intent.OUT_OF_SCOPE, asks=(SAME_PLACE,)),), known
    if known.played and _putts_next(known) and (as_it := next_putt_as_it(text)) != text:
        told = understand_turn(as_it, unit=player.distances_in, pace_m=player.pace_m)
        if told[0].intent is Intent.RESULT or _MISSED in told[0].asks:
            return told, known
    lead, rest = next(
        ((lead, rest) for lead in _LEADS if (rest := behind(text, lead)) is not None), (None, None)
    )
    told = understand_turn(rest, unit=player.distances_in, pace_m=player.pace_m) if rest else ()
    if rest and known.day.several and (not told or told[0].intent is Intent.OUT_OF_SCOPE):
        # "Second one stiff": read as behind "it finished".
        ended = ended_as_told(rest, player)
        told = () if ended is None else (ended,)
    if not told or told[0].intent is not Intent.RESULT or told[0].result is None:
        return parts, known
    return told, _before_it_was_hit(known) if known.played and _is_from_there(lead, known) else known


def before_the_next_ball(known: Known, heard: Understanding) -> Known:
    """ "Second one two feet short. Third, thin again": of several balls each is hit from where the first one was."""
    counted = any(behind(heard.heard, lead) is not None for lead in _LEADS)
    told = heard.intent is Intent.RESULT and heard.result is not None
    return _before_it_was_hit(known) if known.day.several and known.played and told and counted else known


def _before_it_was_hit(known: Known) -> Known:
    return known.changed(result=None, shot_logged=None, question=None, other=None)


def _putts_next(known: Known) -> bool:
    """Whether the stroke behind the one that was told is a putt."""
    return known.situation.lie is Lie.GREEN or (
        known.result is not None and known.result.finish is Finish.GREEN
    )


def _is_from_there(lead: str | None, known: Known) -> bool:
    """Whether it was hit from where the last one was, and not from where that one ended.

    On the course the next one is the next stroke, and on the green so is the second.
    """
    on_the_green = known.situation.lie is Lie.GREEN
    return known.day.several or lead == _ONE_MORE or (lead == _BY_ITS_NUMBER and not on_the_green)
