"""What is told to be remembered, or asked of what is remembered: the relations of ``notes.toml`` of the grammar.

They are looked for in the plain words; what they leave is read as any other utterance.

>>> told = read_note("Remember: the fourth green falls left to right, twenty-eight deep")
>>> told.wish, told.hole, round(told.depth_m, 1), told.rest
('remember', 4, 25.6, 'green falls lefttoright')
>>> told = read_note("on the 4th, seventy to the flag, back")
>>> told.wish, told.hole, told.rest
(None, 4, 'seventy to the flag, back')
"""

from collections.abc import Collection
from typing import Any

from caddie.situation import Frozen
from caddie.units import YARD_M, Unit
from caddie.words.grammar import grammar
from caddie.words.note_phrases import (
    NO_NAMES,
    Names,
    PhraseLine,
    Said,
    SlotsFilled,
    ends,
    laid_out,
    lines,
    note_data,
    stands_apart,
)
from caddie.words.reduction import reducer
from caddie.words.spelling import LONGEST_TEXT, Token

__all__ = ["NO_NAMES", "Names", "NoteSaid", "plain_words", "read_note", "which_of"]


class NoteSaid(Frozen):
    """One utterance as far as it is about what is remembered; the rest is for the reader of shots."""

    wish: str | None = None
    """What is to be done with what is remembered, as ``notes.toml`` calls it; None when a hole is only named."""
    hole: int | None = None
    course: str | None = None
    """A course known by that name."""
    here: bool = False
    """Said of "this hole"."""
    name: str | None = None
    """A name given to something, as said."""
    taught: str | None = None
    """A word of the player's own."""
    depth_m: float | None = None
    height_m: float | None = None
    turned: bool = False
    """Said that it falls the other way."""
    rest: str = ""
    """What is left, in plain words."""


def read_note(
    text: str, *, names: Names = NO_NAMES, unit: Unit = Unit.YARDS, pace_m: float = YARD_M
) -> NoteSaid:
    """Read what is told of things to remember; with no wish and no hole it was about none.

    Parameters:
        text: what was said or typed.
        names: the player's own names of holes, courses and shots.
        unit: what a length without a unit is counted in.
        pace_m: length of the player's pace [m].
    """
    if len(text) > LONGEST_TEXT:
        return NoteSaid(rest=text)
    said = laid_out(text, names, unit, pace_m)
    whole = _whole(said)
    if whole is not None:
        return whole
    wish, said = _led(said)
    told: dict[str, Any] = {"wish": wish}
    for line in lines("part"):
        if line.facts.get("with") in (None, wish):
            said, more = _taken_out(said, line)
            told |= {key: value for key, value in more.items() if told.get(key) is None}
    return NoteSaid(**told, rest=said.text(0, len(said.tokens)))


def which_of(text: str) -> str | None:
    """What a contradiction is answered with: ``now``, ``before`` or ``both``; None when neither is plain."""
    words = {token.text for token in reducer().tokens(text)}
    found = [name for name, said in note_data()["which"].items() if words & set(said.split())]
    return found[0] if len(found) == 1 else None


def names_a_course(name: str, unknown: Collection[str]) -> bool:
    """Whether words taken for a name may be a course that was never named before.

    Parameters:
        name: as said.
        unknown: those of its words that the grammar has nowhere.
    """
    words = name.split()
    if not words or words[0] in grammar().articles:
        return False
    return words[0] in unknown or (len(words) > 1 and words[-1] in note_data()["courses_end"].split())


def plain_words(text: str) -> str:
    """A name as it is compared with what is said: plain words without an article before them."""
    tokens = [token.text for token in reducer().tokens(text)]
    while tokens and tokens[0] in grammar().articles:
        tokens = tokens[1:]
    return " ".join(tokens)


def _whole(said: Said) -> NoteSaid | None:
    """The wish that is all of the utterance; of several, the one that leaves the fewest words to a name."""
    count = len(said.tokens)
    found = [
        (line, each)
        for line in (lines("whole") if count else ())
        for node in line.beginning(said, 0)
        for end, each in ends(node, said, 0, SlotsFilled())
        if end == count
    ]
    if not found:
        return None
    line, best = min(found, key=lambda pair: len((pair[1].name or "").split()))
    return NoteSaid(
        wish=str(line.facts["wish"]),
        hole=best.hole,
        here=best.here,
        course=best.course,
        name=best.name,
        taught=best.taught,
        rest="" if best.rest_at is None else said.text(best.rest_at, count),
    )


def _led(said: Said) -> tuple[str | None, Said]:
    """The wish that the utterance begins with, and what follows it."""
    for line in lines("lead") if said.tokens else ():
        for node in line.beginning(said, 0):
            rests = [
                found.rest_at for _, found in ends(node, said, 0, SlotsFilled()) if found.rest_at is not None
            ]
            if rests:
                return str(line.facts["wish"]), said.with_tokens(said.tokens[max(rests) :])
    return None, said


def _taken_out(said: Said, line: PhraseLine) -> tuple[Said, dict[str, Any]]:
    """The utterance without the first stretch that ``line`` explains, and what that tells."""
    best: tuple[int, int, SlotsFilled] | None = None
    for start in range(1 if line.facts.get("begins") and said.tokens else len(said.tokens)):
        for node in line.beginning(said, start):
            for end, found in ends(node, said, start, SlotsFilled(start)):
                if end == start or not _may_end(line, said, end):
                    continue
                if best is None or (start == best[0] and end > best[1]):
                    best = (start, end, found)
        if best is not None:
            break
    if best is None:
        return said, {}
    start, end, found = best
    leaves = (
        [Token(str(line.facts["leaves"]), said.tokens[start].after_break)] if "leaves" in line.facts else []
    )
    after = said.tokens[end:]
    if after and not leaves and said.tokens[start].after_break:
        after = (Token(after[0].text, True), *after[1:])
    told = _told(str(line.facts["names"]), found)
    return said.with_tokens((*said.tokens[:start], *leaves, *after)), told


def _may_end(line: PhraseLine, said: Said, end: int) -> bool:
    """Whether what follows a phrase is what its line asks for: a pause, or one of its words."""
    if "before" in line.facts:
        return end < len(said.tokens) and said.tokens[end].text in line.facts["before"].split()
    return not line.facts.get("apart") or stands_apart(said, end)


def _told(names: str, found: SlotsFilled) -> dict[str, Any]:
    match names:
        case "hole":
            return {"hole": found.hole}
        case "course":
            return {"course": found.course}
        case "depth":
            return {"depth_m": found.length_m}
        case "raised":
            return {"height_m": found.length_m}
        case "turned":
            return {"turned": True}
        case _:
            return {"height_m": None if found.length_m is None else -found.length_m}
