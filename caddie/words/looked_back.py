"""A shot that is over, told with where it was played from, to hear what should have been played.

"85 out, left rough. Hit a full 56, came up short. What should I have hit?": nothing is played now, and the advice is
on the shot as it was told.
"""

from itertools import pairwise

from caddie.situation import Situation
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import gists_of
from caddie.words.then_told import STOPS, Reader
from caddie.words.told_as_made import tells_as_made

_HINDSIGHT = "hindsight"
_EITHER = "either"
_TELL = (Intent.SITUATION, Intent.PUTT)


def looked_back(parts: list[Understanding], understood: Reader) -> list[Understanding]:
    """The parts of a turn without what became of a shot that is asked about in hindsight, where its place is told."""
    if not any(part.intent is Intent.RESULT for part in parts):
        return parts
    asked = any(map(_is_hindsight, parts))
    if not asked and not _asks_which_of_two(parts):
        return parts
    over = next(at for at, part in enumerate(parts) if part.intent is Intent.RESULT)
    told = next((at for at in range(over) if _tells_its_place(parts[at])), over)
    place = _place_in(" ".join(part.heard for part in parts[told : over + 1]), understood) if asked else None
    if place is not None:
        begun = parts[told].model_dump(include={"another", "hole"})
        parts = [*parts[:told], place.model_copy(update=begun), *parts[over:]]
    elif told == over:
        return parts
    return [part for part in parts if part.intent is not Intent.RESULT and not _is_hindsight(part)]


def _is_hindsight(part: Understanding) -> bool:
    return part.situation == Situation() and _HINDSIGHT in (*part.asks, *gists_of(part.heard))


def _place_in(text: str, understood: Reader) -> Understanding | None:
    """ "20 yards, tight lie, I thinned a 60": all that is told of the place before the stroke is."""
    tokens = text.split()
    stops = [at for at in range(1, len(tokens)) if tokens[at - 1][-1] in STOPS]
    struck = next(
        (at for at, end in pairwise((0, *stops, len(tokens))) if tells_as_made(" ".join(tokens[at:end]))), 0
    )
    heads = (understood(" ".join(tokens[:at])) for at in reversed(stops) if at <= struck)
    return next((head for head in heads if _tells_its_place(head)), None)


def _tells_its_place(part: Understanding) -> bool:
    now = part.situation
    return part.intent in _TELL and (now.pin_m is not None or now.front_m is not None)


def _asks_which_of_two(parts: list[Understanding]) -> bool:
    """Whether one of two is to be chosen, with no place told to play it from but the one of the shot that is over."""
    ended = [part.result for part in parts if part.result is not None]
    nowhere = all(result.distance_m is None and result.finish is None for result in ended)
    return nowhere and any(_EITHER in part.asks for part in parts)
