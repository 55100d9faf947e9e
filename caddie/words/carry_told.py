"""How far a club of the player's goes, told beside a shot: "I carry the 54 79 stock" is no length of the shot."""

from functools import cache

from caddie.words.club_numbers import IRON_NUMBERS, WEDGE_LOFTS
from caddie.words.round_numbers import RoundNumbers, Ways, marked, number_data

_LENGTHS = range(10, 200)


def without_carry(text: str) -> tuple[str, bool]:
    """The text without the carry of a club that is told in it, and whether one is.

    >>> without_carry("I carry the 54 79 stock at shoulder height, 52's not mine.")
    ("52's not mine.", True)
    >>> without_carry("how far does my 56 go? It's 79 to the flag")
    ("how far does my 56 go? It's 79 to the flag", False)
    """
    said = RoundNumbers(text)
    if not any(value in _LENGTHS for _, value in said.numbers()):
        return text, False
    begins = [at for at, place in enumerate(said.places) if place.begins]
    slots = {
        "club": lambda value: value in WEDGE_LOFTS,
        "iron": lambda value: value in IRON_NUMBERS,
        "length": lambda value: value in _LENGTHS,
    }
    found = [(start, end) for start, (end, _) in marked(said, _ways(), slots, begins) if said.ends(end)]
    if not found:
        return text, False
    start, end = max(found, key=lambda each: each[1] - each[0])
    rest = text[said.places[end].start :] if end < len(said.places) else ""
    return f"{text[: said.places[start].start]}{rest}".strip(), True


@cache
def _ways() -> Ways:
    data = number_data()["own_carry"]
    return Ways.of(data["say"], {name: way for name, way in data.items() if isinstance(way, str)})
