"""Free relief that the player takes: the shot is the one from the drop, which lies otherwise than the ball did."""

from caddie.situation import IN_SAND, Lie, Obstruction
from caddie.talk.planning import describe
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, understand
from caddie.words.rules import after_relief, is_relief_taken

_LIFTED_AWAY = (Obstruction.RAKE,)
"""What is moved instead of the ball."""


def shot_from_the_drop(desk: Desk, known: Known, text: str) -> Said | None:
    """The shot after the drop, whose lie is the usual one unless it is told; None where no relief is taken."""
    if not is_relief_taken(text):
        return None
    player = desk.bag.player
    heard = understand(text, unit=player.distances_in, pace_m=player.pace_m)
    before = known.situation
    off = heard.situation.obstruction or (None if known.played else before.obstruction)
    if off is None or off in _LIFTED_AWAY or heard.problem:
        return None
    now = after_relief(heard.situation)
    if heard.situation.lie is not Lie.BARE:
        # Of a path alone a bare lie is told; any other is what the ball was dropped on.
        now = now.model_copy(update={"lie": heard.situation.lie})
    dropped = heard.model_copy(update={"situation": now, "intent": Intent.SITUATION, "left_over": ()})
    there = after_relief(before).model_copy(update={"lie": Lie.BUNKER if before.lie in IN_SAND else None})
    return describe(desk, known.changed(situation=there), dropped)
