"""A distance that nobody tells: asked for twice, and then guessed aloud, so that there is a shot to talk about."""

from dataclasses import replace

from caddie.plan.assume import guessed_m
from caddie.situation import Lie, Situation
from caddie.talk import lines
from caddie.talk.planning import planned
from caddie.talk.question import HOW_FAR
from caddie.talk.state import Desk, Said
from caddie.words import Intent, Understanding

MOST_ASKED = 2


def guessed_at_last(desk: Desk, said: Said) -> Said:
    """The reply; in place of one that asks how far once more, advice for a distance that is said to be a guess."""
    known, question = said.known, said.known.question
    if question is None or question.field != HOW_FAR or not said.spoken.endswith(question.text):
        return said
    if known.asked.count(HOW_FAR) < MOST_ASKED or known.situation == Situation():
        return replace(said, known=known.changed(asked=(*known.asked, HOW_FAR)))
    situation = known.situation
    if situation.lip_m is not None and situation.lie is None:
        situation = situation.model_copy(update={"lie": Lie.BUNKER})
    length_m = guessed_m(situation)
    after = known.changed(
        situation=situation.model_copy(update={"pin_m": length_m}),
        asked=tuple(each for each in known.asked if each != HOW_FAR),
        question=None,
    )
    return planned(desk, after, Understanding(heard="", intent=Intent.SITUATION), lead=lines.GUESSED)
