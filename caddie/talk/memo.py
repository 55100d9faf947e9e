"""What a turn about notes leaves for the next: the change it made, and what waits for an answer."""

from dataclasses import dataclass

from caddie.notes.models import HoleNote
from caddie.notes.sheet import Edit
from caddie.words.told_note import NoteSaid

OF_NOTES = "note"
"""Field of a question about what is remembered."""


@dataclass(frozen=True)
class Memo:
    """Empty where nothing was about notes."""

    changes: tuple[Edit, ...] = ()
    """What the last turn about notes changed, which undo takes back."""
    clash: HoleNote | None = None
    """What was told of a hole against its note, until it is settled."""
    teach: tuple[str, str] | None = None
    """A word and its meaning that wait for a yes."""
    forget: NoteSaid | None = None
    """What is to be erased once it is agreed to."""
    about: HoleNote | None = None
    """The note of the turn before, which a correction is of."""
    told: HoleNote | None = None
    """What was told of it in that turn, and nothing else."""
    taken: tuple[str, ...] = ()
    """What the shot in play took from notes."""
    beside: NoteSaid | None = None
    """What was said of the hole beside the shot in play that only notes have words for."""
    unread: str = ""
    """The last utterance, when it held words that nobody knew."""
