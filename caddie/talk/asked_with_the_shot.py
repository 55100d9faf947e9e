"""What a sentence asks beside the shot it tells, and the shot as it is after a rule that was asked for with it."""

from caddie.bag import Bag
from caddie.words import Intent, Understanding, understand_turn
from caddie.words.rules import RuleOfGolf, after_relief

SHOT = "shot"
"""What is asked by "what do I play?": the advice itself answers it."""


def asked_beside(heard: Understanding, bag: Bag) -> tuple[Understanding, ...]:
    """The questions and laments beside the shot."""
    parts = understand_turn(heard.heard, unit=bag.player.distances_in, pace_m=bag.player.pace_m)
    return tuple(part for part in parts if part.intent is Intent.OUT_OF_SCOPE and part.asks)


def played_after(rule: RuleOfGolf, heard: Understanding, bag: Bag) -> Understanding | None:
    """ "Do I get relief, and what do I play?": what was heard as it is after that rule; None where no shot is asked."""
    shot = heard.intent in (Intent.SITUATION, Intent.PUTT)
    if not shot or not any(SHOT in part.asks for part in asked_beside(heard, bag)):
        return None
    situation = after_relief(heard.situation) if rule.dropped else heard.situation
    return heard.model_copy(update={"situation": situation})
