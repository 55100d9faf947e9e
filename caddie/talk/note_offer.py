"""After a rephrase the caddie offers to remember the word that it did not know."""

from dataclasses import replace

from caddie.errors import CaddieError
from caddie.notes.own_words import teachable
from caddie.notes.rephrased import rephrased, unknown_words
from caddie.reply.spoken import shortest
from caddie.talk import note_lines as lines
from caddie.talk.memo import OF_NOTES
from caddie.talk.state import Desk, Known, Question, Said


def offered(desk: Desk, before: Known, said: Said, text: str) -> Said:
    """The reply with the offer at its end, when what was said puts the words before in known ones.

    An offer is a question like any other: it is made only when nothing else is asked, and once a word.
    """
    book, memo = desk.notebook, said.known.memo
    # Who answers what was just asked does not put other words in place of those before.
    if book is None or before.question is not None:
        return said
    said = replace(
        said, known=said.known.changed(memo=replace(memo, unread=text if unknown_words(text) else ""))
    )
    found = rephrased(before.memo.unread, text) if before.memo.unread else None
    if found is None or said.advice is None or said.known.question is not None:
        return said
    try:
        word, meaning = teachable(*found, book.notes.words)
    except CaddieError:
        return said
    if word in before.day.offered:
        return said
    question = lines.OFFER.format(word=word, meaning=meaning)
    spoken = shortest([[said.spoken, question], [said.brief or "", question], [question]])
    asked = replace(said.known.memo, teach=(word, meaning))
    known = said.known.on_the_day(offered=before.day.offered | {word}).changed(
        question=Question(OF_NOTES, question), memo=asked
    )
    return replace(said, known=known, spoken=spoken, written=f"{said.written or said.spoken}\n{question}")
