"""Trouble of the shot that a question names: it is asked whether the ball finds it, and nothing is supposed by that."""

from caddie.situation import Lie, Situation
from caddie.talk.asked import in_play
from caddie.talk.state import Known
from caddie.words import Intent, Understanding
from caddie.words.gist import is_question, supposes

CAUGHT_ASKED = "will_be_caught"
_MAY_ASK = (Intent.WHAT_IF, Intent.SITUATION, Intent.OUT_OF_SCOPE)


def trouble_asked(heard: Understanding, known: Known) -> Understanding:
    """ "Can it get to that bunker?", where a bunker was told of: no other bunker, and no ball in it."""
    plan, now = in_play(known), heard.situation
    if plan is None or heard.asks or heard.intent not in _MAY_ASK or heard.result is not None or heard.gone:
        return heard
    if not is_question(heard.heard) or supposes(heard.heard) or heard.club or heard.swing or heard.family:
        return heard
    kinds = {each.kind for each in plan.situation.hazards}
    named = [each.kind for each in now.hazards if each.side is None and each.carry_m is None]
    in_it = now.lie is Lie.BUNKER and not named
    if len(named) != len(now.hazards) or not (named or in_it) or not kinds.issuperset(named):
        return heard
    if now.model_copy(update={"hazards": (), "lie": None}) != Situation() or (in_it and not kinds):
        return heard
    asked = {"intent": Intent.OUT_OF_SCOPE, "asks": (CAUGHT_ASKED,), "situation": Situation()}
    return heard.model_copy(update=asked)
