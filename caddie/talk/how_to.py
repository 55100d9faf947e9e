"""How a kind of shot is played, asked while none is talked about: "how do I chip?", "any tips for bunkers?"."""

from caddie.situation import IN_SAND
from caddie.talk.lore import asks_for, technique
from caddie.words import understand
from caddie.words.numbers import is_number
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

HOW_TO_ASKED = "how_to_asked"


def how_to(text: str) -> str | None:
    """Setup and motion of the kind of shot that is asked about; None where none is, or where a shot is told.

    >>> how_to("any tips for putting?")
    'Eyes over the ball, rock the shoulders, still wrists. Back and through the same length, and hold the finish.'
    >>> how_to("how do I chip it from ten yards?")
    """
    words = compared(text)
    if any(map(is_number, words)) or not asks_for(text, HOW_TO_ASKED):
        return None
    named = (kind for kind in lore_data()["technique_of"] if not set(kind["words"].split()).isdisjoint(words))
    kind = next(named, None)
    if kind is None or ("splash" in kind["when"] and _is_over_the_sand(text)):
        return None
    return technique(kind["when"])


def _is_over_the_sand(text: str) -> bool:
    """Whether the sand named is in the way of a ball that lies elsewhere: "off hardpan with a bunker to carry"."""
    told = understand(text).situation
    return told.lie is not None and told.lie not in IN_SAND and bool(told.hazards)
