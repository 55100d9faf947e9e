"""A shot told on a known hole: what the notes add to it, what they say otherwise, and the way on to the next hole."""

from dataclasses import replace

from caddie.errors import CaddieError
from caddie.log.shot import Mode, now
from caddie.notes.clash import contradictions
from caddie.notes.fill import filled
from caddie.notes.learn import facts_told, learned, settled
from caddie.notes.models import HoleNote, Usual
from caddie.notes.sheet import Edit
from caddie.reply.situation import distance_said, situation_said
from caddie.reply.spoken import MOST_WORDS, sentences, shortest
from caddie.situation import Situation
from caddie.talk import lines as talk_lines
from caddie.talk import note_lines as lines
from caddie.talk.laid_over import merged
from caddie.talk.memo import OF_NOTES
from caddie.talk.new_shot import on_hole
from caddie.talk.note_told import hole_in_play, hole_said, read_back, readable
from caddie.talk.state import Day, Desk, Known, Question, Said
from caddie.units import Unit, spoken_number
from caddie.words import Intent, Understanding
from caddie.words.note_phrases import LAST_HOLE
from caddie.words.told_note import NoteSaid


def from_notes(desk: Desk, known: Known, heard: Understanding) -> tuple[Known, tuple[str, ...]]:
    """What is known of a shot with what the notes add, and what was taken from them."""
    book = desk.notebook
    if book is None:
        return known, ()
    note, usual = hole_in_play(desk, known), book.notes.usual
    if note is not None:
        # What is said now stands until the player has said which is right.
        note = settled(note, facts_of(note, known.situation, known.memo.beside), "now", book.day)
    added = filled(note, usual, heard.situation, known.situation, book.day, book.unit)
    memo = replace(known.memo, taken=added.of_the_hole)
    return known.changed(situation=merged(known.situation, added.situation), memo=memo), (
        *added.of_the_hole,
        *added.usual,
    )


def told_from_notes(desk: Desk, said: Said, heard: Understanding, taken: tuple[str, ...]) -> Said:
    """The advice with what it took from notes; where the note says otherwise, it is corrected or asked about."""
    book, note = desk.notebook, hole_in_play(desk, said.known)
    if book is None or said.advice is None:
        return said
    if taken:
        said = replace(said, written=f"{said.written or said.spoken}\nNotes: {', '.join(taken)}")
    if note is None:
        return said
    facts = facts_of(note, heard.situation, said.known.memo.beside)
    clash = contradictions(note, facts)
    if not clash:
        return said
    if heard.intent is Intent.CORRECT:
        new = settled(note, facts, "now", book.day)
        memo = replace(said.known.memo, changes=(book.keep_hole(new),))
        return replace(
            said, known=said.known.changed(memo=memo), written=f"{said.written}\nNoted: {clash[0].now}."
        )
    question = lines.WHICH.format(before=clash[0].before, now=clash[0].now)
    known = said.known.changed(
        question=Question(OF_NOTES, question), memo=replace(said.known.memo, clash=facts)
    )
    spoken = shortest([[said.brief or "", question], [question]])
    return replace(said, known=known, spoken=spoken, written=f"{said.written}\n{question}")


def next_hole(desk: Desk, known: Known) -> Said:
    """On to the next hole: nothing is known but the day, and what is noted of it is said."""
    number = known.day.hole
    after = on_hole(known, number)
    if number is None or desk.notebook is None:
        begun = known.spoken or known.sentence
        said = talk_lines.NEXT_HOLE if begun else talk_lines.FIRST_SIGHT
        if still := situation_said(after.situation, desk.bag):
            said = sentences([talk_lines.NEXT, talk_lines.STILL.format(what=still), talk_lines.FIRST_SIGHT])
        return Said(after.changed(spoken=said, short=said), said, step=True, intent=Intent.NEXT_HOLE.value)
    after = after.on_the_day(hole=1 if number >= LAST_HOLE else number + 1)
    note = hole_in_play(desk, after)
    assert note is not None
    spoken, written = read_back(readable(desk, after, note), desk.notebook)
    if not written:
        spoken = sentences([f"next, {hole_said(note)}", talk_lines.FIRST_SIGHT])
    elif desk.mode is Mode.COMPETITION:
        written = f"{written}\n{lines.NOTES_RULE}"
    known = after.changed(spoken=spoken, short=spoken)
    return Said(known, spoken, written or None, step=True, intent=Intent.NEXT_HOLE.value)


