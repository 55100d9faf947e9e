"""A conversation that is heard: what the ears are told of it, and what they hear made ready to be a turn."""

from collections.abc import Callable, Sequence

from caddie.errors import CaddieError
from caddie.talk.conversation import Conversation
from caddie.talk.said_enough import said_enough
from caddie.talk.which_number import Doubt, Doubts, doubted
from caddie.words import sentences
from caddie.words.endings import Endings
from caddie.words.kept import kept

ANSWERS = 2_000
"""Answers drawn for each question."""


class SpokenTalk:
    """What stands between ears and conversation, the same on the terminal and on the page."""

    def __init__(self, conversation: Conversation, endings: Endings) -> None:
        """Nothing has been heard yet.

        Args:
            conversation: what is talked in.
            endings: where something said may end.
        """
        self._conversation = conversation
        self._endings = endings
        self._doubts = Doubts()

    def taken(self, text: str, rivals: Sequence[str]) -> Doubt | str:
        """What an utterance is to be taken for, or the doubt that is to be asked about first.

        Args:
            text: what was heard.
            rivals: what may have been said instead.
        """
        return self._doubts.take(text, rivals)

    def certain(self, words: str, rivals: Sequence[str]) -> bool:
        """Whether these words are answered as they are, though others may have been said instead."""
        return self._doubts.open is not None or doubted(words, rivals) is None

    def expected(self) -> Sequence[str]:
        """What would answer the question that is open; nothing when none is."""
        if self._doubts.open is not None:
            return self._doubts.open.answers
        question = self._conversation.known.question
        return answers_about(question.field) if question else ()

    def said_enough(self, words: str) -> bool:
        """Whether nothing more need come after these words."""
        talk = self._conversation
        if self._doubts.open is not None:
            return True
        return said_enough(words, talk.known, talk.desk.bag.player, self._endings)

    def rehearse(self, words: str, opens: Callable[[str], None]) -> str:
        """What would be said to these words, if that can be tried before they are certain; the turn is then quick.

        ``opens`` is told with what it will begin, as soon as that is certain.
        """
        doubt = self._doubts.open
        said = doubt.settled(words) if doubt else words
        turn = self._conversation.rehearse(said, from_speech=True, opens=opens)
        return turn.spoken if turn else ""


def answers_about(field: str) -> list[str]:
    """Bare answers to a question about a field, as the grammar has them; none where it has no shape for them."""
    try:
        return kept(f"answers_{field}", lambda: sentences(ANSWERS, seed=0, kinds=(f"answer.{field}",)))
    except CaddieError:
        return []
