"""A stroke told so that it may never have been made: it is asked about once, and nothing is written down before."""

from dataclasses import replace

from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.played import result
from caddie.talk.question import HIT
from caddie.talk.state import Desk, Known, Question, Said
from caddie.words import Intent, Understanding
from caddie.words.told_as_made import only_spoken_of

_HIT_DONE = "hit_done"


def result_told(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A result written down; where a shot is in play and the words only speak of a stroke it is asked about first."""
    if in_play(known) is None or known.swung or not only_spoken_of(heard.heard):
        return result(desk, known, heard)
    question = Question(field=HIT, text=lines.WAS_IT_HIT)
    return Said(known.changed(question=question, perhaps=heard), lines.WAS_IT_HIT)


def hit_after_all(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to whether the ball was hit: what was told of it then is written down, or the shot still waits."""
    asked, told = known.question, known.perhaps
    if asked is None or asked.field != HIT or told is None:
        return None
    known = known.changed(question=None, perhaps=None)
    if heard.intent is Intent.YES or _HIT_DONE in heard.asks:
        return replace(result(desk, known, told), intent=Intent.RESULT.value)
    return Said(known, lines.GO_ON) if heard.intent is Intent.NO else None
