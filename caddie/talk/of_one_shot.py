"""Results told one after the other: whether they are of one shot, and what they tell together."""

from caddie.situation import Finish, Result
from caddie.words import Understanding
from caddie.words.acts import goes_on_to
from caddie.words.sayings import begins
from caddie.words.turns import PUTS_RIGHT

_OFF_THE_GREEN = (Finish.BUNKER, Finish.WATER, Finish.TREES, Finish.OUT_OF_BOUNDS)


def adds_to(before: Result, now: Result, heard: Understanding) -> bool:
    """Whether the words are about the same shot: they correct it, or say what was not said yet."""
    if begins(heard.heard, PUTS_RIGHT):
        return True
    if heard.another_stroke:
        return False
    if before.finish is Finish.BUNKER and now.finish is not Finish.BUNKER and now.distance_m is not None:
        # It came out with the next one.
        return False
    if now == Result() and before.distance_m is not None and _tells_a_putt(heard):
        return False
    if now.holed or before.holed:
        return now == Result()
    if goes_on_to(heard.heard):
        # "And then it came out and ran ten feet past": the next stroke.
        return False
    said = {name for name in type(now).model_fields if getattr(now, name) not in (None, ())}
    known = {name for name in type(before).model_fields if getattr(before, name) not in (None, ())}
    return not said & known


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
