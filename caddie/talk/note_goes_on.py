"""What is said right after a note was told: the same hole told otherwise, or more of it."""

from caddie.bag import Player
from caddie.notes.models import HoleNote, Trouble
from caddie.plan.called import name_of
from caddie.situation import Lie
from caddie.talk.note_told import read
from caddie.talk.on_hole import facts_of
from caddie.talk.state import Known
from caddie.words import Intent
from caddie.words.told_note import NoteSaid

CORRECT_NOTE = "correct_note"
"""What was just noted, told otherwise: no phrase of its own, the words of a correction say it."""


def gone_on(known: Known, told: NoteSaid, player: Player) -> NoteSaid:
    """The utterance with the wish that it has after a note; as it was when it is of something else.

    Where a hole is played its green's depth is told of the note too: no shot has one.
    """
    heard, about = read(told.rest, player), known.memo.about
    shot = heard.situation.pin_m is not None or heard.situation.lie not in (None, Lie.GREEN)
    if shot or told.wish is not None:
        return told
    if about is not None and told.hole in (None, about.number):
        of_it = told.model_copy(update={"hole": about.number, "course": about.course})
        if heard.intent is Intent.CORRECT or told.depth_m or told.height_m or told.turned:
            return _corrects(of_it)
        moved = _of_the_trouble_told(known, of_it, player) if heard.intent is Intent.OUT_OF_SCOPE else None
        if moved is not None:
            return moved
        if known.plan is None and not facts_of(about, heard.situation).is_empty:
            return of_it.model_copy(update={"wish": "remember"})
    if told.depth_m is not None and (known.day.hole is not None or told.hole is not None):
        return _corrects(told)
    return told


def _corrects(told: NoteSaid) -> NoteSaid:
    return told.model_copy(update={"wish": CORRECT_NOTE})


def _of_the_trouble_told(known: Known, told: NoteSaid, player: Player) -> NoteSaid | None:
    """ "No, it's left of the green" of the one piece of trouble that was told."""
    trouble = _only_trouble(known.memo.told)
    if trouble is None:
        return None
    rest = f"no, {name_of(trouble)} {told.rest}"
    hazards = read(rest, player).situation.hazards
    if len(hazards) != 1 or hazards[0].kind is not trouble.kind or hazards[0].side is None:
        return None
    return _corrects(told.model_copy(update={"rest": rest}))


def _only_trouble(told: HoleNote | None) -> Trouble | None:
    return told.trouble[0] if told is not None and len(told.trouble) == 1 else None
