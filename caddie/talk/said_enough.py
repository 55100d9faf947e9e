"""Whether what a player has said so far is a whole thing to say, so that a short silence is its end."""

from typing import Any

from caddie.bag import Player
from caddie.situation import Situation
from caddie.talk.question import in_context
from caddie.talk.state import Known
from caddie.words import Intent, understand
from caddie.words.endings import Endings

_SHORT_ANSWER = 4
"""So many words that answer the open question are all there is to come."""
_WANT_A_QUESTION = (Intent.YES, Intent.NO)
"""What is mostly the beginning of more when nothing was asked: "no, it's thirty nine"."""


def said_enough(text: str, known: Known, player: Player, endings: Endings) -> bool:
    """Whether nothing more need come after these words.

    A situation is whole with its distance and one fact more, said now or before; anything else when it is understood.
    Neither may stop where the grammar's sentences go on.

    Args:
        text: the words so far, as they were heard.
        known: what the conversation knows.
        player: who speaks.
        endings: where something said may end.
    """
    heard = understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=True)
    if heard.problem:
        return False
    if known.question is not None and len(text.split()) <= _SHORT_ANSWER:
        return in_context(heard, known, player).intent is not Intent.OUT_OF_SCOPE
    if not endings.may_end(text):
        return False
    match heard.intent:
        case Intent.OUT_OF_SCOPE | Intent.GREETING:
            return False
        case Intent.SITUATION | Intent.PUTT:
            facts = {**_facts(known.situation), **_facts(heard.situation)}
            return "pin_m" in facts and len(facts) > 1
        case intent:
            return intent not in _WANT_A_QUESTION


def _facts(situation: Situation) -> dict[str, Any]:
    """What is known of it, by name."""
    return situation.model_dump(exclude_defaults=True)
