"""What is told of another day, of how it always goes or of what such a stroke does is no shot played now.

"Last time I thinned it"; "the last two of these I fatted"; "it's only the thinned one that drowns".
"""

import re
from collections.abc import Sequence
from functools import cache, reduce

from caddie.situation import Situation, Strike
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import WaysByWord, by_first_word, is_question, own_words
from caddie.words.grammar import grammar
from caddie.words.numbers import is_number
from caddie.words.sayings import compared
from caddie.words.talk_files import turn_data
from caddie.words.then_told import Reader
from caddie.words.told_as_made import (
    read_evidence,
    stroke_words,
    tells_as_made,
    tells_of_such_a_stroke,
)

HABIT = "habit"
IF_MISSED = "if_missed"
FEARED = "nervous"
"""What such a memory comes to when nothing else is said: what went wrong is feared to come again."""
_PARTS = re.compile(r"(?<=[.;:!?…,])\s+|\s+(?=(?:but|so(?! far))\s)")
_LEAST = 2
"""Words that a memory has beside those that say when; with fewer they say it of what stands beside them."""
_SELF = frozenset({"i", "we", "me", "my"})


def told_of_now(text: str, understood: Reader) -> str:
    """The words of a turn without what is remembered in it; all of them where nothing is."""
    if not _tells_of_other_strokes(text):
        return text
    parts = _with_their_time(_PARTS.split(text), understood)
    remembered_ones = _memories(parts, understood)
    kept = [part for part in parts if part not in remembered_ones]
    return text if not remembered_ones else " ".join(kept).strip(" ,;")


def habits_in(text: str, understood: Reader, *, alone: bool = False) -> tuple[Understanding, ...]:
    """What is told of how it always goes, as the worry that it is; how earlier ones went is one ``alone``."""
    if not _tells_of_other_strokes(text):
        return ()
    parts = _with_their_time(_PARTS.split(text), understood)
    read = [understood(part.strip(" ,;")) for part in _memories(parts, understood)]
    read = [_as_a_worry(each) for each in read] if alone else read
    return tuple(each for each in read if each.asks[:1] == (HABIT,))


def _as_a_worry(heard: Understanding) -> Understanding:
    """ "The last two of these I thinned": how several were struck is feared as a habit is."""
    if (
        heard.result is None
        or heard.result.strike in (None, Strike.CLEAN)
        or not _of_earlier_ones(heard.heard)
    ):
        return heard
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=(HABIT,))


def _memories(parts: list[str], understood: Reader) -> list[str]:
    """Clauses of another time, and what goes on with them: "the last two I duffed, one of them into the sand"."""
    found: list[str] = []
    before = ""
    listed = _several_strikes(parts)
    for part in parts:
        goes_on = bool(before) and not before.endswith(_ENDS) and _goes_on_with(before, part, understood)
        before = part if goes_on or part in listed or _is_memory(part, understood) else ""
        if before:
            found.append(part)
    return found


_ONE_BALL = 2
"""Strikes named one after another that may still be of one ball, the second in place of the first."""


def _several_strikes(parts: list[str]) -> list[str]:
    """ "Fat, fat, thin": clauses that name nothing but a strike, where there are more than one ball may have had."""
    named = [part for part in parts if _names_strikes_alone(_beside_when(part))]
    return named if len(named) > _ONE_BALL else []


def _names_strikes_alone(words: Sequence[str]) -> bool:
    strikes = stroke_words("named") | stroke_words("like") | stroke_words("past")
    left = [word for word in words if word not in stroke_words("lists_strikes")]
    return bool(left) and all(word in strikes for word in left)


_COMES_TO = frozenset({"leave", "end", "finish", "land", "wind"})
"""What a player does with a ball, told as it always goes."""
_ENDS = (".", "!", "?", ";", "…")
_ONE_OF_THEM = frozenset({"one", "both", "another", "two", "each", "some", "all"})
_OF_NOW = frozenset({"i", "it", "this", "that", "now", "so", "is", "are", "we", "ball"})


_FEW = 3
"""Words of a clause that has no verb of its own."""


def _goes_on_with(before: str, part: str, understood: Reader) -> bool:
    """Whether a clause goes on with what a memory before it tells; a few words go on with what such a stroke does."""
    words = compared(part)
    if not words:
        return False
    if _names_strikes_alone(words):
        return True
    if tells_of_such_a_stroke(before) and len(words) <= _FEW and _OF_NOW.isdisjoint(words):
        return True
    if is_question(part):
        return False
    one_of_them = not _ONE_OF_THEM.isdisjoint(words[:2])
    if one_of_them or not _OF_NOW.isdisjoint(words) or any(map(is_number, words)):
        return one_of_them
    return understood(part.strip(" ,;")).intent is Intent.RESULT


