"""Taps in the talk: a fact set, another shot picked, a result told, each a turn without a word read."""

from caddie.log.shot import Mode
from caddie.plan.option import Option
from caddie.situation import Result, Situation
from caddie.talk.about import adopted
from caddie.talk.competition import noted
from caddie.talk.conversation import Conversation
from caddie.talk.planning import planned
from caddie.talk.played import told_as
from caddie.talk.state import Desk, Known, Said, Turn
from caddie.words import Intent, Understanding


def set_facts(talk: Conversation, situation: Situation, shown: str) -> Turn:
    """Take the situation for what is faced, and advise on it anew; ``shown`` is what was tapped."""

    def handle(desk: Desk, known: Known, heard: Understanding) -> Said:
        kept: Known = known.afresh() if known.played else known
        kept = kept.changed(situation=situation, other=None, supposed=None, verdict="", question=None)
        if desk.mode is Mode.COMPETITION:
            return noted(desk, kept, heard)
        return planned(desk, kept, heard, before=known.situation)

    return talk.tap(shown, Intent.CORRECT, handle)


def pick(talk: Conversation, option: Option, shown: str) -> Turn:
    """Play another of the plan's options."""

    def handle(desk: Desk, known: Known, heard: Understanding) -> Said:
        return adopted(desk, known.changed(other=option, supposed=None), heard)

    return talk.tap(shown, Intent.WHAT_IF, handle)


def tell(talk: Conversation, result: Result, shown: str) -> Turn:
    """Write down what became of the shot."""
    return talk.tap(shown, Intent.RESULT, told_as(result))
