"""How far a club of the player's goes, told beside a shot: "I carry the 54 79 stock" is no length of the shot."""

from collections.abc import Collection, Mapping
from functools import cache

from caddie.words.club_numbers import IRON_NUMBERS, WEDGE_LOFTS
from caddie.words.round_numbers import RoundNumbers, Ways, marked, number_data

_LENGTHS = range(10, 200)
_SWINGS = frozenset({"hip", "chest", "shoulder"})


def without_carry(text: str, in_play: Collection[int] = ()) -> tuple[str, bool]:
    """The text without the carry of a club that is told in it, and whether one is.

    Parameters:
        in_play: wedges that may be played now, by their numbers; a swing of one that is told is then asked about.

    >>> without_carry("I carry the 54 79 stock at shoulder height, 52's not mine.")
    ("52's not mine.", True)
    >>> without_carry("Sixty to the chest goes 46. Water odds on that?", {60})
    ('what about 60 degree chest? Water odds on that?', True)
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
    found = [
        (start, end, filled)
        for start, (end, filled) in marked(said, _ways(), slots, begins)
        if said.ends(end)
    ]
    if not found:
        return text, False
    start, end, filled = max(found, key=lambda each: each[1] - each[0])
    asked = _shot_asked(said, range(start, end), dict(filled), in_play)
    rest = text[said.places[end].start :] if end < len(said.places) else ""
    return f"{text[: said.places[start].start]}{asked}{rest}".strip(), True


def _shot_asked(
    said: RoundNumbers, within: range, filled: Mapping[str, int], in_play: Collection[int]
) -> str:
    """The club and the swing of a carry that was told, asked about; nothing where one is not named or not there."""
    swing = next((said.places[at].text for at in within if said.places[at].text in _SWINGS), None)
    at = filled.get("club")
    if swing is None or at is None or said.places[at].value not in in_play:
        return ""
    return f"what about {said.places[at].value:.0f} degree {swing}? "


@cache
def _ways() -> Ways:
    data = number_data()["own_carry"]
    return Ways.of(data["say"], {name: way for name, way in data.items() if isinstance(way, str)})
