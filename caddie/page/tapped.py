"""A conversation that can also be tapped: a fact set, another shot picked, a result told, without a word read.

What a tap says is exact, so nothing is read: it goes where the words that were read would go.
"""

from collections import deque

from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.plan.option import Option
from caddie.reply.spoken import sentences
from caddie.situation import Result, Situation
from caddie.talk.about import adopted
from caddie.talk.competition import noted
from caddie.talk.conversation import Conversation
from caddie.talk.planning import planned
from caddie.talk.played import told_as
from caddie.talk.state import Desk, Handler, Known, Said, Turn
from caddie.words import Intent, Understanding


class TappedConversation(Conversation):
    """The conversation of the terminal, with taps beside the words."""

    _past: "deque[Known]"

    def set_facts(self, situation: Situation, shown: str) -> Turn:
        """Take the situation for what is faced, and advise on it anew; ``shown`` is what was tapped."""
        before = self.known

        def handle(desk: Desk, known: Known, heard: Understanding) -> Said:
            kept: Known = known.afresh() if known.played else known
            kept = kept.changed(situation=situation, other=None, supposed=None, verdict="", question=None)
            if desk.mode is Mode.COMPETITION:
                return noted(desk, kept, heard)
            return planned(desk, kept, heard, before=before.situation)

        return self._tap(shown, Intent.CORRECT, handle)

    def pick(self, option: Option, shown: str) -> Turn:
        """Play another of the plan's options."""

        def handle(desk: Desk, known: Known, heard: Understanding) -> Said:
            return adopted(desk, known.changed(other=option, supposed=None), heard)

        return self._tap(shown, Intent.WHAT_IF, handle)

    def tell(self, result: Result, shown: str) -> Turn:
        """Write down what became of the shot."""
        return self._tap(shown, Intent.RESULT, told_as(result))

    def _tap(self, shown: str, intent: Intent, handle: Handler) -> Turn:
        before = self.known
        try:
            said = handle(self._desk, before, Understanding(heard=shown, intent=intent))
        except CaddieError as error:
            said = Said(before, sentences([str(error)]))
        self.known = said.known
        if said.step:
            self._past.append(before)
        asked = self.known.question
        return Turn(
            heard=shown,
            intent=intent.value,
            mode=self.mode,
            spoken=said.spoken,
            written=said.written or said.spoken,
            question=asked.text if asked and asked.text in said.spoken else None,
            advice=said.advice,
            situation=self.known.situation,
            logged=said.logged,
        )
