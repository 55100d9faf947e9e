"""What became of a shot and where the next one is played from, told in one breath.

"Chunked it, 25 out now, fairway, flag back" is a result and a shot; "thinned it, twenty yards past" is a result alone.
"""

from collections.abc import Callable, Iterator

from caddie.situation import Finish, Green, Lie, Result, Situation
from caddie.units import SMALL_UNITS
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.golf_talk import unit_said
from caddie.words.results import FINISH_OF_LIE
from caddie.words.sayings import bare, begins, compared, says, turn_data

Reader = Callable[[str], Understanding]
ON_IT = "on_lead"
NEXT_SHOT = "next_shot_lead"
ANOTHER_BALL = "another_ball"
MOST_OPENINGS = 12
"""Places where another thing may begin that are tried; a longer tale is taken as it was read."""
STOPS = ".,;:!?…"
"""Signs that end a clause."""
_NEXT = (Intent.SITUATION, Intent.PUTT)
_NOT_PLAYED_THERE = (Finish.WATER, Finish.OUT_OF_BOUNDS, Finish.TREES)


def told_apart(heard: Understanding, understood: Reader) -> tuple[Understanding, ...]:
    """The result and the next shot, when both were told; else what was heard alone.

    The first place counts where what stands before it is a result: all that follows may be of the next shot.
    """
    if heard.asks or heard.problem or _asks(heard) or heard.intent not in (*_NEXT, Intent.RESULT):
        return (heard,)
    tokens = heard.heard.split()
    tries = _two_tries(tokens, understood)
    if tries:
        return tries
    for at in _openings(tokens):
        before = _result(" ".join(tokens[:at]), understood)
        if before is None:
            continue
        tail = understood(" ".join(tokens[at:]))
        if _is_another_ball(before, tail) or _on_to_another(tail):
            return (before, tail)
        then = _goes_on(heard, tail) if heard.intent is Intent.RESULT else heard if _tells(tail) else None
        if then is not None:
            return (_with_where(before, then.situation), then)
    return (heard,)


_FIRST = frozenset({"first"})
_SECOND = frozenset({"second", "next", "another", "again"})
_BARELY = 6
"""Words within which the second of two strokes is named."""


def _two_tries(tokens: list[str], understood: Reader) -> tuple[Understanding, ...]:
    """ "Left it in the sand the first time, then it came out on the second go, ten feet past": two strokes."""
    words = [word.strip(STOPS).lower() for word in tokens]
    if _FIRST.isdisjoint(words) or _SECOND.isdisjoint(words):
        return ()
    for at in _openings(tokens):
        head, tail = words[:at], words[at:]
        named = not _SECOND.isdisjoint(tail[: at + _BARELY]) and not _FIRST.isdisjoint(head)
        if not named or not _SECOND.isdisjoint(head):
            continue
        first, then = _stroke(" ".join(tokens[:at]), understood), _stroke(" ".join(tokens[at:]), understood)
        if first is not None and then is not None:
            return (first, then.model_copy(update={"another_stroke": True}))
    return ()


def _stroke(text: str, understood: Reader) -> Understanding | None:
    """What became of one of two strokes; the word for which it was tells nothing of where it ended."""
    plain = [word for word in bare(text).split() if word.strip(STOPS).lower() not in _WHICH]
    for words in (text, " ".join(plain), f"it {' '.join(plain)}"):
        heard = understood(words)
        if heard.intent is Intent.RESULT and not heard.problem and heard.result != Result():
            return heard.model_copy(update={"heard": text})
    return None


_WHICH = frozenset({"first", "second", "the", "one", "time", "go", "attempt", "try", "effort", "then", "and"})


def _is_another_ball(before: Understanding, tail: Understanding) -> bool:
    """ "In the water, I'm dropping at twenty yards": played from elsewhere than where the last one ended."""
    if before.result is None or before.result.finish not in _NOT_PLAYED_THERE:
        return False
    told = tail.intent in _NEXT and tail.situation.pin_m is not None
    return told and begins(tail.heard, NEXT_SHOT)


