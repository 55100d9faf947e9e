"""No two different sentences in a row get word for word the same answer: here alone it is seen to."""

from collections.abc import Iterator
from dataclasses import replace

from caddie.reply.phrases import small
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.state import Known, Said
from caddie.words import Intent
from caddie.words.gist import asks_in_part
from caddie.words.golf_talk import golf_word
from caddie.words.sayings import compared, sentences_of

# fmt: off
_MAY_BE_SAID_AGAIN = (
    Intent.REPEAT, Intent.SHORTER, Intent.GREETING, Intent.STOP, Intent.READY, Intent.UNDO, Intent.HELP,
    Intent.NEXT_HOLE, Intent.MODE_COMPETITION, Intent.MODE_PRACTICE, Intent.YES, Intent.NO, Intent.RESULT,
)
# fmt: on
"""What is answered so in the same words whenever it is said."""


LEAST_BY_ITSELF = 4
"""Words of a sentence that answers by itself."""


def not_word_for_word(said: Said, before: Known, heard: str) -> Said:
    """The reply; in place of one that was just given to other words, what of it is new, or in short that it stays."""
    last = before.answered
    given = last.spoken if last is not None else ""
    nothing_new = _core(said.spoken) == _core(given)
    if not (nothing_new or said.spoken == before.spoken):
        return said
    if said.logged or said.over or said.intent in _MAY_BE_SAID_AGAIN:
        return said
    if said.advice is not None:
        # The shot answers what is asked beside what was told of it.
        return _shot_stays(said, before) if said.known.short and not asks_in_part(heard) else said
    same_words = last is None or compared(heard) == compared(last.heard)
    question = said.known.question
    if not nothing_new or same_words or (question is not None and question.text in said.spoken):
        return said
    assert last is not None
    other = next((each for each in _other_ways(said, heard) if each != last.given), said.spoken)
    return replace(said, spoken=other, written=said.written or said.spoken, brief=None)


def _shot_stays(said: Said, before: Known) -> Said:
    """The advice in short: it stands, or what was told since leaves it as it is."""
    news = said.known.situation != before.situation
    line = lines.STANDS_WITH_THAT if news else lines.STANDS
    question = said.known.question
    asks = question.text if question is not None and question.text in said.spoken else ""
    spoken = sentences([line.format(shot=small(said.known.short)), asks])
    return replace(said, spoken=spoken, known=said.known.changed(spoken=spoken))


def _other_ways(said: Said, heard: str) -> Iterator[str]:
    """The same answer in other words, each for when the one before it was given last."""
    if said.intent == Intent.OUT_OF_SCOPE:
        word = golf_word(heard)
        yield lines.NOR_THAT.format(about=f" about the {word}" if word else "")
        return
    told = sentences_of(said.spoken)
    # What it costs, or the reason, stands behind the shot.
    least = told[-1:] if said.intent in (Intent.WHAT_IF, Intent.WHY) else told[:1]
    yield shortest(
        [[lines.AS_I_SAID.format(told=small(" ".join(each)))] for each in (told, told[1:] or told, least)]
    )


def _core(spoken: str) -> list[str]:
    """The sentences of an answer without a yes or no before them."""
    told = sentences_of(spoken)
    return told[1:] if len(told) > 1 and len(told[0].split()) < LEAST_BY_ITSELF else told