def read_in_competition(desk: Desk, said: Said) -> Said:
    """A shot told on a hole in competition, with the player's own note of it: nothing is worked out from it."""
    book, note = desk.notebook, hole_in_play(desk, said.known)
    if book is None or note is None:
        return said
    spoken, written = read_back(readable(desk, said.known, note), book, lines.OWN_NOTE)
    if not written:
        return said
    told = f"{said.spoken} {spoken}"
    kept = told if len(told.split()) <= MOST_WORDS else spoken
    return replace(said, spoken=kept, written=f"{said.written or said.spoken}\n{written}\n{lines.NOTES_RULE}")


def learned_on_the_walk(desk: Desk, before: Known, said: Said) -> Said:
    """What was seen on the walk to the ball goes into the hole's note, where the note does not say otherwise."""
    book, note = desk.notebook, hole_in_play(desk, said.known)
    if before.walk is None or book is None or note is None:
        return said
    facts = facts_of(note, said.known.situation)
    if facts.is_empty or contradictions(note, facts):
        return said
    new = learned(note, facts, book.day)
    if new == note:
        return said
    memo = replace(said.known.memo, changes=(book.keep_hole(new),))
    return replace(said, known=said.known.changed(memo=memo))


def undone(desk: Desk, known: Known, before: Known) -> str:
    """Take back what a turn changed in the notes; what it was, or nothing."""
    changes = known.memo.changes
    if desk.notebook is None or changes == before.memo.changes:
        return ""
    for change in reversed(changes):
        desk.notebook.take_back(change)
    return " and ".join(_what(change) for change in changes)


def _what(change: Edit) -> str:
    """What an edit is of, as it is named aloud."""
    match change.sheet:
        case "holes":
            return f"hole {spoken_number(int(change.key[1]))}"
        case "words":
            return f"the word {change.key[0]}"
        case _:
            return lines.SETTINGS[change.key[0]]


def the_day(desk: Desk) -> Day:
    """What holds today, as it was left: the hole, the clubs at home, the unit the player counts in."""
    if desk.notebook is None:
        return Day()
    today, usual = desk.notebook.notes.today, desk.notebook.notes.usual
    owned = {club.id for club in desk.whole_bag.clubs}
    return Day(
        out=tuple(club for club in today.out if club in owned),
        unit=Unit(usual.unit) if usual.unit else None,
        course=today.course,
        hole=today.hole_at(now()),
        before_round=today.before_round,
    )


def keep_day(desk: Desk, known: Known) -> str:
    """Keep what holds today; why it could not be kept, or nothing."""
    book, day = desk.notebook, known.day
    if book is None:
        return ""
    try:
        kept = book.notes.today.model_copy(
            update={"course": day.course, "out": day.out, "before_round": day.before_round}
        )
        book.keep_today(kept.on_hole(day.hole, now()))
    except CaddieError as error:
        return str(error)
    return ""


def as_usual(desk: Desk, said: Said) -> Said:
    """The reply as the player likes it: just the club aloud, when that is the usual."""
    usual = desk.notebook.notes.usual if desk.notebook is not None else Usual()
    question = said.known.question
    if not usual.brief or said.advice is None or not said.brief:
        return said
    asks = question.text if question is not None and question.text in said.spoken else ""
    return replace(
        said, spoken=sentences([said.brief.rstrip("."), asks]), written=said.written or said.spoken
    )


def by_notes(distance: str, known: Known, desk: Desk) -> str:
    """The distance as it begins the reply, with the word that notes were used, and of which hole."""
    pin_m = known.situation.pin_m
    if not known.memo.taken or pin_m is None:
        return distance
    note = hole_in_play(desk, known)
    by = lines.BY_NOTES.format(hole=hole_said(note)) if note is not None else lines.BY_OWN_NOTES
    return f"{distance or distance_said(pin_m, known.situation, desk.bag)}, {by}"


def facts_of(note: HoleNote, said: Situation, beside: NoteSaid | None = None) -> HoleNote:
    """What was said of a hole, in the form of its note; ``beside`` is what only notes have words for."""
    return facts_told(note.course, note.number, said, told=beside)
