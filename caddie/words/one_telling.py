"""What a turn tells of one thing more than once: the plainest telling counts, wherever in the turn it stands."""

from caddie.situation import Lie, Situation
from caddie.words.facts import Intent, Understanding

_GOES_ON = (Intent.RESULT, Intent.NEXT_HOLE, Intent.UNDO)
"""What stands between two shots told in one turn."""
_TELL = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.WHAT_IF)
_SAYS_LITTLE = (Lie.FAIRWAY,)
"""Lies that the look of the grass alone may tell: "on the fringe, the grass is short"."""


def told_once(parts: list[Understanding]) -> list[Understanding]:
    """The parts of a turn with one flag and one lie for each shot.

    "14 to the pin, 6 of it to carry the lip, 10 past the pin": what is said to be to the flag is; no other is.
    """
    kept: list[Understanding] = []
    shot: list[Understanding] = []
    for part in parts:
        if part.intent in _GOES_ON:
            kept += [*_of_one_shot(shot), part]
            shot = []
        elif part.another is not None:
            kept += _of_one_shot(shot)
            shot = [part]
        else:
            shot.append(part)
    return [*kept, *_of_one_shot(shot)]


def _of_one_shot(parts: list[Understanding]) -> list[Understanding]:
    named = any(part.pin_named for part in parts)
    plainly = next((part.situation.lie for part in parts if _tells_more(part)), None)
    kept = []
    for at, part in enumerate(parts):
        update: dict[str, None] = {}
        if part.intent in _TELL and named and not part.pin_named and part.situation.pin_m is not None:
            # "28 to the stick, 9 on the green": how much of it is green, and no putt.
            update |= {"pin_m": None, **({"lie": None} if part.situation.lie is Lie.GREEN else {})}
        earlier = any(_tells_more(each) for each in parts[:at])
        if plainly is not None and earlier and part.situation.lie in _SAYS_LITTLE:
            update["lie"] = None
        left = _without(part, update) if update else part
        if left is not None:
            kept.append(left)
    return kept


def _tells_more(part: Understanding) -> bool:
    return part.intent in _TELL and part.situation.lie not in (None, *_SAYS_LITTLE)


def _without(part: Understanding, update: dict[str, None]) -> Understanding | None:
    """The part without some facts, or None where nothing else was told."""
    situation = part.situation.model_copy(update=update)
    named = part.club or part.swing or part.family or part.flight or part.asks
    if situation == Situation() and not named:
        return None
    corrected = tuple(name for name in part.corrected if name not in update)
    return part.model_copy(update={"situation": situation, "corrected": corrected})


ANEW, THINK_AGAIN = "anew", "think_again"


def begun_anew(parts: list[Understanding]) -> list[Understanding]:
    """ "Start over: 82 to the pin": what a turn tells is of the new shot, wherever in it that is said.

    Where no new distance is told, the facts that are known stay, and the choice of the club is begun anew.
    """
    begins = [part for part in parts if part.asks[:1] == (ANEW,)]
    if not begins or len(parts) == len(begins):
        return parts
    rest = [part for part in parts if part.asks[:1] != (ANEW,)]
    if any(part.intent is Intent.RESULT for part in parts[: parts.index(begins[0])]):
        # "A foot left. New shot, 25 yards": the last one is over.
        return rest
    if any(part.situation.pin_m is not None for part in rest):
        return [begins[0], *rest]
    return [*rest, begins[0].model_copy(update={"asks": (THINK_AGAIN,)})]
