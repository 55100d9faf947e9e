"""What is told of another day, or of how it always goes, is no shot played now: "last time I thinned it"."""

import re

from caddie.situation import Situation
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.sayings import compared, turn_data
from caddie.words.then_told import Reader

HABIT = "habit"
FEARED = "nervous"
"""What such a memory comes to when nothing else is said: what went wrong is feared to come again."""
_PARTS = re.compile(r"(?<=[.;:!?…,])\s+|\s+(?=(?:but|so)\s)")
_LEAST = 2
"""Words that a memory has beside those that say when; with fewer they say it of what stands beside them."""
_SELF = frozenset({"i", "we", "me", "my"})


def told_of_now(text: str, understood: Reader) -> str:
    """The words of a turn without what is remembered in it; all of them where nothing is."""
    if not _says_when(text):
        return text
    parts = _with_their_time(_PARTS.split(text))
    kept = [part for part in parts if not _is_memory(part, understood)]
    return text if len(kept) == len(parts) else " ".join(kept).strip(" ,;")


def habits_in(text: str, understood: Reader) -> tuple[Understanding, ...]:
    """What is told of how it always goes, as the worry that it is, beside what is told of now."""
    if not _says_when(text):
        return ()
    parts = _with_their_time(_PARTS.split(text))
    read = [understood(part.strip(" ,;")) for part in parts if _is_memory(part, understood)]
    return tuple(each for each in read if each.asks[:1] == (HABIT,))


def remembered(text: str, understood: Reader) -> Understanding:
    """A turn that tells nothing but a memory."""
    habits = habits_in(text, understood)
    if habits:
        return habits[0]
    return Understanding(heard=text, intent=Intent.OUT_OF_SCOPE, asks=(FEARED,))


def _with_their_time(parts: list[str]) -> list[str]:
    """ "Last week, I thinned it" is one thing told: the time belongs to what follows it."""
    joined: list[str] = []
    for part in parts:
        if joined and _says_when(joined[-1]) and len(_beside_when(joined[-1])) < _LEAST:
            joined[-1] = f"{joined[-1]} {part}"
        else:
            joined.append(part)
    return joined


def _is_memory(part: str, understood: Reader) -> bool:
    """Whether a clause tells what became of a ball some other time."""
    if not _says_when(part) or is_question(part):
        return False
    beside = _beside_when(part)
    if any(each in " ".join(compared(part)) for each in turn_data()["this_time"]):
        return False
    if any(understood(words).intent is Intent.RESULT for words in (part, " ".join(beside))):
        return True
    if "leave" in beside and _goes_in(beside):
        # "I usually leave these in the sand": no ball that lies there now.
        return True
    read = understood(" ".join(beside))
    return read.intent is Intent.OUT_OF_SCOPE and read.situation == Situation() and _goes_in(beside)


def _goes_in(words: list[str]) -> bool:
    """ "I always go in it": of the player, and where the ball ends."""
    told = set(words)
    return bool(told & _SELF) and bool(told & {"in", "short", "over", "long", "wet", "left", "right"})


def _says_when(text: str) -> bool:
    return len(_beside_when(text)) < len(compared(text))


def _beside_when(text: str) -> list[str]:
    """The words without those that say when, or how often; "I do blade it" says how often too."""
    words = f" {' '.join(compared(text))} "
    data = turn_data()
    for when in sorted((*data["another_time"], *data["habit"]), key=len, reverse=True):
        words = words.replace(f" {when} ", " ")
    return words.replace(" i do not ", " i did not ").replace(" i do ", " i ").split()
