"""Answers to what was just asked: the question says what kind of thing it is, so little needs to be said."""

import re
from collections.abc import Callable, Collection, Mapping

from caddie.range.told import Command
from caddie.units import Unit
from caddie.words.asked_for import Answer
from caddie.words.facts import Intent
from caddie.words.intents import whole_intent
from caddie.words.odd_numbers import odd_number
from caddie.words.replies import Expecting, Reply
from caddie.words.spelling import LONGEST_TEXT
from caddie.words.told_bag import read_carries, read_choice, read_clubs, read_handicap
from caddie.words.told_result import read_ball, read_left, read_made, read_stopped, read_strokes_taken

_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d(?!\d))")
_SESSION = frozenset({Command.SCRATCH, Command.PAUSE, Command.GO_ON, Command.FINISH, Command.REPEAT})
_DRILL = frozenset({Command.FINISH})
_FORM = frozenset({Command.BACK})
_COMMANDS: Mapping[Expecting, frozenset[Command]] = {
    Expecting.CARRY: _SESSION,
    Expecting.STROKES: _DRILL,
    Expecting.LEFT: _DRILL,
    Expecting.HOLED: _DRILL,
    Expecting.THROUGH: _DRILL,
    Expecting.STOPPED: _DRILL,
    Expecting.CLUBS: _FORM,
    Expecting.CARRIES: _FORM,
    Expecting.HANDICAP: _FORM,
    Expecting.CHOICE: _FORM,
}
"""Words to the session that go with a question; a shot's "stop" is no answer to yes or no."""
_READERS: Mapping[Expecting, Callable[[Answer], Reply]] = {
    Expecting.CARRY: read_ball,
    Expecting.STROKES: read_strokes_taken,
    Expecting.LEFT: read_left,
    Expecting.HOLED: lambda answer: read_made(answer, "made"),
    Expecting.THROUGH: lambda answer: read_made(answer, "through"),
    Expecting.STOPPED: read_stopped,
    Expecting.CLUBS: read_clubs,
    Expecting.CARRIES: read_carries,
    Expecting.HANDICAP: read_handicap,
    Expecting.YES_NO: lambda answer: Reply(heard=answer.text, yes=read_yes(answer)),
}


def read_reply(
    text: str,
    expecting: Expecting,
    *,
    unit: Unit,
    pace_m: float,
    among: Mapping[str, Collection[str]] | Collection[str] = (),
) -> Reply:
    """The answer to what was asked; see :func:`caddie.words.understand`."""
    heard = text.strip()
    if len(heard) > LONGEST_TEXT:
        return Reply(
            heard=heard[:LONGEST_TEXT],
            problem=f"{len(heard)} characters are too many (up to {LONGEST_TEXT}): say it shorter",
        )
    spelled = _DECIMAL_COMMA.sub(".", heard)
    odd = odd_number(spelled)
    if odd is not None:
        return Reply(
            heard=heard, problem=f'"{odd}" is no number that can be read: write it plainly, such as 70'
        )
    answer = Answer.of(spelled, unit, pace_m)
    command = answer.command()
    if command in _COMMANDS.get(expecting, frozenset()):
        return Reply(heard=heard, command=command)
    if expecting is Expecting.CHOICE:
        return read_choice(answer, among if isinstance(among, Mapping) else dict.fromkeys(among, ()))
    return _READERS[expecting](answer)


def read_yes(answer: Answer) -> bool | None:
    """Yes, no, or neither."""
    said = answer.value("answer")
    if said is not None:
        return said == "yes"
    intent = whole_intent(answer.scene)
    return intent is Intent.YES if intent in (Intent.YES, Intent.NO) else None
