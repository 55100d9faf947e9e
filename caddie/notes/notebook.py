"""Everything remembered for one player: read once, and written entry by entry as it is told."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from caddie.notes.holes import holes_sheet, notes_in, written_hole
from caddie.notes.models import HOME_COURSE, HoleNote, Today, Usual, hole_key, same_name
from caddie.notes.sheet import Edit, Sheet, problems
from caddie.notes.small_sheets import (
    TODAY_KEY,
    round_of,
    today_sheet,
    usual_sheet,
    words_sheet,
    written_today,
    written_usual,
    written_word,
)
from caddie.units import Unit
from caddie.words.told_note import Names, plain_words

SHEETS = {sheet.name: sheet for sheet in (holes_sheet(), words_sheet(), usual_sheet(), today_sheet())}


def day_of_today() -> date:
    """Today where the player is."""
    return datetime.now().astimezone().date()


@dataclass(frozen=True)
class Notes:
    """What the files say."""

    holes: tuple[HoleNote, ...]
    words: Mapping[str, str]
    usual: Usual
    today: Today
    problems: tuple[str, ...]
    """One line for each entry that cannot be read."""

    @property
    def course(self) -> str:
        """The course that a hole is of when none is named: today's, or the only one, or else home."""
        if self.today.course is not None:
            return self.today.course
        courses = self.courses
        return courses[0] if len(courses) == 1 else HOME_COURSE

    @property
    def courses(self) -> tuple[str, ...]:
        """Every course with a note, as the player calls it."""
        found = {same_name(note.course): note.course for note in reversed(self.holes)}
        return tuple(sorted(found.values()))

    def hole(self, course: str, number: int) -> HoleNote | None:
        """The note of a hole, or None."""
        return next((note for note in self.holes if note.key == hole_key(course, number)), None)

    def of_course(self, course: str) -> list[HoleNote]:
        """The notes of a course, by hole."""
        return [note for note in self.holes if same_name(note.course) == same_name(course)]

    def names(self, course: str) -> Names:
        """The player's own names, as they are listened for on a course."""
        return Names(
            holes={plain_words(note.name): note.number for note in self.of_course(course) if note.name},
            courses=tuple(plain_words(each) for each in self.courses),
            words=tuple(self.words),
        )

    def course_called(self, name: str) -> str:
        """The course of that name as it is written; the name itself when there is none."""
        return next((each for each in self.courses if plain_words(each) == plain_words(name)), name)

    @property
    def is_empty(self) -> bool:
        """Whether nothing at all is remembered."""
        return not (self.holes or self.words or self.usual != Usual() or self.today.out)


def read_notes(day: date | None = None) -> Notes:
    """Everything remembered, as it stands on a day.

    Raises:
        CaddieError: if a file cannot be read at all.
    """
    entries = {name: sheet.entries() for name, sheet in SHEETS.items()}
    usual = {each.key[0]: each.value for each in entries["usual"] if each.key is not None}
    today = next((each.value for each in entries["today"] if each.key is not None), None)
    return Notes(
        holes=tuple(notes_in(entries["holes"])),
        words={each.key[0]: each.value for each in entries["words"] if each.key is not None},
        usual=Usual(**usual),
        today=round_of(today, day or day_of_today()),
        problems=tuple(line for name, sheet in SHEETS.items() for line in problems(sheet, entries[name])),
    )


class Notebook:
    """The notes while a program runs; each change is on the disk before it counts."""

    def __init__(self, unit: Unit = Unit.YARDS, day: date | None = None) -> None:
        """Read what is there.

        Parameters:
            unit: what lengths are written in.
            day: taken for today, the real one when left out.

        Raises:
            CaddieError: if a file cannot be read at all.
        """
        self.unit = unit
        self.day = day or day_of_today()
        self.notes = read_notes(self.day)

    def look_again(self) -> None:
        """Read the files as they are now: they may have been changed beside this program.

        Raises:
            CaddieError: if a file cannot be read at all.
        """
        self.notes = read_notes(self.day)

    def keep_hole(self, note: HoleNote) -> Edit:
        """Keep a hole's note in the place of the one before.

        Raises:
            CaddieError: if it cannot be written.
        """
        return self.keep_holes([note])[0]

    def keep_holes(self, notes: Iterable[HoleNote]) -> list[Edit]:
        """Keep the notes of several holes in one step.

        Raises:
            CaddieError: if they cannot be written; none is kept then.
        """
        sheet = SHEETS["holes"]
        there = {each.key: each.text for each in sheet.entries() if each.key is not None}
        changes = sheet.put_all(
            {note.key: written_hole(note, self.unit, there.get(note.key)) for note in notes}
        )
        self.notes = read_notes(self.day)
        return changes

    def keep_word(self, word: str, meaning: str) -> Edit:
        """Keep an own word."""
        return self._put(SHEETS["words"], (word,), written_word(word, meaning))

    def keep_usual(self, key: str, value: Any) -> Edit:
        """Keep a setting; None leaves it to the bag again."""
        return self._put(SHEETS["usual"], (key,), None if value is None else written_usual(key, value))

    def keep_today(self, today: Today) -> None:
        """Keep where the round stands."""
        if today != self.notes.today or not SHEETS["today"].path.exists():
            self._put(SHEETS["today"], TODAY_KEY, written_today(today, self.unit))

    def take_back(self, change: Edit) -> bool:
        """Undo a change; whether the entry was still as it left it."""
        done = SHEETS[change.sheet].take_back(change)
        self.notes = read_notes(self.day)
        return done

    def erase_hole(self, course: str, number: int) -> bool:
        """Take a hole out for good."""
        today, key = self.notes.today, hole_key(course, number)
        kept = tuple(note for note in today.before_round if note.key != key)
        if kept != today.before_round:
            SHEETS["today"].erase(TODAY_KEY)
            self.keep_today(today.model_copy(update={"before_round": kept}))
        return self._erased(SHEETS["holes"].erase(key))

    def erase_course(self, course: str) -> int:
        """Take every hole of a course out for good; how many there were."""
        return sum(self.erase_hole(course, note.number) for note in self.notes.of_course(course))

    def erase_word(self, word: str) -> bool:
        """Take an own word out for good."""
        return self._erased(SHEETS["words"].erase((word,)))

    def erase_all(self) -> None:
        """Take everything out for good."""
        for sheet in SHEETS.values():
            sheet.erase_all()
        self.notes = read_notes(self.day)

    def _put(self, sheet: Sheet, key: tuple[str, ...], text: str | None) -> Edit:
        change = sheet.put(key, text)
        self.notes = read_notes(self.day)
        return change

    def _erased(self, done: bool) -> bool:
        self.notes = read_notes(self.day)
        return done


def step_back() -> str | None:
    """Undo the last change of any file; the name of the file, or None when there is nothing to undo."""
    changed = [sheet for sheet in SHEETS.values() if sheet.name != "today" and sheet.previous.exists()]
    for sheet in sorted(changed, key=lambda each: each.previous.stat().st_mtime_ns, reverse=True):
        if sheet.step_back():
            return sheet.name
    return None
