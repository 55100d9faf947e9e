"""Results told one after the other: whether they are of one shot, and what they tell together."""

from caddie.situation import Finish, Result
from caddie.words import Understanding
from caddie.words.acts import goes_on_to
from caddie.words.sayings import begins, compared, ends, says
from caddie.words.talk_files import turn_data
from caddie.words.turns import PUTS_RIGHT

_OFF_THE_GREEN = (Finish.BUNKER, Finish.WATER, Finish.TREES, Finish.OUT_OF_BOUNDS)


def adds_to(before: Result, now: Result, heard: Understanding) -> bool:
    """Whether the words are about the same shot: they correct it, or say what was not said yet."""
    if heard.corrected or begins(heard.heard, PUTS_RIGHT):
        return True
    if heard.another_stroke:
        return False
    if _told_again(before, now, heard):
        return True
    if before.finish is Finish.BUNKER and now.finish is not Finish.BUNKER and now.distance_m is not None:
        # It came out with the next one.
        return False
    if now == Result() and before.distance_m is not None and _tells_a_putt(heard):
        return False
    near = before.distance_m is not None and before.finish in (None, Finish.GREEN)
    if near and now.side and now.distance_m is None and hit_again(heard.heard):
        return False
    if now == Result() and before.holed:
        return True
    if goes_on_to(heard.heard) or _is_another(heard.heard):
        # "And then it came out and ran ten feet past", "holed another": the next stroke.
        return False
    if tells_the_same(before, now):
        return True
    if now.holed or before.holed:
        return False
    said = {name for name in type(now).model_fields if getattr(now, name) not in (None, ())}
    known = {name for name in type(before).model_fields if getattr(before, name) not in (None, ())}
    if _says_more_of_it(before, now, said & known):
        return True
    return not said & known


def tells_the_same(before: Result, now: Result) -> bool:
    """ "Holed", and once more "yes, holed it": all that is told now was told before."""
    return now != Result() and joined(before, now) == before


def _is_another(text: str) -> bool:
    """Whether a word tells that it is one more of what was told before: "chunked it again"."""
    return not set(turn_data()["one_more"]).isdisjoint(compared(text))


def _says_more_of_it(before: Result, now: Result, both: set[str]) -> bool:
    """ "Over the back", and then "twenty past, in the rough": what was said holds, and how far it is comes to it."""
    more = before.distance_m is None and before.finish is None and now.distance_m is not None
    return more and bool(both) and all(getattr(now, name) == getattr(before, name) for name in both)


def hit_again(text: str) -> bool:
    """Whether a stroke is told by its verb: "left it a mile short"."""
    words = f" {' '.join(compared(text))} "
    return any(f" {verb} " in words for verb in turn_data()["hit_again"])


def _told_again(before: Result, now: Result, heard: Understanding) -> bool:
    """ "A yard short, as I said", "six feet beyond it": the same place in other words, or a better guess at it."""
    if now.distance_m is None or before.distance_m is None or now.holed or goes_on_to(heard.heard):
        return False
    apart = {*now.side} ^ {*before.side} if now.side and before.side else set()
    ended_otherwise = None not in (now.finish, before.finish) and now.finish is not before.finish
    if apart or ended_otherwise or heard.down_in is not None:
        return False
    told_again = any(said(heard.heard, _RETOLD) for said in (says, ends, begins))
    return told_again or now.distance_m == before.distance_m


_RETOLD = "told_again"


def _tells_a_putt(heard: Understanding) -> bool:
    """ "Missed", "two putts": strokes from where the ball told before had ended."""
    return heard.down_in is not None or "missed" in heard.asks


def joined(before: Result, now: Result) -> Result:
    """One result of what was told of it before and what was told now."""
    said = {name: value for name in type(now).model_fields if (value := getattr(now, name)) not in (None, ())}
    if now.holed:
        return now.model_copy(update={"strike": now.strike or before.strike})
    if before.finish is not now.finish and now.finish in _OFF_THE_GREEN and now.distance_m is None:
        # How far it was told to be belonged to where it did not end.
        before = before.model_copy(update={"distance_m": None, "side": ()})
    return before.model_copy(update=said)