def _tells_of_other_strokes(text: str) -> bool:
    parts = _PARTS.split(text)
    return _says_when(text) or any(map(tells_of_such_a_stroke, parts)) or bool(_several_strikes(parts))


def _of_earlier_ones(text: str) -> bool:
    words = compared(text)
    return len(_without_earlier_ones(words)) < len(words)


def remembered(text: str, understood: Reader) -> Understanding:
    """A turn that tells nothing but a memory."""
    habits = habits_in(text, understood, alone=True)
    if habits:
        return habits[0]
    if tells_of_such_a_stroke(text):
        return Understanding(heard=text, intent=Intent.OUT_OF_SCOPE, asks=(IF_MISSED,))
    read = understood(text)
    # "It's gone half past four already" tells of no stroke, and fears none.
    struck = not stroke_words("mishits").isdisjoint(compared(text))
    tells_golf = read.result is not None or read.situation != Situation() or read.asks or struck
    return Understanding(heard=text, intent=Intent.OUT_OF_SCOPE, asks=(FEARED,) if tells_golf else ())


def _with_their_time(parts: list[str], understood: Reader) -> list[str]:
    """ "Last week, I thinned it" is one thing told: the time belongs to what follows it."""
    joined: list[str] = []
    for part in parts:
        if joined and _only_says_when(joined[-1], part, understood):
            joined[-1] = f"{joined[-1]} {part}"
        else:
            joined.append(part)
    return joined


def _only_says_when(before: str, part: str, understood: Reader) -> bool:
    """Whether a clause tells nothing by itself, but the time of the one behind it; a length there is of now."""
    beside = _beside_when(before)
    if not _of_earlier_ones(before):
        return _says_when(before) and len(beside) < _LEAST
    if tells_as_made(before) or any(map(is_number, compared(part))) or _ends_in_a_strike(beside):
        return False
    return len(beside) <= _FEW and understood(before).intent is not Intent.RESULT


def _ends_in_a_strike(words: list[str]) -> bool:
    """ "My last three from here: fat"."""
    return _names_strikes_alone(words[-1:])


def _is_memory(part: str, understood: Reader) -> bool:
    """Whether a clause tells what became of a ball some other time, or what becomes of such a ball."""
    if tells_of_such_a_stroke(part):
        return True
    if not _says_when(part) or is_question(part):
        return False
    beside = _beside_when(part)
    earlier = _of_earlier_ones(part)
    if earlier and _ends_in_a_strike(beside):
        return True
    if earlier and tells_as_made(part) and understood(" ".join(beside)).situation.pin_m is None:
        return True
    if not earlier and any(each in " ".join(compared(part)) for each in turn_data()["this_time"]):
        return False
    if any(understood(words).intent is Intent.RESULT for words in (part, " ".join(beside))):
        return True
    if not _COMES_TO.isdisjoint(beside) and _goes_in(beside) and not any(map(is_number, beside)):
        # "I usually leave these in the sand", "every time I end up in it": no ball that lies there now.
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
    words = f" {' '.join(_without_earlier_ones(compared(text)))} "
    data = turn_data()
    for when in sorted((*data["another_time"], *data["habit"]), key=len, reverse=True):
        words = words.replace(f" {when} ", " ")
    return words.replace(" i do not ", " i did not ").replace(" i do ", " i ").split()


def _without_earlier_ones(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words without those that name earlier strokes: "my last two of these"."""
    found = next(((at, end) for at in range(len(words)) if (end := _earlier_ones_at(words, at)) > at), None)
    return words if found is None else (*words[: found[0]], *_without_earlier_ones(words[found[1] :]))


def _earlier_ones_at(words: tuple[str, ...], at: int) -> int:
    """Where the name of earlier strokes ends that begins at a place; that place where none does."""
    likened = read_evidence()["earlier_ones"]["likened"].split()
    if not set(likened).isdisjoint(words[max(at - 2, 0) : at]):
        return at
    ways = _earlier_ones().get(words[at], ())
    last = max((max(own) + 1 for _, way in ways for own in own_words(way, words, at) if own), default=at)
    behind = words[last + 1 : last + 2] if words[last : last + 1] == ("of",) else words[last : last + 1]
    counted = (
        words[last - 1 : last] != () and is_number(words[last - 1]) and not _no_count().isdisjoint(behind)
    )
    return at if counted or (behind and behind in grammar().units) else last


@cache
def _no_count() -> frozenset[str]:
    return frozenset(read_evidence()["earlier_ones"]["no_count_before"].split())


def _with_part(written: str, part: tuple[str, str]) -> str:
    name, ways = part
    return written.replace(f"{{{name}}}", ways)


@cache
def _earlier_ones() -> WaysByWord[None]:
    """The ways to name earlier strokes, by the words they may begin with."""
    data = read_evidence()["earlier_ones"]
    ways = ((None, reduce(_with_part, data["parts"].items(), each)) for each in data["say"])
    return by_first_word("earlier", ways)
