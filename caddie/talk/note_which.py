"""The answer to which of two is right: what the note of a hole says, or what was said now."""

from dataclasses import replace

from caddie.bag import Bag
from caddie.notes.clash import contradictions
from caddie.notes.learn import settled
from caddie.notes.models import AXES, HoleNote
from caddie.notes.told import depth_told
from caddie.plan.called import name_of
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.note_told import INTENT, note_of, written_down
from caddie.talk.on_hole import facts_of, from_notes, told_from_notes
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding, understand
from caddie.words.told_note import which_of


def which(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to which of two is right, the note or what was said; None when it is none."""
    book, told = desk.notebook, known.memo.clash
    if book is None or told is None:
        return None
    note = note_of(book, told.course, told.number)
    answer = _which(heard.heard, note, told, desk.bag)
    if answer is None:
        return None
    new = settled(note, told, answer, book.day)
    after = known.changed(question=None, memo=replace(known.memo, clash=None, beside=None))
    if new == note:
        said = Said(after, lines.AS_IT_WAS + ".")
    else:
        said = written_down(desk, after, note, new, told)
    if known.plan is None or known.played:
        return said
    situation = known.situation
    if answer == "before":
        situation = _without(situation, told, note)
        if told.depth_m is not None and depth_told(told.depth_m, book.unit) in known.memo.taken:
            # Green before the flag was worked out from the depth that is not so.
            situation = situation.model_copy(update={"room_m": None})
    bare = Understanding(heard=heard.heard, intent=Intent.SITUATION)
    filled_in, taken = from_notes(desk, said.known.changed(situation=situation), bare)
    replanned = planned(desk, filled_in, bare, before=known.situation)
    return replace(told_from_notes(desk, replanned, bare, taken), intent=INTENT)


def _which(text: str, note: HoleNote, told: HoleNote, bag: Bag) -> str | None:
    """Which of the two the answer names, by a word for it or by saying it again."""
    answer = which_of(text)
    if answer is not None:
        return answer
    kinds = {name_of(each) for each in told.trouble}
    for way in (text, *(f"{kind} {text}" for kind in kinds)):
        heard = understand(way, unit=bag.player.distances_in, pace_m=bag.player.pace_m)
        facts = facts_of(note, heard.situation)
        if not facts.is_empty:
            agrees = not contradictions(note, facts), not contradictions(told, facts)
            return {(True, False): "before", (False, True): "now"}.get(agrees)
    return None


def _without(situation: Situation, told: HoleNote, note: HoleNote) -> Situation:
    """The shot without what the note says otherwise."""
    fields = {each.field for each in contradictions(note, told)}
    noted = {(each.kind, each.side) for each in note.trouble}
    said = {(each.kind, each.side) for each in told.trouble} - noted
    hazards = tuple(each for each in situation.hazards if (each.kind, each.side) not in said)
    green = situation.green
    if fields & {*AXES, *AXES.values()}:
        green = green.model_copy(update=dict.fromkeys([*AXES, *AXES.values()]))
    update = {"hazards": hazards, "green": green}
    if "height_m" in fields:
        update["elevation_m"] = None
    return situation.model_copy(update=update)
