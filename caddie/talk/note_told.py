"""What turns about notes share: which hole is meant, a note read back, a change told, a question asked."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from caddie.bag import Player
from caddie.log.holes import OnHole
from caddie.log.shot import Mode
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notebook
from caddie.notes.sheet import Edit
from caddie.notes.told import hole_facts
from caddie.reply.spoken import MOST_WORDS, sentences
from caddie.talk import note_lines as lines
from caddie.talk.memo import OF_NOTES
from caddie.talk.state import Desk, Known, Question, Said
from caddie.units import spoken_number
from caddie.words import Understanding, understand

INTENT = "notes"


def read(text: str, player: Player) -> Understanding:
    """What is said of a hole or a shot, read as one thing."""
    return understand(text, unit=player.distances_in, pace_m=player.pace_m)


def course_of(book: Notebook, known: Known) -> str:
    """The course that a hole is of when none is named."""
    return known.day.course or book.notes.course


def hole_in_play(desk: Desk, known: Known) -> HoleNote | None:
    """The note of the hole being played, an empty one when nothing is noted of it; None on no hole."""
    if desk.notebook is None or known.day.hole is None:
        return None
    return note_of(desk.notebook, course_of(desk.notebook, known), known.day.hole)


def hole_played(desk: Desk, known: Known) -> OnHole | None:
    """The hole that a shot is played on, as the log keeps it."""
    note = hole_in_play(desk, known)
    return None if note is None else OnHole(note.course, note.number)


def note_of(book: Notebook, course: str, number: int) -> HoleNote:
    """The note of a hole, or an empty one."""
    return book.notes.hole(course, number) or HoleNote(course=course, number=number)


def hole_said(note: HoleNote) -> str:
    """A hole as it is named aloud."""
    return f"{note.name}" if note.name else f"hole {spoken_number(note.number)}"


def read_back(note: HoleNote, book: Notebook, lead: str = "") -> tuple[str, str]:
    """A note aloud, in thirty words, and the whole of it written."""
    facts = hole_facts(note, book.day, book.unit)
    named = lead or hole_said(note)
    if not facts:
        return sentences([lines.NOTHING_NOTED.format(hole=hole_said(note)).rstrip(".")]), ""
    spoken = in_a_breath(named, facts)
    return spoken, f"{note.title[:1].upper()}{note.title[1:]}: {', '.join(facts)}."


def in_a_breath(lead: str, facts: list[str], after: str = "") -> str:
    """As many facts as thirty words hold, and how many more there are."""
    for count in range(len(facts), -1, -1):
        left = len(facts) - count
        more = [f"{spoken_number(left)} more written down"] if left else []
        said = sentences([f"{lead}: {', '.join([*facts[:count], *more])}", after])
        if len(said.split()) <= MOST_WORDS:
            return said
    return sentences([lead, after])


def readable(desk: Desk, known: Known, note: HoleNote) -> HoleNote:
    """A note as it may be read: in competition as it was before the round (Rule 4.3a(3))."""
    if desk.mode is not Mode.COMPETITION:
        return note
    return next((each for each in known.day.before_round if each.key == note.key), note)


def recorded(desk: Desk, known: Known, before: HoleNote) -> Known:
    """The day with a note as it was, when what comes to it is told in competition."""
    if desk.mode is not Mode.COMPETITION or any(each.key == before.key for each in known.day.before_round):
        return known
    return known.on_the_day(before_round=(*known.day.before_round, before))


def refused(known: Known, reason: str) -> Said:
    """Why something is not done, in thirty words; the written line is whole."""
    whole = sentences([reason])
    words = whole.split()
    spoken = whole if len(words) <= MOST_WORDS else f"{' '.join(words[:MOST_WORDS]).rstrip('.,;:')}."
    return Said(known, spoken, written=whole, intent=INTENT)


def asking(known: Known, text: str, **waits: Any) -> Said:
    """A question about notes that waits for its answer, and no other does: ``waits`` is the memo's part of it."""
    memo = replace(known.memo, **{"clash": None, "teach": None, "forget": None} | waits)
    return Said(known.changed(question=Question(OF_NOTES, text), memo=memo), text, intent=INTENT)


def changed(known: Known, changes: tuple[Edit, ...], spoken: str, written: str | None = None) -> Said:
    """A change of the notes told, which undo takes back."""
    memo = replace(known.memo, changes=changes, clash=None, teach=None, forget=None)
    return Said(
        known.changed(memo=memo, question=None, spoken=spoken), spoken, written, step=True, intent=INTENT
    )


def written_down(
    desk: Desk,
    known: Known,
    before: HoleNote,
    note: HoleNote,
    facts: HoleNote,
    beside: Sequence[str] = (),
) -> Said:
    """A note kept and said back, with what is told beside it.

    In competition only what was told just now is said back, and the note as it was is kept to be read in the round.
    """
    book = desk.notebook
    assert book is not None
    said_back, lead, rule = note, "Noted", []
    if desk.mode is Mode.COMPETITION:
        said_back, lead = facts.model_copy(update={"name": note.name}), f"Noted {lines.AFTER_ROUND}"
        rule = [lines.DURING_RULE]
    spoken = in_a_breath(
        f"{lead}, {hole_said(note)}", hole_facts(said_back, book.day, book.unit), ". ".join(beside)
    )
    written = "\n".join([f"{lead}. {read_back(said_back, book)[1]}", *beside, *rule])
    return changed(recorded(desk, known, before), (book.keep_hole(note),), spoken, written)
