"""A putt that is given: it counts as one stroke, and no ball was holed."""

from dataclasses import replace

from caddie.situation import Lie, Result
from caddie.talk import lines
from caddie.talk.played import result, struck_from
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding


def given_there(known: Known, text: str) -> bool:
    """Whether there is a putt to be given: the one in play, or the one that the last shot left."""
    if known.hole_over:
        return False
    return struck_from(known).lie is Lie.GREEN and (known.played or known.plan is not None)


def given(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "That's a gimme, picked it up": written down as one stroke, behind the shot that left it where one did."""
    told = {"intent": Intent.RESULT, "result": known.result or Result(), "down_in": 1, "corrected": ()}
    if known.played:
        told |= {"down_in": 2, "corrected": ("result",)}
    said = result(desk, known, heard.model_copy(update=told))
    if not known.played:
        rest = said.spoken.removeprefix(_DOWN_IN_ONE)
        return replace(said, spoken=f"{lines.PUTT_GIVEN}{rest}", brief=lines.PUTT_GIVEN)
    return replace(
        said,
        spoken=f"{lines.PUTT_GIVEN} {said.spoken}",
        brief=f"{lines.PUTT_GIVEN} {said.brief or ''}".strip(),
    )


_DOWN_IN_ONE = "Down in one."
