"""What the ears are told of the talk, so that they hear it better and answer it sooner."""

from collections.abc import Callable, Sequence
from typing import Protocol


class Topic(Protocol):
    """A talk that follows what is heard; asked while the player speaks, and in the pauses."""

    def expected(self) -> Sequence[str]:
        """What would answer the question that is open; nothing when none is."""

    def said_enough(self, words: str) -> bool:
        """Whether nothing more need come after these words."""

    def rehearse(self, words: str, opens: Callable[[str], None]) -> str:
        """What would be said to these words; nothing of it counts before they are heard to the end. Empty if that
        cannot be told ahead. ``opens`` is told the first sentence where it is certain before the rest."""

    def certain(self, words: str, rivals: Sequence[str]) -> bool:
        """Whether these words are answered as they are, though others may have been said instead."""
