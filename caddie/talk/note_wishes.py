"""What answers each wish about what is remembered: told, shown, forgotten, taught, set."""

from collections.abc import Callable
from dataclasses import replace

from caddie.log.holes import OnHole, shots_on
from caddie.log.shot import ROUNDS, Mode
from caddie.notes.clash import contradictions
from caddie.notes.learn import (
    facts_told,
    learned,
    not_kept,
    settled,
    taken_back,
    turned_round,
    where_trouble_ends,
)
from caddie.notes.misses import misses_of, misses_told
from caddie.notes.models import HOME_COURSE, HoleNote, of_course, same_name
from caddie.notes.notebook import Notebook
from caddie.notes.own_words import TradeWordError, teachable
from caddie.notes.told import usual_facts
from caddie.reply.spoken import sentences
from caddie.talk import lines as talk_lines
from caddie.talk import note_lines as lines
from caddie.talk.note_goes_on import CORRECT_NOTE
from caddie.talk.note_told import (
    asking,
    changed,
    course_of,
    hole_said,
    in_a_breath,
    note_of,
    read,
    read_back,
    readable,
    refused,
    written_down,
)
from caddie.talk.own_shot import meaning_of_shot
from caddie.talk.state import Desk, Known, Said
from caddie.units import Unit, spoken_number
from caddie.words import Intent
from caddie.words.grammar import grammar
from caddie.words.told_note import NoteSaid

RATE_STEP = 20
FIRST_RATE = 175
"""Words a minute when the player has set no other."""


def _where(book: Notebook, known: Known, told: NoteSaid) -> HoleNote | None:
    """The note of the hole that is told of: the one named, or the one in play."""
    course = book.notes.course_called(told.course) if told.course else course_of(book, known)
    number = told.hole if told.hole is not None else known.day.hole
    return None if number is None else note_of(book, course, number)


