"""Where the ball came to rest, told before any shot was: how it lies for the shot to come."""

from caddie.bag import Player
from caddie.situation import Finish, Result
from caddie.talk.state import Known
from caddie.words import Intent, Understanding, understand


def lies_there(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "It's come to rest in light rough" before any shot was told: how the ball lies, and no stroke to write down."""
    told = heard.result
    if known.plan is not None or known.played or heard.down_in is not None or told is None:
        return heard
    if told.finish not in _MAY_LIE or told != Result(finish=told.finish):
        return heard
    words = heard.heard.split()
    at = next((at for at, word in enumerate(words) if word.lower() in _IN), None)
    if at is None:
        return heard
    lying = " ".join(("it is lying", *words[at:]))
    read = understand(lying, unit=player.distances_in, pace_m=player.pace_m)
    if read.intent is not Intent.SITUATION or read.situation.lie is None:
        return heard
    return read.model_copy(update={"heard": heard.heard})


_IN = frozenset({"in", "on", "into", "onto"})
_MAY_LIE = (Finish.BUNKER, Finish.ROUGH, Finish.FRINGE)
