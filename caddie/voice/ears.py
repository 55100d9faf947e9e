"""What every recogniser speaks: blocks of sound in, partial and final words out."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol, runtime_checkable

from caddie.voice.sound import Samples

SHORTEST_S = 0.15
"""Less sound than this holds no word [s]."""
SILENCE_AFTER_PAUSE_S = 0.75
"""Words read early, at a pause, stand when no more than this has followed [s]."""


@dataclass(frozen=True)
class HeardWord:
    """One recognised word and where in the utterance it was said."""

    text: str
    """The word, lower case."""
    start_s: float
    """Its start after the first sample of the utterance [s]."""
    end_s: float
    """Its end [s]."""
    confidence: float
    """The engine's own figure between 0 and 1; compare it only within one engine."""


@dataclass(frozen=True)
class Partial:
    """What has been understood so far; later words may change it."""

    text: str
    """Lower-case words."""


@dataclass(frozen=True)
class Heard:
    """The end of an utterance: what was said, and whether it is worth acting on."""

    text: str
    """Lower-case words, empty if nothing was understood."""
    words: tuple[HeardWord, ...] = field(default=())
    """The words with times and confidences."""
    confidence: float = 0.0
    """How sure the recogniser is of the utterance as a whole, 0 to 1."""
    accepted: bool = False
    """Whether it is talk that the recogniser was trained for."""
    reason: str | None = None
    """Why it was not accepted: "silence", "noise", "off the topic" or "unsure"."""
    margin: float | None = None
    """By how much it passed what talk on the topic must pass, negative when it failed [nat]; None where an engine has
    no such figure."""
    rivals: tuple[str, ...] = ()
    """What may have been said instead, hardly less likely."""


@runtime_checkable
class Recogniser(Protocol):
    """Ears: feed blocks while the player speaks, then finish."""

    def feed(self, block: Samples) -> Partial | None:
        """Take mono int16 samples at 16 kHz, any number; a Partial when the words so far have changed."""

    def expect(self, answers: Sequence[str]) -> None:
        """What would answer the question just asked, until told otherwise; nothing when none was asked."""

    def expect_end(self) -> None:
        """The player has paused and may have finished: what takes long may begin."""

    def so_far(self) -> str | None:
        """The words up to the pause last told by `expect_end`; None as long as they are not known."""

    def finish(self) -> Heard:
        """End the utterance and be ready for the next one."""

    def reset(self) -> None:
        """Forget what was fed since the last `finish`."""
