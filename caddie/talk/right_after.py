"""What is said right after the swing: where the ball ended, in as few words as there are: "over the back", "stiff"."""

from caddie.bag import Player
from caddie.situation import IN_SAND, Finish, Result
from caddie.talk.state import Known
from caddie.words import Intent, Understanding, understand
from caddie.words.gist import is_question
from caddie.words.sayings import bare

_MAY_BE_A_RESULT = (Intent.OUT_OF_SCOPE, Intent.SITUATION, Intent.CORRECT, Intent.SHORTER)
_ELSE = frozenset({"went_aside", "shorter", "off_green"})
"""What "short", "long" and "off the green" say before the swing."""
_AGREES = frozenset({"right", "right then", "all right"})
_ENDED = "it finished"


def right_after_the_swing(
    text: str, parts: tuple[Understanding, ...], known: Known, player: Player
) -> tuple[Understanding, ...]:
    """The parts of a turn with what the first of them, or the whole, tells of where the ball ended."""
    if known.plan is None or known.played or not (known.swung or known.day.several):
        return parts
    if not all(_may_tell_it(part, known) for part in parts[:1]):
        return parts
    if all(_may_tell_it(part, known) for part in parts):
        whole = ended_as_told(text, player)
        if whole is not None:
            return (whole,)
    first = ended_as_told(parts[0].heard, player)
    return parts if first is None else (first, *parts[1:])


def _may_tell_it(part: Understanding, known: Known) -> bool:
    """Whether a part may tell where the ball ended; facts of a place do only right after the swing."""
    if part.intent not in _MAY_BE_A_RESULT or part.situation.pin_m is not None or not {*part.asks} <= _ELSE:
        return False
    if is_question(part.heard) or bare(part.heard).lower() in _AGREES:
        return False
    return known.swung or part.intent is Intent.OUT_OF_SCOPE


def ended_as_told(text: str, player: Player) -> Understanding | None:
    """The words read as the end of "it finished ..."; None where they tell no result so."""
    for words in dict.fromkeys((text, bare(text))):
        told = understand(f"{_ENDED} {words}", unit=player.distances_in, pace_m=player.pace_m)
        lie = told.situation.lie
        if told.intent is Intent.RESULT:
            return told.model_copy(update={"heard": text})
        if told.intent is Intent.SITUATION and lie in IN_SAND:
            in_sand = Result(finish=Finish.BUNKER)
            return Understanding(heard=text, intent=Intent.RESULT, result=in_sand)
    return None
