"""What became of a shot and where the next one is played from, told in one breath.

"Chunked it, 25 out now, fairway, flag back" is a result and a shot; "thinned it, twenty yards past" is a result alone.
"""

from collections.abc import Callable, Iterator
from typing import Any

from caddie.situation import Finish, Green, HazardKind, Lie, PinPosition, Result, Side, Situation
from caddie.units import SMALL_UNITS
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.golf_talk import unit_said
from caddie.words.results import FINISH_OF_LIE
from caddie.words.sayings import bare, begins, compared, says
from caddie.words.talk_files import turn_data

Reader = Callable[[str], Understanding]
ON_IT = "on_lead"
NEXT_SHOT = "next_shot_lead"
ANOTHER_BALL = "another_ball_lead"
MOST_OPENINGS = 12
"""Places where another thing may begin that are tried; a longer tale is taken as it was read."""
STOPS = ".,;:!?…"
"""Signs that end a clause."""
_NEXT = (Intent.SITUATION, Intent.PUTT)
_NOT_PLAYED_THERE = (Finish.WATER, Finish.OUT_OF_BOUNDS, Finish.TREES)


def told_apart(heard: Understanding, understood: Reader) -> tuple[Understanding, ...]:
    """The result and the next shot, when both were told; else what was heard alone.

    The first place counts where what stands before it is a result, and behind it whatever tells more of that ball.
    Of the next shot the ball's own lie may be told before it; how far it is now and what lies before it is not.
    """
    if heard.asks or heard.problem or _asks(heard) or heard.intent not in (*_NEXT, Intent.RESULT):
        return (heard,)
    tokens = heard.heard.split()
    tries = _two_tries(tokens, understood)
    if tries:
        return tries
    found: tuple[Understanding, Understanding] | None = None
    last = 0
    for at in _openings(tokens):
        before = _result(" ".join(tokens[:at]), understood)
        if before is None:
            continue
        if found is not None and not _tells_more_of_it(
            found[0], before, understood(" ".join(tokens[last:at]))
        ):
            break
        tail = understood(" ".join(tokens[at:]))
        if _is_another_ball(before, tail) or _on_to_another(tail):
            return (before, tail)
        then = _goes_on(heard, tail) if heard.intent is Intent.RESULT else _from_there(heard, before, tail)
        if then is not None:
            found, last = (before, then), at
    return (heard,) if found is None else (_with_where(found[0], found[1].situation), found[1])


def _tells_more_of_it(before: Understanding, longer: Understanding, clause: Understanding) -> bool:
    """ "Thin, and it went off the back": whether a clause more tells of the same ball how it flew or where it went."""
    told, more = before.result or Result(), longer.result or Result()
    if clause.situation.hazards:
        return False
    said = clause.intent is Intent.RESULT and not clause.asks
    return said or any(getattr(more, name) and not getattr(told, name) for name in ("side", "strike"))


def _from_there(whole: Understanding, before: Understanding, tail: Understanding) -> Understanding | None:
    """The next shot of words that read as one: what of the way to the hole was told before it is of the last shot."""
    if not _tells(tail):
        return None
    there, now = whole.situation, tail.situation
    update: dict[str, Any] = {name: getattr(tail, name) for name in _NAMED}
    facts: dict[str, Any] = {"pin_position": now.pin_position or _not_where_it_went(there, before)}
    if there.lie is Lie.GREEN:
        facts["front_m"] = now.front_m
    else:
        still = (each for each in there.hazards if each.kind not in _TROUBLE or each.side in _NOT_BETWEEN)
        facts["hazards"] = tuple(dict.fromkeys((*now.hazards, *still)))
    if now.pin_m is not None:
        facts["pin_m"] = now.pin_m
    return whole.model_copy(update={**update, "situation": there.model_copy(update=facts)})


_NAMED = ("club", "swing", "effort", "family", "flight", "face", "left_over")
"""What tells of a shot with which club and how; before the next shot, of the last."""


def _not_where_it_went(there: Situation, before: Understanding) -> PinPosition | None:
    """Where the flag is, unless that is where the ball went: "missed it left"."""
    sides = before.result.side if before.result is not None else ()
    told = there.pin_position
    went = {_EDGE.get(side, side.value) for side in sides}
    return None if told is None or not went.isdisjoint(told.value.split("_")) else told


_EDGE = {Side.SHORT: "front", Side.LONG: "back"}
_TROUBLE = (
    HazardKind.BUNKER, HazardKind.WATER, HazardKind.TREES, HazardKind.OUT_OF_BOUNDS, HazardKind.ROUGH,
    HazardKind.UNNAMED,
)  # fmt: skip
"""What a ball that came past it has behind it; it may lie in a shape of the ground."""
_NOT_BETWEEN = (Side.LEFT, Side.RIGHT, Side.LONG)


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