def _on_to_another(tail: Understanding) -> bool:
    """ "Two metres past. New one: fifty-five out, gnarly rough": how that one lies tells nothing of the last."""
    leads = begins(tail.heard, ANOTHER_BALL) and tail.intent in _NEXT
    return leads and (tail.situation.pin_m is not None or tail.situation.lie is not None)


def _asks(heard: Understanding) -> bool:
    """Whether it is a question; "on, six feet, left edge?" tells a putt all the same."""
    return is_question(heard.heard) and heard.intent is not Intent.PUTT


def _openings(tokens: list[str]) -> Iterator[int]:
    """Where something else may begin: after a stop, and before words that open a clause."""
    openers = turn_data()["opens_a_clause"]
    found = (
        at for at in range(1, len(tokens)) if tokens[at - 1][-1] in STOPS or tokens[at].lower() in openers
    )
    for _, at in zip(range(MOST_OPENINGS), found, strict=False):
        yield at


def _result(head: str, understood: Reader) -> Understanding | None:
    """The head as a result, or None when it tells none; "on" alone is the green."""
    if says(head, ON_IT):
        on_it = Result(finish=Finish.GREEN)
        return Understanding(heard=head, intent=Intent.RESULT, result=on_it)
    read = understood(head)
    if read.situation.hazards:
        return None
    if read.intent is not Intent.RESULT and read.situation.green == Green():
        read = understood(bare(head.rstrip(STOPS)))
    if read.intent is not Intent.RESULT or read.problem or read.down_in is not None:
        return None
    told = read.result or Result()
    # "Forty left" may be the next one.
    of_a_ball = told.distance_m is None or unit_said(head) or told.strike or told.finish
    return read if of_a_ball else None


def _goes_on(whole: Understanding, tail: Understanding) -> Understanding | None:
    """The tail of a result as the next shot, when it tells more of one than a result does."""
    assert whole.result is not None
    if tail.intent not in _NEXT or tail.problem or whole.result.holed:
        return None
    now = tail.situation
    if not looks_on(tail):
        return None
    green = now.green
    unread = (green.fall, green.side_fall, green.borrow, green.fall_slope) == (None,) * 4
    if now.pin_m is None and unit_said(whole.heard) in SMALL_UNITS and unread:
        return None
    if now.pin_m is None and whole.result.distance_m is None and now.lie in (None, Lie.GREEN):
        return None
    there = now.pin_m or whole.result.distance_m
    return tail.model_copy(update={"situation": now.model_copy(update={"pin_m": there})})


def _tells(tail: Understanding) -> bool:
    """Whether more is told of the next shot than what it lies on: "it's on the green" is where the last one ended."""
    now = tail.situation
    return tail.intent in (*_NEXT, Intent.WHAT_IF) and now != Situation(lie=now.lie)


def looks_on(tail: Understanding) -> bool:
    """Whether what follows a result tells of the next shot, by what it tells or by its "now" or "next"."""
    said_now = not set(turn_data()["now"]).isdisjoint(compared(tail.heard))
    return said_now or _on_to_another(tail) or _looks_ahead(tail.situation)


def _looks_ahead(now: Situation) -> bool:
    """Whether something is told that matters to the next shot alone."""
    of_the_ball = {"pin_m": None, "lie": None, "sitting": None, "greenside": None, "wet": None}
    return now.model_copy(update=of_the_ball) != Situation()


def _with_where(before: Understanding, now: Situation) -> Understanding:
    """The result with what the next shot tells of it: how far from the flag it is, and what it lies in."""
    result = before.result or Result()
    if _is_elsewhere(result, now):
        return before
    finish = FINISH_OF_LIE.get(now.lie) if now.lie is not None else None
    update = {
        "distance_m": now.pin_m if result.distance_m is None else result.distance_m,
        "finish": finish if result.finish is None or now.lie is Lie.GREEN else result.finish,
    }
    return before.model_copy(update={"result": result.model_copy(update=update)})


def _is_elsewhere(result: Result, now: Situation) -> bool:
    """ "Two metres past. Now fifty-five out": no ball that lies there."""
    if result.distance_m is None or now.pin_m is None or now.lie is Lie.GREEN:
        return False
    return now.pin_m > MOST_APART * result.distance_m


MOST_APART = 3.0
"""Two lengths told of one ball differ by less: yards are told beside feet (common practice, no source)."""
