"""Where a turn goes on to another ball, another hole or another situation: what is told from there is of that alone.

"Holed it. Fourth hole, missed right, 20 yards"; "two past. Last one: short side, deep rough, eight metres".
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from caddie.situation import Situation
from caddie.words.facts import Another, Intent, Understanding
from caddie.words.gist import gists_of, is_question
from caddie.words.sayings import begins, says
from caddie.words.then_told import ANOTHER_BALL, STOPS, Reader
from caddie.words.told_as_made import tells_as_made
from caddie.words.told_note import read_note

ANOTHER_HOLE = "another_hole_lead"
_NEXT_HOLE = "next"
_ON_A_HOLE = "on_a_hole_lead"
_ON_A_NUMBER = "on_a_number_lead"
_TELL = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.WHAT_IF)


@dataclass(frozen=True)
class ToldOfOne:
    """Words told of one ball, and what begins with them."""

    words: str
    another: Another | None = None
    hole: int | None = None


def stretches_by_ball(text: str, understood: Reader) -> tuple[ToldOfOne, ...]:
    """The turn cut where another ball or another hole begins, and a shot is told of it.

    >>> from caddie.words.reading import read
    >>> from functools import partial
    >>> from caddie.units import Unit
    >>> reads = partial(read, unit=Unit.YARDS, pace_m=0.9144, from_speech=False)
    >>> [(each.words, each.hole) for each in stretches_by_ball("Holed it. Fourth hole, 20 yards, rough", reads)]
    [('Holed it.', None), ('20 yards, rough', 4)]
    """
    tokens = text.split()
    found = [ToldOfOne(text)]
    start = 0
    for at in _openings(tokens):
        words = " ".join(tokens[at:])
        another = _begun(words, behind_another=at > 0 and found[-1].another is not None)
        if another is None:
            continue
        head = " ".join(tokens[start:at])
        if found[-1].another is not None and not _tells_anything(understood(head)):
            # "Different one, on eleven": one other situation, told by both.
            found[-1] = replace(_stretch(words, another), another=Another.HOLE)
            start = at
        elif _tells_a_shot(words, understood):
            found[-1] = replace(found[-1], words=_without_its_lead(head, found[-1].another))
            found.append(_stretch(words, another))
            start = at
    found[-1] = replace(found[-1], words=_without_its_lead(" ".join(tokens[start:]), found[-1].another))
    return tuple(each for each in found if each.words) or (ToldOfOne(text),)


def of_another(parts: tuple[Understanding, ...], stretch: ToldOfOne) -> tuple[Understanding, ...]:
    """The parts of a stretch with what begins there, and without the shot that led to where the ball lies."""
    if any(part.intent is Intent.NEXT_HOLE for part in parts):
        return _without_what_led_there(parts)
    first = next((at for at, part in enumerate(parts) if _is_told(part)), None)
    if first is None:
        return parts
    another, part = stretch.another, parts[first]
    if another is None and _NEXT_HOLE in gists_of(part.heard):
        # "I'm forty yards on the next one."
        another = Another.HOLE
    if another is None:
        return parts
    led = tuple(each for each in parts[:first] if each.intent is not Intent.RESULT or stretch.another is None)
    marked = part.model_copy(update={"another": another, "hole": stretch.hole})
    return (*led, marked, *parts[first + 1 :])


def _without_what_led_there(parts: tuple[Understanding, ...]) -> tuple[Understanding, ...]:
    """ "On to the fifth. I've come up short, forty yards, light rough": how it got there is no shot of this talk."""
    walked = next(at for at, part in enumerate(parts) if part.intent is Intent.NEXT_HOLE)
    return tuple(
        part
        for at, part in enumerate(parts)
        if at <= walked or part.intent is not Intent.RESULT or not any(map(_is_told, parts[at + 1 :]))
    )


def _openings(tokens: list[str]) -> Iterator[int]:
    """Where a clause begins."""
    for at in range(len(tokens)):
        if at == 0 or tokens[at - 1][-1] in STOPS:
            yield at


def _begun(words: str, *, behind_another: bool) -> Another | None:
    """What begins with these words, if another does."""
    first = _first_clause(words)
    if tells_as_made(first):
        # "The last one I ran six past."
        return None
    on_a_number = behind_another and says(first, _ON_A_NUMBER)
    if begins(words, ANOTHER_HOLE) or says(first, _ON_A_HOLE) or on_a_number:
        return Another.HOLE
    if not begins(words, ANOTHER_BALL) or (is_question(first) and not says(first, ANOTHER_BALL)):
        return None
    return Another.HOLE if _NEXT_HOLE in gists_of(first) else Another.BALL


def _first_clause(words: str) -> str:
    tokens = words.split()
    end = next((at for at, token in enumerate(tokens) if token[-1] in STOPS), len(tokens) - 1)
    return " ".join(tokens[: end + 1])


def _stretch(words: str, another: Another) -> ToldOfOne:
    hole = read_note(words).hole if another is Another.HOLE else None
    return ToldOfOne(words, another, hole)


def _without_its_lead(words: str, another: Another | None) -> str:
    """The words without a clause that does nothing but lead over to it: the number of a hole measures nothing."""
    first = _first_clause(words) if words else ""
    if another is None or says(first, _NEXT_HOLE):
        return words
    leads = (ANOTHER_BALL, ANOTHER_HOLE, _ON_A_HOLE, _ON_A_NUMBER)
    return words.removeprefix(first).strip() if any(says(first, lead) for lead in leads) else words


def _tells_a_shot(words: str, understood: Reader) -> bool:
    return any(_is_told(understood(each)) for each in (words, _without_its_lead(words, Another.HOLE)) if each)


def _tells_anything(heard: Understanding) -> bool:
    return heard.situation != Situation() or heard.intent is Intent.RESULT


def _is_told(heard: Understanding) -> bool:
    """Whether it is told where a ball lies, or how far it is from there."""
    now = heard.situation
    placed = now.pin_m is not None or now.front_m is not None or now.lie is not None or bool(now.greenside)
    return heard.intent in _TELL and placed and not heard.problem
