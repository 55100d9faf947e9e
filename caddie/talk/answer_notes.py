"""One sentence read with what is remembered: own words, the hole it is told on, the usual."""

from datetime import date

from caddie.bag import Player
from caddie.notes.fill import filled
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notes, day_of_today
from caddie.notes.own_words import in_trade_words
from caddie.talk.laid_over import merged
from caddie.units import Unit
from caddie.words import Intent, Understanding, understand
from caddie.words.told_note import read_note


def read_with_notes(
    text: str, player: Player, notes: Notes, *, from_speech: bool = False, day: date | None = None
) -> tuple[Understanding, tuple[str, ...]]:
    """The sentence as understood with what its hole's note adds, and what was taken from notes."""
    unit, pace_m = player.distances_in, player.pace_m
    said = in_trade_words(text, notes.words)
    told = read_note(said, names=notes.names(notes.course), unit=unit, pace_m=pace_m)
    note = None
    if told.wish is None and told.hole is not None:
        course = notes.course_called(told.course) if told.course else notes.course
        note = notes.hole(course, told.hole) or HoleNote(course=course, number=told.hole)
        said = told.rest or said
    heard = understand(said, unit=unit, pace_m=pace_m, from_speech=from_speech)
    if heard.intent not in (Intent.SITUATION, Intent.PUTT) or heard.problem:
        return heard.model_copy(update={"heard": text.strip()}), ()
    counted = unit if unit is Unit.METRES else Unit.YARDS
    added = filled(note, notes.usual, heard.situation, heard.situation, day or day_of_today(), counted)
    update = {"heard": text.strip(), "situation": merged(heard.situation, added.situation)}
    return heard.model_copy(update=update), (*added.of_the_hole, *added.usual)
