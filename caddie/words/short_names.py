"""A wedge by the first word of its name, where that is also a shot: "why not lob" asks for the lob wedge."""

from collections.abc import Iterator
from functools import cache

from caddie.bag import Bag
from caddie.words.round_numbers import RoundNumbers, Ways, marked, number_data

_BEHIND, _BEGINS, _BEFORE, _ALONE, _SHOT = "behind", "begins", "before", "alone", "shot"


def clubs_in_full(text: str) -> str:
    """The words with a club that is called by a shot's name said in full, where the words beside it mean a club.

    >>> clubs_in_full("why not lob?"), clubs_in_full("can I lob it over the bunker"), clubs_in_full("a chip or a lob")
    ('why not lob wedge?', 'can I lob it over the bunker', 'a chip or a lob')
    """
    data = number_data()["short_names"]
    short, full = data["short"], data["club"]
    if short not in text.lower():
        return text
    said = RoundNumbers(text)
    for at, place in reversed(list(enumerate(said.places))):
        if place.text == short and _is_the_club(said, at):
            text = f"{text[: place.start]}{full}{text[place.end :]}"
    return text


def owned_in_full(text: str, bag: Bag) -> str:
    """The same where the bag has that club."""
    owned = bag.club_called(number_data()["short_names"]["club"]) is not None
    return clubs_in_full(text) if owned else text


def _is_the_club(said: RoundNumbers, at: int) -> bool:
    if any(_ends(said, _SHOT, at + 1)):
        return False
    if any(end == len(said.places) for end in _ends(said, _ALONE, 0)) or any(_ends(said, _BEFORE, at + 1)):
        return True
    clause = next(start for start in range(at, -1, -1) if said.places[start].begins)
    if any(end == at for end in _ends(said, _BEGINS, clause)):
        return True
    return any(end == at for start in range(clause, at) for end in _ends(said, _BEHIND, start))


def _ends(said: RoundNumbers, kind: str, start: int) -> Iterator[int]:
    """Where the templates of a kind end that begin at a place."""
    if start < len(said.places):
        yield from (end for _, (end, _) in marked(said, _ways(kind), {}, (start,)))


@cache
def _ways(kind: str) -> Ways:
    data = number_data()["short_names"]
    written = [data[kind]] if isinstance(data[kind], str) else data[kind]
    return Ways.of(written, {name: data[name] for name in ("named", "iron_name", "the")})
