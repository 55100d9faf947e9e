"""The notes as the page shows them: holes by course, the player's own words, and what is told of them."""

from typing import Any

from caddie.bag import Player
from caddie.errors import CaddieError
from caddie.notes.learn import note_with
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notebook, step_back
from caddie.notes.own_words import TradeWordError, teachable
from caddie.notes.page import course_page
from caddie.notes.told import hole_facts, usual_facts
from caddie.units import Unit, length_text
from caddie.words.note_phrases import MOST_HOLES

KEEPS_NO_NOTES = "this page remembers nothing"


class NotesView:
    """The notebook that the talk remembers in, too."""

    def __init__(self, notebook: Notebook | None, problem: str | None) -> None:
        """``problem`` is why nothing is remembered although it was wanted."""
        self._notebook, self._problem = notebook, problem

    def state(self) -> dict[str, Any]:
        """Every course with its holes, the words, and what cannot be read."""
        if self._notebook is None:
            return {"note": self._problem or KEEPS_NO_NOTES, "on": False, "courses": [], "words": []}
        book = self._notebook
        book.look_again()
        notes = book.notes
        return {
            "note": " ".join(f"{line}; the rest counts." for line in notes.problems),
            "on": True,
            "course": notes.course,
            "most_holes": MOST_HOLES,
            "courses": [
                {"name": course, "holes": [self._hole(each) for each in notes.of_course(course)]}
                for course in notes.courses
            ],
            "words": [{"word": word, "means": meaning} for word, meaning in sorted(notes.words.items())],
            "usual": usual_facts(notes.usual),
            "out": list(notes.today.out),
        }

    def tell_hole(self, course: str, number: int, text: str, player: Player) -> dict[str, Any]:
        """Remember what is told of a hole; what its note says otherwise is replaced.

        Raises:
            CaddieError: when nothing of it was understood, or it cannot be written.
        """
        book = self._open()
        named = book.notes.course_called(course) if course else book.notes.course
        if not 1 <= number <= MOST_HOLES:
            raise CaddieError(f"holes are numbered 1 to {MOST_HOLES}")
        try:
            note = book.notes.hole(named, number) or HoleNote(course=named, number=number)
        except ValueError:
            raise CaddieError("that is no name of a course") from None
        after, clashes = note_with(note, text, player.distances_in, player.pace_m, book.day)
        book.keep_hole(after)
        told = [f"The note said {clash.before}; it says {clash.now} now." for clash in clashes]
        return {**self.state(), "told": " ".join([f"Remembered of {after.title}.", *told])}

    def teach(self, word: str, meaning: str, sure: bool) -> dict[str, Any]:
        """Keep a word of the player's own; ``asks`` is the question to be answered by ``sure`` first.

        Raises:
            CaddieError: if it is no word to be taught, or cannot be written.
        """
        book = self._open()
        try:
            plain, means = teachable(word, meaning, book.notes.words, sure=sure)
        except TradeWordError as asks:
            return {**self.state(), "asks": str(asks)}
        book.keep_word(plain, means)
        return {**self.state(), "told": f'"{plain}" means {means} from now on.'}

    def forget_hole(self, course: str, number: int) -> dict[str, Any]:
        """Erase the note of a hole for good."""
        if not self._open().erase_hole(course, number):
            raise CaddieError(f"nothing is noted of hole {number}")
        return {**self.state(), "told": "Erased."}

    def forget_word(self, word: str) -> dict[str, Any]:
        """Erase an own word for good."""
        if not self._open().erase_word(word):
            raise CaddieError(f'"{word}" is no word of yours')
        return {**self.state(), "told": "Erased."}

    def undo(self) -> dict[str, Any]:
        """Take the last change back; once more brings it back."""
        self._open()
        done = step_back()
        return {**self.state(), "told": f"Taken back: {done} as before." if done else "Nothing to take back."}

    def course(self, name: str) -> str:
        """A course as a page to print.

        Raises:
            CaddieError: if no hole of it is noted.
        """
        book = self._open()
        named = book.notes.course_called(name) if name else book.notes.course
        holes = book.notes.of_course(named)
        if not holes:
            raise CaddieError("no hole of that course is noted")
        return course_page(named, holes, book.day, book.unit)

    def _hole(self, note: HoleNote) -> dict[str, Any]:
        book = self._open()
        unit = Unit.METRES if book.unit is Unit.METRES else Unit.YARDS
        return {
            "number": note.number,
            "name": note.name or "",
            "course": note.course,
            "facts": ", ".join(hole_facts(note, book.day, unit, length_text)) or "nothing noted",
        }

    def _open(self) -> Notebook:
        if self._notebook is None:
            raise CaddieError(self._problem or KEEPS_NO_NOTES)
        return self._notebook