def _remember(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    """ "Remember: the fourth green falls left to right, bunker short right, twenty-eight deep." """
    note, player = _where(book, known, told), desk.bag.player
    if note is None:
        return Said(known, lines.WHICH_HOLE)
    heard = read(told.rest, player)
    ends = where_trouble_ends(told.rest, player.distances_in, player.pace_m)
    facts = facts_told(note.course, note.number, heard.situation, told=told, ends=ends)
    left = not_kept(heard, ends)
    if told.turned:
        turned = turned_round(note)
        if turned is None:
            return Said(known, lines.WHICH_WAY)
        facts = learned(facts, turned, book.day)
    if facts.is_empty:
        return Said(known, sentences([_beside(left)]) if left else lines.NOTE_NOT_FOLLOWED)
    if told.wish == CORRECT_NOTE or told.turned:
        before = taken_back(note, known.memo.told or facts, facts)
        return kept(desk, known, note, settled(before, facts, "now", book.day), facts)
    clash = contradictions(note, facts)
    if clash and heard.intent is not Intent.CORRECT:
        question = lines.WHICH.format(before=clash[0].before, now=clash[0].now)
        return asking(known, question, clash=facts)
    return kept(desk, known, note, learned(note, facts, book.day), facts, left, heard.left_over)


def kept(
    desk: Desk,
    known: Known,
    before: HoleNote,
    note: HoleNote,
    facts: HoleNote,
    left: tuple[str, ...] = (),
    unread: tuple[str, ...] = (),
) -> Said:
    """A note written, and said back with what was told beside it."""
    if note == before:
        return Said(known, lines.NOTED_ALREADY)
    beside = [_beside(left)] if left else []
    beside += [f"not followed: {', '.join(unread)}"] if unread else []
    said = written_down(desk, known, before, note, facts, beside)
    return replace(said, known=said.known.changed(memo=replace(said.known.memo, about=note, told=facts)))


def _beside(left: tuple[str, ...]) -> str:
    """What was told and is not kept."""
    line = lines.NOT_KEPT if len(left) == 1 else lines.ARE_NOT_KEPT
    return line.format(what=" and ".join([", ".join(left[:-1]), left[-1]] if left[:-1] else left))


def _name_hole(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    note = _where(book, known, told)
    if note is None or told.name is None:
        return Said(known, lines.WHICH_HOLE)
    name = _capitalised(told.name)
    named = HoleNote.model_validate(note.model_dump() | {"name": name, "noted": book.day})
    number = f"hole {spoken_number(note.number)}"
    return changed(known, (book.keep_hole(named),), lines.NAMED.format(hole=number.capitalize(), name=name))


def _capitalised(name: str) -> str:
    """A name as it is written: "the Dell"."""
    parts = name.split()
    return " ".join(part if part in grammar().articles else part.capitalize() for part in parts)


def _play_course(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    name = told.name or ""
    course = HOME_COURSE if same_name(name) == HOME_COURSE else book.notes.course_called(_capitalised(name))
    after = known.on_the_day(course=course, hole=None)
    return Said(after, lines.COURSE.format(course=course, count=holes_noted(book, course)), step=True)


def holes_noted(book: Notebook, course: str) -> str:
    """How many holes of a course have a note."""
    count = len(book.notes.of_course(course))
    return f"{_count(count, 'hole')} noted" if count else lines.NONE_NOTED


def _count(number: int, what: str) -> str:
    return f"{spoken_number(number)} {what}{'' if number == 1 else 's'}"


def _show_hole(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    note = _where(book, known, told)
    if note is None:
        return Said(known, lines.WHICH_HOLE)
    may_be_read = readable(desk, known, note)
    spoken, written = read_back(may_be_read, book)
    if desk.mode is Mode.COMPETITION:
        rule = lines.NOTES_RULE if note == may_be_read else lines.DURING_RULE
        written = f"{written or spoken}\n{rule}"
    return Said(known.changed(spoken=spoken), spoken, written or None)


def _show_misses(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    """ "Where do I miss on the fourth": counts and intervals, and nothing from a few shots."""
    if desk.mode is Mode.COMPETITION:
        return Said(known, talk_lines.COMPETITION_NO_ADVICE)
    note = _where(book, known, told)
    if note is None:
        return Said(known, lines.WHICH_HOLE)
    if desk.log is None:
        return Said(known, talk_lines.NO_LOG_TODAY)
    found = misses_of(shots_on(desk.log, desk.bag.player.name, OnHole(note.course, note.number), ROUNDS))
    facts = [f"{spoken_number(share.times)} {share.what}" for share in found.shares]
    if not facts:
        return refused(known, f"{hole_said(note)}: {misses_told(found)}")
    spoken = in_a_breath(f"Of {spoken_number(min(found.shots, 999))} shots on {hole_said(note)}", facts)
    return Said(
        known.changed(spoken=spoken),
        spoken,
        f"{note.title[:1].upper()}{note.title[1:]}: {misses_told(found)}.",
    )


def _show_all(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    notes = book.notes
    if notes.is_empty:
        return Said(known, lines.NOTHING_AT_ALL)
    facts = [f"{_count(len(notes.of_course(each)), 'hole')} {of_course(each)}" for each in notes.courses]
    if notes.words:
        facts.append(f"{_count(len(notes.words), 'word')} of yours")
    facts += usual_facts(notes.usual)
    out = [club.name for club in desk.whole_bag.clubs if club.id in known.day.out]
    if out:
        facts.append(f"{_count(len(out), 'club')} out today")
    holes = [readable(desk, known, note) for note in notes.holes]
    whole = [read_back(note, book)[1] or f"{note.title}." for note in holes]
    whole += [lines.NOTES_RULE] if desk.mode is Mode.COMPETITION else []
    whole += [f'"{word}" means {meaning}.' for word, meaning in notes.words.items()]
    whole += [f"Usual: {', '.join(usual_facts(notes.usual))}."] if usual_facts(notes.usual) else []
    whole += [f"Out today: {', '.join(out)}."] if out else []
    spoken = in_a_breath("I remember", facts)
    return Said(known.changed(spoken=spoken), spoken, "\n".join([spoken, *whole, *notes.problems]))


def _forget(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    """Nothing is erased before it is agreed to: it cannot be undone."""
    if told.wish == "forget_all":
        what = "everything I remember about you"
    elif told.wish == "forget_word":
        what = f"the word {told.taught}"
    elif told.wish == "forget_course":
        course = book.notes.course_called(told.course) if told.course else course_of(book, known)
        if not book.notes.of_course(course):
            return Said(known, lines.NOTHING_TO_FORGET)
        told = told.model_copy(update={"course": course})
        what = f"{_count(len(book.notes.of_course(course)), 'hole')} {of_course(course)}"
    else:
        note = _where(book, known, told)
        if note is None or book.notes.hole(note.course, note.number) is None:
            return Said(known, lines.NOTHING_TO_FORGET)
        told = told.model_copy(update={"hole": note.number, "course": note.course})
        what = f"the note of {hole_said(note)}"
    return asking(known, lines.FORGET.format(what=what), forget=told)


def _mean(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    return teach(book, known, told.name or "", told.rest)


def _call_shot(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    if known.plan is None:
        return Said(known, lines.NO_SHOT)
    meaning = meaning_of_shot(known.other or known.plan.chosen, desk.bag)
    return teach(book, known, told.name or "", meaning)


def teach(book: Notebook, known: Known, name: str, meaning: str, *, sure: bool = False) -> Said:
    """Keep a word of the player's own, or ask when the trade has it already.

    Raises:
        CaddieError: why it is no word to be taught.
    """
    try:
        word, meaning = teachable(name, meaning, book.notes.words, sure=sure)
    except TradeWordError as error:
        return asking(known, str(error), teach=(name, meaning))
    spoken = lines.TAUGHT.format(word=word, meaning=meaning)
    spoken = f"{spoken[:1].upper()}{spoken[1:]}"
    return changed(known, (book.keep_word(word, meaning),), spoken)


def _usual_green(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    green = read(f"the greens are {told.rest or told.name}", desk.bag.player).situation.green
    parts = {"stimp_ft": green.stimp_ft, "firmness": green.firmness}
    new = {key: value for key, value in parts.items() if value is not None}
    if not new:
        return Said(known, lines.NOTE_NOT_FOLLOWED)
    changes = tuple(book.keep_usual(key, value) for key, value in new.items())
    what = " and ".join(
        usual_facts(book.notes.usual.model_copy(update={"unit": None, "brief": None, "rate": None}))
    )
    return changed(known, changes, _set(what))


def _set(what: str) -> str:
    line = lines.SETTING.format(what=what)
    return f"{line[:1].upper()}{line[1:]}"


def _usual(key: str, value: object, what: str) -> "Wish":
    def keep(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
        change = book.keep_usual(key, value)
        after = known.on_the_day(unit=Unit(str(value))) if key == "unit" else known
        return changed(after, (change,), _set(what))

    return keep


def _rate(step: int) -> "Wish":
    def keep(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
        rate = min(max((book.notes.usual.rate or FIRST_RATE) + step, 80), 300)
        what = f"{spoken_number(rate)} words a minute"
        return changed(known, (book.keep_usual("rate", rate),), _set(what))

    return keep


def _round_over(desk: Desk, book: Notebook, known: Known, told: NoteSaid) -> Said:
    after = known.afresh().on_the_day(out=(), hole=None, before_round=())
    return Said(after, lines.ROUND_OVER, step=True)


Wish = Callable[[Desk, Notebook, Known, NoteSaid], Said]

WISHES: dict[str, Wish] = {
    "remember": _remember,
    CORRECT_NOTE: _remember,
    "name_hole": _name_hole,
    "play_course": _play_course,
    "new_course": _play_course,
    "show_hole": _show_hole,
    "show_misses": _show_misses,
    "show_all": _show_all,
    "forget_hole": _forget,
    "forget_word": _forget,
    "forget_course": _forget,
    "forget_all": _forget,
    "mean": _mean,
    "call_shot": _call_shot,
    "usual_green": _usual_green,
    "usual_yards": _usual("unit", "yards", "yards"),
    "usual_metres": _usual("unit", "metres", "metres"),
    "usual_brief": _usual("brief", True, "just the club"),
    "usual_full": _usual("brief", False, "everything"),
    "slower": _rate(-RATE_STEP),
    "faster": _rate(RATE_STEP),
    "round_over": _round_over,
}
"""What answers each wish of the grammar."""
