"""What an utterance says of notes, taken before the rest of it: a wish, an answer, the hole that a shot is told on."""

from dataclasses import dataclass, field, replace

from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.notes.models import HOME_COURSE, same_name
from caddie.notes.notebook import Notebook
from caddie.notes.own_words import in_trade_words
from caddie.notes.rephrased import unknown_words
from caddie.talk import note_lines as lines
from caddie.talk.memo import OF_NOTES
from caddie.talk.new_shot import on_hole
from caddie.talk.note_goes_on import gone_on
from caddie.talk.note_offer import offered
from caddie.talk.note_told import INTENT, course_of, note_of, read, read_back, readable, refused
from caddie.talk.note_which import which
from caddie.talk.note_wishes import WISHES, holes_noted, teach
from caddie.talk.on_hole import as_usual, keep_day, learned_on_the_walk, read_in_competition
from caddie.talk.state import Desk, Known, Said, Turn
from caddie.words import Expecting, Intent, balls_told, understand
from caddie.words.told_note import NoteSaid, names_a_course, read_note

_AS_SAID = ("mean", "call_shot", "forget_word")
"""Wishes about words, in which no word of the player's own is put in words of the trade."""


@dataclass(frozen=True)
class Heeded:
    """An utterance once what it says of notes is taken: the rest of it, or the reply when that was all."""

    known: Known
    text: str
    said: Said | None = None
    told: NoteSaid = field(default_factory=NoteSaid)


def heed(desk: Desk, known: Known, text: str) -> Heeded:
    """Take what an utterance says of notes."""
    book = desk.notebook
    if book is None:
        return Heeded(known, text)
    try:
        return _heeded(desk, book, known, text)
    except CaddieError as error:
        return Heeded(known, text, refused(known, str(error)))


def with_notes(desk: Desk, before: Known, said: Said, heeded: Heeded) -> Said:
    """The reply to a whole utterance, with what the notes add to it."""
    if desk.notebook is None:
        return said
    if heeded.said is None and said.known.memo.about is not None:
        said = replace(said, known=said.known.changed(memo=replace(said.known.memo, about=None, told=None)))
    said = learned_on_the_walk(desk, before, said)
    if desk.mode is Mode.COMPETITION and heeded.told.hole is not None and heeded.said is None:
        said = read_in_competition(desk, said)
    said = as_usual(desk, said)
    if heeded.said is None:
        said = offered(desk, before, said, heeded.text)
    return said


def with_day_kept(desk: Desk, before: Known, known: Known, turn: Turn) -> Turn:
    """The turn, with what it told of the day kept; the player reads why, if it cannot be."""
    problem = keep_day(desk, known) if known.day != before.day else ""
    return turn.model_copy(update={"written": f"{turn.written}\n{problem}"}) if problem else turn


def _heeded(desk: Desk, book: Notebook, known: Known, text: str) -> Heeded:
    player, names = desk.bag.player, book.notes.names(course_of(book, known))
    # Own words as they are kept, whatever hyphens and apostrophes they were written with.
    as_kept = in_trade_words(text, {word: word for word in book.notes.words})
    told = read_note(as_kept, names=names, unit=player.distances_in, pace_m=player.pace_m)
    if told.wish not in _AS_SAID:
        text = in_trade_words(text, book.notes.words)
        told = read_note(text, names=names, unit=player.distances_in, pace_m=player.pace_m)
    if known.question is not None and known.question.field == OF_NOTES:
        said = _answer(desk, book, known, text)
        if said is not None:
            return Heeded(known, text, said)
    if told.wish == "new_course" and not _a_course(told.name or ""):
        told = NoteSaid(rest=text)
    told = gone_on(known, told, player)
    if told.wish is not None:
        return Heeded(known, text, _marked(WISHES[told.wish](desk, book, known, told)))
    known = known.changed(memo=replace(known.memo, beside=told))
    if told.hole is None and told.course is None:
        of_the_hole = known.day.hole is not None and (told.depth_m is not None or told.height_m is not None)
        return Heeded(known, told.rest if of_the_hole else text)
    if told.rest and read(told.rest, player).intent is Intent.OUT_OF_SCOPE and told.depth_m is None:
        return Heeded(known, text)
    if told.hole is not None and len(balls_told(text, unit=player.distances_in, pace_m=player.pace_m)) > 1:
        # "Holed it. On the third, 30 yards": what stands before the hole is of the one before.
        return Heeded(known, text)
    return _arrived(desk, book, known, told)


def _a_course(name: str) -> bool:
    """Whether it is a course's name, and not the trade's own words of a shot or a place."""
    return names_a_course(name, unknown_words(name)) or same_name(name) == HOME_COURSE


def _marked(said: Said) -> Said:
    return said if said.intent else replace(said, intent=INTENT)


def _arrived(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Heeded:
    """On a hole or a course; the shot may be told in the same breath."""
    course = book.notes.course_called(told.course) if told.course else course_of(book, known)
    there = (course, told.hole)
    moved = there != (known.day.course or book.notes.course, known.day.hole)
    after = known.on_the_day(course=course, hole=told.hole)
    if moved and known.plan is not None:
        after = on_hole(after, told.hole)
    if told.rest:
        return Heeded(after, told.rest, told=told)
    if told.hole is None:
        holes = holes_noted(book, course)
        return Heeded(
            after, "", Said(after, lines.COURSE.format(course=course, count=holes), step=True, intent=INTENT)
        )
    note = note_of(book, course, told.hole)
    spoken, written = read_back(readable(desk, after, note), book)
    return Heeded(
        after, "", Said(after.changed(spoken=spoken), spoken, written or None, step=True, intent=INTENT)
    )


def _answer(desk: Desk, book: Notebook, known: Known, text: str) -> Said | None:
    """The answer to a question about notes, or None when it is none."""
    memo = known.memo
    if memo.clash is not None:
        return which(desk, known, read(text, desk.bag.player))
    yes = understand(text, expecting=Expecting.YES_NO).yes
    if yes is None:
        return None
    answered = known.changed(question=None, memo=replace(memo, teach=None, forget=None))
    if memo.forget is not None:
        return _marked(_erased(book, answered, memo.forget) if yes else Said(answered, lines.NOTHING_ERASED))
    if memo.teach is not None:
        return _marked(
            teach(book, answered, *memo.teach, sure=True) if yes else Said(answered, lines.NOT_TAUGHT)
        )
    return None


def _erased(book: Notebook, known: Known, told: NoteSaid) -> Said:
    if told.wish == "forget_all":
        book.erase_all()
        return Said(Known(), lines.ERASED)
    if told.wish == "forget_course":
        done = book.erase_course(told.course or book.notes.course) > 0
    elif told.wish == "forget_word":
        done = book.erase_word(told.taught or "")
    else:
        done = told.hole is not None and book.erase_hole(told.course or book.notes.course, told.hole)
    return Said(known, lines.ERASED if done else lines.NOTHING_TO_FORGET)
