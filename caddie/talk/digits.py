"""Numbers that sound alike: said digit by digit, so that the ear cannot take fifteen for fifty."""

from caddie.bag import Bag
from caddie.situation import Lie, Situation
from caddie.talk.state import Known
from caddie.units import Unit, from_metres, spoken_number
from caddie.words import Understanding

FARTHEST_FROM_FRINGE_M = 35.0
FARTHEST_PUTT_M = 30.0
"""Nobody says a longer putt without thinking of it as a shot (common practice, no source)."""
SAME_M = 0.6
"""Two distances nearer than this were said as the same number."""


def twin_of(heard: Understanding, situation: Situation) -> float | None:
    """The other distance that speech may have meant, when it makes sense for this shot [m]."""
    twin_m = heard.sounds_like_m
    if twin_m is None or heard.situation.pin_m is None:
        return None
    if situation.front_m is not None and twin_m <= situation.front_m:
        return None
    if situation.room_m is not None and twin_m < situation.room_m:
        return None
    if situation.lie is Lie.FRINGE and twin_m > FARTHEST_FROM_FRINGE_M:
        return None
    if situation.lie is Lie.GREEN and twin_m > FARTHEST_PUTT_M:
        return None
    return twin_m


def is_twin(pin_m: float | None, known: Known) -> bool:
    """Whether a distance is the one that sounded like the one understood."""
    return pin_m is not None and known.twin_m is not None and abs(pin_m - known.twin_m) < SAME_M


def digits(length_m: float, unit: Unit, bag: Bag) -> str:
    """A number digit by digit.

    >>> from caddie.bag import Bag, Club, ClubKind
    >>> bag = Bag(clubs=(Club(id="putter", name="putter", kind=ClubKind.PUTTER, loft_deg=3),))
    >>> digits(13.716, Unit.YARDS, bag)
    'one-five'
    """
    number = round(from_metres(length_m, unit, bag.player.pace_m))
    return "-".join(spoken_number(int(digit)) for digit in str(number))
